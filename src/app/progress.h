/* A bar on the terminal while one waits. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_PROGRESS_H
#define LOGOCANE_PROGRESS_H

#include <stdbool.h>
#include <time.h>

typedef struct Progress {
    bool terminal;         /* standard error is one: else nothing is ever shown */
    bool shown;            /* there is a bar to wipe */
    struct timespec begun; /* by a clock that nobody sets */
} Progress;

/* Starts the clock. It decides about nothing but the bar. */
void progress_begin(Progress *progress);

/* Draws the bar on standard error once over a second has gone by; `user` is the Progress. */
void progress_show(void *user, int done, int all);

/* Wipes the bar, before anything else is printed. */
void progress_end(Progress *progress);

#endif
