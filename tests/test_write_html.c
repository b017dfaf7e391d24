/* Tests of src/write/write_html.c and what it is built of. SPDX-License-Identifier: MIT */
#include "write/write.h"

#include "base/text.h"
#include "say/answer.h"
#include "dotted_logo.h"
#include "write/html_out.h"

#include <ctype.h>
#include <math.h>

/* To be freed. */
static char *print(void) {
    char *text = sample_print(&logo.job, write_html);
    assert_non_null(text);
    return text;
}

static int occurrences(const char *text, const char *what) {
    int count = 0;
    for (const char *at = text; (at = strstr(at, what)); at += strlen(what)) count++;
    return count;
}

/* Elements open and close in turn, attributes are quoted, and & begins one of the five that are named. */
static void is_well_formed(const char *text) {
    char open[64][24];
    int depth = 0;
    const char *style = strstr(text, "<style>"), *style_end = strstr(text, "</style>");
    assert_true(strncmp(text, "<!DOCTYPE html>\n<html lang=\"en\">", 32) == 0);
    for (const char *at = text + 15; *at; at++) {
        if (*at == '&' && strncmp(at, "&amp;", 5) != 0 && strncmp(at, "&lt;", 4) != 0 &&
            strncmp(at, "&gt;", 4) != 0 && strncmp(at, "&quot;", 6) != 0 && strncmp(at, "&#39;", 5) != 0)
            fail_msg("& in: %.40s", at);
        assert_true(*at != '>' || (at > style && at < style_end)); /* outside tags it is escaped */
        if (*at != '<') continue;
        const bool ends = at[1] == '/';
        const char *name = at + 1 + ends;
        int length = 0;
        while (isalnum((unsigned char)name[length])) length++;
        assert_true(length > 0 && length < 24);
        bool quoted = false;
        for (at = name; *at && (*at != '>' || quoted); at++) {
            quoted ^= *at == '"';
            assert_true(!quoted || *at != '<');
        }
        assert_int_equal(*at, '>');
        if (ends) {
            assert_true(depth > 0);
            depth--;
            if (strncmp(open[depth], name, (size_t)length) != 0 || open[depth][length])
                fail_msg("</%.*s> closes <%s>", length, name, open[depth]);
        } else if (at[-1] != '/') {
            assert_true(depth < 64);
            (void)snprintf(open[depth++], sizeof open[0], "%.*s", length, name);
        }
    }
    assert_int_equal(depth, 0);
}

static void it_is_well_formed_and_the_same_each_time(void **state) {
    (void)state;
    char *text = print(), *again = print();
    assert_string_equal(text, again);
    is_well_formed(text);
    assert_true(strlen(text) < 1500 * 1000);
    free(again);
    free(text);
}

static void it_has_no_script_and_fetches_nothing(void **state) {
    (void)state;
    char *text = print();
    static const char *const none[] = {"<script", "javascript:", "://",     "url(",  "@import", " src=",
                                       " style=", "<link",       "<iframe", "<form", " onload", " onclick"};
    for (size_t i = 0; i < sizeof none / sizeof *none; i++)
        if (strstr(text, none[i])) fail_msg("it has %s", none[i]);
    assert_non_null(strstr(text, "content=\"default-src 'none'; img-src data:; style-src 'unsafe-inline'; "));
    for (const char *at = text; (at = strstr(at, "href=\"")); at++) {
        const size_t length = strcspn(at + 6, ":\"");
        const bool file = at[6 + length] == '"', picture = strncmp(at + 6, "data:image/", 11) == 0;
        assert_true((file && length > 0 && at[6] != '/') || picture);
    }
    free(text);
}

