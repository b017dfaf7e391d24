/* The command line. SPDX-License-Identifier: MIT
 *
 * One table feeds getopt_long, the checks of ranges, the help, the completions and the check of the manual.
 */
#include "app/options.h"

#include "app/option_values.h"
#include "base/text.h"

#include <assert.h>
#include <getopt.h>
#include <string.h>

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
    {0, "leave-out", "X:Y|lettering", 0, 0, NULL, "parts at X:Y[,X:Y...], % from left and top",
     take_leave_out, AT(order.edit)},
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
    {.help = "The page"},
    {0, "page", "[=ADDRESS:PORT]", 0, 0, NULL, "all this in a browser, at 127.0.0.1:8765", take_page,
     AT(page_at)},
    {0, "page-password-file", "FILE", 0, 0, NULL, "holds the password for others", take_path,
     AT(page_password_file)},
    {0, "page-host", "NAME", 0, 0, NULL, "one more name of this machine", take_page_host, AT(page_host)},
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
    static const char *const name[] = {"output",    "force", "json",    "csv",
                                       "table",     "quiet", "details", "advised",
                                       "sweep",     "dated", "page",    "page-password-file",
                                       "page-host", NULL};
    return text_among(row->name, name);
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

static bool is_shop(const OptionRow *row) {
    return row->at == AT(shop);
}

/* The last that was named. Whoever reads the page is told its name, and not where on this machine it is. */
static void note_shop(Options *options) {
    const OptionRow *row = table;
    const char *slash = options->shop ? strrchr(options->shop, '/') : NULL;
    while (!is_shop(row)) row++;
    if (options->shop) note_typed(row, options->page && slash ? slash + 1 : options->shop, options);
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
        if (!is_shop(row)) note_typed(row, optarg, options);
        if (options->help || options->version) return true;
    }
    note_shop(options);
    return true;
}

/* What is of one logo, or of what is printed of it, has no place beside the page. */
static bool fit_page(const Options *options, Err *err) {
    const Order *order = &options->order;
    const char *wrong = options->sweep        ? "sweep"
                        : options->advised    ? "advised"
                        : options->json       ? "json"
                        : options->csv        ? "csv"
                        : options->table      ? "table"
                        : options->details    ? "details"
                        : options->quiet      ? "quiet"
                        : options->force      ? "force"
                        : options->print_shop ? "print-shop"
                        : order->named        ? "name"
                        : order->wishes > 0   ? "map"
                        : order->edits > 0    ? (order->edit[0].kind == EDIT_JOIN ? "join" : "leave-out")
                                              : NULL;
    return !wrong ||
           err_set(err, ERR_USAGE,
                   "--%s: is of one logo, or of what is printed of it; leave it out, or leave out --page",
                   wrong);
}

/* Options that contradict each other. */
bool options_fit(const Options *options, Err *err) {
    if (options->page) return fit_page(options, err);
    if (options->page_password_file || options->page_hosts > 0)
        return err_set(err, ERR_USAGE, "--%s: is of the page; write --page, too",
                       options->page_hosts > 0 ? "page-host" : "page-password-file");
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

bool options_add(const char *name, const char *value, Options *out, Err *err) {
    const OptionRow *row = table;
    while (row < table + OPTION_ROWS && (!row->name || strcmp(row->name, name) != 0)) row++;
    if (row == table + OPTION_ROWS) return err_set(err, ERR_USAGE, "--%.60s: no such option", name);
    if (!row->argument && strcmp(value, "yes") != 0)
        return err_set(err, ERR_USAGE, "--%s: \"%.40s\" is not \"yes\"", name, value);
    if (!row->take(row, value, out, err)) return false;
    note_typed(row, row->argument ? value : NULL, out);
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
    sweep_plan_speak(&options.plan, options.order.units);
    *out = options;
    return true;
}

bool options_parse(int argc, char *argv[], Options *out, Err *err) {
    Options options = {.order = order_default()};
    if (!take_options(argc, argv, &options, err) || !options_fit(&options, err)) return false;
    if (options.page && !options.help && !options.version && argc > optind)
        return err_set(
            err, ERR_USAGE,
            "LOGO: %.60s beside --page, which takes logos in the browser; leave it out (an address is "
            "written --page=ADDRESS:PORT)",
            argv[optind]);
    if (!options.help && !options.version && !options.print_shop && !options.page) {
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
