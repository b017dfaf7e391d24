/* Several logos, each by itself. SPDX-License-Identifier: MIT
 *
 * 1. Threads, one a processor, take the next logo: read, inks, job_run, with job folders advise. Only a row
 * is kept of it, or, where its folder is to be written, all of the job.
 * 2. In the order of the list the calling thread writes the folder, lets go of the job and hands on the row.
 * It alone writes: folder.h holds back, for the thread that begins a folder, the signals that would end the
 * run amid it.
 * Invariant: at most `window` rows wait: some hundred where only rows do, so that one slow logo stops nobody;
 * as many as there are threads where jobs do, so that memory stays that of so many jobs. Cost: that of each
 * logo alone. */
#include "run/run.h"

#include "base/mem.h"
#include "base/parallel.h"
#include "base/text.h"
#include "inks/inks.h"
#include "read/read.h"
#include "write/write.h"

#include <errno.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { ROWS_WAITING = 256 };

/* A logo and its job; it must not be moved. */
typedef struct OneLogo {
    Picture picture;
    InkMap inks;
    Ordered ordered;
} OneLogo;

/* A logo that was worked on and waits for its turn. */
typedef struct Place {
    LogoRow row;
    OneLogo *one; /* NULL where no folder is to be written, or after a failure; owned */
} Place;

typedef struct Many {
    const Job *named;
    const LogoList *list;
    const ManyJobs *jobs;
    ManyTake *take;
    void *user;
    int window;
    Place *place; /* [window] */
} Many;

static void one_free(OneLogo *one) {
    if (!one) return;
    ordered_free(&one->ordered);
    inkmap_free(&one->inks);
    picture_free(&one->picture);
    free(one);
}

static void fill_row(const Job *job, LogoRow *row) {
    row->verdict = job->judgement.verdict;
    row->cause = judgement_cause(&job->judgement);
    row->likeness = job->judgement.likeness;
    row->weakest = job->judgement.weakest;
    row->pieces = job->order.pieces;
    row->ropes_made = job->bill.ropes_made;
    row->logs = job->cane.logs;
    row->minutes = job->work.laying;
    row->price = row->verdict == VERDICT_NO ? 0 : job->bill.quote.price;
}

/* The logo's job folder: DIR/NAME. */
static bool folder_path(const Many *m, int logo, char out[PATH_MAX], Err *err) {
    int length = snprintf(out, PATH_MAX, "%s/%s", m->jobs->dir, m->list->folder[logo]);
    return length < PATH_MAX ||
           err_set(err, ERR_USAGE, "%.80s...: the name is too long; choose a shorter one", m->jobs->dir);
}

/* May its folder be written? Asked before a second is spent on it. */
static bool check_folder(const Many *m, int logo, Err *err) {
    char path[PATH_MAX];
    return !m->jobs->dir || (folder_path(m, logo, path, err) && write_job_check(path, m->jobs->force, err));
}

/* 1. of one logo. */
static bool judge_one(const Many *m, int logo, OneLogo *one, Err *err) {
    const char *path = m->list->path[logo];
    char name[320];
    text_fit(name, sizeof name, path, 160);
    if (is_folder(path)) return err_set(err, ERR_INPUT, "%s: no picture is to be seen in this folder", name);
    Job job = *m->named;
    job.picture = &one->picture;
    job.inks = &one->inks;
    job_name(path, &job);
    return check_folder(m, logo, err) && decode(path, name, &one->picture, err) &&
           find_inks_fit(&one->picture, job.order.fit, &one->inks, err) &&
           ordered_new(&job, &one->ordered, err) && job_run(&one->ordered.job, err) &&
           (!m->jobs->dir || advise(&one->ordered.job, ADVISE_BUDGET, NULL, err));
}

static void work_on(void *context, int logo) {
    const Many *m = context;
    Place *place = &m->place[logo % m->window];
    *place = (Place){.row = {.file = m->list->path[logo]}};
    Err *err = &place->row.err;
    OneLogo *one = mem_alloc(1, sizeof *one, err);
    bool good = one && judge_one(m, logo, one, err);
    if (good) fill_row(&one->ordered.job, &place->row);
    if (good && m->jobs->dir)
        place->one = one;
    else
        one_free(one);
}

/* 2. of one logo. */
static bool take_one(void *context, int logo) {
    const Many *m = context;
    Place *place = &m->place[logo % m->window];
    if (place->one) {
        char path[PATH_MAX];
        LogoRow *row = &place->row;
        if (folder_path(m, logo, path, &row->err) &&
            write_job(&place->one->ordered.job, path, m->jobs->force, &row->err))
            row->folder = m->list->folder[logo];
        one_free(place->one);
        place->one = NULL;
    }
    return m->take(m->user, &place->row);
}

bool jobs_dir_make(const char *dir, bool *made, Err *err) {
    char path[PATH_MAX];
    struct stat about;
    if (snprintf(path, sizeof path, "%s/job.json", dir) >= (int)sizeof path)
        return err_set(err, ERR_USAGE, "%.80s...: the name is too long; choose a shorter one", dir);
    if (lstat(path, &about) == 0)
        return err_set(err, ERR_USAGE,
                       "%s: is the folder of one job; for several logos choose one that holds a folder each",
                       dir);
    *made = mkdir(dir, 0777) == 0;
    if (*made || (errno == EEXIST && is_folder(dir))) return true;
    return err_set(err, ERR_USAGE, "%s: cannot be made (%s); choose another name", dir,
                   errno == EEXIST ? "it is a file" : strerror(errno));
}

/* Nothing of what waits was taken: the reader has left. */
static void free_places(Many *m) {
    for (int i = 0; m->place && i < m->window; i++) one_free(m->place[i].one);
    free(m->place);
}

bool many(const Job *named, LogoList *list, const ManyJobs *jobs, ManyTake *take, void *user, Err *err) {
    const int threads = parallel_workers();
    Many m = {named, list, jobs, take, user, jobs->dir ? threads : ROWS_WAITING, NULL};
    bool made = false, good = !jobs->dir || logos_folders(list, err);
    good = good && (m.place = mem_alloc((size_t)m.window, sizeof *m.place, err));
    good = good && (!jobs->dir || jobs_dir_make(jobs->dir, &made, err));
    if (good) parallel_in_order(list->count, threads, m.window, work_on, take_one, &m);
    if (made) (void)rmdir(jobs->dir); /* where no job was written: else it is not empty */
    free_places(&m);
    return good;
}
