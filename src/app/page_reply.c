/* One question of the page, answered in a child. SPDX-License-Identifier: MIT
 *
 * 1. Fields become options through the command line's own table, so that what is wrong is said in its words.
 * 2. The logo, from standard input, and the job: as the command does it.
 * 3. What is asked for is printed as soon as it is known.
 * A child that is asked again about the same picture keeps it, its inks and the job that was asked for: run.h
 * says what a job for another order takes from that.
 * A failure before anything was printed is told by its status; one after that by the answer's breaking off.
 */
#include "app/page_command.h"

#include "app/command.h"
#include "base/mem.h"
#include "base/text.h"
#include "draw/draw.h"
#include "inks/inks.h"
#include "read/read.h"
#include "run/run.h"
#include "write/write.h"

#include <stdlib.h>
#include <string.h>

/* Must not be moved: jobs point into it. */
typedef struct Kept {
    Picture picture; /* no pixels: nothing is kept yet */
    Fit fit;         /* as the inks were found for */
    InkMap inks;     /* of that fit; no ink: not found yet */
    bool ran;        /* the job was */
    Ordered asked;
} Kept;

/* Must not be moved either. */
typedef struct Answering {
    const PageAsk *ask;
    const PageStart *start;
    FILE *file;
    Kept *kept;
    Options options;
    const char *only; /* the one file that is asked for; NULL = all */
    bool printed;     /* the head was */
    bool told;        /* why it failed was, too */
} Answering;

/* --- 1. fields --- */

/* Options that are of a job, and not of where it goes. */
static bool is_of_job(const char *name) {
    static const char *const names[] = {"pieces",  "weight", "piece",   "name",        "colors", "colours",
                                        "field",   "map",    "join",    "leave-out",   "jacket", "fit",
                                        "stripes", "ropes",  "detail",  "no-fine",     "people", "warm-box",
                                        "units",   "dated",  "advised", "valid-until", NULL};
    return text_among(name, names);
}

static bool is_job_file(const char *name) {
    for (int i = 0; write_job_file(i); i++)
        if (strcmp(write_job_file(i), name) == 0) return true;
    return false;
}

static bool take_field(Answering *a, const PageField *field, Err *err) {
    if (a->ask->question == PAGE_KEEP && strcmp(field->name, "force") == 0) return true; /* the server's */
    if (a->ask->question == PAGE_FILES && strcmp(field->name, "file") == 0) {
        a->only = field->value;
        return is_job_file(field->value) ||
               err_set(err, ERR_USAGE, "file: \"%.40s\" is none of a job's", field->value);
    }
    return is_of_job(field->name) ||
           err_set(err, ERR_USAGE, "--%.40s: is not asked of the page", field->name);
}

/* What the page itself would not send is answered by 400. */
static bool take_fields(Answering *a, Err *err) {
    const PageAsk *ask = a->ask;
    for (int i = 0; i < ask->fields; i++)
        if (!take_field(a, &ask->field[i], err)) {
            page_line(a->file, 400, err->msg);
            a->told = true;
            return false;
        }
    for (int i = 0; i < ask->fields; i++)
        if (is_of_job(ask->field[i].name) &&
            !options_add(ask->field[i].name, ask->field[i].value, &a->options, err))
            return false;
    a->options.sweep = ask->question == PAGE_SWEEP;
    if (a->options.sweep) a->options.plan = sweep_plan_default();
    sweep_plan_speak(&a->options.plan, a->options.order.units);
    a->options.page = false; /* it is a job now */
    a->options.page_hosts = 0;
    a->options.page_password_file = NULL;
    if (a->options.dated) date_today(a->options.order.date);
    return options_fit(&a->options, err);
}

/* --- 2. the job --- */

static void drop_job(Kept *kept) {
    if (kept->ran) ordered_free(&kept->asked);
    kept->ran = false;
}

/* The picture and its inks, unless they are kept. */
static bool read_logo(Answering *a, Fit fit, Err *err) {
    Kept *kept = a->kept;
    char name[320];
    text_fit(name, sizeof name, a->ask->logo, 160);
    if (!kept->picture.rgba && !decode("-", name, &kept->picture, err)) return false;
    if (kept->inks.count > 0 && kept->fit == fit) return true;
    drop_job(kept);
    inkmap_free(&kept->inks);
    kept->fit = fit;
    return find_inks_fit(&kept->picture, fit, &kept->inks, err);
}

/* As the command names it: `typed` is NULL where it has no room. */
static bool name_job(Answering *a, Job *job, Err *err) {
    bool cut = strlen(a->options.typed) + 1 >= sizeof a->options.typed;
    *job = (Job){.shop = a->start->shop,
                 .order = a->options.order,
                 .typed = cut ? NULL : a->options.typed,
                 .stop = a->ask->stop,
                 .picture = &a->kept->picture,
                 .inks = &a->kept->inks};
    job_name(a->ask->logo, job);
    return read_logo(a, job->order.fit, err);
}

/* --- 3. what is asked for --- */

static bool finish_lines(Answering *a, bool good) {
    return fflush(a->file) == 0 && good;
}

