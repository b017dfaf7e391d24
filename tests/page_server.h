/* A server of src/page/ with answers of its own, and speaking to it through plain sockets.
 * SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_TESTS_PAGE_SERVER_H
#define LOGOCANE_TESTS_PAGE_SERVER_H

#include "page/page.h"

#include <arpa/inet.h>
#include <errno.h>
#include <fcntl.h>
#include <ftw.h>
#include <netinet/in.h>
#include <poll.h>
#include <setjmp.h>
#include <signal.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/prctl.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>
#include <cmocka.h>

#include "scratch.h"

static inline void scratch_folder(char out[SCRATCH]) {
    scratch_name(out, "page");
    assert_non_null(mkdtemp(out));
}

static inline int remove_one(const char *path, const struct stat *about, int kind, struct FTW *place) {
    (void)about, (void)kind, (void)place;
    return remove(path);
}

static inline void scratch_remove(const char *folder) {
    assert_int_equal(nftw(folder, remove_one, 8, FTW_DEPTH | FTW_PHYS), 0);
}

/* --- answers, by the picture's name --- */

static const char *const kept[] = {"a.txt", "b.txt", NULL};

static inline void tell_calls(FILE *file) {
    int opened = open("/etc/passwd", O_RDONLY), font = open("/etc/fonts/fonts.conf", O_RDONLY);
    int made = open("page-made-this", O_WRONLY | O_CREAT, 0600), to = socket(AF_INET, SOCK_STREAM, 0);
    pid_t child = fork();
    if (child == 0) _exit(0);
    int killed = kill(getppid(), 0), ran = execl("/bin/true", "true", (char *)NULL);
    page_head(file, 200, PAGE_JSON, "");
    fprintf(file, "open %d font %d made %d socket %d fork %d kill %d exec %d", opened >= 0, font >= 0,
            made >= 0, to >= 0, child >= 0, killed == 0, ran == 0);
}

static inline void tell_question(const PageAsk *ask, FILE *file) {
    char head[32] = "";
    size_t size = fread(head, 1, 7, stdin), more = 0;
    while (getchar() != EOF) more++;
    page_head(file, 200, PAGE_JSON, "");
    fprintf(file, "%d %s %s %zu", (int)ask->question, ask->logo, head, size + more);
    for (int i = 0; i < ask->fields; i++) fprintf(file, " %s=%s", ask->field[i].name, ask->field[i].value);
}

static inline void pause_ms(long ms) {
    (void)nanosleep(&(struct timespec){ms / 1000, ms % 1000 * 1000000}, NULL);
}

static inline void tell_lines(FILE *file) {
    page_head(file, 200, PAGE_LINES, "");
    fputs("first\n", file), fflush(file);
    pause_ms(300);
    fputs("second\n", file);
}

static inline bool eat(FILE *file) {
    size_t eaten = 0;
    for (char *block; (block = malloc(1 << 24)); eaten += 16) memset(block, 1, 4096);
    page_head(file, 200, PAGE_JSON, "");
    fprintf(file, "eaten %zu", eaten / 100);
    return true;
}

static inline void tell_folder(const char *logo, FILE *file) {
    page_head(file, 200, PAGE_FOLDER, logo + 5);
    page_file(file, "a.txt", "one\n", 4);
    if (strstr(logo, "twice")) page_file(file, "a.txt", "one\n", 4);
    if (strstr(logo, "path")) page_file(file, "../c.txt", "out\n", 4);
    if (strstr(logo, "short"))
        fprintf(file, "100 b.txt\nless");
    else
        page_file(file, "b.txt", "three\n", 6);
}

static volatile int turns;
static inline void pause_none(void) {
    turns = !turns;
}

static inline bool reply(void *user, const PageAsk *ask, FILE *file) {
    const char *logo = ask->logo;
    (void)user;
    if (strcmp(logo, "calls") == 0)
        tell_calls(file);
    else if (strcmp(logo, "lines") == 0)
        tell_lines(file);
    else if (strncmp(logo, "keep-", 5) == 0)
        tell_folder(logo, file);
    else if (strcmp(logo, "crash") == 0) {
        (void)signal(SIGSEGV, SIG_DFL); /* cmocka has a handler of its own */
        (void)syscall(SYS_tgkill, getpid(), (pid_t)syscall(SYS_gettid), SIGSEGV);
    } else if (strcmp(logo, "eat") == 0)
        return eat(file);
    else if (strcmp(logo, "sleep") == 0)
        pause_ms(20000);
    else if (strcmp(logo, "breaks") == 0)
        page_head(file, 200, PAGE_LINES, ""), fputs("first\n", file), fflush(file), raise(SIGKILL), _exit(1);
    else if (strcmp(logo, "lies") == 0)
        fputs("200 7 ../../x\nbody", file);
    else if (strcmp(logo, "file") == 0)
        page_head(file, 200, PAGE_FILE, "../\"N\xc3\xa4he\".zip"), fputs("PK", file);
    else if (strcmp(logo, "refused") == 0)
        page_line(file, 422, "a \"line\"");
    else if (strcmp(logo, "loop") == 0)
        for (;;) pause_none();
    else
        tell_question(ask, file);
    return true;
}

