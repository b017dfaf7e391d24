/* The page under attack: many clients, those that never end, lengths that lie, children killed, no room on
 * the disk, no descriptors. After each the next honest visitor is served soon. SPDX-License-Identifier: MIT
 */
#include "page_server.h"
#include "sanitized.h"

#include <sched.h>
#include <sys/mount.h>
#include <sys/resource.h>

#ifdef SANITIZED
enum { SOON_MS = 10000 };
#else
enum { SOON_MS = 2000 };
#endif

static long now_in_ms(void) {
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

/* A visitor who tries again when turned away, as a browser does, is answered in time: the page and a
 * question. */
static void is_served_soon(const Page *page) {
    const long start = now_in_ms();
    const char *answer = "";
    while (strncmp(answer, "HTTP/1.1 200", 12) != 0 && now_in_ms() < start + SOON_MS) {
        answer = get(page, "/");
        if (*answer == 0) pause_ms(10);
    }
    begins(answer, "200");
    for (answer = ""; strncmp(answer, "HTTP/1.1 200", 12) != 0 && now_in_ms() < start + SOON_MS;) {
        answer = post(page, "/answer", LOGO("x") END);
        if (*answer == 0 || strncmp(answer + 9, "503", 3) == 0) pause_ms(10);
    }
    begins(answer, "200");
    assert_in_range(now_in_ms() - start, 0, SOON_MS);
}

/* What the server holds in memory of its own, kB. */
static long resident_kb(const Page *page) {
    char path[64], line[200];
    long kb = 0;
    (void)snprintf(path, sizeof path, "/proc/%d/status", (int)page->pid);
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    while (fgets(line, sizeof line, file))
        if (strncmp(line, "RssAnon:", 8) == 0) kb = strtol(line + 8, NULL, 10);
    (void)fclose(file);
    assert_true(kb > 0);
    return kb;
}

/* Has the server's memory stayed as it was? Sanitizers keep what was freed. */
static void is_flat(const Page *page, long before, long more) {
    const long after = resident_kb(page);
#ifdef SANITIZED
    more = after;
#endif
    if (after > before + more) fail_msg("%ld kB, and %ld kB after all that", before, after);
}

/* A connection that is not waited for. */
static int knock(const Page *page) {
    struct sockaddr_in at = {.sin_family = AF_INET, .sin_port = htons((uint16_t)page->port)};
    at.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    int to = socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0);
    assert_true(to >= 0);
    (void)connect(to, (struct sockaddr *)&at, sizeof at);
    return to;
}

/* The head of a question with a body of so many bytes, and its beginning. */
static const char *head_of(const Page *page, const char *length, const char *body) {
    static char request[1000];
    (void)snprintf(request, sizeof request,
                   "POST /answer HTTP/1.1\r\nHost: localhost\r\nX-Logocane-Token: %s\r\nConnection: close\r\n"
                   "Content-Type: multipart/form-data; boundary=edge\r\n%s\r\n\r\n%s",
                   page->token, length, body);
    return request;
}

/* --- many --- */

static void bother(const Page *page, int i) {
    int to = dial(page);
    const char *const said[] = {"",
                                "GET / HT",
                                "GET /page.js HTTP/1.1\r\nHost: localhost\r\n\r\n",
                                "GET / HTTP/1.1\r\nHost: elsewhere.example\r\n\r\n",
                                "\r\n\r\n\x16\x03\x01\x02",
                                head_of(page, "Content-Length: 3000", LOGO("y")),
                                "POST /answer HTTP/1.1\r\nHost: localhost\r\nContent-Length: 99\r\n\r\nx",
                                "GET /shop HTTP/1.1\r\nHost: localhost\r\n\r\nGET / HTTP/1.1\r\nHost: "};
    say(to, said[i % 8]);
    (void)close(to);
}

