/* Public. The sheets to build from. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_DRAW_BENCH_H
#define LOGOCANE_DRAW_BENCH_H

#include "base/err.h"
#include "model/job.h"

#include <stdio.h>

/* bench.pdf: what to cook and in which order to work; the log's section, every rope numbered; the blocks in
 * build order; the ropes to pull; the sheets to roll. A4, US Letter if the order speaks inches. Same job,
 * same bytes. Fails with ERR_MEMORY; a write that failed shows when the file is closed. */
bool draw_bench(const Job *job, FILE *file, Err *err) MUST_CHECK;

#endif
