/* Public. Work that is not wanted any more. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_STOP_H
#define LOGOCANE_STOP_H

#include "base/err.h"

#include <stddef.h>

/* Asked now and then by long work, by any of its threads. A value: who begins the work fills it. */
typedef struct Stop {
    bool (*wanted)(void *user); /* is the work to end? */
    void *user;                 /* handed on to it */
} Stop;

/* Is it to end? NULL: it never is. Once it is, it stays so until the work has ended. */
static inline bool is_stopped(const Stop *stop) {
    return stop && stop->wanted(stop->user);
}

/* Is it to go on? Fails with ERR_STOPPED. */
static inline bool is_wanted(const Stop *stop, Err *err) {
    return !is_stopped(stop) || err_set(err, ERR_STOPPED, "stopped");
}

#endif