static void it_tells_verdict_places_rows_and_letter(void **state) {
    (void)state;
    char *text = print(), words[FLAW_TEXT + 16], flaw[FLAW_TEXT];
    Answer answer;
    assert_non_null(strstr(text, "<title>NO: dots</title>"));
    assert_non_null(strstr(text, "<h1 dir=\"auto\">dots</h1>"));
    assert_true(logo.job.flaws.count >= 2);
    assert_int_equal(occurrences(text, "<g class=\"badge\""), 2 * logo.job.flaws.count);
    for (int i = 0; i < logo.job.flaws.count; i++) {
        flaw_print(&logo.job, &logo.job.flaws.flaw[i], flaw);
        (void)snprintf(words, sizeof words, "<li>%s</li>", flaw);
        assert_non_null(strstr(text, words));
    }
    answer_fill(&logo.job, 0, 0, &answer);
    assert_int_equal(occurrences(text, "<dd>"), answer.rows);
    assert_non_null(strstr(text, "<code>logocane -n 500 --no-fine --leave-out "));
    assert_non_null(strstr(text, "[ YOUR NAME AND SHOP ]"));
    assert_null(strstr(text, "Candy to cook")); /* nobody builds it */
    assert_non_null(strstr(text, "<svg width=\"16mm\" height=\"16mm\""));
    assert_null(strstr(text, "1/2 in"));
    free(text);
}

static void inches_are_told_where_they_are_spoken(void **state) {
    (void)state;
    logo.job.order.units = UNITS_IN;
    char *text = print();
    assert_non_null(strstr(text, "A rule of 1/2 in"));
    assert_non_null(strstr(text, "A rule of 20 mm"));
    logo.job.order.units = UNITS_MM;
    free(text);
}

/* Noise is what a PNG is largest of. */
static void a_logo_that_is_a_photograph_does_not_swell_it(void **state) {
    (void)state;
    enum { LARGE = 1000 };
    const Picture was = logo.picture;
    logo.picture = (Picture){LARGE, LARGE, 1, LARGE, LARGE, malloc((size_t)LARGE * LARGE * 4)};
    assert_non_null(logo.picture.rgba);
    uint32_t seed = 1;
    for (int i = 0; i < LARGE * LARGE * 4; i++) {
        seed = seed * 1664525 + 1013904223; /* Numerical Recipes */
        logo.picture.rgba[i] = i % 4 == 3 ? 255 : (uint8_t)(seed >> 24);
    }
    char *text = print();
    assert_int_equal(occurrences(text, "data:image/jpeg;base64,"), 1);
    assert_int_equal(occurrences(text, "data:image/png;base64,"), 1);
    assert_true(strlen(text) < 1500 * 1000);
    picture_free(&logo.picture);
    logo.picture = was;
    free(text);
}

/* Whatever a client's file or job is called, it is text. */
static void hostile_names_are_text(void **state) {
    (void)state;
    const char name[] = "</title><img src=x onerror='a(1)'>&\"\033[2J\xff \xe2\x80\xae";
    strcpy(logo.job.order.name, name);
    strcpy(logo.job.file, name);
    char *text = print();
    is_well_formed(text);
    assert_null(strstr(text, "<img"));
    assert_non_null(strstr(
        text,
        "<h1 dir=\"auto\">&lt;/title&gt;&lt;img src=x onerror=&#39;a(1)&#39;&gt;&amp;&quot;?[2J? ?</h1>"));
    for (char *at = text; *at; at++)
        if (*at == '\n') *at = ' ';
    assert_true(text_valid(text));
    strcpy(logo.job.order.name, "dots");
    strcpy(logo.job.file, "two dots.png");
    free(text);
}

static void numbers_are_short(void **state) {
    (void)state;
    static const struct {
        double value;
        const char *text;
    } row[] = {{0, "0"}, {-0.001, "0"}, {12.5, "12.5"}, {100, "100"}, {1.005, "1"}, {0.25, "0.25"}};
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        char *text = NULL;
        size_t size = 0;
        FILE *file = open_memstream(&text, &size);
        assert_non_null(file);
        html_number(row[i].value, file);
        assert_int_equal(fclose(file), 0);
        assert_string_equal(text, row[i].text);
        free(text);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_is_well_formed_and_the_same_each_time),
        cmocka_unit_test(it_has_no_script_and_fetches_nothing),
        cmocka_unit_test(it_tells_verdict_places_rows_and_letter),
        cmocka_unit_test(inches_are_told_where_they_are_spoken),
        cmocka_unit_test(a_logo_that_is_a_photograph_does_not_swell_it),
        cmocka_unit_test(hostile_names_are_text),
        cmocka_unit_test(numbers_are_short),
    };
    return cmocka_run_group_tests(tests, fill_logo, empty_logo);
}