/* --- the server, and speaking to it --- */

typedef struct Page {
    pid_t pid;
    int port;
    char token[33];
    char said[600];
} Page;

static inline int dial(const Page *page) {
    struct sockaddr_in at = {.sin_family = AF_INET, .sin_port = htons((uint16_t)page->port)};
    at.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    int to = socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0);
    struct timeval patience = {5, 0};
    (void)setsockopt(to, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
    assert_int_equal(connect(to, (struct sockaddr *)&at, sizeof at), 0);
    return to;
}

static inline void say(int to, const char *text) {
    for (size_t size = strlen(text); size > 0;) {
        ssize_t some = send(to, text, size, MSG_NOSIGNAL);
        if (some <= 0) return; /* the other side has closed: what it answered is to be read */
        text += some, size -= (size_t)some;
    }
}

/* All that comes until the other side closes. */
static inline const char *hear(int to) {
    static char text[1 << 16];
    size_t used = 0;
    for (ssize_t some; (some = read(to, text + used, sizeof text - 1 - used)) > 0;) used += (size_t)some;
    text[used] = 0;
    (void)close(to);
    return text;
}

static inline const char *ask_raw(const Page *page, const char *request) {
    int to = dial(page);
    say(to, request);
    return hear(to);
}

static inline const char *get(const Page *page, const char *path) {
    char request[400];
    (void)snprintf(request, sizeof request,
                   "GET %s HTTP/1.1\r\nHost: localhost:%d\r\nConnection: close\r\n\r\n", path, page->port);
    return ask_raw(page, request);
}

#define PART "--edge\r\nContent-Disposition: form-data; name="
#define LOGO(name) PART "\"logo\"; filename=\"" name "\"\r\nContent-Type: image/png\r\n\r\npicture\r\n"
#define FIELD(name, value) PART "\"" name "\"\r\n\r\n" value "\r\n"
#define END "--edge--\r\n"

static inline void post_to(const Page *page, int to, const char *path, const char *heads, const char *body) {
    char request[1 << 14];
    (void)snprintf(
        request, sizeof request,
        "POST %s HTTP/1.1\r\nHost: 127.0.0.1:%d\r\nContent-Type: multipart/form-data; boundary=edge\r\n"
        "X-Logocane-Token: %s\r\nConnection: close\r\nContent-Length: %zu\r\n%s\r\n%s",
        path, page->port, page->token, strlen(body), heads, body);
    say(to, request);
}

static inline const char *post(const Page *page, const char *path, const char *body) {
    int to = dial(page);
    post_to(page, to, path, "", body);
    return hear(to);
}

static inline PagePlan usual(void) {
    return (PagePlan){.at = "127.0.0.1:0",
                      .shop = "{\"shop\":1}",
                      .ours = kept,
                      .reply = reply,
                      .fonts = {[PAGE_FILES] = true},
                      .children = 2,
                      .seconds = {1, 1, 5, 5}};
}

static inline Page start(PagePlan plan) {
    Page page = {0};
    int end[2];
    assert_int_equal(pipe2(end, O_CLOEXEC), 0);
    page.pid = fork();
    if (page.pid == 0) {
        Err err = {0};
        (void)prctl(PR_SET_PDEATHSIG, SIGKILL); /* should a test fail */
        plan.out = fdopen(end[1], "w");
        bool good = page_serve(&plan, &err);
        if (!good) fprintf(stderr, "%s\n", err.msg);
#ifdef COUNT_LINES
        extern void __gcov_dump(void);
        __gcov_dump();
#endif
        _exit(!good);
    }
    (void)close(end[1]);
    FILE *said = fdopen(end[0], "r");
    assert_non_null(fgets(page.said, sizeof page.said, said));
    char *colon = strrchr(page.said, ':');
    page.port = colon ? (int)strtol(colon + 1, NULL, 10) : 0;
    assert_in_range(page.port, 1, 65535);
    (void)fclose(said);
    const char *html = get(&page, "/"), *token = strstr(html, "name=\"token\" content=\"");
    if (token) (void)snprintf(page.token, sizeof page.token, "%.32s", token + 22);
    return page;
}

/* How long it took, ms; it must end well. */
static inline long stop(const Page *page) {
    struct timespec before, after;
    int status;
    (void)clock_gettime(CLOCK_MONOTONIC, &before);
    (void)kill(page->pid, SIGTERM);
    assert_int_equal(waitpid(page->pid, &status, 0), page->pid);
    (void)clock_gettime(CLOCK_MONOTONIC, &after);
    assert_true(WIFEXITED(status) && WEXITSTATUS(status) == 0);
    return (after.tv_sec - before.tv_sec) * 1000 + (after.tv_nsec - before.tv_nsec) / 1000000;
}

static inline void holds(const char *text, const char *part) {
    if (!strstr(text, part)) fail_msg("no \"%s\" in: %.900s", part, text);
}

static inline void begins(const char *text, const char *status) {
    if (strncmp(text, "HTTP/1.1 ", 9) != 0 || strncmp(text + 9, status, 3) != 0)
        fail_msg("not %s: %.900s", status, text);
}

#endif
