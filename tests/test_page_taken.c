/* Children of the page that a picture has taken over: what they can do to the server and to the next client.
 * SPDX-License-Identifier: MIT */
#include "page_server.h"
#include "sanitized.h"

#include <pthread.h>

enum { SOCKET = 3 /* a child's, when it stays */ };

static void pid_line(FILE *file) {
    page_head(file, 200, PAGE_JSON, "");
    fprintf(file, "pid %d", (int)getpid());
    (void)fflush(file);
}

static void write_for_ever(void) {
    static const char junk[1 << 16] = "\n";
    while (write(STDOUT_FILENO, junk, sizeof junk) > 0) {
    }
}

static void *write_in_a_thread(void *argument) {
    write_for_ever();
    return argument;
}

/* What stands for an answer's head, and what the client is told: lies of each kind. */
static const struct {
    const char *head;
    size_t size;
} lies[] = {
#define LIE(text)                                                                                            \
    { text, sizeof text - 1 }
    LIE(""),
    LIE("\n"),
    LIE("200\n"),
    LIE("200 0\nbody"),
    LIE("200 4 \nbody"),
    LIE("200 3 x\n4 a.txt\none\n"), /* a folder, where none is asked for */
    LIE("302 0 \nbody"),
    LIE("099 0 \nbody"),
    LIE("400 1 \nbody"),
    LIE("600 0 \nbody"),
    LIE("-20 0 \nbody"),
    LIE("2e2 0 \nbody"),
    LIE("HTTP/1.1 200 OK\r\n\r\nbody"),
    LIE("200 0\0 \nbody"),
    LIE("200 0 "
        "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx"
        "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx"
        "\nx"),
};

static bool tell_lie(const char *logo) {
    size_t which = (size_t)strtol(logo + 4, NULL, 10);
    return write(STDOUT_FILENO, lies[which].head, lies[which].size) == (ssize_t)lies[which].size;
}

/* --- looking through its own memory --- */

enum { SECRET = 24, MEMORY_PAGE = 4096, REACH = 32 << 20 };

/* Without a fault: a call that reads there before it finds its first argument to be wrong. */
static bool is_there(const char *at) {
    return syscall(SYS_rt_sigprocmask, 99, at, NULL, 8) == 0 || errno != EFAULT;
}

/* How often each byte of the text, less one, stands in the memory from there on. */
static int count_in(const char *from, size_t size, const char *text) {
    int count = 0;
    for (const char *page = from; page < from + size; page += MEMORY_PAGE) {
        if (!is_there(page)) continue;
        for (const volatile char *at = page; at <= page + MEMORY_PAGE - SECRET; at++) {
            int same = 0;
            while (same < SECRET && at[same] + 1 == text[same]) same++;
            count += same == SECRET;
        }
    }
    return count;
}

static int count_in_memory(const char *text) {
    void *far = malloc(1 << 20), *end = sbrk(0);
    const char *mapped = (const char *)((uintptr_t)far & ~(uintptr_t)(MEMORY_PAGE - 1)), *heap = end;
    int count = count_in(heap - REACH, REACH, text) + count_in(mapped - REACH, 2 * (size_t)REACH, text);
    free(far);
    return count;
}

/* By the picture's name, what a child does that was taken over; false: not of these. */
static bool turn_bad(const char *logo, FILE *file) {
    pthread_t thread;
    if (strcmp(logo, "words") == 0) {
        pid_line(file);
        while (write(SOCKET, "g", 1) == 1) {
        }
    } else if (strcmp(logo, "word") == 0) {
        pid_line(file);
        if (write(SOCKET, "g", 1) == 1) pause_ms(200);
    } else if (strcmp(logo, "writes") == 0) {
        pid_line(file);
        if (write(SOCKET, "g", 1) == 1) write_for_ever();
    } else if (strcmp(logo, "works") == 0) {
        pid_line(file);
        if (write(SOCKET, "g", 1) == 1)
            for (;;) pause_none();
    } else if (strcmp(logo, "shuts") == 0) {
        pid_line(file);
        if (write(SOCKET, "g", 1) == 1) (void)close(STDOUT_FILENO), pause_ms(20000);
    } else if (strcmp(logo, "leaves") == 0) {
        pid_line(file);
        (void)close(SOCKET), pause_ms(20000);
    } else if (strcmp(logo, "lines") == 0) {
        page_head(file, 200, PAGE_LINES, "");
        fprintf(file, "pid %d\n", (int)getpid()), fflush(file);
        pause_ms(300);
        for (int i = 0; i < 3; i++) (void)pthread_create(&thread, NULL, write_in_a_thread, NULL);
        write_for_ever();
    } else {
        return false;
    }
    return true;
}