static void a_thousand_who_come_and_go_leave_nothing_behind(void **state) {
    (void)state;
    Page page = start(usual());
    for (int i = 0; i < 400; i++) bother(&page, i);
    is_served_soon(&page);
    const long before = resident_kb(&page);
    const char *wish = getenv("LOGOCANE_CLIENTS"); /* a long run, by hand */
    const long clients = wish ? strtol(wish, NULL, 10) : 1200;
    for (long i = 0; i < clients; i++) bother(&page, (int)(i % 8));
    is_served_soon(&page);
    is_flat(&page, before, 512);
    stop(&page);
}

enum { HUNDREDS = 400 };

static void hundreds_who_say_nothing_keep_nobody_out(void **state) {
    (void)state;
    Page page = start(usual());
    int to[HUNDREDS];
    for (int i = 0; i < HUNDREDS; i++) {
        to[i] = knock(&page);
        if (i % 2) (void)send(to[i], "GET / HT", 8, MSG_NOSIGNAL);
    }
    is_served_soon(&page);
    for (int i = 0; i < HUNDREDS; i++) (void)close(to[i]);
    is_served_soon(&page);
    stop(&page);
}

/* How many the system lets wait before a door. */
static long waiting_most(void) {
    long most = 0;
    FILE *file = fopen("/proc/sys/net/core/somaxconn", "r");
    if (file && fscanf(file, "%ld", &most) != 1) most = 0;
    if (file) (void)fclose(file);
    return most;
}

/* The server is held meanwhile: none of them is looked at, and the next one need not knock again. */
static void thousands_who_knock_and_go_cost_the_next_no_second(void **state) {
    (void)state;
    enum { THOUSANDS = 3000 };
    if (waiting_most() <= THOUSANDS) skip();
    Page page = start(usual());
    is_served_soon(&page);
    assert_int_equal(kill(page.pid, SIGSTOP), 0);
    for (int i = 0; i < THOUSANDS; i++) (void)close(knock(&page));
    const int to = knock(&page);
    struct pollfd let_in = {.fd = to, .events = POLLOUT};
    const int came = poll(&let_in, 1, 500);
    assert_int_equal(kill(page.pid, SIGCONT), 0);
    assert_int_equal(came, 1);
    (void)close(to);
    is_served_soon(&page);
    stop(&page);
}

static void hundreds_whose_questions_never_end_keep_nobody_out(void **state) {
    (void)state;
    Page page = start(usual());
    int to[HUNDREDS];
    const char *begun = head_of(&page, "Content-Length: 100000", "--edge\r\nContent-Dis");
    for (int i = 0; i < HUNDREDS; i++) (void)send(to[i] = dial(&page), begun, strlen(begun), MSG_NOSIGNAL);
    is_served_soon(&page);
    for (int i = 0; i < HUNDREDS; i++) (void)send(to[i], "p", 1, MSG_NOSIGNAL), (void)close(to[i]);
    is_served_soon(&page);
    stop(&page);
}

/* --- what is sent --- */

static void who_announces_or_sends_the_most_takes_no_room_from_others(void **state) {
    (void)state;
    enum { SENDERS = 6, BYTES = 36 << 20 };
    Page page = start(usual());
    int to[SENDERS];
    for (int i = 0; i < SENDERS; i++)
        say(to[i] = dial(&page), /* all but 50 bytes of the 200 MB that may wait */
            head_of(&page, i < SENDERS - 1 ? "Content-Length: 41940000" : "Content-Length: 15150",
                    LOGO("y")));
    is_served_soon(&page);
    for (int i = 0; i < SENDERS; i++) (void)close(to[i]);
    char *piece = calloc(1, 1 << 20);
    assert_non_null(piece);
    int cut = 0;
    for (int i = 0; i < SENDERS; i++)
        say(to[i] = dial(&page),
            head_of(&page, "Content-Length: 40000000", PART "\"logo\"; filename=\"y\"\r\n\r\n"));
    for (int sent = 0; sent < BYTES; sent += 1 << 20)
        for (int i = 0; i < SENDERS; i++)
            for (size_t done = 0; done < 1 << 20;) {
                ssize_t some = send(to[i], piece + done, (1 << 20) - done, MSG_NOSIGNAL);
                assert_true(some > 0); /* also what is refused is taken */
                done += (size_t)some;
            }
    is_served_soon(&page);
    for (int i = 0; i < SENDERS; i++) {
        pause_ms(50);
        (void)shutdown(to[i], SHUT_WR);
        cut += *hear(to[i]) == 0;
    }
    assert_int_equal(cut, SENDERS); /* none of these had an end */
    free(piece);
    is_served_soon(&page);
    stop(&page);
}

