/* Tests of src/page/: questions, and what must not stop the next one. SPDX-License-Identifier: MIT */
#include "page_server.h"
#include "sanitized.h"

static void the_page_and_its_files_are_served_with_strict_heads(void **state) {
    (void)state;
    Page page = start(usual());
    holds(page.said, "the page is http://127.0.0.1:");
    holds(page.said, "/ (Ctrl-C ends it)\n");
    assert_int_equal(strspn(page.token, "0123456789abcdef"), 32);
    static const char *const path[][2] = {{"/", "text/html"},
                                          {"/page.css", "text/css"},
                                          {"/page.js", "text/javascript"},
                                          {"/icon.svg", "image/svg+xml"},
                                          {"/shop", "{\"shop\":1}"}};
    for (size_t i = 0; i < sizeof path / sizeof *path; i++) {
        const char *answer = get(&page, path[i][0]);
        begins(answer, "200");
        holds(answer, path[i][1]);
        holds(answer, "Content-Security-Policy: default-src 'none'; script-src 'self'");
        holds(answer, "X-Content-Type-Options: nosniff");
        holds(answer, "Referrer-Policy: no-referrer");
        holds(answer, "Cache-Control: no-store");
    }
    stop(&page);
}

static void nothing_else_is_there_whatever_the_path(void **state) {
    (void)state;
    Page page = start(usual());
    static const char *const path[] = {"/../../../../etc/passwd",
                                       "/%2e%2e/%2e%2e/etc/passwd",
                                       "//etc/passwd",
                                       "/page.css/..",
                                       "/index.html",
                                       "/answer"};
    for (size_t i = 0; i < sizeof path / sizeof *path; i++) begins(get(&page, path[i]), "404");
    begins(post(&page, "/shop", LOGO("x") END), "404");
    begins(post(&page, "/keep", LOGO("x") END), "404"); /* no folder was named */
    begins(ask_raw(&page, "PUT / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 0\r\n\r\n"), "405");
    stop(&page);
}

static void a_question_reaches_the_child_with_its_fields_and_its_picture(void **state) {
    (void)state;
    Page page = start(usual());
    const char *answer =
        post(&page, "/sweep",
             FIELD("pieces", "5 000") LOGO("C:\\logos\\ferry.png") FIELD("map", "#1=a") FIELD("map", "") END);
    begins(answer, "200");
    holds(answer, "\r\n\r\n1 ferry.png picture 7 pieces=5 000 map=#1=a map=");
    holds(post(&page, "/answer", LOGO("../..") END), "0 logo picture 7");
    answer = post(&page, "/files", LOGO("file") END);
    holds(answer, "Content-Type: application/zip\r\n");
    holds(answer, "filename=\"N__he-.zip\"; filename*=UTF-8''N%C3%A4he-.zip\r\n");
    holds(answer, "\r\n\r\nPK");
    answer = post(&page, "/answer", LOGO("refused") END);
    begins(answer, "422");
    holds(answer, "{\"line\":\"a \\\"line\\\"\"}");
    stop(&page);
}

static void a_line_is_sent_before_the_next_is_known(void **state) {
    (void)state;
    Page page = start(usual());
    int to = dial(&page);
    char text[4096];
    size_t used = 0;
    post_to(&page, to, "/answer", "", LOGO("lines") END);
    for (ssize_t some;
         !strstr(text, "first\n") && (some = read(to, text + used, sizeof text - 1 - used)) > 0;)
        used += (size_t)some, text[used] = 0;
    holds(text, "application/x-ndjson");
    assert_null(strstr(text, "second"));
    holds(hear(to), "second\n");
    stop(&page);
}

static void a_body_that_is_too_large_or_of_no_length_is_refused_from_its_head(void **state) {
    (void)state;
    Page page = start(usual());
    char request[1000];
    static const char form[] =
        "POST /answer HTTP/1.1\r\nHost: localhost\r\nX-Logocane-Token: %s\r\nContent-Type: "
        "multipart/form-data; boundary=edge\r\n%s\r\n\r\n";
    static const char *const head[][2] = {{"Content-Length: 50000000\r\nExpect: 100-continue", "413"},
                                          {"Content-Length: 500000000", "413"},
                                          {"Transfer-Encoding: chunked", "411"},
                                          {"X: y", "411"}};
    for (size_t i = 0; i < sizeof head / sizeof *head; i++) {
        (void)snprintf(request, sizeof request, form, page.token, head[i][0]);
        begins(ask_raw(&page, request), head[i][1]);
    }
    stop(&page);
}

