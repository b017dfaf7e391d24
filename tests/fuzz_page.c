/* What comes to the page's server: heads, forms, whatever follows them; no child answers here.
 * SPDX-License-Identifier: MIT */
#include "fuzz.h"
#include "page/server.h"

#include <fcntl.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <unistd.h>

static bool reply(void *user, const PageAsk *ask, FILE *file) {
    (void)user, (void)ask, (void)file;
    return false;
}

static struct MHD_Daemon *begin(Server *server) {
    return MHD_start_daemon(MHD_USE_EPOLL | MHD_ALLOW_SUSPEND_RESUME | MHD_USE_NO_LISTEN_SOCKET, 0, NULL,
                            NULL, handle, server, MHD_OPTION_NOTIFY_COMPLETED, handle_end, server,
                            MHD_OPTION_NOTIFY_CONNECTION, handle_visit, server,
                            MHD_OPTION_CONNECTION_MEMORY_LIMIT, (size_t)(64 << 10), MHD_OPTION_END);
}

static void run(Server *server) {
    for (int i = 0; i < 4; i++) assert(MHD_run(server->daemon) == MHD_YES);
}

/* Sends the bytes in pieces, and lets the server work after each. */
static void send_all(Server *server, int to, const uint8_t *data, size_t size, size_t piece) {
    for (size_t done = 0; done < size;) {
        size_t some = size - done < piece ? size - done : piece;
        ssize_t sent = send(to, data + done, some, MSG_NOSIGNAL | MSG_DONTWAIT);
        run(server);
        if (sent < 0) return; /* refused, or nobody reads any more */
        done += (size_t)sent;
    }
    run(server);
}

/* What is answered, if anything is, is HTTP. */
static void hear(int from) {
    char answer[1 << 12] = "";
    ssize_t size = recv(from, answer, sizeof answer - 1, MSG_DONTWAIT);
    if (size > 9) assert(strncmp(answer, "HTTP/1.1 ", 9) == 0 || strncmp(answer, "HTTP/1.0 ", 9) == 0);
}

static void end(Server *server) {
    for (Question *q = server->first; q; q = q->next) {
        const Form *form = &q->form;
        assert(q->stage == WAITING || q->stage == COMING);
        assert(form->used <= sizeof form->text && form->fields <= FIELDS_MAX);
        for (int i = 0; i < form->fields; i++) assert(strlen(form->field[i].value) < sizeof form->text);
        if (form->logo >= 0) assert(form->logo_name[0] && !strchr(form->logo_name, '/'));
        q->left = true;
        question_wake(q);
    }
    run(server);
    hand_end(server);
    MHD_stop_daemon(server->daemon);
    assert(!server->first && !server->visits && server->held == 0);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static const char token[] = "00000000000000000000000000000000";
    PagePlan plan = {.shop = "{}", .dir = "none", .reply = reply};
    int pair[2];
    if (size < 1) return 0;
    Server *server = calloc(1, sizeof *server);
    assert(server && socketpair(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0, pair) == 0);
    (void)fcntl(pair[0], F_SETFL, O_NONBLOCK);
    *server = (Server){.plan = &plan, .waiting_most = 2, .html = (char[]){"page"}, .html_size = 4};
    memcpy(server->token, token, sizeof token);
    (void)snprintf(server->names[server->name_count++], sizeof *server->names, "localhost");
    server->daemon = begin(server);
    assert(server->daemon);
    const struct sockaddr_in from = {.sin_family = AF_INET, .sin_addr = {htonl(INADDR_LOOPBACK)}};
    assert(MHD_add_connection(server->daemon, pair[0], (const struct sockaddr *)&from, sizeof from) ==
           MHD_YES);
    send_all(server, pair[1], data + 1, size - 1, data[0] ? data[0] * 16u : 1 << 16);
    hear(pair[1]);
    (void)close(pair[1]);
    run(server);
    end(server);
    free(server);
    return 0;
}
