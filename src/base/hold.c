/* Signals that wait. SPDX-License-Identifier: MIT */
#include "base/hold.h"

static const int ending[] = {SIGINT, SIGTERM, SIGHUP};

enum { ENDING = sizeof ending / sizeof *ending };

void hold_signals(Hold *out) {
    sigset_t set;
    (void)sigemptyset(&set);
    for (int i = 0; i < ENDING; i++) {
        struct sigaction now;
        /* one that is ignored (nohup) would be pending for ever */
        if (sigaction(ending[i], NULL, &now) == 0 && !(now.sa_flags & SA_SIGINFO) &&
            now.sa_handler == SIG_DFL)
            (void)sigaddset(&set, ending[i]);
    }
    (void)sigemptyset(&out->before);
    (void)sigprocmask(SIG_BLOCK, &set, &out->before);
}

bool signal_waits(const Hold *hold) {
    sigset_t now, pending;
    if (sigprocmask(SIG_SETMASK, NULL, &now) != 0 || sigpending(&pending) != 0) return false;
    for (int i = 0; i < ENDING; i++) /* held by us, not by whoever started the program */
        if (sigismember(&pending, ending[i]) && sigismember(&now, ending[i]) &&
            !sigismember(&hold->before, ending[i]))
            return true;
    return false;
}

void release_signals(const Hold *hold) {
    (void)sigprocmask(SIG_SETMASK, &hold->before, NULL);
}
