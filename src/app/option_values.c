/* The values of options. SPDX-License-Identifier: MIT */
#include "app/option_values.h"

#include "base/date.h"
#include "base/text.h"
#include "model/colour.h"

#include <string.h>
#include <strings.h>

/* Where the row's value goes. */
static void *place_of(const OptionRow *row, Options *out) {
    return (char *)out + row->at;
}

static bool take_whole(const OptionRow *row, const char *value, long *out, Err *err) {
    if (whole_parse(value, row->low, row->high, out)) return true;
    return err_set(err, ERR_USAGE,
                   "--%s: \"%.40s\" is not a whole number from %ld to %ld; write for example --%s %s",
                   row->name, value, row->low, row->high, row->name, row->standard ? row->standard : "12");
}

bool take_small(const OptionRow *row, const char *value, Options *out, Err *err) {
    long number;
    if (!take_whole(row, value, &number, err)) return false;
    *(int *)place_of(row, out) = (int)number; /* the table's ranges fit */
    return true;
}

/* A mass that can be ordered: 1 g to 100 000 kg. */
static bool read_mass(const char *value, double *g) {
    return mass_parse(value, 1, 1e8, g);
}

/* Of --pieces and --weight the last holds. */
bool take_pieces(const OptionRow *row, const char *value, Options *out, Err *err) {
    double g;
    size_t length = strlen(value);
    out->order.weight_g = 0;
    out->order.quantity_asked = true;
    if (length > 0 && strchr("gzb", value[length - 1]) && read_mass(value, &g)) /* kg, oz, lb */
        return err_set(err, ERR_USAGE, "--%s: \"%.40s\" is a mass; write --weight '%.40s'", row->name, value,
                       value);
    return take_whole(row, value, &out->order.pieces, err);
}

bool take_piece(const OptionRow *row, const char *value, Options *out, Err *err) {
    double diameter, length;
    if (!piece_parse(value, &diameter, &length))
        return err_set(err, ERR_USAGE,
                       "--%s: \"%.40s\" is not a diameter x length; write for example --%s 16x14mm",
                       row->name, value, row->name);
    if (!(diameter >= PIECE_LEAST_MM && diameter <= PIECE_MOST_MM))
        return err_set(err, ERR_USAGE, "--%s: \"%.40s\" is %.4g mm across; choose %d to %d mm", row->name,
                       value, diameter, PIECE_LEAST_MM, PIECE_MOST_MM);
    if (!(length >= 2 && length <= 100))
        return err_set(err, ERR_USAGE, "--%s: \"%.40s\" is %.4g mm long; choose 2 to 100 mm", row->name,
                       value, length);
    out->order.piece_diameter_mm = diameter;
    out->order.piece_length_mm = length;
    out->piece_given = true;
    return true;
}

/* Copies a candy's name, value[0..length), without the spaces round it. */
static bool take_name(const OptionRow *row, const char *value, size_t length, char out[CANDY_NAME],
                      Err *err) {
    while (length > 0 && value[0] == ' ') value++, length--;
    while (length > 0 && value[length - 1] == ' ') length--;
    if (length == 0)
        return err_set(err, ERR_USAGE, "--%s: a candy's name is missing; write %s", row->name, row->argument);
    if (length >= CANDY_NAME)
        return err_set(err, ERR_USAGE,
                       "--%s: \"%.40s...\" is too long for a candy's name; use one of the shop's", row->name,
                       value);
    memcpy(out, value, length);
    out[length] = 0;
    if (text_valid(out)) return true;
    return err_set(err, ERR_USAGE,
                   "--%s: \"%s\" holds control characters or is no UTF-8; use a candy of the shop", row->name,
                   out);
}

bool take_field(const OptionRow *row, const char *value, Options *out, Err *err) {
    return take_name(row, value, strlen(value), out->order.field, err);
}

bool take_map(const OptionRow *row, const char *value, Options *out, Err *err) {
    char colour[16];
    InkWish wish;
    const char *equals = strchr(value, '=');
    size_t length = equals ? (size_t)(equals - value) : 0;
    (void)snprintf(colour, sizeof colour, "%.*s", length < sizeof colour ? (int)length : 0, value);
    if (!equals || !rgb8_parse(colour, &wish.ink))
        return err_set(err, ERR_USAGE,
                       "--%s: \"%.40s\" is not #RRGGBB=CANDY; write for example --%s '#1A2B3C=navy'",
                       row->name, value, row->name);
    if (!take_name(row, equals + 1, strlen(equals + 1), wish.candy, err)) return false;
    for (int i = 0; i < out->order.wishes; i++)
        if (memcmp(&out->order.wish[i].ink, &wish.ink, sizeof wish.ink) == 0)
            return err_set(err, ERR_USAGE, "--%s: %s is given twice; leave one out", row->name, colour);
    if (out->order.wishes == INKS_MAX)
        return err_set(err, ERR_USAGE, "--%s: more than %d inks; a logo has no more", row->name, INKS_MAX);
    out->order.wish[out->order.wishes++] = wish;
    return true;
}

