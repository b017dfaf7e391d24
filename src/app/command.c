/* One run of the command line: the logo is read once, the job worked out, the results written; several logos
 * go to many_command.
 * SPDX-License-Identifier: MIT */
#include "app/command.h"

#include "app/many_command.h"
#include "app/options.h"
#include "app/page_command.h"
#include "app/progress.h"
#include "base/folder.h"
#include "base/text.h"
#include "draw/draw.h"
#include "inks/inks.h"
#include "plan/plan.h"
#include "read/read.h"
#include "run/run.h"
#include "write/write.h"

#include <string.h>
#include <time.h>

enum {
    LOGO_TYPED = 512
}; /* bytes of a name in the command that is advised; of a longer one it is not told */

/* The command's last word, a name that begins with '-' kept from being an option; false if it has no room. */
static bool logo_typed(const char *logo, char out[LOGO_TYPED]) {
    (void)snprintf(out, LOGO_TYPED, "%s", logo[0] == '-' && logo[1] ? "-- " : "");
    text_append_word(out, LOGO_TYPED, logo);
    return strlen(out) + 1 < LOGO_TYPED;
}

/* The answer, with the command that helps; the folder is there then, so that writing it again takes --force.
 */
static void print_answer(const Options *options, const Job *job) {
    char logo[LOGO_TYPED], output[LOGO_TYPED] = "";
    bool known = logo_typed(options->logo, logo);
    if (options->dir) {
        text_append(output, sizeof output, "-o ");
        text_append_word(output, sizeof output, options->dir);
        text_append(output, sizeof output, " --force%s", options->dated ? " --dated" : "");
    }
    known = known && strlen(output) + 1 < sizeof output;
    write_short(job, &(Typed){known ? logo : NULL, output, options->dir}, stdout);
}

static bool print_result(const Options *options, const Job *job, Err *err) {
    bool details = options->details && !options->quiet && !options->json;
    if (options->json && !write_json(job, stdout, err)) return false;
    if (details && !write_text(job, stdout, err)) return false;
    if (details && options->dir) {
        fputc('\n', stdout);
        write_files_text(job, options->dir, stdout);
    }
    if (!options->details && !options->quiet && !options->json) print_answer(options, job);
    return file_close(stdout, "standard output", err);
}

static bool finish_job(const Options *options, Job *job, Err *err) {
    bool told = options->dir || options->json || !options->quiet;
    return (!told || job->judgement.advised || advise(job, ADVISE_BUDGET, NULL, err)) &&
           (!options->dir || write_job(job, options->dir, options->force, err)) &&
           print_result(options, job, err);
}

/* Ways out are looked for only if something tells of them, or the first is to be taken: then what is told is
 * of the job with it. */
static bool run_job(const Options *options, const Job *named, int *status, Err *err) {
    Ordered asked, changed;
    bool taken = false;
    if (!ordered_new(named, &asked, err)) return false;
    bool good = job_run(&asked.job, err) &&
                (!options->advised || (advise(&asked.job, ADVISE_BUDGET, NULL, err) &&
                                       advised_take(named, &asked.job, &changed, &taken, err)));
    Job *job = taken ? &changed.job : &asked.job;
    if (good) *status = job->judgement.verdict == VERDICT_NO;
    good = good && finish_job(options, job, err);
    if (taken) ordered_free(&changed);
    ordered_free(&asked);
    return good;
}

void date_today(char out[ORDER_DATE]) {
    time_t now = time(NULL);
    struct tm local;
    if (!localtime_r(&now, &local) || strftime(out, ORDER_DATE, "%Y-%m-%d", &local) == 0) out[0] = 0;
}

static void show_sweep(void *user, const SweepTable *table, int row, int done) {
    (void)row;
    progress_show(user, done, table->rows);
}

/* The table of sizes and orders; the status tells whether any row can be built. */
static bool run_sweep(const Options *options, const Job *named, int *status, Err *err) {
    Ordered ordered;
    SweepTable table = {0};
    Progress progress = progress_begin();
    if (!ordered_new(named, &ordered, err)) return false;
    bool good = sweep(&ordered.job, &options->plan, options->dir ? SWEEP_FACE : 0, show_sweep, &progress,
                      &table, err);
    progress_wipe(&progress);
    *status = 1;
    for (int i = 0; i < table.rows; i++)
        if (table.row[i].verdict != VERDICT_NO) *status = 0;
    good = good && (!options->dir || write_sweep(&table, options->dir, options->force, err));
    if (good && !options->quiet) write_sweep_text(&table, stdout);
    sweep_table_free(&table);
    ordered_free(&ordered);
    return good && file_close(stdout, "standard output", err);
}

static bool check_dir(const Options *options, Err *err) {
    if (!options->dir) return true;
    return options->sweep ? write_sweep_check(options->dir, options->force, err)
                          : write_job_check(options->dir, options->force, err);
}

/* One logo. `job` has what is asked for; its logo is read here. */
static bool run_logo(const Options *options, Job *job, int *status, Err *err) {
    Picture picture = {0};
    InkMap inks = {0};
    char name[320];
    text_fit(name, sizeof name, strcmp(options->logo, "-") == 0 ? "standard input" : options->logo, 160);
    job->picture = &picture;
    job->inks = &inks;
    job_name(options->logo, job);
    bool good = check_dir(options, err) && decode(options->logo, name, &picture, err) &&
                find_inks_fit(&picture, options->order.fit, &inks, err) &&
                (options->sweep ? run_sweep : run_job)(options, job, status, err);
    inkmap_free(&inks);
    picture_free(&picture);
    return good;
}

static int run_logos(const Options *options, const Shop *shop, Err *err) {
    bool cut = strlen(options->typed) + 1 >= sizeof options->typed;
    Job job = {.shop = shop, .order = options->order, .typed = cut ? NULL : options->typed};
    if (options->dated) date_today(job.order.date);
    int status = 0;
    bool good = many_asked(options) ? many_command(options, &job, &status, err)
                                    : run_logo(options, &job, &status, err);
    return good ? status : err_status(err->code);
}

/* The help, the version or the shop: what needs no logo. */
static int run_print(const Options *options, const Shop *shop, Err *err) {
    if (options->help)
        help_print(stdout);
    else if (options->version)
        puts("logocane " LOGOCANE_VERSION);
    else
        shop_file_print(shop, stdout);
    return file_close(stdout, "standard output", err) ? 0 : err_status(err->code);
}

int command_run(int argc, char *argv[], Err *err) {
    Options options;
    Shop shop = shop_default();
    if (!options_parse(argc, argv, &options, err)) return 2;
    if (options.shop && !shop_file_open(options.shop, &shop, err)) return err_status(err->code);
    if ((options.logo || options.page) &&
        (!options_take_usual(&shop, &options, err) || !check_candies(&options.order, &shop, err)))
        return err_status(err->code);
    if (options.page) return page_command(&options, &shop, err) ? 0 : err_status(err->code);
    return options.logo ? run_logos(&options, &shop, err) : run_print(&options, &shop, err);
}
