/* The server: one thread, one loop. SPDX-License-Identifier: MIT
 *
 * Input: libmicrohttpd's own descriptor, signals, the children's pipes, and the sockets of clients that wait,
 * to see them leave. Each turn: what came is looked at, questions that wait get free places, libmicrohttpd
 * does what can be done. Invariant: nothing in a turn waits for a client, a child or the disk. */
#include "page/server.h"

#include "base/mem.h"
#include "base/parallel.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <stdlib.h>
#include <string.h>
#include <sys/random.h>
#include <sys/signalfd.h>
#include <sys/socket.h>
#include <unistd.h>

enum {
    VISITS_MOST = 128,  /* connections */
    VISITS_OF_ONE = 96, /* of them from one address: a proxy's, for example */
    RESTING_MOST = 40,  /* of them that ask for nothing; beyond, the one that rests longest is closed */
    VISITS_ROOM = 8,    /* of these, kept free: beyond, the one that sends or takes longest is closed */
    SLOW_MS = 1000,     /* it has had so long */
    FEW_MS = 200,       /* or so long, where descriptors are few */
    FILES_ROOM = 12,    /* descriptors kept free for questions and children */
    IDLE_SECONDS = 30,  /* a connection may rest, nothing coming or going */
    WAITING_MOST = 32,  /* questions behind those that are answered */
    POLLS = 2 + 2 * CHILDREN_MAX + VISITS_MOST
};

/* --- one turn --- */

/* What is looked at, and what each is for: question or child. */
typedef struct Watch {
    struct pollfd at[POLLS];
    Child *child[POLLS];
    Question *question[POLLS];
    int count;
} Watch;

static void watch_one(Watch *watch, int descriptor, short events, Child *child, Question *question) {
    if (watch->count == POLLS) return;
    watch->at[watch->count] = (struct pollfd){.fd = descriptor, .events = events};
    watch->child[watch->count] = child;
    watch->question[watch->count++] = question;
}

static void watch_all(Server *server, int daemon, Watch *watch) {
    watch->count = 0;
    watch_one(watch, daemon, POLLIN, NULL, NULL);
    watch_one(watch, server->signals, POLLIN, NULL, NULL);
    for (int i = 0; i < server->places; i++) {
        Child *child = &server->child[i];
        if (child->pid > 0 && child->pipe >= 0) watch_one(watch, child->pipe, POLLIN, child, NULL);
        if (child->pid > 0 && child->asks >= 0) watch_one(watch, child->asks, POLLIN, child, NULL);
    }
    for (Question *q = server->first; q; q = q->next)
        if (q->suspended) watch_one(watch, q->socket, POLLRDHUP, NULL, q);
}

static void take_signals(Server *server) {
    struct signalfd_siginfo about;
    while (read(server->signals, &about, sizeof about) == (ssize_t)sizeof about)
        if (about.ssi_signo != SIGCHLD) server->stopping = true;
}

/* libmicrohttpd sees it closed. */
static void close_visit(Visit *visit) {
    (void)shutdown(visit->socket, SHUT_RDWR);
    visit->until = visit->slow = 0;
    visit->shut = true;
}

/* Are nearly all descriptors that the system grants in use? */
static bool is_short_of_files(const Server *server) {
    int got[FILES_ROOM], count = 0;
    while (count < FILES_ROOM && (got[count] = fcntl(server->signals, F_DUPFD_CLOEXEC, 0)) >= 0) count++;
    for (int i = 0; i < count; i++) (void)close(got[i]);
    return count < FILES_ROOM;
}

/* Browsers and proxies keep connections open for what they may ask next: no room is to be lost to that. */
static void close_resting(Server *server) {
    for (int resting = RESTING_MOST + 1; resting > RESTING_MOST;) {
        Visit *oldest = NULL;
        resting = 0;
        for (Visit *visit = server->visits; visit; visit = visit->next) {
            if (visit->idle == 0 || visit->until == 0) continue;
            resting++;
            if (!oldest || visit->idle < oldest->idle) oldest = visit;
        }
        if (resting <= RESTING_MOST) return;
        close_visit(oldest);
    }
}

