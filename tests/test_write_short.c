/* Tests of src/write/write_short.c. SPDX-License-Identifier: MIT */
#include "write/write.h"

#include "sample_job.h"
#include "base/text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>

/* To be freed. */
static char *print(const Job *job, const Typed *typed) {
    char *text = NULL;
    size_t size = 0;
    FILE *file = open_memstream(&text, &size);
    assert_non_null(file);
    write_short(job, typed, file);
    assert_int_equal(fclose(file), 0);
    return text;
}

static void says(const Job *job, const Typed *typed, const char *want) {
    char *text = print(job, typed);
    if (!strstr(text, want)) fail_msg("\"%s\" is not in:\n%s", want, text);
    free(text);
}

static void silent(const Job *job, const Typed *typed, const char *what) {
    char *text = print(job, typed);
    if (strstr(text, what)) fail_msg("\"%s\" is in:\n%s", what, text);
    free(text);
}

static const Typed ferry = {"'my ferry.png'", "", NULL};

static void fill(Sample *s) {
    sample_fill(s);
    s->job.typed = "-n 1000";
    s->job.judgement.advised = true;
    s->job.judgement.best = (Way){.change = {.diameter_mm = 18}, .mends = true, .whole = VERDICT_GO};
}

static void a_change_says_why_and_what_to_type(void **state) {
    (void)state;
    Sample s;
    fill(&s);
    says(&s.job, &ferry,
         "CHANGE: ferry.png can be built with the changes below\n"
         "Order     1 000 pieces of 16 x 14 mm\n"
         "Why       likeness 0.7999 of 1, at least 0.8 wanted\n"
         "Type      logocane -n 1000 -p 18x14mm 'my ferry.png'\n"
         "          in pieces of 18 mm across: then all is go\n"
         "Log       one log 115.5 mm across with its jacket, 305 mm long, 4.63 kg\n"
         "Candies   white 2.73 kg, red 1.77 kg\n"
         "Ropes     13 to make; usually about 10 min to lay up and wrap, 2 people\n"
         "More      --details tells all; -o DIR writes pictures, the letter, bench sheets\n");
    s.job.judgement.best.whole = VERDICT_CHANGE; /* nothing makes the whole better: the check's own way */
    says(&s.job, &ferry, "\n          in pieces of 18 mm across: then \"likeness\" is go\n");
    s.job.judgement.check[1].ways = 0;
    s.job.judgement.check[1].outlook = OUTLOOK_ONLY_REDRAW;
    s.job.judgement.least_percent = 6;
    says(&s.job, &ferry,
         "\nDo        no piece up to 25 mm makes it go; it takes strokes and gaps of 6 % of\n"
         "          the logo's width\nLog ");
    silent(&s.job, &ferry, "Type");
}

static void a_no_does_not_say_what_it_takes(void **state) {
    (void)state;
    Sample s;
    fill(&s);
    s.job.judgement.verdict = s.job.judgement.check[1].verdict = VERDICT_NO;
    s.job.judgement.best.whole = VERDICT_CHANGE;
    says(&s.job, &ferry, "across: then it is a change\nMore ");
    silent(&s.job, &ferry, "\nLog ");
    silent(&s.job, &ferry, "\nCandies ");
}

static void of_a_go_only_what_the_shop_puts_right_is_told(void **state) {
    (void)state;
    Sample s;
    fill(&s);
    s.job.judgement.verdict = s.job.judgement.check[1].verdict = VERDICT_GO;
    s.job.judgement.best.whole = VERDICT_GO;
    says(&s.job, &ferry, "14 mm\nLog ");
    s.job.judgement.check[0] =
        (Check){CHECK_MINUTES,
                48,
                40,
                false,
                VERDICT_CHANGE,
                .own = true,
                .ways = 1,
                .way = {{.change = {.people = 3}, .mends = true, .whole = VERDICT_GO}}};
    says(&s.job, &ferry,
         "14 mm\nShop      48 min to lay up and wrap, at most 40 min wanted\n"
         "Type      logocane -n 1000 --people 3 'my ferry.png'\n"
         "          with 3 people laying up: then all is go\nLog ");
    s.job.judgement.check[1].verdict = s.job.judgement.verdict = VERDICT_CHANGE; /* then it waits */
    silent(&s.job, &ferry, "48 min");
}

/* No sum is cut out of the middle of a price's parts. */
static void of_a_price_all_parts_are_told_or_none(void **state) {
    (void)state;
    Sample s;
    fill(&s);
    s.shop.price_candy_kg = s.shop.price_hour = s.shop.price_boiling = s.shop.price_packing = 1;
    s.job.bill.quote =
        (Quote){.cost = {[PRICE_CANDY] = 1318.77, [PRICE_HOURS] = 400}, .hours = 12, .price = 4900};
    says(&s.job, &ferry,
         "\nCost      4 900.00: candy 1 318.77, 12.0 hours 400.00, fuel 0.00, packing 0.00;\n"
         "          rounded up\nMore ");
    strcpy(s.shop.currency, "MMMMMMM");
    s.shop.price_dyed_batch = s.shop.price_margin = 1;
    s.job.bill.quote.dyed = 1;
    s.job.bill.quote.cost[PRICE_DYE] = s.job.bill.quote.cost[PRICE_FUEL] = 1234.5;
    s.job.bill.quote.margin_cost = 1000;
    s.job.bill.quote.cost[PRICE_PACKING] = 5000;
    says(&s.job, &ferry, "\nCost      4 900.00 MMMMMMM; --details tells what it is made of\nMore ");
    s.job.advised = (Advised){.taken = true, .options = "-k 5"};
    says(&s.job, &ferry, "\nCost      4 900.00 MMMMMMM; --details tells what it is made of\nMore ");
}

