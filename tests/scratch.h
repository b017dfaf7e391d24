/* Where tests keep what they write: $TMPDIR, else build/, else here. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_TESTS_SCRATCH_H
#define LOGOCANE_TESTS_SCRATCH_H

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

enum { SCRATCH = PATH_MAX + 64 };

/* A template for mkstemp and mkdtemp, absolute: "/where/what-XXXXXX". */
static inline void scratch_name(char out[SCRATCH], const char *what) {
    char where[PATH_MAX];
    const char *wish = getenv("TMPDIR");
    if (!wish || !realpath(wish, where)) {
        if (!realpath("build", where) && !getcwd(where, sizeof where)) abort();
    }
    if (setenv("TMPDIR", where, 1) != 0) abort(); /* for the next call, should the test go elsewhere */
    (void)snprintf(out, SCRATCH, "%s/%s-XXXXXX", where, what);
}

#endif