/* "41:63": percents from the left and from the top. */
static bool read_spot(const char *text, size_t length, Edit *out) {
    char number[2][12] = {"", ""};
    const char *colon = memchr(text, ':', length);
    if (!colon) return false;
    const size_t size[2] = {(size_t)(colon - text), length - (size_t)(colon - text) - 1};
    const char *from[2] = {text, colon + 1};
    double at[2];
    for (int i = 0; i < 2; i++) {
        if (size[i] >= sizeof number[i]) return false;
        memcpy(number[i], from[i], size[i]);
        const char *point = strchr(number[i], '.');
        if (point && strlen(point) > 3) return false; /* two decimals */
        if (!number_parse(number[i], 0, 100, &at[i])) return false;
    }
    out->x = (int)(at[0] * POINT_UNIT + 0.5);
    out->y = (int)(at[1] * POINT_UNIT + 0.5);
    return true;
}

static int count_edits(const Order *order, EditKind kind) {
    int count = 0;
    for (int i = 0; i < order->edits; i++) count += order->edit[i].kind == kind;
    return count;
}

bool take_leave_out(const OptionRow *row, const char *value, Options *out, Err *err) {
    Order *order = &out->order;
    for (bool more = true, first = true; more; first = false) {
        size_t length = strcspn(value, ",");
        Edit edit = {.kind = EDIT_LEAVE_OUT, .with = !first};
        if (first && strcmp(value, "lettering") == 0)
            edit = (Edit){.kind = EDIT_LETTERING};
        else if (!read_spot(value, length, &edit))
            return err_set(
                err, ERR_USAGE,
                "--%s: \"%.*s\" is not X:Y, percents from the left and the top, 0 to 100 with up to two "
                "decimals; write for example --%s 41:63, or lettering",
                row->name, length < 40 ? (int)length : 40, value, row->name);
        if (count_edits(order, EDIT_LEAVE_OUT) == POINTS_MAX)
            return err_set(err, ERR_USAGE, "--%s: more than %d points; name fewer", row->name, POINTS_MAX);
        order->edit[order->edits++] = edit;
        more = value[length] == ',';
        value += length + 1;
    }
    return true;
}

bool take_join(const OptionRow *row, const char *value, Options *out, Err *err) {
    char colour[16];
    Edit edit = {.kind = EDIT_JOIN};
    const char *equals = strchr(value, '=');
    size_t length = equals ? (size_t)(equals - value) : 0;
    (void)snprintf(colour, sizeof colour, "%.*s", length < sizeof colour ? (int)length : 0, value);
    if (!equals || !rgb8_parse(colour, &edit.ink) || !rgb8_parse(equals + 1, &edit.into))
        return err_set(err, ERR_USAGE,
                       "--%s: \"%.40s\" is not #RRGGBB=#RRGGBB; write for example --%s '#1A2B3C=#203040'",
                       row->name, value, row->name);
    if (count_edits(&out->order, EDIT_JOIN) == INKS_MAX)
        return err_set(err, ERR_USAGE, "--%s: more than %d inks; a logo has no more", row->name, INKS_MAX);
    out->order.edit[out->order.edits++] = edit;
    return true;
}

bool take_warm_box(const OptionRow *row, const char *value, Options *out, Err *err) {
    if (temperature_parse(value, WARM_BOX_LEAST_C, WARM_BOX_MOST_C, &out->order.joining_c)) return true;
    return err_set(err, ERR_USAGE,
                   "--%s: \"%.40s\" is not a temperature from %d to %d °C; write for example --%s 85",
                   row->name, value, WARM_BOX_LEAST_C, WARM_BOX_MOST_C, row->name);
}

bool take_jacket(const OptionRow *row, const char *value, Options *out, Err *err) {
    Order *order = &out->order;
    order->jackets = 0;
    out->jacket_given = true;
    for (bool more = true; more;) {
        size_t length = strcspn(value, ",");
        if (order->jackets == JACKETS_MAX)
            return err_set(err, ERR_USAGE, "--%s: more than %d candies; name fewer", row->name, JACKETS_MAX);
        const char *name = order->jacket[order->jackets];
        if (!take_name(row, value, length, order->jacket[order->jackets], err)) return false;
        for (int j = 0; j < order->jackets; j++)
            if (strcasecmp(order->jacket[j], name) == 0)
                return err_set(err, ERR_USAGE,
                               "--%s: %s is named twice; name each candy once, --stripes says how often",
                               row->name, name);
        order->jackets++;
        more = value[length] == ',';
        value += length + 1;
    }
    for (int j = 0; j < order->jackets && order->jackets > 1; j++)
        if (strcasecmp(order->jacket[j], "auto") == 0)
            return err_set(err, ERR_USAGE, "--%s: auto chooses all of the jacket; leave out the others",
                           row->name);
    return true;
}

