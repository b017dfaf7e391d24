/* A sweep as a table. SPDX-License-Identifier: MIT
 *
 * The table names the size once; a star tells that the logs give more pieces than were asked for. */
#include "write/last_words.h"
#include "write/write.h"

#include "say/verdict_words.h"
#include "draw/draw.h"
#include "base/folder.h"
#include "base/text.h"
#include "write/files.h"

#include <string.h>

static const char *const ours[] = {"sweep.csv", "sweep.png", NULL};

enum {
    SIZE_COLUMNS = 8,
    PIECES_COLUMNS = 10,
    VERDICT_COLUMNS = 7,
    LIKENESS_COLUMNS = 9,
    ROPES_COLUMNS = 6,
    LOGS_COLUMNS = 5,
    LOG_COLUMNS = 9,
    PRICE_COLUMNS = 8,
    CAUSE_LEAST = 8 /* columns, where numbers are wider than usual */
};

/* Prints a number to the right in so many columns; returns how wide it came. */
static int print_number(FILE *file, double value, int decimals, int columns) {
    char text[64];
    (void)snprintf(text, sizeof text, "%.*f", decimals, value);
    if (decimals == 0) text_number(text, sizeof text, value, 0);
    text_pad(file, text, -columns);
    return text_width(text) > columns ? text_width(text) : columns;
}

/* In whole units of the shop's money: the list has the rest. */
static int print_price(FILE *file, double price) {
    if (price > 0) return print_number(file, price, 0, PRICE_COLUMNS);
    text_pad(file, "-", -PRICE_COLUMNS);
    return PRICE_COLUMNS;
}

static void print_row(const SweepTable *table, const SweepRow *row, bool first, FILE *file) {
    char size[32], text[160];
    length_print(size, sizeof size, row->diameter_mm, table->units);
    text_pad(file, first ? size : "", SIZE_COLUMNS);
    int at = SIZE_COLUMNS + print_number(file, (double)row->pieces, 0, PIECES_COLUMNS);
    fprintf(file, "%c ", row->given > row->pieces ? '*' : ' ');
    text_pad(file, verdict_name(row->verdict), VERDICT_COLUMNS);
    at += 2 + VERDICT_COLUMNS + print_number(file, row->likeness, 2, LIKENESS_COLUMNS);
    at += print_number(file, row->ropes_made, 0, ROPES_COLUMNS);
    at += print_number(file, row->logs, 0, LOGS_COLUMNS);
    mass_print(text, sizeof text, row->log_mass_g, table->units);
    text_pad(file, text, -LOG_COLUMNS);
    at += LOG_COLUMNS + (table->prices ? print_price(file, row->price) : 0);
    if (row->verdict != VERDICT_GO) {
        int room = TEXT_COLUMNS - at - 2;
        text_fit(text, sizeof text, check_short_name(row->cause), room < CAUSE_LEAST ? CAUSE_LEAST : room);
        fprintf(file, "  %s", text);
    }
    fputc('\n', file);
}

static void print_head(const SweepTable *table, FILE *file) {
    char name[TEXT_COLUMNS * 4], length[32];
    text_fit(name, sizeof name, table->logo, TEXT_COLUMNS - 30);
    length_print(length, sizeof length, table->piece_length_mm, table->units);
    fprintf(file, "%s: pieces %s long\n\n", name, length);
    text_pad(file, "piece", SIZE_COLUMNS);
    text_pad(file, "pieces", -PIECES_COLUMNS);
    fputs("  verdict", file);
    text_pad(file, "likeness", -LIKENESS_COLUMNS);
    text_pad(file, "ropes", -ROPES_COLUMNS);
    text_pad(file, "logs", -LOGS_COLUMNS);
    text_pad(file, "a log", -LOG_COLUMNS);
    if (table->prices) text_pad(file, "price", -PRICE_COLUMNS);
    fputs("  why\n", file);
}

void write_sweep_text(const SweepTable *table, FILE *file) {
    char line[320] = "likeness: of the finished face, 1 at best; ropes: made by hand, for a log; ";
    bool more = false;
    print_head(table, file);
    for (int i = 0; i < table->rows; i++) {
        bool first = i % table->plan.orders == 0;
        if (first && i > 0) fputc('\n', file);
        print_row(table, &table->row[i], first, file);
        more = more || table->row[i].given > table->row[i].pieces;
    }
    if (more) fputs("\n* under the smallest log, which gives more pieces than these\n", file);
    if (table->prices)
        text_append(line, sizeof line, "price: of the order%s%s, by the shop's prices; ",
                    table->currency[0] ? ", in " : "", table->currency);
    text_append(line, sizeof line,
                "why: the first check that is not go. Run one of the rows without --sweep "
                "for what to do about it.");
    fputc('\n', file);
    text_wrap(file, line, 0, 0);
}

static void price_cells(const SweepTable *table, const SweepRow *row, FILE *file) {
    fputc(',', file);
    if (row->price > 0) fprintf(file, "%.2f", row->price);
    fputc(',', file);
    text_csv(file, table->currency);
}

static void write_csv_rows(const SweepTable *table, FILE *file) {
    bool inches = table->units == UNITS_IN;
    double mm = inches ? 1 / MM_PER_IN : 1, g = inches ? 1 / G_PER_OZ : 1;
    int places = inches ? 3 : 1;
    const char *length = inches ? "in" : "mm", *mass = inches ? "oz" : "g";
    fprintf(file,
            "piece_diameter_%s,piece_length_%s,pieces,pieces_given,verdict,cause,likeness,weakest,ropes_made,"
            "logs,"
            "log_diameter_%s,log_length_%s,log_mass_%s,pieces_mass_%s%s\r\n",
            length, length, length, length, mass, mass, table->prices ? ",price,currency" : "");
    for (int i = 0; i < table->rows; i++) {
        const SweepRow *row = &table->row[i];
        fprintf(file, "%.*f,%.*f,%ld,%ld,%s,", places, row->diameter_mm * mm, places,
                table->piece_length_mm * mm, row->pieces, row->given, verdict_name(row->verdict));
        text_csv(file, row->verdict == VERDICT_GO ? "" : check_name(row->cause, UNITS_MM));
        fprintf(file, ",%.4f,%.4f,%d,%d,%.*f,%.*f,%.1f,%.1f", row->likeness, row->weakest, row->ropes_made,
                row->logs, places, row->log_diameter_mm * mm, places, row->log_length_mm * mm,
                row->log_mass_g * g, row->pieces_mass_g * g);
        if (table->prices) price_cells(table, row, file);
        fputs("\r\n", file);
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
    return folder_check(dir, ours, force, err) && draw_fonts(err);
}

bool write_sweep(const SweepTable *table, const char *dir, bool force, Err *err) {
    Folder folder;
    if (!folder_check(dir, ours, force, err) || !folder_begin(dir, ours, &folder, err)) return false;
    LastWords last;
    last_words_begin(&last, &folder, ours);
    bool good = write_files(table, &folder, err);
    last_words_end();
    if (good) return folder_commit(&folder, ours, force, err);
    folder_abandon(&folder, ours);
    return false;
}