static void a_length_that_lies_gets_no_answer(void **state) {
    (void)state;
    Page page = start(usual());
    static const char *const length[] = {"Content-Length: -1",
                                         "Content-Length: +100",
                                         "Content-Length: 0x64",
                                         "Content-Length: 1e2",
                                         "Content-Length: 100, 100",
                                         "Content-Length: 18446744073709551715",
                                         "Content-Length: 99999999999999999999999",
                                         "Content-Length:",
                                         "Content-Length: 0",
                                         "Content-Length: 20",
                                         "Content-Length: 100\r\nContent-Length: 20",
                                         "Content-Length: 100\r\nTransfer-Encoding: chunked",
                                         "Transfer-Encoding: gzip, chunked",
                                         "Transfer-Encoding: identity"};
    for (size_t i = 0; i < sizeof length / sizeof *length; i++) {
        int to = dial(&page);
        say(to, head_of(&page, length[i], LOGO("y") END));
        (void)shutdown(to, SHUT_WR);
        const char *answer = hear(to);
        if (*answer && strncmp(answer, "HTTP/1.1 4", 10) != 0) fail_msg("%s: %.300s", length[i], answer);
    }
    int to = dial(&page); /* more announced than sent */
    say(to, head_of(&page, "Content-Length: 5000", LOGO("y") END));
    pause_ms(100); /* libmicrohttpd sees an end that comes with the last bytes after its own time only */
    (void)shutdown(to, SHUT_WR);
    assert_string_equal(hear(to), "");
    is_served_soon(&page);
    stop(&page);
}

/* Sends the same again and again until it is cut off; whether it was, before 50 MB. */
static bool is_cut_off(int to, const char *begin, const char *again) {
    static char many[1 << 16];
    size_t size = strlen(again), used = 0, sent = 0;
    say(to, begin);
    while (used + size <= sizeof many) memcpy(many + used, again, size), used += size;
    for (ssize_t some; sent < 50 << 20; sent += (size_t)some)
        if ((some = send(to, many, used, MSG_NOSIGNAL)) <= 0) break;
    (void)close(to);
    return sent < 50 << 20;
}

static void what_has_no_end_is_cut_off(void **state) {
    (void)state;
    Page page = start(usual());
    char body[600], chunked[600];
    (void)snprintf(body, sizeof body, "%s", head_of(&page, "Content-Length: 30", LOGO("y")));
    (void)snprintf(chunked, sizeof chunked, "%s", head_of(&page, "Transfer-Encoding: chunked", ""));
    const char *const endless[][2] = {{"GET /", "a"},
                                      {"GET / HTTP/1.1\r\nHost: localhost\r\nX: ", "a"},
                                      {"GET / HTTP/1.1\r\nHost: localhost\r\n", "X: y\r\n"},
                                      {"", "\r\n"},
                                      {body, "a"},
                                      {body, "GET / HTTP/1.1\r\n"},
                                      {chunked, "1\r\na\r\n"}};
    const long before = resident_kb(&page);
    for (size_t i = 0; i < sizeof endless / sizeof *endless; i++) {
        if (!is_cut_off(dial(&page), endless[i][0], endless[i][1])) fail_msg("%zu is not cut off", i);
        is_served_soon(&page);
    }
    is_flat(&page, before, 1024);
    stop(&page);
}

