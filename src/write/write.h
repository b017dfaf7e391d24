/* Public. What is written: the job folder, text, JSON, a sweep, several logos. SPDX-License-Identifier: MIT
 */
#ifndef LOGOCANE_WRITE_WRITE_H
#define LOGOCANE_WRITE_WRITE_H

#include "base/err.h"
#include "model/job.h"
#include "model/logo_table.h"
#include "model/sweep_table.h"

#include <stdio.h>

/* --- write_job: the job folder --- */

/* May the job be written to the folder `dir`? As folder_check, with the files of a job. For an early answer.
 */
bool write_job_check(const char *dir, bool force, Err *err) MUST_CHECK;

/* Writes all files of the job to the folder `dir`, all or nothing. Fails with ERR_USAGE (the folder is not
 * free), ERR_SYSTEM, ERR_MEMORY; what was there is then as it was. */
bool write_job(const Job *job, const char *dir, bool force, Err *err) MUST_CHECK;

/* --- write_text: the job as text for people --- */

/* Prints verdict, reasons, log, ropes, candy, inks and cautions, at most TEXT_COLUMNS wide; of a log that
 * cannot be built not how to build and cook it. Never fails: write errors show when the file is closed. */
bool write_text(const Job *job, FILE *file, Err *err) MUST_CHECK;

/* --- write_short: the answer at a glance --- */

enum { SHORT_LINES = 15 }; /* at most */

/* What was typed beside the job's own options (job->typed): for the command that the text advises. */
typedef struct Typed {
    const char *logo;   /* as a shell takes it, "-- " before a name that begins with '-'; NULL: not known */
    const char *output; /* the options that say where results go, likewise; "" if none */
    const char *dir;    /* the folder that was written; NULL if none */
} Typed;

/* Prints the verdict, what decides it, the command that helps, what it takes, and which files to open and to
 * send: SHORT_LINES lines at most, of TEXT_COLUMNS. Never fails, as write_text. */
void write_short(const Job *job, const Typed *typed, FILE *file);

/* Prints its last lines: what was written to `dir`, what of it to send and to print. */
void write_files_text(const Job *job, const char *dir, FILE *file);

/* --- write_json: the job as JSON --- */

/* Prints the job as one JSON object (format 2): the keys of docs/formats.md, numbers unrounded, mm and g
 * whatever the order's units, per log but for the materials. frame.centre_px and px_per_step are in pixels of
 * the logo's file, upright, as are its width and height. Fails with ERR_MEMORY, nothing printed then; write
 * errors show when the file is closed. */
bool write_json(const Job *job, FILE *file, Err *err) MUST_CHECK;

/* --- write_html: the job as one page --- */

/* Prints job.html: verdict, pictures, places, rows, checks, colours, letter, in one file without script, that
 * fetches nothing. Fails with ERR_MEMORY; write errors show when the file is closed. */
bool write_html(const Job *job, FILE *file, Err *err) MUST_CHECK;

/* --- write_answer: the answer of the page, as JSON --- */

/* Prints one line, an object of "stage" "drawn": verdict, rows, checks, the logo and the face as PNGs in
 * base64, the places that do not come out, inks, jacket, figures. Nothing in it needs advice. x and y are
 * shares of a picture, radius of the face's side and logo_radius of the logo's width. Fails with ERR_MEMORY,
 * nothing printed then. */
bool write_answer_drawn(const Job *job, FILE *file, Err *err) MUST_CHECK;

/* Prints one line, an object of "stage" "advised", of a job that was advised on: the rows anew, each way out
 * as the options that ask for it (change_options: none where it cannot be asked for), the letter. Fails
 * likewise. */
bool write_answer_advised(const Job *job, FILE *file, Err *err) MUST_CHECK;

/* --- write_sweep: a sweep as a table: for people, as CSV, and its folder --- */

/* A row a line, at most TEXT_COLUMNS wide; write errors show at the file's close. */
void write_sweep_text(const SweepTable *table, FILE *file);

/* May DIR be written? As write_job_check, but for a sweep's own files. */
bool write_sweep_check(const char *dir, bool force, Err *err) MUST_CHECK;

/* Writes sweep.csv and sweep.png, and nothing else, to DIR: all or nothing, as write_job. */
bool write_sweep(const SweepTable *table, const char *dir, bool force, Err *err) MUST_CHECK;

/* --- write_many: several logos, a line each --- */

/* What stands before the first row; `in`: the folder that all are in, or "". A text is at most TEXT_COLUMNS
 * wide, a CSV as write_csv's lists, JSON Lines have no head and no end. Write errors show at the file's
 * close. */
void write_many_head(const LogoTable *table, const char *in, FILE *file);

/* A row. Fails with ERR_MEMORY; nothing is printed then. */
bool write_many_row(const LogoTable *table, const LogoRow *row, FILE *file, Err *err) MUST_CHECK;

/* What stands behind the last; `passed`: files of the folders that are no pictures. */
void write_many_end(const LogoTable *table, const LogoCounts *counts, long passed, FILE *file);

#endif