static void a_broken_form_is_refused(void **state) {
    (void)state;
    Page page = start(usual());
    static char many[16000] = LOGO("x");
    for (int i = 0; i < 130; i++) strcat(many, FIELD("pieces", "1"));
    strcat(many, END);
    const char *const body[] = {"",
                                "nothing",
                                "--edge\r\n",
                                LOGO("x"),
                                LOGO("x") "--edge",
                                END,
                                FIELD("pieces", "1") END,
                                LOGO("x") LOGO("y") END,
                                PART "\"logo\"\r\n\r\nx\r\n" END,
                                PART "\"pieces\"; filename=\"x\"\r\n\r\nx\r\n" END,
                                many};
    for (size_t i = 0; i < sizeof body / sizeof *body; i++) {
        const char *answer = post(&page, "/answer", body[i]);
        if (strncmp(answer + 9, "400", 3) != 0) fail_msg("%zu: %.300s", i, answer);
        holds(answer, "{\"line\":\"");
    }
    begins(post(&page, "/answer", LOGO("x") END), "200");
    stop(&page);
}

static void a_child_that_breaks_down_costs_its_own_answer_only(void **state) {
    (void)state;
    Page page = start(usual());
    int loop = dial(&page);
    post_to(&page, loop, "/answer", "", LOGO("loop") END);
    const char *answer = post(&page, "/answer", LOGO("crash") END);
    begins(answer, "500");
    holds(answer, "broke down");
    begins(post(&page, "/answer", LOGO("lies") END), "500");
    answer = post(&page, "/answer", LOGO("breaks") END);
    begins(answer, "200");
    holds(answer, "first\n");
    assert_null(
        strstr(answer, "\r\n0\r\n\r\n")); /* no end of the stream: the browser sees that it broke off */
    begins(post(&page, "/answer", LOGO("x") END), "200");
    answer = hear(loop);
    begins(answer, "500");
    holds(answer, "took too long");
    stop(&page);
}

static void a_child_has_so_much_memory_and_no_more(void **state) {
    (void)state;
#if defined(SANITIZED) || defined(COUNT_LINES)
    skip(); /* the sanitizer itself reserves terabytes; where lines are counted nothing is shut in */
#endif
    Page page = start(usual());
    const char *answer = post(&page, "/files", LOGO("eat") END);
    begins(answer, "200");
    holds(answer, "eaten 1"); /* 1000 to 1999 MB */
    stop(&page);
}

static bool landlock_is_here(void) {
    return syscall(444 /* landlock_create_ruleset */, NULL, 0, 1) > 0;
}

static void a_child_can_open_nothing_and_reach_nobody(void **state) {
    (void)state;
#ifdef COUNT_LINES
    skip(); /* nothing is shut in, so that counts can be written */
#endif
    Page page = start(usual());
    holds(post(&page, "/answer", LOGO("calls") END), "open 0 font 0 made 0 socket 0 fork 0 kill 0 exec 0");
    const char *answer = post(&page, "/files", LOGO("calls") END);
    holds(answer, "made 0 socket 0 fork 0 kill 0 exec 0");
    if (landlock_is_here()) holds(answer, "open 0 font 1");
    stop(&page);
}

