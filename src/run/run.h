/* Public. The order of the stages, and what runs it again. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_RUN_RUN_H
#define LOGOCANE_RUN_RUN_H

#include "base/err.h"
#include "model/job.h"
#include "model/logo_table.h"
#include "model/sweep_table.h"

/* --- job_run: the order of the stages --- */

/* Runs the stages from matching on. `job` must have picture, inks, shop, file and order set and the rest
 * empty. An order by mass is run with the pieces N for which N - 1 pieces of the mass they come to weigh less
 * than ordered, N at least that; order.pieces says how many. Fails as the stages do; then the job is empty
 * but for what was set. */
bool job_run(Job *job, Err *err) MUST_CHECK;

/* Runs a job that was run before once more, after any change that leaves picture, inks and candies as they
 * are: of the order's pieces, mass, piece size, detail, or of the shop's numbers. While the key of the lay-up
 * (cane.h) stays, the lay-up is kept, and only the cheap rest is worked out. The results are those of
 * job_run. */
bool job_run_again(Job *job, Err *err) MUST_CHECK;

/* --- job_name: of a logo's file --- */

/* Fills in job->file, and the order's name unless it has one: the file's without its ending. */
void job_name(const char *path, Job *job);

/* --- ordered: a job with all that the command asks for --- */

/* A job and what it points at: it must not be moved. */
typedef struct Ordered {
    InkMap inks; /* the logo's, with parts left out and inks joined; owned */
    Shop shop;   /* with the people and the warm box that the order names */
    Job job;     /* owned */
} Ordered;

/* The one place where an order's edits, people and warm box are applied. `named`: a job of which file, typed,
 * advised and order are set, and picture, inks as found, shop as read. out->job is ready to be run. Fails
 * with ERR_USAGE on an edit that cannot be made, as leave_out and shop_for do, and with ERR_MEMORY; *out is
 * then empty. Free with ordered_free. */
bool ordered_new(const Job *named, Ordered *out, Err *err) MUST_CHECK;
void ordered_free(Ordered *ordered);

/* The same for a job that was made and run by ordered_new and job_run, or by this, of the same picture, inks
 * and shop, and is run for another order: what does not depend on what changed is kept, of sizes and numbers
 * the candies, of what leaves the log as it is the lay-up, too. The results are those of ordered_new and
 * job_run. Fails as they do; *ordered is then empty. */
bool ordered_again(const Job *named, Ordered *ordered, Err *err) MUST_CHECK;

/* --- advised: a job with the first proposal taken --- */

/* A job that was run and advised on, made of `named`: if its best way is better than its verdict, *out is
 * that job, run; and job->advised tells of it. Else, and if the change cannot be typed, *taken is false and
 * *out is untouched. Fails as ordered_new and job_run do. */
bool advised_take(const Job *named, const Job *job, Ordered *out, bool *taken, Err *err) MUST_CHECK;

/* --- advise: what would make it better --- */

/* A job that was run and is not *go* gets, for each check that is not *go*, the least changes that make that
 * check go, each verified by running the job with it, and the best of all; a job all of whose checks are *go*
 * is left alone. At most `budget` seconds of runs are made, counted and not timed (see trial.h), what is
 * likeliest first; advice that was not verified is not given. The same on every machine. *runs (may be NULL):
 * how many were made. Fails with ERR_MEMORY only. */
#define ADVISE_BUDGET 3.6 /* s: with the job itself under 5 */
bool advise(Job *job, double budget, int *runs, Err *err) MUST_CHECK;

/* --- sweep: piece sizes and orders, side by side --- */

/* Told after each row that was worked out, not in the order of the table: which it is, and how many are done.
 */
typedef void SweepProgress(void *user, const SweepTable *table, int row, int done);

/* Judges job->order with each piece diameter and each number of pieces of the plan; the length of a piece
 * stays. `job` as for job_run; it is left with the last of them. With face_side > 0 each row has a face of
 * that many px. Fails as job_run does; *out is then untouched. */
bool sweep(Job *job, const SweepPlan *plan, int face_side, SweepProgress *progress, void *user,
           SweepTable *out, Err *err) MUST_CHECK;

/* --- logos_list: which logos are meant --- */

bool is_folder(const char *path);

/* The logos given: files as they stand, of a folder the pictures in it, by bytes of their names; folders in
 * it and hidden files are not looked at. A folder without a picture stands in the list itself, and fails when
 * it is read. Fails with ERR_INPUT if nothing but such folders is given, with ERR_MEMORY; *out is then
 * untouched. Free with logo_list_free. */
bool logos_list(char *const given[], int count, LogoList *out, Err *err) MUST_CHECK;

/* Names the job folders: each logo's file name without its ending; the second of a name is NAME-2, and so on,
 * whatever others are called. The same list gets the same names. Fails with ERR_MEMORY; the list is still to
 * be freed. */
bool logos_folders(LogoList *list, Err *err) MUST_CHECK;

/* --- many: several logos, each by itself --- */

/* Where job folders go. A value: many_command fills it. */
typedef struct ManyJobs {
    const char *dir; /* holds a folder a job; NULL = none are written */
    bool force;      /* earlier ones may be replaced */
} ManyJobs;

/* Makes the folder that holds job folders, if it is not there; *made says whether it did. Fails with
 * ERR_USAGE if that cannot be, and if it is the folder of a job itself. */
bool jobs_dir_make(const char *dir, bool *made, Err *err) MUST_CHECK;

/* Told of each logo in the order of the list, by the thread that called; false: no more are wanted. */
typedef bool ManyTake(void *user, const LogoRow *row);

/* Judges each logo of the list as an order by itself, on all processors; with jobs->dir each is advised on,
 * too, and its folder written. `named`: a job of which shop, typed and order are set, the order without a
 * name. What fails for one logo, whatever it is, is told in its row. Memory does not grow with the list.
 * Fails with ERR_USAGE if jobs->dir cannot hold job folders or is one itself, with ERR_MEMORY; nothing was
 * told then. */
bool many(const Job *named, LogoList *list, const ManyJobs *jobs, ManyTake *take, void *user,
          Err *err) MUST_CHECK;

#endif
