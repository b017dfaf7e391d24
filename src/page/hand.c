/* A picture from another program of this computer, for the page to fetch. SPDX-License-Identifier: MIT
 *
 * The desktop's entry hands it over before it opens the browser: a page may not read files by itself. Few are
 * held, each for a short time and until it is fetched once, under a name that nobody can guess. */
#include "page/server.h"

#include <string.h>
#include <sys/random.h>
#include <unistd.h>

enum { HAND_SECONDS = 60 };

static const char PLACE[] = "/handed/";

static void drop(Server *server, Handed *handed) {
    if (!handed->id[0]) return;
    if (handed->logo >= 0) (void)close(handed->logo);
    server->held -= handed->size;
    *handed = (Handed){.logo = -1};
}

int64_t hand_late(Server *server, int64_t now) {
    int64_t next = 0;
    for (int i = 0; i < HANDED_MAX; i++) {
        Handed *handed = &server->handed[i];
        if (!handed->id[0]) continue;
        if (handed->until <= now)
            drop(server, handed);
        else if (next == 0 || handed->until < next)
            next = handed->until;
    }
    return next;
}

/* A free place; if there is none, the oldest makes room. */
static Handed *find_place(Server *server) {
    Handed *oldest = &server->handed[0];
    for (int i = 0; i < HANDED_MAX; i++) {
        if (!server->handed[i].id[0]) return &server->handed[i];
        if (server->handed[i].number < oldest->number) oldest = &server->handed[i];
    }
    drop(server, oldest);
    return oldest;
}

enum MHD_Result hand_take(Server *server, Question *question) {
    Form *form = &question->form;
    char id[TOKEN_TEXT], answer[sizeof PLACE + TOKEN_TEXT];
    if (!secret_new(id)) return respond_line(question->connection, 503, "the system gives no random number");
    Handed *handed = find_place(server);
    *handed = (Handed){.logo = form->logo,
                       .size = form->logo_size,
                       .number = server->handed_ever++,
                       .until = now_ms() + (int64_t)HAND_SECONDS * 1000};
    (void)snprintf(handed->id, sizeof handed->id, "%s", id);
    (void)snprintf(handed->name, sizeof handed->name, "%s", form->logo_name);
    server->held += handed->size;
    form->logo = -1; /* it goes on being held */
    (void)snprintf(answer, sizeof answer, "%s%s", PLACE + 1, id);
    return respond_text(question->connection, answer);
}

bool hand_shown(Server *server, struct MHD_Connection *connection, const char *url, enum MHD_Result *out) {
    if (strncmp(url, PLACE, sizeof PLACE - 1) != 0) return false;
    for (int i = 0; i < HANDED_MAX; i++) {
        Handed *handed = &server->handed[i];
        if (!handed->id[0] || !same_secret(url + sizeof PLACE - 1, handed->id)) continue;
        *out = respond_picture(connection, handed->logo, handed->size, handed->name);
        handed->logo = -1; /* libmicrohttpd's now */
        drop(server, handed);
        return true;
    }
    *out = respond_line(connection, 404, "that picture was fetched already; drop it on the page");
    return true;
}

void hand_end(Server *server) {
    for (int i = 0; i < HANDED_MAX; i++) drop(server, &server->handed[i]);
}