static bool reply_badly(void *user, const PageAsk *ask, FILE *file) {
    (void)user;
    if (turn_bad(ask->logo, file)) return true;
    if (strncmp(ask->logo, "lie-", 4) == 0) return tell_lie(ask->logo);
    if (strcmp(ask->logo, "looks") == 0) {
        int found = count_in_memory(ask->field[0].value);
        page_head(file, 200, PAGE_JSON, "");
        return fprintf(file, "found %d", found) > 0;
    }
    if (strcmp(ask->logo, "heads") == 0)
        return fputs("200 2 a\rSet-Cookie: x=\"y\"; path=/../../.html\nbody", file) > 0;
    if (strcmp(ask->logo, "much") == 0) page_head(file, 200, PAGE_JSON, ""), fflush(file), write_for_ever();
    page_head(file, 200, PAGE_JSON, "");
    fprintf(file, "honest pid %d", (int)getpid());
    return true;
}

static PagePlan taken(void) {
    PagePlan plan = usual();
    plan.reply = reply_badly;
    plan.stays[PAGE_ANSWER] = true;
    for (int i = 0; i < PAGE_QUESTIONS; i++) plan.seconds[i] = 20;
    return plan;
}

static pid_t pid_in(const char *answer) {
    const char *pid = strstr(answer, "pid ");
    if (!pid) fail_msg("no pid: %.300s", answer);
    return (pid_t)strtol(pid + 4, NULL, 10);
}

/* The server has ended it and taken note, within so many ms. */
static void ends_within(pid_t pid, int ms) {
    for (int i = 0; i < ms / 20 && kill(pid, 0) == 0; i++) pause_ms(20);
    if (kill(pid, 0) == 0) fail_msg("the child is still there after %d ms", ms);
}

static void a_child_that_is_to_rest_and_does_not_is_ended(void **state) {
    (void)state;
    Page page = start(taken());
    static const char *const bad[] = {LOGO("words") END, LOGO("word") END,  LOGO("writes") END,
                                      LOGO("works") END, LOGO("shuts") END, LOGO("leaves") END};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        const char *answer = post(&page, "/answer", bad[i]);
        if (i != 4) begins(answer, i == 5 ? "500" : "200"); /* its own answer it may spoil */
        if (i < 3) ends_within(pid_in(answer), 2000);
        if (i == 3)
            ends_within(pid_in(answer), 8000); /* it has used a second: beside other work that takes long */
        holds(post(&page, "/sweep", LOGO("x") END), "honest ");
    }
    assert_in_range(stop(&page), 0, 999);
}

static void a_child_that_writes_without_end_holds_nobody_up_when_its_client_has_left(void **state) {
    (void)state;
    Page page = start(taken());
    char first[1024] = "";
    int to = dial(&page);
    post_to(&page, to, "/answer", "", LOGO("lines") END);
    for (size_t used = 0; !strstr(first, "pid ");) {
        ssize_t some = read(to, first + used, sizeof first - 1 - used);
        assert_true(some > 0);
        first[used += (size_t)some] = 0;
    }
    (void)close(to);
    pause_ms(500);
    holds(post(&page, "/sweep", LOGO("x") END), "honest ");
    ends_within(pid_in(first), 3000);
    stop(&page);
}

static void an_answer_without_end_is_cut_off_and_costs_itself(void **state) {
    (void)state;
    Page page = start(taken());
    const char *answer = post(&page, "/answer", LOGO("much") END);
    begins(answer, "500");
    holds(answer, "broke down");
    holds(post(&page, "/answer", LOGO("x") END), "honest ");
    stop(&page);
}

