/* One run of the command line: the logo is read once, the job worked out, the results written.
 * SPDX-License-Identifier: MIT */
#include "app/command.h"

#include "app/options.h"
#include "base/folder.h"
#include "base/text.h"
#include "draw/draw.h"
#include "inks/inks.h"
#include "read/read.h"
#include "run/run.h"
#include "write/write.h"

#include <string.h>
#include <time.h>
#include <unistd.h>

enum {
    LOGO_TYPED = 512
}; /* bytes of a name in the command that is advised; of a longer one it is not told */

/* The names of a job: the logo's file name without folders, and the job's own, which is the file's without
 * its ending if none was given. */
static void name_job(const Options *options, Job *job) {
    const char *slash = strrchr(options->logo, '/');
    text_clean(job->file, sizeof job->file, slash && slash[1] ? slash + 1 : options->logo);
    job->order = options->order;
    bool cut = strlen(options->typed) + 1 >= sizeof options->typed;
    job->typed = cut ? NULL : options->typed;
    if (job->order.name[0]) return;
    bool piped = strcmp(options->logo, "-") == 0;
    text_clean(job->order.name, sizeof job->order.name, piped ? "logo" : job->file);
    char *dot = strrchr(job->order.name, '.');
    if (dot && dot > job->order.name) *dot = 0;
}

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

/* Today, as ISO 8601 has it: the only clock that results know, and only if asked for. */
static void date_today(char out[ORDER_DATE]) {
    time_t now = time(NULL);
    struct tm local;
    if (!localtime_r(&now, &local) || strftime(out, ORDER_DATE, "%Y-%m-%d", &local) == 0) out[0] = 0;
}

/* --- a bar on the terminal while one waits --- */

enum { BAR = 40 };

typedef struct Progress {
    bool terminal;         /* standard error is one: else nothing is ever shown */
    bool shown;            /* there is a bar to wipe */
    struct timespec begun; /* by a clock that nobody sets, and that decides about nothing but the bar */
} Progress;

/* Draws the bar on standard error once over a second has gone by; `user` is the Progress. */
static void progress_show(void *user, int done, int all) {
    Progress *progress = user;
    struct timespec now;
    if (!progress->terminal) return;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    double seconds = (double)(now.tv_sec - progress->begun.tv_sec) +
                     (double)(now.tv_nsec - progress->begun.tv_nsec) * 1e-9;
    if (seconds < 1) return;
    char bar[BAR + 1];
    for (int i = 0; i < BAR; i++) bar[i] = i < BAR * done / all ? '#' : '.';
    bar[BAR] = 0;
    fprintf(stderr, "\r[%s] %d of %d", bar, done, all);
    progress->shown = true;
}

/* The table of sizes and orders; the status tells whether any row can be built. */
static bool run_sweep(const Options *options, const Job *named, int *status, Err *err) {
    Ordered ordered;
    SweepTable table = {0};
    Progress progress = {.terminal = isatty(STDERR_FILENO)};
    (void)clock_gettime(CLOCK_MONOTONIC, &progress.begun);
    if (!ordered_new(named, &ordered, err)) return false;
    bool good = sweep(&ordered.job, &options->plan, options->dir ? SWEEP_FACE : 0, progress_show, &progress,
                      &table, err);
    if (progress.shown) fprintf(stderr, "\r%*s\r", BAR + 30, "");
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

static int run_logo(const Options *options, const Shop *shop, Err *err) {
    Picture picture = {0};
    InkMap inks = {0};
    Job job = {.picture = &picture, .inks = &inks, .shop = shop};
    char name[320];
    text_fit(name, sizeof name, strcmp(options->logo, "-") == 0 ? "standard input" : options->logo, 160);
    name_job(options, &job);
    if (options->dated) date_today(job.order.date);
    int status = 0;
    bool good = check_dir(options, err) && decode(options->logo, name, &picture, err) &&
                find_inks_fit(&picture, options->order.fit, &inks, err) &&
                (options->sweep ? run_sweep : run_job)(options, &job, &status, err);
    inkmap_free(&inks);
    picture_free(&picture);
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
    if (options.logo && !options_take_usual(&shop, &options, err)) return err_status(err->code);
    return options.logo ? run_logo(&options, &shop, err) : run_print(&options, &shop, err);
}
