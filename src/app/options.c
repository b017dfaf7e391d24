/* The command line. SPDX-License-Identifier: MIT
 *
 * One table feeds getopt_long, the checks of ranges, the help, the completions and the check of the manual.
 */
#include "app/options.h"

#include "base/date.h"
#include "base/text.h"
#include "model/colour.h"

#include <assert.h>
#include <getopt.h>
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

static bool take_small(const OptionRow *row, const char *value, Options *out, Err *err) {
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
static bool take_pieces(const OptionRow *row, const char *value, Options *out, Err *err) {
    double g;
    size_t length = strlen(value);
    out->order.weight_g = 0;
    out->order.quantity_asked = true;
    if (length > 0 && strchr("gzb", value[length - 1]) && read_mass(value, &g)) /* kg, oz, lb */
        return err_set(err, ERR_USAGE, "--%s: \"%.40s\" is a mass; write --weight '%.40s'", row->name, value,
                       value);
    return take_whole(row, value, &out->order.pieces, err);
}

static bool take_piece(const OptionRow *row, const char *value, Options *out, Err *err) {
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

static bool take_field(const OptionRow *row, const char *value, Options *out, Err *err) {
    return take_name(row, value, strlen(value), out->order.field, err);
}

static bool take_map(const OptionRow *row, const char *value, Options *out, Err *err) {
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

static bool take_leave_out(const OptionRow *row, const char *value, Options *out, Err *err) {
    Order *order = &out->order;
    for (bool more = true, first = true; more; first = false) {
        size_t length = strcspn(value, ",");
        Edit edit = {.kind = EDIT_LEAVE_OUT, .with = !first};
        if (!read_spot(value, length, &edit))
            return err_set(
                err, ERR_USAGE,
                "--%s: \"%.*s\" is not X:Y, percents from the left and the top, 0 to 100 with up to two "
                "decimals; write for example --%s 41:63",
                row->name, length < 40 ? (int)length : 40, value, row->name);
        if (count_edits(order, EDIT_LEAVE_OUT) == POINTS_MAX)
            return err_set(err, ERR_USAGE, "--%s: more than %d points; name fewer", row->name, POINTS_MAX);
        order->edit[order->edits++] = edit;
        more = value[length] == ',';
        value += length + 1;
    }
    return true;
}

static bool take_join(const OptionRow *row, const char *value, Options *out, Err *err) {
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

static bool take_warm_box(const OptionRow *row, const char *value, Options *out, Err *err) {
    if (temperature_parse(value, WARM_BOX_LEAST_C, WARM_BOX_MOST_C, &out->order.joining_c)) return true;
    return err_set(err, ERR_USAGE,
                   "--%s: \"%.40s\" is not a temperature from %d to %d °C; write for example --%s 85",
                   row->name, value, WARM_BOX_LEAST_C, WARM_BOX_MOST_C, row->name);
}

static bool take_jacket(const OptionRow *row, const char *value, Options *out, Err *err) {
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

static bool take_fit(const OptionRow *row, const char *value, Options *out, Err *err) {
    static const char *const word[] = {[FIT_AUTO] = "auto", [FIT_CROP] = "crop", [FIT_WHOLE] = "whole"};
    for (size_t i = 0; i < sizeof word / sizeof *word; i++)
        if (strcmp(value, word[i]) == 0) {
            out->order.fit = (Fit)i;
            return true;
        }
    return err_set(err, ERR_USAGE, "--%s: \"%.40s\" is not known; write auto, crop or whole", row->name,
                   value);
}

static bool take_detail(const OptionRow *row, const char *value, Options *out, Err *err) {
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

static bool take_job_name(const OptionRow *row, const char *value, Options *out, Err *err) {
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

static bool take_day(const OptionRow *row, const char *value, Options *out, Err *err) {
    if (!date_valid(value))
        return err_set(err, ERR_USAGE,
                       "--%s: \"%.40s\" is no day of the calendar; write year, month, day: --%s 2027-02-28",
                       row->name, value, row->name);
    (void)snprintf(place_of(row, out), ORDER_DATE, "%s", value);
    return true;
}

static bool take_path(const OptionRow *row, const char *value, Options *out, Err *err) {
    if (*value == 0)
        return err_set(err, ERR_USAGE, "--%s: is empty; name a %s", row->name,
                       row->letter == 'o' ? "folder to write" : "shop file");
    *(const char **)place_of(row, out) = value;
    return true;
}

static bool take_weight(const OptionRow *row, const char *value, Options *out, Err *err) {
    out->order.quantity_asked = true;
    if (read_mass(value, &out->order.weight_g)) return true;
    return err_set(err, ERR_USAGE,
                   "--%s: \"%.40s\" is not a mass from 1 g to 100000 kg; write for example --%s 5kg",
                   row->name, value, row->name);
}

static bool take_units(const OptionRow *row, const char *value, Options *out, Err *err) {
    bool inches = strcmp(value, "in") == 0;
    if (!inches && strcmp(value, "mm") != 0)
        return err_set(err, ERR_USAGE, "--%s: \"%.40s\" is not known; write mm or in", row->name, value);
    out->order.units = inches ? UNITS_IN : UNITS_MM;
    return true;
}

static bool take_sweep(const OptionRow *row, const char *value, Options *out, Err *err) {
    out->sweep = true;
    out->plan = sweep_plan_default();
    if (!value || sweep_plan_parse(value, &out->plan)) return true;
    return err_set(
        err, ERR_USAGE,
        "--%s: \"%.40s\" is no list of up to %d diameters (%d to %d mm) : orders; write for example "
        "--%s=14,16:500,1000",
        row->name, value, SWEEP_MAX, PIECE_LEAST_MM, PIECE_MOST_MM, row->name);
}

static bool take_flag(const OptionRow *row, const char *value, Options *out, Err *err) {
    (void)value;
    (void)err;
    *(bool *)place_of(row, out) = true;
    return true;
}

#define AT(field) offsetof(Options, field)

static const OptionRow table[] = {
    {.help = "The order"},
    {'n', "pieces", "N", 1, PIECES_MAX, "1000", "pieces ordered", take_pieces, AT(order.pieces)},
    {0, "weight", "MASS", 0, 0, NULL, "mass ordered in place of pieces: 5kg, 12lb", take_weight,
     AT(order.weight_g)},
    {'p', "piece", "DxL", 0, 0, "16x14mm", "diameter x length, such as 5/8x1/2in", take_piece,
     AT(order.piece_diameter_mm)},
    {0, "name", "TEXT", 0, 0, "the file's name", "name of the job", take_job_name, AT(order.name)},
    {.help = "The candy"},
    {'k', "colors", "K", 1, INKS_MAX, "4", "candies at most (or --colours)", take_small, AT(order.colours)},
    {'k', "colours", "K", 1, INKS_MAX, "4", NULL, take_small, AT(order.colours)},
    {'f', "field", "CANDY", 0, 0, "chosen", "candy of the background", take_field, AT(order.field)},
    {'m', "map", "'#RRGGBB=CANDY'", 0, 0, "chosen", "ink to candy, or =dye; may be repeated", take_map,
     AT(order.wish)},
    {0, "join", "'#RRGGBB=#RRGGBB'", 0, 0, NULL, "an ink into another; may be repeated", take_join,
     AT(order.edit)},
    {0, "leave-out", "X:Y[,X:Y...]", 0, 0, NULL, "parts there, in % from left and top", take_leave_out,
     AT(order.edit)},
    {'j', "jacket", "CANDY[,CANDY]", 0, 0, "background", "of the outer wrap, or auto", take_jacket,
     AT(order.jacket)},
    {0, "fit", "auto|crop|whole", 0, 0, "auto", "of a full picture: a disc, or all of it", take_fit,
     AT(order.fit)},
    {0, "stripes", "S", 1, STRIPES_MAX, "12", "stripes of a mixed jacket", take_small, AT(order.stripes)},
    {.help = "The ropes"},
    {0, "ropes", "N", 1, 10000, NULL, "lay at most N ropes", take_small, AT(order.ropes_cap)},
    {0, "detail", "plain|normal|fine", 0, 0, "normal", "how much one more rope is worth", take_detail,
     AT(order.detail)},
    {0, "no-fine", NULL, 0, 0, NULL, "no fine blocks (built bigger and drawn down)", take_flag,
     AT(order.no_fine)},
    {.help = "The shop"},
    {0, "shop", "FILE", 0, 0, "built in", "the shop's limits, habits, candies", take_path, AT(shop)},
    {0, "people", "N", 1, PEOPLE_MAX, "the shop's", "laying up", take_small, AT(order.people)},
    {0, "warm-box", "T", 0, 0, "the shop's", "its temperature in °C, 50 to 110", take_warm_box,
     AT(order.joining_c)},
    {0, "print-shop", NULL, 0, 0, NULL, "print the shop as such a file; needs no logo", take_flag,
     AT(print_shop)},
    {.help = "The output"},
    {'o', "output", "DIR", 0, 0, NULL, "write the job folder too: pictures and lists", take_path, AT(dir)},
    {0, "sweep", "[=14,16:500,1000]", 0, 0, NULL, "a table of piece diameters : orders", take_sweep,
     AT(plan)},
    {0, "advised", NULL, 0, 0, NULL, "take the first proposal, if it helps", take_flag, AT(advised)},
    {0, "units", "mm|in", 0, 0, "mm", "of text, lists and sheets; JSON: mm, g", take_units, AT(order.units)},
    {0, "dated", NULL, 0, 0, NULL, "put the date on the sheets", take_flag, AT(dated)},
    {0, "valid-until", "YYYY-MM-DD", 0, 0, NULL, "the offer's last day, for the letter", take_day,
     AT(order.valid_until)},
    {0, "details", NULL, 0, 0, NULL, "print all there is to tell, not the answer only", take_flag,
     AT(details)},
    {0, "force", NULL, 0, 0, NULL, "may replace an earlier job in DIR", take_flag, AT(force)},
    {0, "json", NULL, 0, 0, NULL, "print the job as JSON; of several a line each", take_flag, AT(json)},
    {0, "csv", NULL, 0, 0, NULL, "print a line a logo, as CSV", take_flag, AT(csv)},
    {0, "table", NULL, 0, 0, NULL, "print a line a logo, also of one", take_flag, AT(table)},
    {'q', "quiet", NULL, 0, 0, NULL, "print no text: the exit status tells", take_flag, AT(quiet)},
    {'h', "help", NULL, 0, 0, NULL, "print this help", take_flag, AT(help)},
    {'V', "version", NULL, 0, 0, NULL, "print the version", take_flag, AT(version)},
};

enum { OPTION_ROWS = sizeof table / sizeof *table };

const OptionRow *options_table(int *count) {
    *count = OPTION_ROWS;
    return table;
}

/* --- the help --- */

static const char before[] = "Usage: logocane [options] LOGO...      (files, folders of them, -: stdin)\n"
                             "Can hands build this logo in pulled candy? PNG, JPEG, BMP, GIF, PSD\n";

static const char after[] =
    "\nExit status: 0 go or change; 1 no; 2 wrong command or logo; 3 system failure.\n"
    "Example: logocane -n 5,000 -p 18x14mm -j red,white -o ferry-job ferry.png\n";

static void print_row(FILE *file, const OptionRow *row) {
    char left[48], letter[8] = "    ";
    if (row->letter) (void)snprintf(letter, sizeof letter, "-%c, ", row->letter);
    (void)snprintf(left, sizeof left, "  %s--%s%s%s", letter, row->name,
                   row->argument && *row->argument != '[' ? " " : "", row->argument ? row->argument : "");
    fprintf(file, "%-33s%s", left, row->help);
    if (row->high > 0) fprintf(file, ", %ld to %ld", row->low, row->high);
    if (row->standard) fprintf(file, " (%s)", row->standard);
    fputc('\n', file);
}

void help_print(FILE *file) {
    fputs(before, file);
    for (const OptionRow *row = table; row < table + OPTION_ROWS; row++) {
        if (!row->name)
            fprintf(file, "\n%s\n", row->help);
        else if (row->help)
            print_row(file, row);
    }
    fputs(after, file);
}

/* --- the reading --- */

enum { LONG_ONLY = 256 }; /* and above: what getopt_long returns for the row of that number behind it */

/* What getopt_long wants: the letters ("n:", with a first ':' so that a missing value is told apart) and the
 * names. */
static void fill_getopt(char letters[2 * OPTION_ROWS + 2], struct option names[OPTION_ROWS + 1]) {
    size_t used = 0, named = 0;
    letters[used++] = ':';
    for (int i = 0; i < OPTION_ROWS; i++) {
        const OptionRow *row = &table[i];
        if (!row->name) continue;
        int argument = !row->argument            ? no_argument
                       : row->argument[0] == '[' ? optional_argument
                                                 : required_argument;
        names[named++] =
            (struct option){row->name, argument, NULL, row->letter ? row->letter : LONG_ONLY + i};
        if (!row->letter || !row->help) continue;
        letters[used++] = row->letter;
        if (row->argument) letters[used++] = ':';
    }
    letters[used] = 0;
    names[named] = (struct option){0};
}

static const OptionRow *row_of(int found) {
    if (found >= LONG_ONLY) return &table[found - LONG_ONLY];
    const OptionRow *row = table;
    while (row < table + OPTION_ROWS && row->letter != found) row++;
    return row < table + OPTION_ROWS ? row : NULL;
}

/* Says what getopt_long did not take. `found` is what it returned, ':' or '?'; optopt, which it sets, is the
 * option, or 0 for a long one that is not known or whose beginning fits several; `word` is the argument that
 * it looked at last. */
static bool not_taken(int found, const char *word, Err *err) {
    const OptionRow *row = optopt ? row_of(optopt) : NULL;
    if (!optopt) return err_set(err, ERR_USAGE, "%.60s: no such option; see logocane --help", word);
    if (!row) return err_set(err, ERR_USAGE, "-%c: no such option; see logocane --help", optopt);
    if (found == ':')
        return err_set(err, ERR_USAGE, "--%s: its value is missing; write --%s %s", row->name, row->name,
                       row->argument);
    return err_set(err, ERR_USAGE, "--%s: takes no value; leave out the = and what follows", row->name);
}

/* Options that say where the job goes and what is printed of it, and not what it is. */
static bool is_of_output(const OptionRow *row) {
    static const char *const name[] = {"output", "force",   "json",    "csv",   "table",
                                       "quiet",  "details", "advised", "sweep", "dated"};
    for (size_t i = 0; i < sizeof name / sizeof *name; i++)
        if (strcmp(row->name, name[i]) == 0) return true;
    return false;
}

static void note_typed(const OptionRow *row, const char *value, Options *options) {
    char *typed = options->typed;
    const size_t size = sizeof options->typed;
    if (is_of_output(row)) return;
    text_append(typed, size, "%s", *typed ? " " : "");
    if (row->letter)
        text_append(typed, size, "-%c", row->letter);
    else
        text_append(typed, size, "--%s", row->name);
    if (!value) return;
    text_append(typed, size, " ");
    text_append_word(typed, size, value);
}

static bool take_options(int argc, char *argv[], Options *options, Err *err) {
    char letters[2 * OPTION_ROWS + 2];
    struct option names[OPTION_ROWS + 1];
    fill_getopt(letters, names);
    opterr = 0;
    optind = 0; /* GNU: start anew */
    for (int found; (found = getopt_long(argc, argv, letters, names, NULL)) != -1;) {
        if (found == '?' || found == ':') return not_taken(found, argv[optind > 0 ? optind - 1 : 0], err);
        const OptionRow *row = row_of(found);
        assert(row); /* getopt_long knows no others */
        if (!row->take(row, optarg, options, err)) return false;
        note_typed(row, optarg, options);
        if (options->help || options->version) return true;
    }
    return true;
}

/* Options that contradict each other. */
static bool fit_together(const Options *options, Err *err) {
    if (options->sweep && options->order.weight_g > 0)
        return err_set(err, ERR_USAGE, "--weight: a sweep has its own orders; leave one of the two out");
    if (options->sweep && options->advised)
        return err_set(err, ERR_USAGE, "--advised: a sweep gives no advice; leave one of the two out");
    if (options->sweep && options->json)
        return err_set(err, ERR_USAGE, "--json: a sweep has no job.json; leave one of the two out");
    if (options->csv && options->json)
        return err_set(err, ERR_USAGE, "--csv: is not JSON, too; leave one of the two out");
    return true;
}

bool options_take_usual(const Shop *shop, Options *out, Err *err) {
    Options options = *out;
    const OptionRow *jacket = row_of('j');
    if (!options.piece_given) {
        options.order.piece_diameter_mm = shop->piece_diameter_mm;
        options.order.piece_length_mm = shop->piece_length_mm;
    }
    if (!options.order.quantity_asked) options.order.pieces = shop->pieces;
    if (!options.jacket_given && shop->jacket[0] && !jacket->take(jacket, shop->jacket, &options, err))
        return false;
    options.jacket_given = out->jacket_given;
    *out = options;
    return true;
}

bool options_parse(int argc, char *argv[], Options *out, Err *err) {
    Options options = {.order = order_default()};
    if (!take_options(argc, argv, &options, err) || !fit_together(&options, err)) return false;
    if (!options.help && !options.version && !options.print_shop) {
        if (argc - optind < 1 || argv[optind][0] == 0)
            return err_set(err, ERR_USAGE,
                           "LOGO: no logo is named; write logocane LOGO.png, or see logocane --help");
        for (int i = optind; i < argc && argc - optind > 1; i++)
            if (argv[i][0] == 0 || strcmp(argv[i], "-") == 0)
                return err_set(err, ERR_USAGE, "LOGO: %s among several; name files and folders",
                               argv[i][0] ? "standard input" : "an empty name");
        options.logos = argv + optind;
        options.logo_count = argc - optind;
        options.logo = argv[optind];
    }
    *out = options;
    return true;
}
