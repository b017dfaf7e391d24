/* The help. SPDX-License-Identifier: MIT */
#include "app/help.h"

#include "app/options.h"

static const char before[] = "Usage: logocane [options] LOGO\n"
                             "Can hands build this logo in pulled candy? "
                             "PNG, JPEG, BMP, GIF, PSD; -: stdin\n";

static const char after[] =
    "\nExit status: 0 it can be built, as drawn or with the changes named; 1 it cannot;\n"
    "2 the command or the logo is wrong; 3 the system failed (memory, disk).\n"
    "Example: logocane -n 5,000 -p 18x14mm -j red,white -o ferry-job ferry.png\n";

static void print_row(FILE *file, const OptionRow *row) {
    char left[48], letter[8] = "    ";
    if (row->id < 256) (void)snprintf(letter, sizeof letter, "-%c, ", row->id);
    (void)snprintf(left, sizeof left, "  %s--%s%s%s", letter, row->name,
                   row->argument && *row->argument != '[' ? " " : "", row->argument ? row->argument : "");
    fprintf(file, "%-33s%s", left, row->help);
    if (row->high > 0) fprintf(file, ", %ld to %ld", row->low, row->high);
    if (row->standard) fprintf(file, " (%s)", row->standard);
    fputc('\n', file);
}

void help_print(FILE *file) {
    int count;
    const OptionRow *table = options_table(&count);
    fputs(before, file);
    for (const OptionRow *row = table; row < table + count; row++) {
        if (row->id == 0)
            fprintf(file, "\n%s\n", row->help);
        else if (row->help)
            print_row(file, row);
    }
    fputs(after, file);
}
