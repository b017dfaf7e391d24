/* What comes in over HTTP. SPDX-License-Identifier: MIT
 *
 * 1. Who asks: the Host header must be this machine's name, so that no other site's name can stand for it;
 *    the Origin, where there is one, this page's; the password, where there is one.
 * 2. GET: one of a few paths, compared whole. No path is ever opened.
 * 3. POST: the token of this start, the length, room. What is wrong is answered when the body has been passed
 *    over, since a browser that is still sending does not read.
 * 4. Each phase has its time: a head, a body, the taking of an answer. Then the connection is closed. */
#include "page/server.h"

#include "base/mem.h"
#include "base/units.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/socket.h>
#include <unistd.h>

enum {
    HEAD_SECONDS = 60, /* from the end of the request before: it may rest half of that */
    BODY_SECONDS = 180,
    TAKING_SECONDS = 180,
    STREAM_SECONDS = 600,      /* of an answer that comes by lines */
    PASS_OVER = 4 * BODY_MOST, /* bytes of a body that is refused, for the client to see why */
    SLACK = 256 << 10          /* bytes of a form beside its picture */
};

static const char *head_of(struct MHD_Connection *connection, const char *name) {
    const char *value = MHD_lookup_connection_value(connection, MHD_HEADER_KIND, name);
    return value ? value : "";
}

static int socket_of(struct MHD_Connection *connection) {
    const union MHD_ConnectionInfo *info =
        MHD_get_connection_info(connection, MHD_CONNECTION_INFO_CONNECTION_FD);
    return info ? info->connect_fd : -1;
}

static void give_time(struct MHD_Connection *connection, int seconds) {
    const union MHD_ConnectionInfo *info =
        MHD_get_connection_info(connection, MHD_CONNECTION_INFO_SOCKET_CONTEXT);
    Visit *visit = info ? info->socket_context : NULL;
    if (!visit) return;
    visit->until = seconds ? now_ms() + (int64_t)seconds * 1000 : 0;
    visit->idle = 0;
    visit->slow = seconds == BODY_SECONDS || seconds == TAKING_SECONDS ? now_ms() : 0;
}

/* Nothing is asked for now: the connection may be given up for others. */
static void give_rest(struct MHD_Connection *connection) {
    const union MHD_ConnectionInfo *info =
        MHD_get_connection_info(connection, MHD_CONNECTION_INFO_SOCKET_CONTEXT);
    Visit *visit = info ? info->socket_context : NULL;
    give_time(connection, HEAD_SECONDS);
    if (visit) visit->idle = now_ms(), visit->slow = 0;
}

/* --- 1. who asks --- */

static bool origin_is_ours(const char *origin, const char *host) {
    const char *name = strncmp(origin, "http://", 7) == 0    ? origin + 7
                       : strncmp(origin, "https://", 8) == 0 ? origin + 8
                                                             : "";
    return strcasecmp(name, host) == 0;
}

static bool may_come(const Server *server, struct MHD_Connection *connection) {
    if (!server->password[0]) return true;
    char *given = NULL;
    char *user = MHD_basic_auth_get_username_password(connection, &given);
    bool good = given && same_secret(given, server->password);
    if (user) MHD_free(user);
    if (given) MHD_free(given);
    return good;
}

/* --- 2. what is to be seen --- */

static enum MHD_Result show(Server *server, struct MHD_Connection *connection, const char *url,
                            size_t *size) {
    if (*size > 0) return MHD_NO; /* a body where none belongs */
    if (strcmp(url, "/") == 0)
        return respond_bytes(connection, page_assets[0].type, server->html, server->html_size);
    for (const PageAsset *asset = page_assets + 1; asset->path; asset++)
        if (strcmp(url, asset->path) == 0)
            return respond_bytes(connection, asset->type, (const char *)asset->bytes, asset->size);
    if (strcmp(url, "/shop") == 0)
        return respond_bytes(connection, "application/json", server->plan->shop, strlen(server->plan->shop));
    enum MHD_Result shown;
    if (hand_shown(server, connection, url, &shown)) return shown;
    return respond_line(connection, 404, "there is nothing of that name here");
}

/* --- 3. what is asked --- */

