/* Tests of the help and of the manual page, against the table of options. SPDX-License-Identifier: MIT
 */
#include "app/options.h"

#include "base/text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

static void read_help(char text[8192]) {
    FILE *file = fmemopen(text, 8192, "w");
    assert_non_null(file);
    help_print(file);
    fclose(file);
}

static void the_help_is_one_screen(void **state) {
    (void)state;
    char text[8192];
    read_help(text);
    int rows = 0;
    for (char *line = text, *end; (end = strchr(line, '\n')); line = end + 1, rows++) {
        *end = 0;
        if (text_width(line) > HELP_COLUMNS) fail_msg("%d columns: %s", text_width(line), line);
    }
    assert_in_range(rows, 20, HELP_ROWS);
}

static void the_help_shows_every_option_with_its_argument_range_and_default(void **state) {
    (void)state;
    char text[8192], want[120];
    read_help(text);
    int count;
    const OptionRow *table = options_table(&count);
    for (const OptionRow *row = table; row < table + count; row++) {
        if (!row->name || !row->help) continue;
        (void)snprintf(want, sizeof want, "--%s%s%s ", row->name,
                       row->argument && row->argument[0] != '[' ? " " : "",
                       row->argument ? row->argument : "");
        const char *line = strstr(text, want);
        if (!line) fail_msg("the help does not show \"%s\"", want);
        const char *end = strchr(line, '\n');
        (void)snprintf(want, sizeof want, "%ld to %ld", row->low, row->high);
        const char *range = strstr(line, want);
        if (row->high > 0 && !(range && range < end)) fail_msg("--%s: no range %s", row->name, want);
        (void)snprintf(want, sizeof want, " (%s)\n", row->standard ? row->standard : "");
        const char *standard = strstr(line, want);
        if (row->standard && !(standard && standard < end)) fail_msg("--%s: no default%s", row->name, want);
    }
}

static char *read_manual(void) {
    FILE *file = fopen("docs/logocane.1", "r");
    if (!file) fail_msg("no docs/logocane.1 here");
    char *text = calloc(1, 65536);
    assert_non_null(text);
    assert_in_range(fread(text, 1, 65535, file), 1000, 65534);
    fclose(file);
    return text;
}

/* The line that heads the option's paragraph; another name of it stands in the same line. */
static void item_of(const OptionRow *row, const OptionRow *end, char *out, size_t size) {
    char letter[16] = "", other[64] = "", argument[64] = "";
    if (row->letter) (void)snprintf(letter, sizeof letter, "Fl %c , ", row->letter);
    if (row + 1 < end && row[1].name && !row[1].help)
        (void)snprintf(other, sizeof other, " , Fl -%s", row[1].name);
    if (row->argument)
        (void)snprintf(argument, sizeof argument, " %sAr %s", row->argument[0] == '[' ? "Ns " : "",
                       row->argument);
    (void)snprintf(out, size, "\n.It %sFl -%s%s%s\n", letter, row->name, other, argument);
}

static void the_manual_tells_of_every_option_its_argument_range_and_default(void **state) {
    (void)state;
    char *manual = read_manual(), want[200];
    int count;
    const OptionRow *table = options_table(&count);
    for (const OptionRow *row = table; row < table + count; row++) {
        if (!row->name || !row->help) continue;
        item_of(row, table + count, want, sizeof want);
        const char *item = strstr(manual, want);
        if (!item) {
            fail_msg("the manual has no line \"%s\"", want + 1);
            break; /* never: for compilers, which do not know that fail_msg ends the test */
        }
        const char *end = strstr(item + 1, "\n.It");
        if (!end) end = strstr(item, "\n.El");
        assert_non_null(end);
        (void)snprintf(want, sizeof want, "%ld to %ld", row->low, row->high);
        const char *range = strstr(item, want);
        if (row->high > 0 && !(range && range < end)) fail_msg("--%s: no range %s", row->name, want);
        (void)snprintf(want, sizeof want, "Default: %s.\n", row->standard ? row->standard : "");
        const char *standard = strstr(item, want);
        if (row->standard && !(standard && standard < end)) fail_msg("--%s: no \"%s\"", row->name, want);
    }
    free(manual);
}

static bool is_option(const char *name, size_t length) {
    int count;
    const OptionRow *table = options_table(&count);
    for (int i = 0; i < count; i++)
        if (table[i].name && strlen(table[i].name) == length && memcmp(table[i].name, name, length) == 0)
            return true;
    return false;
}

static void the_manual_tells_of_no_other_option(void **state) {
    (void)state;
    char *manual = read_manual();
    for (const char *at = manual; (at = strstr(at, "Fl -")); at += 4) {
        size_t length = strspn(at + 4, "abcdefghijklmnopqrstuvwxyz-");
        if (!is_option(at + 4, length)) fail_msg("the manual: --%.*s", (int)length, at + 4);
    }
    free(manual);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_help_is_one_screen),
        cmocka_unit_test(the_help_shows_every_option_with_its_argument_range_and_default),
        cmocka_unit_test(the_manual_tells_of_every_option_its_argument_range_and_default),
        cmocka_unit_test(the_manual_tells_of_no_other_option)};
    return cmocka_run_group_tests_name("help", tests, NULL, NULL);
}
