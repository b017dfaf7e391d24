/* Several logos, a line each. SPDX-License-Identifier: MIT
 *
 * As text: columns, and the logo's name in what is left of the line. Of a logo that failed the error stands
 * across the columns, without the name and without what to do. */
#include "write/write.h"

#include "base/text.h"
#include "say/verdict_words.h"
#include "write/json_out.h"

#include <stdlib.h>
#include <string.h>

enum {
    VERDICT_COLUMNS = 9,
    WHY_COLUMNS = SHORT_COLUMNS + 1,
    LIKENESS_COLUMNS = 8,
    PIECES_COLUMNS = 11,
    ROPES_COLUMNS = 7,
    PRICE_COLUMNS = 11,
    NAME_LEAST = 10, /* columns, where numbers are wider than usual */
    ERROR_LEAST = 20,
    PATH_TEXT = 4096
};

/* --- text --- */

/* Prints clean text in a column, as text_pad; returns how wide it came. */
static int print_cell(FILE *file, const char *text, int columns) {
    int width = text_width(text), room = abs(columns);
    text_pad(file, text, columns);
    return width > room ? width : room;
}

static int print_number(FILE *file, double value, int decimals, int columns) {
    char text[64];
    text_number(text, sizeof text, value, decimals);
    return print_cell(file, text, -columns);
}

/* Money has its two decimals, whatever they are. */
static int print_price(FILE *file, double price) {
    char text[64] = "-";
    if (price >= 100000)
        text_number(text, sizeof text, price, 0);
    else if (price > 0)
        (void)snprintf(text, sizeof text, "%.2f", price);
    return print_cell(file, text, -PRICE_COLUMNS);
}

/* Where the name begins, if nothing is wider than usual. */
static int name_at(const LogoTable *table) {
    return VERDICT_COLUMNS + WHY_COLUMNS + LIKENESS_COLUMNS + PIECES_COLUMNS + ROPES_COLUMNS +
           (table->prices ? PRICE_COLUMNS : 0) + 2;
}

/* Two spaces and the name, behind `at` columns; without its folders, if they are too much. */
static void print_name(const LogoTable *table, const LogoRow *row, int at, FILE *file) {
    char name[TEXT_COLUMNS * 4];
    int room = TEXT_COLUMNS - at - 2;
    const char *path = row->file + table->common, *slash = strrchr(path, '/');
    if (text_width(path) > room && slash && slash[1]) path = slash + 1;
    text_fit(name, sizeof name, path, room < NAME_LEAST ? NAME_LEAST : room);
    fprintf(file, "  %s\n", name);
}

static void print_failed(const LogoTable *table, const LogoRow *row, FILE *file) {
    char prefix[320], words[sizeof row->err.msg], fitted[TEXT_COLUMNS * 4];
    text_fit(prefix, sizeof prefix, row->file, 160);
    size_t length = strlen(prefix);
    const char *what = row->err.msg;
    if (strncmp(what, prefix, length) == 0 && strncmp(what + length, ": ", 2) == 0) what += length + 2;
    (void)snprintf(words, sizeof words, "%s", what);
    words[strcspn(words, ";")] = 0;
    int room = name_at(table) - 2 - VERDICT_COLUMNS;
    text_fit(fitted, sizeof fitted, words, room > ERROR_LEAST ? room : ERROR_LEAST);
    int at = print_cell(file, "failed", VERDICT_COLUMNS);
    at += print_cell(file, fitted, room);
    print_name(table, row, at, file);
}

static void print_row(const LogoTable *table, const LogoRow *row, FILE *file) {
    char likeness[16];
    (void)snprintf(likeness, sizeof likeness, "%.2f", row->likeness);
    int at = print_cell(file, verdict_name(row->verdict), VERDICT_COLUMNS);
    at += print_cell(file, row->verdict == VERDICT_GO ? "" : check_short_name(row->cause), WHY_COLUMNS);
    at += print_cell(file, likeness, -LIKENESS_COLUMNS);
    at += print_number(file, (double)row->pieces, 0, PIECES_COLUMNS);
    at += print_number(file, row->ropes_made, 0, ROPES_COLUMNS);
    if (table->prices) at += print_price(file, row->price);
    print_name(table, row, at, file);
}

static void print_head(const LogoTable *table, const char *in, FILE *file) {
    char pieces[48], size[96], folder[TEXT_COLUMNS * 4];
    const Order *order = table->order;
    if (order->weight_g > 0)
        mass_print(pieces, sizeof pieces, order->weight_g, order->units);
    else
        text_number(pieces, sizeof pieces, (double)order->pieces, 0);
    size_print(size, sizeof size, order->piece_diameter_mm, order->piece_length_mm, order->units);
    fprintf(file, "%d logo%s, of each %s%s of %s\n", table->count, table->count == 1 ? "" : "s", pieces,
            order->weight_g > 0  ? " in pieces"
            : order->pieces == 1 ? " piece"
                                 : " pieces",
            size);
    text_fit(folder, sizeof folder, in, TEXT_COLUMNS - 3);
    if (*in) fprintf(file, "in %s\n", folder);
    fputc('\n', file);
    text_pad(file, "verdict", VERDICT_COLUMNS);
    text_pad(file, "why", WHY_COLUMNS);
    text_pad(file, "likeness", -LIKENESS_COLUMNS);
    text_pad(file, "pieces", -PIECES_COLUMNS);
    text_pad(file, "ropes", -ROPES_COLUMNS);
    if (table->prices) text_pad(file, "price", -PRICE_COLUMNS);
    fputs("  logo\n", file);
}