static bool question_of(const Server *server, const char *url, PageQuestion *out) {
    static const char *const paths[PAGE_QUESTIONS] = {"/answer", "/sweep", "/files", "/keep", "/hand"};
    for (int i = 0; i < PAGE_QUESTIONS; i++) {
        if (strcmp(url, paths[i]) != 0 || (i == PAGE_KEEP && !server->plan->dir)) continue;
        *out = (PageQuestion)i;
        return true;
    }
    return false;
}

static Question *question_new(Server *server, struct MHD_Connection *connection, PageQuestion kind) {
    Err err = {0};
    Question *question = mem_alloc(1, sizeof *question, &err);
    if (!question) return NULL;
    question->connection = connection;
    question->socket = socket_of(connection);
    question->question = kind;
    question->spool = question->form.logo = -1;
    Question **last = &server->first;
    while (*last) last = &(*last)->next;
    *last = question;
    return question;
}

void question_free(Server *server, Question *question) {
    Question **at = &server->first;
    while (*at && *at != question) at = &(*at)->next;
    if (*at) *at = question->next;
    for (int i = 0; i < server->places; i++) {
        Child *child = &server->child[i];
        if (child->pid == 0 || child->question != question) continue;
        child->question = NULL;
        if (child->asks >= 0)
            stay_stop(child);
        else if (!child->keeper)
            (void)kill(child->pid, SIGKILL);
    }
    if (question->reader) (void)MHD_destroy_post_processor(question->reader);
    if (question->form.logo >= 0) (void)close(question->form.logo);
    if (question->spool >= 0) (void)close(question->spool);
    server->held -= question->held;
    free(question);
}

void question_wake(Question *question) {
    if (!question->suspended) return;
    question->suspended = false;
    MHD_resume_connection(question->connection);
}

/* Is there anything that can be told before the body? */
static void check_head(const Server *server, Question *question, long length) {
    struct MHD_Connection *connection = question->connection;
    Form *form = &question->form;
    if (!same_secret(head_of(connection, "X-Logocane-Token"), server->token))
        form_wrong(form, 403, "the page is of an earlier start of the program; load it anew");
    else if (length > BODY_MOST + SLACK)
        form_wrong(form, 413, "the picture is over 40 MB; send a smaller PNG, 1000 px or more");
    else
        question->reader = MHD_create_post_processor(connection, 64 << 10, form_take, form);
    if (!question->reader) form_wrong(form, 400, "the form is not as this page sends it; load the page anew");
}

static enum MHD_Result begin(Server *server, struct MHD_Connection *connection, const char *url,
                             void **state) {
    PageQuestion kind = PAGE_ANSWER;
    long length = 0;
    bool chunked = *head_of(connection, "Transfer-Encoding") != 0;
    if (!question_of(server, url, &kind))
        return respond_line(connection, 404, "there is nothing of that name here");
    if (chunked || !whole_parse(head_of(connection, "Content-Length"), 0, LONG_MAX, &length))
        return respond_line(connection, 411, "the length of what is sent must be told before it");
    bool told_first = *head_of(connection, "Expect") != 0;
    if (length > (told_first ? BODY_MOST + SLACK : PASS_OVER))
        return respond_line(connection, 413,
                            "the picture is over 40 MB; send a smaller PNG, 1000 px or more");
    Question *question = question_new(server, connection, kind);
    if (!question) return MHD_NO;
    *state = question;
    give_time(connection, BODY_SECONDS);
    check_head(server, question, length);
    return MHD_YES;
}

static const char crowded[] = "too many ask at once; try again in a moment";

/* What has come of a question that is refused is not kept. */
static void refuse(Server *server, Question *question) {
    form_wrong(&question->form, 503, crowded);
    if (question->form.logo >= 0) (void)close(question->form.logo);
    question->form.logo = -1;
    server->held -= question->held;
    question->held = 0;
}

/* Room for more bytes of a question that comes: if there is none, the largest that is still coming gives way,
 * so that a few who send much, or never the end, do not keep out who sends little. */
static bool make_room(Server *server, Question *question, size_t more) {
    while (server->held + more > HELD_MOST) {
        Question *largest = question;
        for (Question *q = server->first; q; q = q->next)
            if (q->stage == COMING && q->held > largest->held) largest = q;
        refuse(server, largest);
        if (largest == question) return false;
    }
    return true;
}

