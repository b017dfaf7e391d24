/* What the page is told beside the answer: the shop, and a sweep row by row. SPDX-License-Identifier: MIT */
#include "write/write.h"

#include "base/text.h"
#include "draw/draw.h"
#include "say/bench_words.h"
#include "say/verdict_words.h"
#include "write/files.h"
#include "write/in_memory.h"
#include "write/json_out.h"

#include <stdlib.h>

/* Prints the object in one line and frees it. */
static bool print_line(Out *out, cJSON *object, FILE *file, Err *err) {
    char *text = out->failed || !object ? NULL : cJSON_PrintUnformatted(object);
    cJSON_Delete(object);
    if (!text) return err_set(err, ERR_MEMORY, "out of memory (for the answer); close other programs");
    fprintf(file, "%s\n", text);
    cJSON_free(text);
    return true;
}

/* --- the shop --- */

static void put_standard(Out *out, cJSON *to, const Shop *shop, const Order *order) {
    static const char *const detail[] = {
        [DETAIL_PLAIN] = "plain", [DETAIL_NORMAL] = "normal", [DETAIL_FINE] = "fine"};
    static const char *const fit[] = {[FIT_AUTO] = "auto", [FIT_CROP] = "crop", [FIT_WHOLE] = "whole"};
    char jacket[JACKETS_MAX * (CANDY_NAME + 1) + 1] = "";
    for (int j = 0; j < order->jackets; j++)
        text_append(jacket, sizeof jacket, "%s%s", j ? "," : "", order->jacket[j]);
    put_number(out, to, "diameter_mm", order->piece_diameter_mm);
    put_number(out, to, "length_mm", order->piece_length_mm);
    put_number(out, to, "pieces", (double)order->pieces);
    put_number(out, to, "colours", order->colours);
    put_text(out, to, "jacket", jacket);
    put_number(out, to, "stripes", order->stripes);
    put_text(out, to, "detail", detail[order->detail]);
    put_text(out, to, "fit", fit[order->fit]);
    put_number(out, to, "people", order->people > 0 ? order->people : shop->people);
}

static void put_ranges(Out *out, cJSON *to) {
    static const struct {
        const char *name;
        int least, most;
    } range[] = {{"pieces", 1, PIECES_MAX},   {"diameter_mm", PIECE_LEAST_MM, PIECE_MOST_MM},
                 {"length_mm", 2, 100},       {"colours", 1, INKS_MAX},
                 {"stripes", 1, STRIPES_MAX}, {"people", 1, PEOPLE_MAX}};
    for (size_t i = 0; i < sizeof range / sizeof *range; i++) {
        cJSON *pair = put_array(out, to, range[i].name);
        append_number(out, pair, range[i].least);
        append_number(out, pair, range[i].most);
    }
}

bool write_shop_json(const Shop *shop, const Order *order, const PageShop *page, FILE *file, Err *err) {
    Out out = {0};
    cJSON *object = cJSON_CreateObject();
    put_text(&out, object, "version", page->version);
    put_text(&out, object, "units", order->units == UNITS_IN ? "in" : "mm");
    put_bool(&out, object, "prices", shop_has_prices(shop));
    put_bool(&out, object, "keep", page->keep);
    cJSON *candies = put_array(&out, object, "candies");
    for (int i = 0; i < shop->stock.count; i++) {
        const Candy *candy = &shop->stock.candy[i];
        cJSON *one = append_object(&out, candies);
        put_text(&out, one, "name", candy->name);
        put_colour(&out, one, "srgb", candy->srgb);
        put_text(&out, one, "finish", finish_name(candy->finish));
    }
    put_standard(&out, put_object(&out, object, "standard"), shop, order);
    put_ranges(&out, put_object(&out, object, "ranges"));
    return print_line(&out, object, file, err);
}

/* --- a sweep --- */

static void put_option(Out *out, cJSON *to, const char *name, const char *value) {
    cJSON *option = append_object(out, to);
    put_text(out, option, "name", name);
    put_text(out, option, "value", value);
}

static void put_price(Out *out, cJSON *to, const SweepTable *table, const SweepRow *row) {
    char price[64], number[32];
    text_money(number, sizeof number, row->price);
    (void)snprintf(price, sizeof price, "%s%s%s", number, table->currency[0] ? " " : "", table->currency);
    if (row->price > 0)
        put_text(out, to, "price", price);
    else if (!cJSON_AddNullToObject(to, "price"))
        out->failed = true;
}

bool write_sweep_line(const SweepTable *table, const SweepRow *row, FILE *file, Err *err) {
    Out out = {0};
    char piece[48], pieces[24];
    char *face = image_base64(&row->face, write_png, err);
    if (!face) return false;
    (void)snprintf(piece, sizeof piece, "%.10gx%.10gmm", row->diameter_mm, table->piece_length_mm);
    (void)snprintf(pieces, sizeof pieces, "%ld", row->pieces);
    cJSON *object = cJSON_CreateObject();
    put_number(&out, object, "diameter_mm", row->diameter_mm);
    put_number(&out, object, "length_mm", table->piece_length_mm);
    put_number(&out, object, "pieces", (double)row->pieces);
    put_number(&out, object, "given", (double)row->given);
    put_text(&out, object, "verdict", verdict_name(row->verdict));
    put_text(&out, object, "reason", row->verdict == VERDICT_GO ? "" : check_short_name(row->cause));
    put_number(&out, object, "likeness", row->likeness);
    put_number(&out, object, "ropes", row->ropes_made);
    put_price(&out, object, table, row);
    if (!cJSON_AddStringToObject(object, "face", face)) out.failed = true;
    cJSON *options = put_array(&out, object, "options");
    put_option(&out, options, "piece", piece);
    put_option(&out, options, "pieces", pieces);
    free(face);
    return print_line(&out, object, file, err);
}

void write_sweep_line_end(const char *line, FILE *file) {
    Out out = {0};
    Err err = {0};
    cJSON *object = cJSON_CreateObject();
    put_text(&out, object, "stage", "end");
    if (line)
        put_text(&out, object, "line", line);
    else if (!cJSON_AddNullToObject(object, "line"))
        out.failed = true;
    if (!print_line(&out, object, file, &err))
        fputs("{\"stage\":\"end\",\"line\":\"out of memory\"}\n", file);
}
