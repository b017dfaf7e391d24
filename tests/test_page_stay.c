/* Children of the page that stay with their picture. SPDX-License-Identifier: MIT */
#include "page_server.h"

#include <sys/mman.h>

#define LOGO_OF(name, bytes)                                                                                 \
    PART "\"logo\"; filename=\"" name "\"\r\nContent-Type: image/png\r\n\r\n" bytes "\r\n"

static void tell_count(const PageAsk *ask, int *count, FILE *file) {
    char head[8] = "";
    const bool first = *count == 1;
    if (first && fread(head, 1, 7, stdin) == 0) head[0] = 0;
    page_head(file, 200, PAGE_JSON, "");
    fprintf(file, "answer %d pid %d name %s first %s", *count, (int)getpid(), ask->logo, head);
    for (int i = 0; i < ask->fields; i++) fprintf(file, " %s=%s", ask->field[i].name, ask->field[i].value);
}

/* A line at once, and one when it is told to stop. */
static bool tell_until_stopped(const PageAsk *ask, FILE *file) {
    page_head(file, 200, PAGE_LINES, "");
    fputs("first\n", file), fflush(file);
    for (int i = 0; i < 500 && !ask->stop->wanted(ask->stop->user); i++) pause_ms(10);
    fputs("too late\n", file);
    return false;
}

static bool reply_again(void *user, const PageAsk *ask, FILE *file) {
    static int count;
    (void)user;
    if (!(ask->kept && ask->stop && *ask->kept == (count ? &count : NULL))) return false;
    count++;
    *ask->kept = &count;
    if (strcmp(ask->logo, "long") == 0) return tell_until_stopped(ask, file);
    if (strcmp(ask->logo, "deaf") == 0) pause_ms(20000);
    if (strcmp(ask->logo, "crash") == 0) raise(SIGKILL);
    if (strcmp(ask->logo, "no") == 0) return false;
    if (strcmp(ask->logo, "lies") == 0) return fputs("200 7 ../x\nbody", file) > 0;
    if (strcmp(ask->logo, "write") == 0) {
        page_head(file, 200, PAGE_JSON, "");
        fprintf(file, "written %d", mmap(NULL, 7, PROT_READ | PROT_WRITE, MAP_SHARED, 0, 0) != MAP_FAILED);
        return true;
    }
    tell_count(ask, &count, file);
    return true;
}

static PagePlan staying(void) {
    PagePlan plan = usual();
    plan.reply = reply_again;
    plan.stays[PAGE_ANSWER] = true;
    plan.seconds[PAGE_ANSWER] = 5;
    return plan;
}

static long pid_in(const char *answer) {
    const char *pid = strstr(answer, "pid ");
    assert_non_null(pid);
    return strtol(pid + 4, NULL, 10);
}

static void the_same_picture_is_answered_by_the_child_that_knows_it(void **state) {
    (void)state;
    Page page = start(staying());
    const char *answer = post(&page, "/answer", LOGO_OF("a", "1234567") FIELD("piece", "18") END);
    holds(answer, "answer 1 ");
    holds(answer, "name a first 1234567 piece=18");
    long pid = pid_in(answer);
    answer =
        post(&page, "/answer", LOGO_OF("b", "1234567") FIELD("field", "") FIELD("name", "two words") END);
    holds(answer, "answer 2 ");
    holds(answer, "name b first  field= name=two words");
    assert_int_equal(pid_in(answer), pid);
    answer = post(&page, "/answer", LOGO_OF("a", "1234568") END);
    holds(answer, "answer 1 ");
    assert_int_not_equal(pid_in(answer), pid);
    holds(post(&page, "/answer", LOGO_OF("a", "1234567") END), "answer 3 ");
    stop(&page);
}

static void a_child_whose_client_has_left_stops_and_answers_the_next(void **state) {
    (void)state;
    Page page = start(staying());
    int to = dial(&page);
    char first[1024];
    ssize_t size = 0;
    post_to(&page, to, "/answer", "", LOGO_OF("long", "1234567") END);
    for (size_t used = 0; (size = read(to, first + used, sizeof first - 1 - used)) > 0;) {
        first[used += (size_t)size] = 0;
        if (strstr(first, "first")) break;
    }
    assert_true(size > 0);
    (void)close(to);
    const char *answer = post(&page, "/answer", LOGO_OF("a", "1234567") END);
    holds(answer, "answer 2 ");
    assert_null(strstr(answer, "too late"));
    stop(&page);
}