static void a_folder_that_was_written_is_told_last(void **state) {
    (void)state;
    Sample s;
    fill(&s);
    const Typed typed = {"ferry.png", "-o job --force", "job"};
    says(&s.job, &typed, "Type      logocane -n 1000 -p 18x14mm -o job --force ferry.png\n");
    says(&s.job, &typed,
         "\nOpen      job/job.html; all in words: job.txt\n"
         "Send      job/letter.txt; print bench.pdf\n");
    silent(&s.job, &typed, "mockup"); /* this version is not proposed */
    silent(&s.job, &typed, "--details");
    s.job.judgement.verdict = s.job.judgement.check[1].verdict = VERDICT_GO;
    s.job.judgement.best.whole = VERDICT_GO;
    says(&s.job, &typed, "\nSend      job/letter.txt, mockup.jpg; print bench.pdf\n");
    s.job.judgement.verdict = s.job.judgement.check[1].verdict = VERDICT_NO;
    says(&s.job, &typed, "\nSend      job/letter.txt\n");
}

/* Of a command the shell needs every byte: it is told whole, on two lines at most, or not at all. */
static void a_long_command_is_told_on_two_lines_or_not(void **state) {
    (void)state;
    Sample s;
    fill(&s);
    s.job.typed = "-n 1000 --name 'a name with several words in it' --leave-out 12:34";
    says(&s.job, &ferry,
         "Type      logocane -n 1000 --name 'a name with several words in it' \\\n"
         "          --leave-out 12:34 -p 18x14mm 'my ferry.png'\n");
    char long_name[300];
    memset(long_name, 'x', sizeof long_name - 1);
    long_name[sizeof long_name - 1] = 0;
    says(&s.job, &(Typed){long_name, "", NULL}, "\nType      add -p 18x14mm\n");
    says(&s.job, &(Typed){"'a\033[31m.png'", "", NULL}, "\nType      add -p 18x14mm\n");
    says(&s.job, &(Typed){NULL, "", NULL}, "\nType      add -p 18x14mm\n");
    s.job.typed = NULL;
    says(&s.job, &ferry, "\nType      add -p 18x14mm\n");
    Change *change = &s.job.judgement.best.change;
    change->without = 1;
    change->points = CHANGE_POINTS;
    for (int i = 0; i < CHANGE_POINTS; i++) change->point[i] = (Spot){1234 + i, 5678};
    says(&s.job, &ferry, "\nType      add --advised\n");
}

/* Everything that can be long is. */
static void it_never_has_more_lines_or_columns_than_it_may(void **state) {
    (void)state;
    Sample s;
    fill(&s);
    memset(s.job.file, 'f', sizeof s.job.file - 1);
    s.job.typed = "--name 'a name with several words in it' --shop 'the shop of all shops.ini'";
    s.shop.price_candy_kg = s.shop.price_hour = s.shop.price_dyed_batch = 1;
    strcpy(s.shop.currency, "MMMMMMM");
    s.job.bill.quote = (Quote){.cost = {1e9, 1e9, 0, 1e9}, .hours = 1e6, .price = 3e9, .dyed = 3};
    s.job.order.pieces = PIECES_MAX;
    s.job.bill.materials = 8;
    for (int i = 0; i < 8; i++) {
        MaterialRow *row = &s.job.bill.material[i];
        *row = s.job.bill.material[0];
        row->candy.dyed = true;
        memset(row->candy.name, 'a' + i, CANDY_NAME - 1);
    }
    s.job.advised = (Advised){.taken = true, .from = VERDICT_NO};
    memset(s.job.advised.options, 'o', sizeof s.job.advised.options - 1);
    for (int i = 3; i < 12; i++) s.job.judgement.check[i] = s.job.judgement.check[1];
    s.job.judgement.checks = 12;
    Change *change = &s.job.judgement.best.change;
    *change = (Change){.diameter_mm = 18, .colours = 8, .plain = true, .people = 9, .joining_c = 88.125};
    char folder[200];
    memset(folder, 'd', sizeof folder - 1);
    folder[sizeof folder - 1] = 0;
    const Typed typed[] = {{"x.png", "", NULL}, {"x.png", "-o d --force", "d"}, {folder, folder, folder}};
    for (int variant = 0; variant < 3 * 3 * 2 * 2; variant++) {
        s.job.judgement.verdict = (Verdict)(variant % 3);
        s.job.judgement.check[1].own = s.job.judgement.verdict == VERDICT_GO;
        s.job.judgement.check[1].verdict = s.job.judgement.verdict;
        s.job.order.units = variant / 9 % 2 ? UNITS_IN : UNITS_MM;
        s.job.advised.taken = variant / 18;
        if (!s.job.advised.taken) s.job.advised.options[0] = 0;
        char *text = print(&s.job, &typed[variant / 3 % 3]), *line = text;
        int lines = 0;
        for (char *end; (end = strchr(line, '\n')); line = end + 1, lines++) {
            *end = 0;
            if (text_width(line) > TEXT_COLUMNS) fail_msg("%d columns: %s", text_width(line), line);
            *end = '\n';
        }
        if (lines > SHORT_LINES) fail_msg("%d lines:\n%s", lines, text);
        free(text);
        memset(s.job.advised.options, 'o', sizeof s.job.advised.options - 1);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_change_says_why_and_what_to_type),
        cmocka_unit_test(a_no_does_not_say_what_it_takes),
        cmocka_unit_test(of_a_go_only_what_the_shop_puts_right_is_told),
        cmocka_unit_test(of_a_price_all_parts_are_told_or_none),
        cmocka_unit_test(a_folder_that_was_written_is_told_last),
        cmocka_unit_test(a_long_command_is_told_on_two_lines_or_not),
        cmocka_unit_test(it_never_has_more_lines_or_columns_than_it_may),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