static void a_head_that_lies_is_no_answer(void **state) {
    (void)state;
    Page page = start(taken());
    char body[200];
    for (size_t i = 0; i < sizeof lies / sizeof *lies; i++) {
        (void)snprintf(body, sizeof body, PART "\"logo\"; filename=\"lie-%zu\"\r\n\r\npicture\r\n" END, i);
        const char *answer = post(&page, "/sweep", body);
        if (strncmp(answer + 9, "500", 3) != 0) fail_msg("%zu: %.300s", i, answer);
        answer = post(&page, "/answer", body);
        if (strncmp(answer + 9, "500", 3) != 0) fail_msg("%zu, staying: %.300s", i, answer);
    }
    const char *answer = post(&page, "/files", LOGO("heads") END);
    begins(answer, "200");
    assert_null(strstr(answer, "\rSet-Cookie"));
    assert_null(strstr(answer, "\nSet-Cookie"));
    assert_null(strstr(answer, "/.."));
    holds(answer, "Content-Disposition: attachment; filename=\"");
    stop(&page);
}

/* What others have sent is in the server's memory, and must not be in a child's. */
static void a_child_finds_nothing_of_what_others_have_sent(void **state) {
    (void)state;
#ifdef SANITIZED
    skip(); /* memory that is read at random is what a sanitizer is against */
#endif
    Page page = start(taken());
    char secret[SECRET + 1], shifted[SECRET + 1], body[600];
    struct timespec now; /* it is made now, so that the server did not have it from here */
    (void)clock_gettime(CLOCK_REALTIME, &now);
    (void)snprintf(secret, sizeof secret, "%012lx%012lx", (unsigned long)now.tv_nsec * 7919,
                   (unsigned long)now.tv_sec);
    for (int i = 0; i <= SECRET; i++) shifted[i] = (char)(secret[i] ? secret[i] + 1 : 0);
    int to = dial(&page);
    (void)snprintf(
        body, sizeof body,
        "POST /answer HTTP/1.1\r\nHost: localhost\r\nX-Logocane-Token: %s\r\nContent-Length: 9000\r\n"
        "Content-Type: multipart/form-data; boundary=edge\r\n\r\n" FIELD("note", "%s") PART
        "\"logo\"; filename=\"y\"\r\n\r\nmy logo %s",
        page.token, secret, secret);
    say(to, body);
    (void)snprintf(body, sizeof body, LOGO("looks") FIELD("for", "%s") END, shifted);
    for (int i = 0; i < 2; i++) {
        begins(get(&page, "/shop"), "200");
        holds(post(&page, i ? "/sweep" : "/answer", body), "found 0");
    }
    (void)close(to);
    stop(&page);
}

/* Somebody kills the process that children come from. */
static void a_nursery_that_is_killed_is_replaced(void **state) {
    (void)state;
    Page page = start(taken());
    char path[64], list[200] = "";
    (void)snprintf(path, sizeof path, "/proc/%d/task/%d/children", (int)page.pid, (int)page.pid);
    FILE *file = fopen(path, "r");
    if (!file) skip();
    assert_non_null(fgets(list, sizeof list, file)); /* no child has come yet */
    (void)fclose(file);
    assert_int_equal(kill((pid_t)strtol(list, NULL, 10), SIGKILL), 0);
    for (int i = 0; i < 3; i++) holds(post(&page, "/sweep", LOGO("x") END), "honest ");
    assert_in_range(stop(&page), 0, 999);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_child_that_is_to_rest_and_does_not_is_ended),
        cmocka_unit_test(a_child_that_writes_without_end_holds_nobody_up_when_its_client_has_left),
        cmocka_unit_test(an_answer_without_end_is_cut_off_and_costs_itself),
        cmocka_unit_test(a_head_that_lies_is_no_answer),
        cmocka_unit_test(a_child_finds_nothing_of_what_others_have_sent),
        cmocka_unit_test(a_nursery_that_is_killed_is_replaced),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