/* Clients that send without end, or take slowly what is answered, are not to fill all places, nor those that
 * rest where descriptors are few: then the one that does so longest is closed. The time to look again (0:
 * when something comes). */
static int64_t close_crowd(Server *server, int64_t now) {
    const bool few = is_short_of_files(server);
    int count = 0;
    int64_t since = 0;
    Visit *oldest = NULL;
    for (Visit *visit = server->visits; visit; visit = visit->next) {
        if (visit->shut) continue;
        count++;
        int64_t its = visit->slow ? visit->slow : few ? visit->idle : 0;
        if (its && (!oldest || its < since)) oldest = visit, since = its;
    }
    if (!oldest || (!few && count <= VISITS_OF_ONE - VISITS_ROOM)) return 0;
    since += few ? FEW_MS : SLOW_MS;
    if (since > now) return since;
    close_visit(oldest);
    return now + 1;
}

/* Closes connections whose time is up; gives the time of the next. */
static int64_t close_slow(Server *server, int64_t now) {
    int64_t next = 0;
    for (Visit *visit = server->visits; visit; visit = visit->next) {
        if (visit->until == 0) continue;
        if (visit->until <= now) {
            close_visit(visit);
        } else if (next == 0 || visit->until < next) {
            next = visit->until;
        }
    }
    return next;
}

static int wait_ms(Server *server) {
    int64_t now = now_ms(), child = children_late(server, now), visit = close_slow(server, now),
            handed = hand_late(server, now), crowd = close_crowd(server, now), least = -1;
    MHD_UNSIGNED_LONG_LONG own;
    if (child) least = child - now;
    if (visit && (least < 0 || visit - now < least)) least = visit - now;
    if (crowd && (least < 0 || crowd - now < least)) least = crowd - now;
    if (handed && (least < 0 || handed - now < least)) least = handed - now;
    if (MHD_get_timeout(server->daemon, &own) == MHD_YES && (least < 0 || (int64_t)own < least))
        least = (int64_t)own;
    return server->run_again ? 0 : least > 60000 ? 60000 : (int)least;
}

static void turn(Server *server, int daemon, Watch *watch) {
    watch_all(server, daemon, watch);
    int wait = wait_ms(server);
    if (poll(watch->at, (nfds_t)watch->count, wait) < 0) return;
    for (int i = 2; i < watch->count; i++) {
        if (watch->at[i].revents == 0) continue;
        Child *child = watch->child[i];
        if (child && watch->at[i].fd == child->pipe) child_read(server, child);
        if (child && watch->at[i].fd == child->asks) stay_told(server, child);
        if (watch->question[i]) {
            watch->question[i]->left = true;
            question_wake(watch->question[i]);
        }
    }
    take_signals(server);
    children_reap(server);
    children_start(server);
    server->run_again = false;
    (void)MHD_run(server->daemon);
    close_resting(server);
    children_start(server); /* what has just come */
}

/* --- beginning and end --- */

bool secret_new(char out[TOKEN_TEXT]) {
    unsigned char bytes[(TOKEN_TEXT - 1) / 2];
    if (getrandom(bytes, sizeof bytes, 0) != (ssize_t)sizeof bytes) return false;
    for (size_t i = 0; i < sizeof bytes; i++) (void)snprintf(out + 2 * i, 3, "%02x", bytes[i]);
    return true;
}

static bool fill_token(Server *server, Err *err) {
    return secret_new(server->token) ||
           err_set(err, ERR_SYSTEM, "--page: the system gives no random number (%s)", strerror(errno));
}

/* The HTML with the token of this start in it. */
static bool fill_html(Server *server, Err *err) {
    static const char mark[] = "@TOKEN@";
    const char *html = (const char *)page_assets[0].bytes;
    size_t size = page_assets[0].size, length = sizeof mark - 1;
    const char *at = memmem(html, size, mark, length);
    size_t before = at ? (size_t)(at - html) : size, skip = at ? length : 0,
           token = at ? strlen(server->token) : 0;
    server->html = mem_alloc(size + token, 1, err);
    if (!server->html) return false;
    memcpy(server->html, html, before);
    memcpy(server->html + before, server->token, token);
    memcpy(server->html + before + token, html + before + skip, size - before - skip);
    server->html_size = size + token - skip;
    return true;
}

