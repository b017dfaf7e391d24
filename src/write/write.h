/* Public. What is written: the job folder, text, JSON, a sweep. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_WRITE_WRITE_H
#define LOGOCANE_WRITE_WRITE_H

#include "base/err.h"
#include "model/job.h"
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

/* --- write_json: the job as JSON --- */

/* Prints the job as one JSON object (format 2): the keys of docs/formats.md, numbers unrounded, mm and g
 * whatever the order's units, per log but for the materials. frame.centre_px and px_per_step are in pixels of
 * the logo's file, upright, as are its width and height. Fails with ERR_MEMORY, nothing printed then; write
 * errors show when the file is closed. */
bool write_json(const Job *job, FILE *file, Err *err) MUST_CHECK;

/* --- write_sweep: a sweep as a table: for people, as CSV, and its folder --- */

enum { SWEEP_COLUMNS = 100 }; /* the widest line: a table is wider than a text */

/* A row a line, at most SWEEP_COLUMNS wide; write errors show at the file's close. */
void write_sweep_text(const SweepTable *table, FILE *file);

/* May DIR be written? As write_job_check, but for a sweep's own files. */
bool write_sweep_check(const char *dir, bool force, Err *err) MUST_CHECK;

/* Writes sweep.csv and sweep.png, and nothing else, to DIR: all or nothing, as write_job. */
bool write_sweep(const SweepTable *table, const char *dir, bool force, Err *err) MUST_CHECK;

#endif
