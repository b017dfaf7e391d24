/* Public. A sweep as a table: for people, as CSV, and its folder. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_WRITE_SWEEP_H
#define LOGOCANE_WRITE_SWEEP_H

#include "base/err.h"
#include "model/sweep_table.h"

#include <stdio.h>

enum { SWEEP_COLUMNS = 100 }; /* the widest line: a table is wider than a text */

/* A row a line, at most SWEEP_COLUMNS wide; write errors show at the file's close. */
void write_sweep_text(const SweepTable *table, FILE *file);

/* May DIR be written? As write_job_check, but for a sweep's own files. */
bool write_sweep_check(const char *dir, bool force, Err *err) MUST_CHECK;

/* Writes sweep.csv and sweep.png, and nothing else, to DIR: all or nothing, as write_job. */
bool write_sweep(const SweepTable *table, const char *dir, bool force, Err *err) MUST_CHECK;

#endif