static bool hold_signals(Server *server, Err *err) {
    static const int ours[] = {SIGTERM, SIGINT, SIGHUP, SIGCHLD};
    sigset_t set;
    (void)sigemptyset(&set);
    for (size_t i = 0; i < sizeof ours / sizeof *ours; i++) (void)sigaddset(&set, ours[i]);
    (void)sigprocmask(SIG_BLOCK, &set, &server->before);
    server->signals = signalfd(-1, &set, SFD_CLOEXEC | SFD_NONBLOCK);
    return server->signals >= 0 ||
           err_set(err, ERR_SYSTEM, "--page: no signals can be had (%s)", strerror(errno));
}

static bool begin_nursery(Server *server, Err *err) {
    return nursery_begin(server) ||
           err_set(err, ERR_SYSTEM, "--page: no process can be had (%s)", strerror(errno));
}

static bool start(Server *server, Err *err) {
    server->daemon = MHD_start_daemon(
        MHD_USE_EPOLL | MHD_ALLOW_SUSPEND_RESUME, 0, NULL, NULL, handle, server, MHD_OPTION_LISTEN_SOCKET,
        (MHD_socket)server->listener, MHD_OPTION_NOTIFY_COMPLETED, handle_end, server,
        MHD_OPTION_NOTIFY_CONNECTION, handle_visit, server, MHD_OPTION_CONNECTION_LIMIT,
        (unsigned)VISITS_MOST, MHD_OPTION_PER_IP_CONNECTION_LIMIT, (unsigned)VISITS_OF_ONE,
        MHD_OPTION_CONNECTION_TIMEOUT, (unsigned)IDLE_SECONDS, MHD_OPTION_CONNECTION_MEMORY_LIMIT,
        (size_t)(64 << 10), MHD_OPTION_END);
    if (!server->daemon) return err_set(err, ERR_SYSTEM, "--page: the server could not be started");
    server->listener = -1; /* libmicrohttpd's now */
    return true;
}

static bool serve(Server *server, Err *err) {
    Watch *watch = mem_alloc(1, sizeof *watch, err);
    const union MHD_DaemonInfo *info = MHD_get_daemon_info(server->daemon, MHD_DAEMON_INFO_EPOLL_FD);
    if (watch && !info) (void)err_set(err, ERR_SYSTEM, "--page: the server could not be started");
    while (watch && info && !server->stopping) turn(server, info->epoll_fd, watch);
    free(watch);
    return err->code == ERR_NONE;
}

/* Connections that sleep must wake before libmicrohttpd may end. */
static void stop(Server *server) {
    children_end(server, now_ms() + 700);
    for (Question *q = server->first; q; q = q->next) {
        q->left = true;
        question_wake(q);
    }
    hand_end(server);
    nursery_end(server);
    if (server->daemon) MHD_stop_daemon(server->daemon);
    if (server->listener >= 0) (void)close(server->listener);
    if (server->signals >= 0) (void)close(server->signals);
    (void)sigprocmask(SIG_SETMASK, &server->before, NULL);
    free(server->html);
}

bool page_serve(const PagePlan *plan, Err *err) {
    Server *server = mem_alloc(1, sizeof *server, err);
    if (!server) return false;
    int processors = parallel_workers();
    server->plan = plan;
    server->listener = server->signals = server->nursery = -1;
    server->pid = getpid();
    server->children = plan->children > 0              ? plan->children
                       : processors < CHILDREN_MAX / 2 ? processors
                                                       : CHILDREN_MAX / 2;
    server->places = 2 * server->children;
    server->waiting_most = plan->waiting > 0 ? plan->waiting : WAITING_MOST;
    bool good = hold_signals(server, err) && begin_nursery(server, err) && fill_token(server, err) &&
                fill_html(server, err) && server_listen(server, err) && start(server, err) &&
                serve(server, err);
    stop(server);
    free(server);
    return good;
}