static void a_form_without_sense_is_refused(void **state) {
    (void)state;
    Page page = start(usual());
    static char name[40000] = PART "\"";
    memset(name + strlen(name), 'n', 39000);
    const char *const body[] = {
        name, "--edge\r\n\r\n\r\n" END, PART "\"logo\"; filename=\"\r\n\r\nx\r\n" END,
        "--edge\r\nContent-Type: multipart/mixed; boundary=b\r\n\r\n--b\r\n--b--\r\n" END,
        "--edge\r\nContent-Disposition: attachment; filename=\"y\"\r\n\r\nx\r\n" END};
    static const char *const type[] = {"multipart/form-data", "multipart/form-data; boundary=",
                                       "text/plain",          "multipart/form-data; boundary=\"",
                                       "application/json",    "application/x-www-form-urlencoded"};
    char request[1 << 16];
    for (size_t i = 0; i < 11; i++) {
        const char *is = i < 5 ? "multipart/form-data; boundary=edge" : type[i - 5];
        const char *what = i < 5 ? body[i] : i == 10 ? "logo=picture&a=b" : LOGO("y") END;
        (void)snprintf(
            request, sizeof request,
            "POST /answer HTTP/1.1\r\nHost: localhost\r\nX-Logocane-Token: %s\r\nConnection: close\r\n"
            "Content-Type: %s\r\nContent-Length: %zu\r\n\r\n%s",
            page.token, is, strlen(what), what);
        const char *answer = ask_raw(&page, request);
        if (strncmp(answer, "HTTP/1.1 400", 12) != 0) fail_msg("%zu: %.300s", i, answer);
    }
    is_served_soon(&page);
    stop(&page);
}

/* --- what is missing --- */

static void descriptors_that_are_used_up_come_back(void **state) {
    (void)state;
    enum { FILES = 36, CLIENTS = 60 };
    struct rlimit usual_limit, few;
    assert_int_equal(getrlimit(RLIMIT_NOFILE, &usual_limit), 0);
    few = (struct rlimit){FILES, usual_limit.rlim_max};
    assert_int_equal(setrlimit(RLIMIT_NOFILE, &few), 0);
    Page page = start(usual());
    assert_int_equal(setrlimit(RLIMIT_NOFILE, &usual_limit), 0);
    int to[CLIENTS];
    for (int i = 0; i < CLIENTS; i++) to[i] = dial(&page);
    is_served_soon(&page);
    const char *begun = head_of(&page, "Content-Length: 100000", LOGO("y"));
    for (int i = 0; i < CLIENTS; i++) {
        (void)close(to[i]);
        (void)send(to[i] = dial(&page), begun, strlen(begun), MSG_NOSIGNAL);
    }
    is_served_soon(&page);
    for (int i = 0; i < CLIENTS; i++) (void)close(to[i]);
    is_served_soon(&page);
    stop(&page);
}

/* Mounting asks for rights that not every machine gives. What is mounted ends with this process. */
static bool mount_small(const char *dir) {
    return unshare(CLONE_NEWNS) == 0 && mount("none", "/", NULL, MS_REC | MS_PRIVATE, NULL) == 0 &&
           mount("tmpfs", dir, "tmpfs", 0, "size=4k") == 0;
}