static bool tell_drawn(Answering *a, const Job *job, Err *err) {
    char *line = NULL;
    size_t size = 0;
    FILE *memory = open_memstream(&line, &size); /* so that a failure still has its status */
    bool good = memory && write_answer_drawn(job, memory, err);
    bool whole = memory && fclose(memory) == 0;
    if (good && whole) {
        page_head(a->file, 200, PAGE_LINES, "");
        a->printed = true;
        (void)fwrite(line, 1, size, a->file);
    } else {
        good = err_set(err, ERR_MEMORY, "out of memory (for the answer); close other programs");
    }
    free(line);
    return finish_lines(a, good);
}

static bool tell_answer(Answering *a, Job *job, Err *err) {
    if (!tell_drawn(a, job, err)) return false;
    bool good = (job->judgement.advised || advise(job, ADVISE_BUDGET, NULL, err)) &&
                write_answer_advised(job, a->file, err);
    return finish_lines(a, good);
}

static bool send_file(void *user, const char *name, const char *bytes, size_t size, Err *err) {
    Answering *a = user;
    (void)err;
    if (a->ask->question == PAGE_KEEP) {
        page_file(a->file, name, bytes, size);
        return true;
    }
    page_head(a->file, 200, PAGE_FILE, name);
    a->printed = true;
    (void)fwrite(bytes, 1, size, a->file);
    return true;
}

static bool send_zip(Answering *a, const Job *job, Err *err) {
    char name[JOB_NAME + 8];
    (void)snprintf(name, sizeof name, "%s.zip", job->order.name);
    page_head(a->file, 200, PAGE_FILE, name);
    a->printed = true;
    return write_job_zip(job, a->file, err);
}

static bool tell_files(Answering *a, Job *job, Err *err) {
    if (!job->judgement.advised && !advise(job, ADVISE_BUDGET, NULL, err)) return false;
    if (a->ask->question == PAGE_FILES && !a->only) return send_zip(a, job, err);
    if (a->ask->question == PAGE_KEEP) {
        page_head(a->file, 200, PAGE_FOLDER, job->order.name);
        a->printed = true;
    }
    return write_job_files(job, a->only, send_file, a, err);
}

/* The job as asked for, by what is kept of the one before. */
static bool run_asked(Kept *kept, const Job *named, Err *err) {
    bool again = kept->ran;
    kept->ran = again ? ordered_again(named, &kept->asked, err) : ordered_new(named, &kept->asked, err);
    if (again || !kept->ran) return kept->ran;
    if (!job_run(&kept->asked.job, err)) drop_job(kept);
    return kept->ran;
}

/* It, or the one with the first proposal taken, as the command makes it. */
static bool run_job(Answering *a, const Job *named, Err *err) {
    Ordered *asked = &a->kept->asked, changed;
    bool taken = false;
    bool good = run_asked(a->kept, named, err) &&
                (!a->options.advised || (advise(&asked->job, ADVISE_BUDGET, NULL, err) &&
                                         advised_take(named, &asked->job, &changed, &taken, err)));
    Job *job = taken ? &changed.job : &asked->job;
    good = good && (a->ask->question == PAGE_ANSWER ? tell_answer : tell_files)(a, job, err);
    if (taken) ordered_free(&changed);
    return good;
}

/* --- a sweep --- */

typedef struct Rows {
    Answering *answering;
    Err err; /* of the first row that could not be told */
} Rows;

static void tell_row(void *user, const SweepTable *table, int row, int done) {
    Rows *rows = user;
    Answering *a = rows->answering;
    if (done == 1) page_head(a->file, 200, PAGE_LINES, "");
    a->printed = true;
    if (rows->err.code == ERR_NONE && write_sweep_line(table, &table->row[row], a->file, &rows->err))
        (void)fflush(a->file);
}

static bool run_sweep(Answering *a, const Job *named, Err *err) {
    Ordered ordered;
    SweepTable table = {0};
    Rows rows = {.answering = a};
    if (!ordered_new(named, &ordered, err)) return false;
    bool good = sweep(&ordered.job, &a->options.plan, SWEEP_FACE, tell_row, &rows, &table, err);
    if (good && rows.err.code != ERR_NONE) {
        *err = rows.err;
        good = false;
    }
    if (a->printed) write_sweep_line_end(good ? NULL : err->msg, a->file);
    a->told = a->printed;
    sweep_table_free(&table);
    ordered_free(&ordered);
    return finish_lines(a, good);
}

static bool answer(Answering *a) {
    Job job = {0};
    Err err = {0};
    bool good = take_fields(a, &err) && name_job(a, &job, &err) &&
                (a->ask->question == PAGE_SWEEP ? run_sweep : run_job)(a, &job, &err);
    if (!good && !a->printed && !a->told) {
        page_line(a->file, err_status(err.code) == 2 ? 422 : 500, err.msg);
        a->told = true;
    }
    return good || a->told;
}

bool page_reply(void *user, const PageAsk *ask, FILE *file) {
    const PageStart *start = user;
    Err err = {0};
    Kept *kept = ask->kept ? *ask->kept : NULL;
    if (!kept) kept = mem_alloc(1, sizeof *kept, &err);
    if (!kept) return false;
    Answering a = {.ask = ask, .start = start, .file = file, .kept = kept, .options = *start->options};
    bool good = answer(&a);
    if (ask->kept) {
        *ask->kept = kept;
    } else {
        drop_job(kept);
        inkmap_free(&kept->inks);
        picture_free(&kept->picture);
        free(kept);
    }
    return good;
}
