/* Public. Work shared out among threads: rows of a picture, or whole drawings, or whole logos.
 * SPDX-License-Identifier: MIT
 */
#ifndef LOGOCANE_PARALLEL_H
#define LOGOCANE_PARALLEL_H

#include "base/err.h"

/* Work on one row. What it writes must belong to that row alone, so that the result is the same whoever does
 * it. */
typedef void RowWork(void *context, int row);

/* How many threads parallel_rows takes if it may choose: as many as there are processors, 1..8. */
int parallel_threads(void);

/* Does rows 0..rows - 1, each once, with `threads` threads, 8 at most; 0: as many as there are processors.
 * Never more than rows. Alone if no thread can be had. */
void parallel_rows(int rows, int threads, RowWork *work, void *context);

enum { TASKS_MAX = 16 };

/* A piece of work that can fail, under the same condition. */
typedef bool Task(void *context, int task, Err *err);

/* Does tasks 0..tasks - 1 (TASKS_MAX at most) in the same way, all of them whatever fails. Fails as the first
 * of them, by number, that failed. */
bool parallel_tasks(int tasks, int threads, Task *task, void *context, Err *err) MUST_CHECK;

/* --- in order --- */

enum { WINDOW_MAX = 512 };

/* How many threads keep all processors busy: one each, 128 at most. */
int parallel_workers(void);

/* Work on one item, by any thread; and what is done with it then, by the calling thread, item after item in
 * their order. false: no more are wanted. */
typedef void ItemWork(void *context, int item);
typedef bool ItemTake(void *context, int item);

/* Works on items 0..items - 1, `threads` of them at a time (128 at most), and takes each as soon as all
 * before it are taken. An item is begun only when at most `window` (1..WINDOW_MAX) are begun and not taken,
 * itself among them: so many places are enough for what waits, item i's is i % window. When no more are
 * wanted, items that are begun are worked on to their end and not taken. The threads hold SIGINT, SIGTERM and
 * SIGHUP back: `take` may do what those must not end (folder.h). The caller does the work as well if no
 * thread can be had. */
void parallel_in_order(int items, int threads, int window, ItemWork *work, ItemTake *take, void *context);

#endif