bool take_fit(const OptionRow *row, const char *value, Options *out, Err *err) {
    static const char *const word[] = {[FIT_AUTO] = "auto", [FIT_CROP] = "crop", [FIT_WHOLE] = "whole"};
    for (size_t i = 0; i < sizeof word / sizeof *word; i++)
        if (strcmp(value, word[i]) == 0) {
            out->order.fit = (Fit)i;
            return true;
        }
    return err_set(err, ERR_USAGE, "--%s: \"%.40s\" is not known; write auto, crop or whole", row->name,
                   value);
}

bool take_detail(const OptionRow *row, const char *value, Options *out, Err *err) {
    static const char *const word[] = {
        [DETAIL_PLAIN] = "plain", [DETAIL_NORMAL] = "normal", [DETAIL_FINE] = "fine"};
    for (size_t i = 0; i < sizeof word / sizeof *word; i++)
        if (strcmp(value, word[i]) == 0) {
            out->order.detail = (Detail)i;
            return true;
        }
    return err_set(err, ERR_USAGE, "--%s: \"%.40s\" is not known; write plain, normal or fine", row->name,
                   value);
}

bool take_job_name(const OptionRow *row, const char *value, Options *out, Err *err) {
    if (strlen(value) >= JOB_NAME)
        return err_set(err, ERR_USAGE, "--%s: is over %d bytes long; choose a shorter name", row->name,
                       JOB_NAME - 1);
    if (value[strspn(value, " ")] == 0)
        return err_set(err, ERR_USAGE, "--%s: is empty; give the job a name", row->name);
    if (!text_valid(value))
        return err_set(err, ERR_USAGE, "--%s: holds control characters or is no UTF-8; use plain text",
                       row->name);
    (void)snprintf(out->order.name, sizeof out->order.name, "%s", value);
    out->order.named = true;
    return true;
}

bool take_day(const OptionRow *row, const char *value, Options *out, Err *err) {
    if (!date_valid(value))
        return err_set(err, ERR_USAGE,
                       "--%s: \"%.40s\" is no day of the calendar; write year, month, day: --%s 2027-02-28",
                       row->name, value, row->name);
    (void)snprintf(place_of(row, out), ORDER_DATE, "%s", value);
    return true;
}

bool take_path(const OptionRow *row, const char *value, Options *out, Err *err) {
    if (*value == 0)
        return err_set(err, ERR_USAGE, "--%s: is empty; name a %s", row->name,
                       row->letter == 'o'               ? "folder to write"
                       : strcmp(row->name, "shop") == 0 ? "shop file"
                                                        : "file");
    *(const char **)place_of(row, out) = value;
    return true;
}

bool take_weight(const OptionRow *row, const char *value, Options *out, Err *err) {
    out->order.quantity_asked = true;
    if (read_mass(value, &out->order.weight_g)) return true;
    return err_set(err, ERR_USAGE,
                   "--%s: \"%.40s\" is not a mass from 1 g to 100000 kg; write for example --%s 5kg",
                   row->name, value, row->name);
}

bool take_units(const OptionRow *row, const char *value, Options *out, Err *err) {
    bool inches = strcmp(value, "in") == 0;
    if (!inches && strcmp(value, "mm") != 0)
        return err_set(err, ERR_USAGE, "--%s: \"%.40s\" is not known; write mm or in", row->name, value);
    out->order.units = inches ? UNITS_IN : UNITS_MM;
    return true;
}

bool take_sweep(const OptionRow *row, const char *value, Options *out, Err *err) {
    out->sweep = true;
    out->plan = sweep_plan_default();
    if (!value || sweep_plan_parse(value, &out->plan)) return true;
    return err_set(
        err, ERR_USAGE,
        "--%s: \"%.40s\" is no list of up to %d diameters (%d to %d mm) : orders; write for example "
        "--%s=14,16:500,1000",
        row->name, value, SWEEP_MAX, PIECE_LEAST_MM, PIECE_MOST_MM, row->name);
}

bool take_page(const OptionRow *row, const char *value, Options *out, Err *err) {
    (void)row;
    (void)err;
    out->page = true;
    out->page_at = value;
    return true;
}

bool take_page_host(const OptionRow *row, const char *value, Options *out, Err *err) {
    if (out->page_hosts == PAGE_HOSTS_MAX)
        return err_set(err, ERR_USAGE, "--%s: more than %d names; name fewer", row->name, PAGE_HOSTS_MAX);
    out->page_host[out->page_hosts++] = value;
    return true;
}

bool take_flag(const OptionRow *row, const char *value, Options *out, Err *err) {
    (void)value;
    (void)err;
    *(bool *)place_of(row, out) = true;
    return true;
}