static void questions_beyond_the_queue_are_refused_and_those_who_leave_make_room(void **state) {
    (void)state;
    PagePlan plan = usual();
    plan.waiting = 1;
    plan.seconds[PAGE_ANSWER] = 5;
    Page page = start(plan);
    int to[4];
    for (int i = 0; i < 4; i++) post_to(&page, to[i] = dial(&page), "/answer", "", LOGO("sleep") END);
    /* Which of them is the fourth is the server's to say: what comes at once has no order. */
    struct pollfd coming[4];
    for (int i = 0; i < 4; i++) coming[i] = (struct pollfd){.fd = to[i], .events = POLLIN};
    assert_int_equal(poll(coming, 4, 4000), 1);
    const char *answer = "";
    for (int i = 0; i < 4; i++) {
        if (coming[i].revents)
            answer = hear(to[i]);
        else
            (void)close(to[i]);
    }
    begins(answer, "503");
    for (int tries = 0; tries < 50; tries++) {
        answer = post(&page, "/answer", LOGO("x") END);
        if (strncmp(answer + 9, "503", 3) != 0) break;
        pause_ms(20);
    }
    begins(answer, "200");
    stop(&page);
}

/* Of the connections, those that the server has not closed; what it has answered is thrown away. */
static int count_open(const int at[], int count) {
    char piece[4096];
    int open = 0;
    for (int i = 0; i < count; i++) {
        ssize_t size;
        while ((size = recv(at[i], piece, sizeof piece, MSG_DONTWAIT)) > 0) {
        }
        open += size < 0;
    }
    return open;
}

/* Hands the picture over and tells where it is. */
static void hand(const Page *page, const char *body, char at[80]) {
    const char *answer = post(page, "/hand", body), *place = strstr(answer, "handed/");
    begins(answer, "200");
    assert_non_null(place);
    (void)snprintf(at, 80, "/%.39s", place); /* "handed/" and 32 digits */
}

static void a_picture_handed_over_is_fetched_once(void **state) {
    (void)state;
    Page page = start(usual());
    char at[6][80];
    hand(&page, LOGO("their logo") END, at[0]);
    const char *answer = get(&page, at[0]);
    begins(answer, "200");
    holds(answer, "\r\n\r\npicture");
    holds(answer, "X-Logocane-Name: %74%68%65%69%72%20");
    begins(get(&page, at[0]), "404");
    for (int i = 0; i < 6; i++) hand(&page, LOGO("another") END, at[i]);
    begins(get(&page, at[0]), "404"); /* four are held */
    begins(get(&page, at[1]), "404");
    for (int i = 2; i < 6; i++) begins(get(&page, at[i]), "200");
    begins(post(&page, "/hand", FIELD("a", "b") END), "400");
    begins(get(&page, "/handed/"), "404");
    stop(&page);
}

static void connections_that_rest_make_room_for_others(void **state) {
    (void)state;
    Page page = start(usual());
    int rest[80];
    for (int i = 0; i < 80; i++)
        say(rest[i] = dial(&page), "GET /icon.svg HTTP/1.1\r\nHost: localhost\r\n\r\n");
    for (int tries = 0; tries < 100 && count_open(rest, 80) > 40; tries++) pause_ms(20);
    assert_in_range(count_open(rest, 80), 30, 40);
    begins(post(&page, "/answer", LOGO("x") END), "200");
    for (int i = 0; i < 80; i++) (void)close(rest[i]);
    stop(&page);
}

static void a_slow_sender_and_idle_connections_hold_nobody_up(void **state) {
    (void)state;
    Page page = start(usual());
    int slow[12];
    for (int i = 0; i < 12; i++) {
        slow[i] = dial(&page);
        say(slow[i], i % 3 == 0 ? "GET / HT" : i % 3 == 1 ? "" : "POST /answer HTTP/1.1\r\nHost: local");
    }
    char half[600];
    (void)snprintf(
        half, sizeof half,
        "POST /answer HTTP/1.1\r\nHost: localhost\r\nX-Logocane-Token: %s\r\nConnection: close\r\n"
        "Content-Type: multipart/form-data; boundary=edge\r\nContent-Length: %zu\r\n\r\n--edge\r\n",
        page.token, strlen(LOGO("x") END));
    int sender = dial(&page);
    say(sender, half);
    begins(post(&page, "/answer", LOGO("x") END), "200");
    say(sender, &(LOGO("x") END)[8]);
    begins(hear(sender), "200");
    for (int i = 0; i < 12; i++) (void)close(slow[i]);
    stop(&page);
}