static void a_child_that_does_not_stop_is_replaced(void **state) {
    (void)state;
    Page page = start(staying());
    int to = dial(&page);
    post_to(&page, to, "/answer", "", LOGO_OF("deaf", "1234567") END);
    pause_ms(100);
    (void)close(to);
    holds(post(&page, "/answer", LOGO_OF("a", "1234567") END), "answer 1 ");
    stop(&page);
}

static void two_who_ask_about_one_picture_at_once_have_a_child_each(void **state) {
    (void)state;
    Page page = start(staying());
    int to = dial(&page);
    post_to(&page, to, "/answer", "", LOGO_OF("deaf", "1234567") END);
    pause_ms(100);
    holds(post(&page, "/answer", LOGO_OF("a", "1234567") END), "answer 1 ");
    (void)close(to);
    stop(&page);
}

static void an_answer_that_fails_costs_itself_only(void **state) {
    (void)state;
    Page page = start(staying());
    holds(post(&page, "/answer", LOGO_OF("a", "1234567") END), "answer 1 ");
    holds(post(&page, "/answer", LOGO_OF("no", "1234567") END), "was not finished");
    holds(post(&page, "/answer", LOGO_OF("a", "1234567") END), "answer 3 ");
    holds(post(&page, "/answer", LOGO_OF("crash", "1234567") END), "broke down (signal 9)");
    holds(post(&page, "/answer", LOGO_OF("a", "1234567") END), "answer 1 ");
    holds(post(&page, "/answer", LOGO_OF("lies", "1234567") END), "broke down");
    holds(post(&page, "/answer", LOGO_OF("a", "1234567") END), "answer 1 ");
    stop(&page);
}

static void a_child_cannot_change_the_picture_it_stands_for(void **state) {
    (void)state;
    Page page = start(staying());
    holds(post(&page, "/answer", LOGO_OF("write", "1234567") END), "written 0");
    stop(&page);
}

/* The server's children. */
static int count_children(const Page *page) {
    char path[64], list[4096] = "";
    (void)snprintf(path, sizeof path, "/proc/%d/task/%d/children", (int)page->pid, (int)page->pid);
    FILE *file = fopen(path, "r");
    if (!file) return -1;
    size_t size = fread(list, 1, sizeof list - 1, file);
    int count = 0;
    for (size_t i = 0; i < size; i++) count += list[i] == ' ';
    (void)fclose(file);
    return count - 1; /* the nursery */
}

static void children_that_rest_are_few_and_end_by_themselves(void **state) {
    (void)state;
    PagePlan plan = staying();
    plan.rest_seconds = 1;
    Page page = start(plan);
    static const char *const bodies[] = {LOGO_OF("a", "1") END, LOGO_OF("a", "2") END, LOGO_OF("a", "3") END,
                                         LOGO_OF("a", "4") END, LOGO_OF("a", "5") END, LOGO_OF("a", "6") END};
    for (size_t i = 0; i < sizeof bodies / sizeof *bodies; i++)
        holds(post(&page, "/answer", bodies[i]), "answer 1 ");
    int resting = count_children(&page);
    if (resting >= 0) assert_in_range(resting, 1, 4); /* two at work, as many at rest */
    for (int i = 0; i < 50 && count_children(&page) > 0; i++) pause_ms(100);
    if (resting >= 0) assert_int_equal(count_children(&page), 0);
    holds(post(&page, "/answer", bodies[5]), "answer 1 ");
    stop(&page);
}

static void a_signal_ends_those_that_rest(void **state) {
    (void)state;
    Page page = start(staying());
    long pid = pid_in(post(&page, "/answer", LOGO_OF("a", "1234567") END));
    assert_int_equal(kill((pid_t)pid, 0), 0);
    assert_in_range(stop(&page), 0, 999);
    assert_int_equal(kill((pid_t)pid, 0), -1);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_same_picture_is_answered_by_the_child_that_knows_it),
        cmocka_unit_test(a_child_whose_client_has_left_stops_and_answers_the_next),
        cmocka_unit_test(a_child_that_does_not_stop_is_replaced),
        cmocka_unit_test(two_who_ask_about_one_picture_at_once_have_a_child_each),
        cmocka_unit_test(an_answer_that_fails_costs_itself_only),
        cmocka_unit_test(a_child_cannot_change_the_picture_it_stands_for),
        cmocka_unit_test(children_that_rest_are_few_and_end_by_themselves),
        cmocka_unit_test(a_signal_ends_those_that_rest),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
