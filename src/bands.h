/* Work shared out among threads: rows of a picture, or whole drawings. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_BANDS_H
#define LOGOCANE_BANDS_H

/* Work on one row. What it writes must belong to that row alone, so that the result is the same whoever does
 * it. */
typedef void RowWork(void *context, int row);

/* Does rows 0..rows - 1, each once, with `threads` threads, 8 at most; 0: as many as there are processors.
 * Alone if no thread can be had. */
void bands_run(int rows, int threads, RowWork *work, void *context);

#endif