static void a_folder_is_kept_whole_or_not_at_all(void **state) {
    (void)state;
    char dir[SCRATCH], path[SCRATCH + 100];
    scratch_folder(dir);
    PagePlan plan = usual();
    plan.dir = dir;
    Page page = start(plan);
    const char *answer = post(&page, "/keep", LOGO("keep-ferry") END);
    begins(answer, "200");
    holds(answer, "{\"line\":\"kept in ferry\",\"folder\":\"ferry\"}");
    (void)snprintf(path, sizeof path, "%s/ferry/b.txt", dir);
    struct stat about;
    assert_int_equal(stat(path, &about), 0);
    assert_int_equal(about.st_size, 6);
    answer = post(&page, "/keep", LOGO("keep-ferry") END);
    begins(answer, "409");
    holds(answer, "ferry is kept already");
    begins(post(&page, "/keep", LOGO("keep-ferry") FIELD("force", "yes") END), "200");
    static const char *const bad[] = {LOGO("keep-twice") END, LOGO("keep-path") END, LOGO("keep-short") END,
                                      LOGO("crash") END, LOGO("lies") END};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) begins(post(&page, "/keep", bad[i]), "500");
    static const char *const left[] = {"twice", "path",    "short", "twice.unfinished-logocane",
                                       "c.txt", "../c.txt"};
    for (size_t i = 0; i < sizeof left / sizeof *left; i++) {
        (void)snprintf(path, sizeof path, "%s/%s", dir, left[i]);
        assert_int_not_equal(stat(path, &about), 0);
    }
    (void)snprintf(path, sizeof path, "%s/letters", dir);
    assert_int_equal(mkdir(path, 0755), 0);
    (void)snprintf(path, sizeof path, "%s/letters/letter.doc", dir);
    FILE *letter = fopen(path, "w"); /* a stranger's: not to be replaced */
    assert_non_null(letter);
    (void)fclose(letter);
    begins(post(&page, "/keep", LOGO("keep-letters") FIELD("force", "yes") END), "409");
    assert_int_equal(stat(path, &about), 0);
    begins(post(&page, "/keep", LOGO("keep-...") END), "200"); /* any name becomes a safe one */
    (void)snprintf(path, sizeof path, "%s/logo/a.txt", dir);
    assert_int_equal(stat(path, &about), 0);
    stop(&page);
    scratch_remove(dir);
}

static void a_signal_ends_it_within_a_second_and_its_children(void **state) {
    (void)state;
    PagePlan plan = usual();
    plan.seconds[PAGE_ANSWER] = 30;
    Page page = start(plan);
    int to[4];
    for (int i = 0; i < 4; i++)
        post_to(&page, to[i] = dial(&page), "/answer", "", i % 2 ? LOGO("loop") END : LOGO("sleep") END);
    begins(get(&page, "/"), "200");
    assert_in_range(stop(&page), 0, 999);
    for (int i = 0; i < 4; i++) assert_string_equal(hear(to[i]), "");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_page_and_its_files_are_served_with_strict_heads),
        cmocka_unit_test(nothing_else_is_there_whatever_the_path),
        cmocka_unit_test(a_question_reaches_the_child_with_its_fields_and_its_picture),
        cmocka_unit_test(a_line_is_sent_before_the_next_is_known),
        cmocka_unit_test(a_body_that_is_too_large_or_of_no_length_is_refused_from_its_head),
        cmocka_unit_test(a_broken_form_is_refused),
        cmocka_unit_test(a_child_that_breaks_down_costs_its_own_answer_only),
        cmocka_unit_test(a_child_has_so_much_memory_and_no_more),
        cmocka_unit_test(a_child_can_open_nothing_and_reach_nobody),
        cmocka_unit_test(questions_beyond_the_queue_are_refused_and_those_who_leave_make_room),
        cmocka_unit_test(a_picture_handed_over_is_fetched_once),
        cmocka_unit_test(connections_that_rest_make_room_for_others),
        cmocka_unit_test(a_slow_sender_and_idle_connections_hold_nobody_up),
        cmocka_unit_test(a_folder_is_kept_whole_or_not_at_all),
        cmocka_unit_test(a_signal_ends_it_within_a_second_and_its_children),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