static void print_end(const LogoTable *table, const LogoCounts *counts, long passed, FILE *file) {
    char line[400];
    (void)snprintf(line, sizeof line, "%d go, %d change, %d no", counts->verdict[VERDICT_GO],
                   counts->verdict[VERDICT_CHANGE], counts->verdict[VERDICT_NO]);
    if (counts->failed > 0) text_append(line, sizeof line, "; %d failed", counts->failed);
    if (passed > 0)
        text_append(line, sizeof line, "; %ld file%s passed over: no picture%s", passed,
                    passed == 1 ? "" : "s", passed == 1 ? "" : "s");
    fprintf(file, "\n%s\n", line);
    (void)snprintf(line, sizeof line,
                   "why: the first check that is not go; likeness: of the finished face, 1 at best; ropes: "
                   "made by hand, for a log");
    if (table->prices)
        text_append(line, sizeof line, "; price: of the order%s%s, by the shop's prices",
                    table->currency[0] ? ", in " : "", table->currency);
    text_append(line, sizeof line, ". Run one of them by itself for what to do about it.");
    text_wrap(file, line, 0, 0);
}

/* --- CSV and JSON: the same cells --- */

static void csv_head(const LogoTable *table, FILE *file) {
    fputs("file,verdict,cause,likeness,weakest,pieces,ropes_made,logs,minutes", file);
    if (table->prices) fputs(",price,currency", file);
    fputs(",folder,error\r\n", file);
}

static void csv_row(const LogoTable *table, const LogoRow *row, FILE *file) {
    bool good = row->err.code == ERR_NONE;
    text_csv(file, row->file);
    if (good) {
        fprintf(file, ",%s,", verdict_name(row->verdict));
        text_csv(file, row->verdict == VERDICT_GO ? "" : check_name(row->cause, UNITS_MM));
        fprintf(file, ",%.4f,%.4f,%ld,%d,%d,%.1f", row->likeness, row->weakest, row->pieces, row->ropes_made,
                row->logs, row->minutes);
    } else {
        fputs(",,,,,,,,", file);
    }
    if (table->prices) {
        fputc(',', file);
        if (row->price > 0) fprintf(file, "%.2f", row->price);
        fputc(',', file);
        text_csv(file, table->currency);
    }
    fputc(',', file);
    text_csv(file, row->folder ? row->folder : "");
    fputc(',', file);
    text_csv(file, row->err.msg);
    fputs("\r\n", file);
}

static void put_path(Out *out, cJSON *to, const char *key, const char *path) {
    char clean[PATH_TEXT];
    text_clean(clean, sizeof clean, path);
    if (!cJSON_AddStringToObject(to, key, clean)) out->failed = true;
}

static void put_row(Out *out, cJSON *to, const LogoTable *table, const LogoRow *row) {
    put_path(out, to, "file", row->file);
    if (row->err.code != ERR_NONE) {
        put_text(out, to, "error", row->err.msg);
        return;
    }
    put_text(out, to, "verdict", verdict_name(row->verdict));
    if (row->verdict != VERDICT_GO) put_text(out, to, "cause", check_name(row->cause, UNITS_MM));
    put_number(out, to, "likeness", row->likeness);
    put_number(out, to, "weakest", row->weakest);
    put_number(out, to, "pieces", (double)row->pieces);
    put_number(out, to, "ropes_made", row->ropes_made);
    put_number(out, to, "logs", row->logs);
    put_number(out, to, "minutes", row->minutes);
    if (row->price > 0) {
        put_number(out, to, "price", row->price);
        put_text(out, to, "currency", table->currency);
    }
    if (row->folder) put_path(out, to, "folder", row->folder);
}

static bool json_row(const LogoTable *table, const LogoRow *row, FILE *file, Err *err) {
    Out out = {.job = NULL};
    cJSON *object = cJSON_CreateObject();
    put_row(&out, object, table, row);
    char *text = out.failed ? NULL : cJSON_PrintUnformatted(object);
    cJSON_Delete(object);
    if (!text) return err_set(err, ERR_MEMORY, "out of memory for a line of JSON; close other programs");
    fprintf(file, "%s\n", text);
    cJSON_free(text);
    return true;
}

/* --- the forms --- */

void write_many_head(const LogoTable *table, const char *in, FILE *file) {
    if (table->form == LOGOS_TEXT) print_head(table, in, file);
    if (table->form == LOGOS_CSV) csv_head(table, file);
}

bool write_many_row(const LogoTable *table, const LogoRow *row, FILE *file, Err *err) {
    if (table->form == LOGOS_JSON) return json_row(table, row, file, err);
    if (table->form == LOGOS_CSV)
        csv_row(table, row, file);
    else
        (row->err.code == ERR_NONE ? print_row : print_failed)(table, row, file);
    return true;
}

void write_many_end(const LogoTable *table, const LogoCounts *counts, long passed, FILE *file) {
    if (table->form == LOGOS_TEXT) print_end(table, counts, passed, file);
}
