/* A sweep as a table. SPDX-License-Identifier: MIT
 *
 * The table names the size once; a star tells that the logs give more pieces than were asked for. */
#include "write/write.h"

#include "say/verdict_words.h"
#include "draw/draw.h"
#include "base/folder.h"
#include "base/text.h"
#include "write/files.h"

#include <string.h>

static const char *const ours[] = {"sweep.csv", "sweep.png", NULL};

enum { LOG_COLUMNS = 20, CAUSE_AT = 77 };

/* "115 x 308 mm", "2 of 115 x 308 mm". */
static void log_print(const SweepTable *table, const SweepRow *row, char *out, size_t size) {
    char section[96], count[24] = "";
    bool inches = table->units == UNITS_IN; /* decimals, so that the columns stay narrow */
    double unit = inches ? MM_PER_IN : 1;
    if (row->logs > 1) (void)snprintf(count, sizeof count, "%d of ", row->logs);
    (void)snprintf(section, sizeof section, inches ? "%.2f x %.1f in" : "%.0f x %.0f mm",
                   row->log_diameter_mm / unit, row->log_length_mm / unit);
    (void)snprintf(out, size, "%s%s", count, section);
}

static void print_row(const SweepTable *table, const SweepRow *row, bool first, FILE *file) {
    char size[32], text[160];
    length_print(size, sizeof size, row->diameter_mm, table->units);
    text_pad(file, first ? size : "", 8);
    text_number(text, sizeof text, (double)row->pieces, 0);
    text_pad(file, text, -10);
    fprintf(file, "%c %-7s %8.2f  %5d  ", row->given > row->pieces ? '*' : ' ', verdict_name(row->verdict),
            row->likeness, row->ropes_made);
    log_print(table, row, text, sizeof text);
    int over = text_width(text) > LOG_COLUMNS ? text_width(text) - LOG_COLUMNS : 0;
    text_pad(file, text, LOG_COLUMNS);
    mass_print(text, sizeof text, row->log_mass_g, table->units);
    text_pad(file, text, -10);
    if (row->verdict != VERDICT_GO) {
        text_fit(text, sizeof text, check_name(row->cause, table->units), SWEEP_COLUMNS - CAUSE_AT - over);
        fprintf(file, "  %s", text);
    }
    fputc('\n', file);
}

void write_sweep_text(const SweepTable *table, FILE *file) {
    char name[SWEEP_COLUMNS * 4], length[32];
    bool more = false;
    text_fit(name, sizeof name, table->logo, SWEEP_COLUMNS - 30);
    length_print(length, sizeof length, table->piece_length_mm, table->units);
    fprintf(file, "%s: pieces %s long\n\n", name, length);
    fputs("piece       pieces  verdict likeness  ropes  logs                     a log  cause\n", file);
    for (int i = 0; i < table->rows; i++) {
        bool first = i % table->plan.orders == 0;
        if (first && i > 0) fputc('\n', file);
        print_row(table, &table->row[i], first, file);
        more = more || table->row[i].given > table->row[i].pieces;
    }
    if (more) fputs("\n* under the smallest log, which gives more pieces than these\n", file);
    fputs("\nlikeness: of the finished face, 1 at best; ropes: made by hand, for a log; cause: the first "
          "check\n"
          "that is not go. Run one of the rows without --sweep for what to do about it.\n",
          file);
}

static void write_csv_rows(const SweepTable *table, FILE *file) {
    bool inches = table->units == UNITS_IN;
    double mm = inches ? 1 / MM_PER_IN : 1, g = inches ? 1 / G_PER_OZ : 1;
    int places = inches ? 3 : 1;
    const char *length = inches ? "in" : "mm", *mass = inches ? "oz" : "g";
    fprintf(file,
            "piece_diameter_%s,piece_length_%s,pieces,pieces_given,verdict,cause,likeness,weakest,ropes_made,"
            "logs,"
            "log_diameter_%s,log_length_%s,log_mass_%s,pieces_mass_%s\r\n",
            length, length, length, length, mass, mass);
    for (int i = 0; i < table->rows; i++) {
        const SweepRow *row = &table->row[i];
        fprintf(file, "%.*f,%.*f,%ld,%ld,%s,", places, row->diameter_mm * mm, places,
                table->piece_length_mm * mm, row->pieces, row->given, verdict_name(row->verdict));
        text_csv(file, row->verdict == VERDICT_GO ? "" : check_name(row->cause, UNITS_MM));
        fprintf(file, ",%.4f,%.4f,%d,%d,%.*f,%.*f,%.1f,%.1f\r\n", row->likeness, row->weakest,
                row->ropes_made, row->logs, places, row->log_diameter_mm * mm, places,
                row->log_length_mm * mm, row->log_mass_g * g, row->pieces_mass_g * g);
    }
}

static bool write_picture(const SweepTable *table, FILE *file, Err *err) {
    Image image = {0};
    bool good = draw_sweep(table, &image, err) && write_png(&image, file, err);
    image_free(&image);
    return good;
}

static bool write_files(const SweepTable *table, const Folder *folder, Err *err) {
    FILE *file = folder_open(folder, ours[0], err);
    if (!file) return false;
    write_csv_rows(table, file);
    if (!folder_close(folder, file, ours[0], err)) return false;
    file = folder_open(folder, ours[1], err);
    if (!file) return false;
    bool good = write_picture(table, file, err);
    return folder_close(folder, file, ours[1], err) && good;
}

bool write_sweep_check(const char *dir, bool force, Err *err) {
    return folder_check(dir, ours, force, err);
}

bool write_sweep(const SweepTable *table, const char *dir, bool force, Err *err) {
    Folder folder;
    if (!folder_check(dir, ours, force, err) || !folder_begin(dir, ours, &folder, err)) return false;
    if (write_files(table, &folder, err)) return folder_commit(&folder, ours, force, err);
    folder_abandon(&folder, ours);
    return false;
}
