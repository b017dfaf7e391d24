/* Public. Work shared out among threads: rows of a picture, or whole drawings. SPDX-License-Identifier: MIT
 */
#ifndef LOGOCANE_PARALLEL_H
#define LOGOCANE_PARALLEL_H

#include "base/err.h"

/* Work on one row. What it writes must belong to that row alone, so that the result is the same whoever does
 * it. */
typedef void RowWork(void *context, int row);

/* Does rows 0..rows - 1, each once, with `threads` threads, 8 at most; 0: as many as there are processors.
 * Alone if no thread can be had. */
void parallel_rows(int rows, int threads, RowWork *work, void *context);

enum { TASKS_MAX = 16 };

/* A piece of work that can fail, under the same condition. */
typedef bool Task(void *context, int task, Err *err);

/* Does tasks 0..tasks - 1 (TASKS_MAX at most) in the same way, all of them whatever fails. Fails as the first
 * of them, by number, that failed. */
bool parallel_tasks(int tasks, int threads, Task *task, void *context, Err *err) MUST_CHECK;

#endif
