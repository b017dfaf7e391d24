/* Several logos at the command line. SPDX-License-Identifier: MIT */
#include "app/many_command.h"

#include "app/progress.h"
#include "base/folder.h"
#include "run/run.h"
#include "write/write.h"

bool many_asked(const Options *options) {
    return options->logo_count > 1 || options->table || options->csv || is_folder(options->logo);
}

/* What cannot be told by the options alone: a folder is several logos. */
static bool fit_many(const Options *options, Err *err) {
    const char *wrong = options->advised   ? "advised"
                        : options->sweep   ? "sweep"
                        : options->details ? "details"
                                           : NULL;
    if (!wrong && options->order.named) wrong = "name";
    return !wrong || err_set(err, ERR_USAGE,
                             "--%s: is for one logo and its own text; leave it out, or name "
                             "one file and no table",
                             wrong);
}

/* What is done with each row. */
typedef struct Telling {
    const Options *options;
    const LogoTable *table;
    const char *in; /* the folders that all are in */
    LogoCounts counts;
    Progress progress;
    int done;
    Err err; /* why it ended early */
} Telling;

static bool silent(const Options *options) {
    return options->quiet && !options->csv && !options->json;
}

/* Once nobody reads what is printed, or it cannot be written, there is no use in going on, but for folders.
 */
static bool tell_row(void *user, const LogoRow *row) {
    Telling *t = user;
    logos_count(row, &t->counts);
    progress_wipe(&t->progress);
    if (!silent(t->options)) {
        if (t->done == 0) write_many_head(t->table, t->in, stdout);
        if (!write_many_row(t->table, row, stdout, &t->err)) return false;
        (void)fflush(stdout); /* whoever reads has each row when it is known */
    }
    progress_show(&t->progress, ++t->done, t->table->count);
    return t->options->dir || !ferror(stdout);
}

/* The lists' folders, passed over files and all: what text tells at its end the others have no place for. */
static void tell_passed(const Options *options, long passed) {
    if (passed > 0 && (options->csv || options->json))
        fprintf(stderr, "logocane: %ld file%s passed over: no picture%s\n", passed, passed == 1 ? "" : "s",
                passed == 1 ? "" : "s");
}

static bool tell_list(const Options *options, const Job *named, LogoList *list, int *status, Err *err) {
    char in[4096];
    const LogoTable table = {.form = options->json  ? LOGOS_JSON
                                     : options->csv ? LOGOS_CSV
                                                    : LOGOS_TEXT,
                             .count = list->count,
                             .common = list->common,
                             .order = &options->order,
                             .prices = shop_has_prices(named->shop),
                             .currency = named->shop->currency};
    Telling telling = {.options = options, .table = &table, .in = in, .progress = progress_begin()};
    const ManyJobs jobs = {options->dir, options->force};
    (void)snprintf(in, sizeof in, "%.*s", list->common, list->path[0]);
    bool good = many(named, list, &jobs, tell_row, &telling, err);
    progress_wipe(&telling.progress);
    *status = logos_status(&telling.counts);
    if (good && telling.err.code != ERR_NONE) {
        *err = telling.err;
        good = false;
    }
    if (good && !silent(options)) write_many_end(&table, &telling.counts, list->passed, stdout);
    if (good) tell_passed(options, list->passed);
    return good && file_close(stdout, "standard output", err);
}

bool many_command(const Options *options, const Job *named, int *status, Err *err) {
    LogoList list = {0};
    bool good = fit_many(options, err) && logos_list(options->logos, options->logo_count, &list, err) &&
                tell_list(options, named, &list, status, err);
    logo_list_free(&list);
    return good;
}
