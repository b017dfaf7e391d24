/* Signals that end a run wait while something is half done. SPDX-License-Identifier: MIT
 *
 *     hold_signals(&hold);
 *     ... now and then: if (signal_waits(&hold)) undo it ...
 *     release_signals(&hold);        (a signal that waited ends the process here, as it would have at once)
 *
 * The kernel keeps what is pending: there is no handler and no flag. */
#ifndef LOGOCANE_HOLD_H
#define LOGOCANE_HOLD_H

#include <signal.h>
#include <stdbool.h>

typedef struct Hold {
    sigset_t before; /* the mask to go back to */
} Hold;

/* From here on SIGINT, SIGTERM and SIGHUP wait; those that are ignored or have a handler are left alone. */
void hold_signals(Hold *out);

/* Has one of them come? */
bool signal_waits(const Hold *hold);

void release_signals(const Hold *hold);

#endif
