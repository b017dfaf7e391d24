/* A bar on the terminal while one waits. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_PROGRESS_H
#define LOGOCANE_PROGRESS_H

#include <stdbool.h>
#include <time.h>

typedef struct Progress {
    bool terminal;         /* standard error is one: else nothing is ever shown */
    bool shown;            /* there is a bar to wipe */
    struct timespec begun; /* by a clock that nobody sets, and that decides about nothing but the bar */
} Progress;

Progress progress_begin(void);

/* Draws the bar on standard error once over a second has gone by: `done` of `all`. `user` is the Progress. */
void progress_show(void *user, int done, int all);

/* Wipes it, for what is printed next. */
void progress_wipe(Progress *progress);

#endif
