/* A bar on the terminal while one waits. SPDX-License-Identifier: MIT */
#include "app/progress.h"

#include <stdio.h>
#include <unistd.h>

enum { BAR = 40 };

Progress progress_begin(void) {
    Progress progress = {.terminal = isatty(STDERR_FILENO)};
    (void)clock_gettime(CLOCK_MONOTONIC, &progress.begun);
    return progress;
}

void progress_show(void *user, int done, int all) {
    Progress *progress = user;
    struct timespec now;
    if (!progress->terminal) return;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    double seconds = (double)(now.tv_sec - progress->begun.tv_sec) +
                     (double)(now.tv_nsec - progress->begun.tv_nsec) * 1e-9;
    if (seconds < 1) return;
    char bar[BAR + 1];
    for (int i = 0; i < BAR; i++) bar[i] = i < (long)BAR * done / all ? '#' : '.';
    bar[BAR] = 0;
    fprintf(stderr, "\r[%s] %d of %d", bar, done, all);
    progress->shown = true;
}

void progress_wipe(Progress *progress) {
    if (progress->shown) fprintf(stderr, "\r%*s\r", BAR + 30, "");
    progress->shown = false;
}