static void take(Server *server, Question *question, const char *data, size_t size) {
    if (question->form.status || !make_room(server, question, size)) return;
    question->held += size;
    server->held += size;
    if (MHD_post_process(question->reader, data, size) != MHD_YES)
        form_wrong(&question->form, 400, "the form is not as this page sends it; load the page anew");
}

static int count_waiting(const Server *server) {
    int count = 0;
    for (const Question *q = server->first; q; q = q->next) count += q->stage == WAITING;
    return count;
}

/* All of it is there: it waits for a child, or is refused. */
static enum MHD_Result ask(Server *server, Question *question) {
    Form *form = &question->form;
    give_time(question->connection, 0);
    if (question->reader && MHD_destroy_post_processor(question->reader) != MHD_YES)
        form_wrong(form, 400, "the form is cut off; load the page anew");
    question->reader = NULL;
    if (form->logo < 0) form_wrong(form, 400, "no picture was sent; choose one");
    if (form->logo_size > BODY_MOST)
        form_wrong(form, 413, "the picture is over 40 MB; send a smaller PNG, 1000 px or more");
    if (count_waiting(server) >= server->waiting_most + children_free(server)) /* those start at once */
        form_wrong(form, 503, crowded);
    if (form->status) {
        give_time(question->connection, TAKING_SECONDS);
        return respond_line(question->connection, form->status, form->line);
    }
    if (question->question == PAGE_HAND) {
        give_time(question->connection, TAKING_SECONDS);
        return hand_take(server, question);
    }
    question->stage = WAITING;
    question->suspended = true;
    MHD_suspend_connection(question->connection);
    return MHD_YES;
}

static enum MHD_Result go_on(Server *server, Question *question, const char *data, size_t *size) {
    if (question->left) return MHD_NO;
    if (*size > 0) {
        take(server, question, data, *size);
        *size = 0;
        return MHD_YES;
    }
    if (question->stage == COMING) return ask(server, question);
    give_time(question->connection, question->stage == ENDED ? TAKING_SECONDS : STREAM_SECONDS);
    return respond_answer(server, question);
}

enum MHD_Result handle(void *user, struct MHD_Connection *connection, const char *url, const char *method,
                       const char *version, const char *data, size_t *size, void **state) {
    Server *server = user;
    const char *host = head_of(connection, "Host"), *origin = head_of(connection, "Origin");
    (void)version;
    if (*state == &server->seen) return show(server, connection, url, size);
    if (*state) return go_on(server, *state, data, size);
    give_time(connection, TAKING_SECONDS);
    if (!host_is_ours(server, socket_of(connection), host))
        return respond_line(connection, 421, "this computer is not known by that name; see --page-host");
    if (*origin && !origin_is_ours(origin, host))
        return respond_line(connection, 403, "another page may not ask here");
    if (!may_come(server, connection)) return respond_login(connection);
    if (strcmp(method, "GET") == 0 || strcmp(method, "HEAD") == 0) {
        *state = &server->seen;
        return MHD_YES;
    }
    if (strcmp(method, "POST") != 0) return respond_line(connection, 405, "this is not done here");
    return begin(server, connection, url, state);
}

/* --- 4. the end of a request, of a connection --- */

void handle_end(void *user, struct MHD_Connection *connection, void **state,
                enum MHD_RequestTerminationCode how) {
    Server *server = user;
    (void)how;
    if (*state && *state != &server->seen) question_free(server, *state);
    *state = NULL;
    give_rest(connection);
}

void handle_visit(void *user, struct MHD_Connection *connection, void **state,
                  enum MHD_ConnectionNotificationCode how) {
    Server *server = user;
    Err err = {0};
    Visit *visit = *state;
    if (how == MHD_CONNECTION_NOTIFY_STARTED) {
        visit = mem_alloc(1, sizeof *visit, &err);
        if (!visit) return;
        *visit = (Visit){.next = server->visits,
                         .socket = socket_of(connection),
                         .until = now_ms() + HEAD_SECONDS * 1000,
                         .idle = now_ms()};
        server->visits = *state = visit;
        return;
    }
    Visit **at = &server->visits;
    while (*at && *at != visit) at = &(*at)->next;
    if (*at) *at = visit->next;
    server->run_again = true;
    free(visit);
    *state = NULL;
}