static void a_full_disk_is_told_and_keeps_nothing(void **state) {
    (void)state;
    char dir[SCRATCH], path[SCRATCH + 100], first[300], second[300];
    struct stat about;
    scratch_folder(dir);
    if (!mount_small(dir)) {
        print_message("a small file system cannot be mounted here (%s)\n", strerror(errno));
        scratch_remove(dir);
        skip();
    }
    PagePlan plan = usual();
    plan.dir = dir;
    Page page = start(plan);
    (void)snprintf(first, sizeof first, "%.299s", post(&page, "/keep", LOGO("keep-ferry") END));
    (void)snprintf(path, sizeof path, "%s/ferry", dir);
    bool left = stat(path, &about) == 0;
    (void)mount("tmpfs", dir, "tmpfs", MS_REMOUNT, "size=1m");
    const char *answer = post(&page, "/keep", LOGO("keep-ferry") END), *body = strstr(answer, "\r\n\r\n");
    (void)snprintf(second, sizeof second, "%.12s %.280s", answer, body ? body + 4 : "");
    bool kept_now = stat(path, &about) == 0;
    stop(&page);
    (void)umount2(dir, MNT_DETACH);
    scratch_remove(dir);
    begins(first, "500");
    assert_false(left);
    begins(second, "200");
    holds(second, "kept in ferry");
    assert_true(kept_now);
}

/* --- children killed by others --- */

static bool stay_and_reply(void *user, const PageAsk *ask, FILE *file) {
    if (strcmp(ask->logo, "pid") != 0) return reply(user, ask, file);
    page_head(file, 200, PAGE_LINES, "");
    fprintf(file, "pid %d\n", (int)getpid());
    bool works = ask->fields > 0;
    if (works) (void)fflush(file), pause_ms(20000);
    return true;
}

static pid_t pid_in(const char *text) {
    const char *pid = strstr(text, "pid ");
    if (!pid) fail_msg("no pid: %s", strstr(text, "\r\n\r\n") ? strstr(text, "\r\n\r\n") : text);
    return (pid_t)strtol(pid + 4, NULL, 10);
}

static void a_child_that_is_killed_costs_its_own_answer_at_most(void **state) {
    (void)state;
    PagePlan plan = usual();
    plan.reply = stay_and_reply;
    plan.stays[PAGE_ANSWER] = true;
    plan.seconds[PAGE_ANSWER] = 30;
    Page page = start(plan);
    static const int signals[] = {SIGKILL, SIGTERM, SIGUSR1, SIGHUP};
    for (int i = 0; i < 12; i++) { /* it rests */
        pid_t pid = pid_in(post(&page, "/answer", LOGO("pid") END));
        assert_int_equal(kill(pid, signals[i % 4]), 0);
        if (i % 2) pause_ms(20);
    }
    for (int i = 0; i < 4; i++) { /* it works */
        char first[1024] = "";
        int to = dial(&page);
        post_to(&page, to, "/answer", "", LOGO("pid") FIELD("a", "b") END);
        for (size_t used = 0; !strstr(first, "pid ") || !strchr(strstr(first, "pid "), '\n');) {
            ssize_t some = read(to, first + used, sizeof first - 1 - used);
            assert_true(some > 0);
            first[used += (size_t)some] = 0;
        }
        assert_int_equal(kill(pid_in(first), signals[i]), 0);
        assert_null(strstr(hear(to), "0\r\n\r\n")); /* cut off, and seen to be */
        is_served_soon(&page);
    }
    stop(&page);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_thousand_who_come_and_go_leave_nothing_behind),
        cmocka_unit_test(hundreds_who_say_nothing_keep_nobody_out),
        cmocka_unit_test(thousands_who_knock_and_go_cost_the_next_no_second),
        cmocka_unit_test(hundreds_whose_questions_never_end_keep_nobody_out),
        cmocka_unit_test(who_announces_or_sends_the_most_takes_no_room_from_others),
        cmocka_unit_test(a_length_that_lies_gets_no_answer),
        cmocka_unit_test(what_has_no_end_is_cut_off),
        cmocka_unit_test(a_form_without_sense_is_refused),
        cmocka_unit_test(descriptors_that_are_used_up_come_back),
        cmocka_unit_test(a_full_disk_is_told_and_keeps_nothing),
        cmocka_unit_test(a_child_that_is_killed_costs_its_own_answer_at_most),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
