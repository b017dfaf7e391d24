/* One run of the command: the logo is read once, the job worked out, the results written.
 * SPDX-License-Identifier: MIT */
#include "run.h"

#include "decode.h"
#include "file.h"
#include "find_inks.h"
#include "job.h"
#include "options.h"
#include "shop_file.h"
#include "text.h"
#include "write_job.h"
#include "write_json.h"
#include "write_text.h"

#include <string.h>

/* The names a job bears: the logo's file name without folders, and its own, else the file's without its
 * ending. */
static void name_job(const Options *options, Job *job) {
    const char *slash = strrchr(options->logo, '/');
    text_clean(job->file, sizeof job->file, slash && slash[1] ? slash + 1 : options->logo);
    job->order = options->order;
    if (job->order.name[0]) return;
    bool piped = strcmp(options->logo, "-") == 0;
    text_clean(job->order.name, sizeof job->order.name, piped ? "logo" : job->file);
    char *dot = strrchr(job->order.name, '.');
    if (dot && dot > job->order.name) *dot = 0;
}

static bool print_result(const Options *options, const Job *job, Err *err) {
    if (options->json && !write_json(job, stdout, err)) return false;
    if (!options->json && !options->quiet && !write_text(job, stdout, err)) return false;
    return file_close(stdout, "standard output", err);
}

static bool run_job(const Options *options, Job *job, Err *err) {
    return job_run(job, err) && (!options->dir || write_job(job, options->dir, options->force, err)) &&
           print_result(options, job, err);
}

static int run_logo(const Options *options, const Shop *shop, Err *err) {
    Picture picture = {0};
    InkMap inks = {0};
    Job job = {.picture = &picture, .inks = &inks, .shop = shop};
    char name[320];
    text_fit(name, sizeof name, strcmp(options->logo, "-") == 0 ? "standard input" : options->logo, 160);
    name_job(options, &job);
    bool good = (!options->dir || write_job_check(options->dir, options->force, err)) &&
                decode(options->logo, name, &picture, err) && find_inks(&picture, &inks, err) &&
                run_job(options, &job, err);
    int status = good && job.judgement.verdict == VERDICT_NO;
    job_free(&job);
    inkmap_free(&inks);
    picture_free(&picture);
    return status;
}

/* What needs no logo. */
static int run_print(const Options *options, const Shop *shop, Err *err) {
    if (options->help)
        options_help(stdout);
    else if (options->version)
        puts("logocane " LOGOCANE_VERSION);
    else
        shop_file_print(shop, stdout);
    return file_close(stdout, "standard output", err) ? 0 : err_status(err->code);
}

int run(int argc, char *argv[], Err *err) {
    Options options;
    Shop shop = shop_default();
    if (!options_parse(argc, argv, &options, err)) return 2;
    if (options.shop && !shop_file_open(options.shop, &shop, err)) return err_status(err->code);
    return options.logo ? run_logo(&options, &shop, err) : run_print(&options, &shop, err);
}
