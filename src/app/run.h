/* One run of the command. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_RUN_H
#define LOGOCANE_RUN_H

#include "base/err.h"

/* Does what the command line asks for. Returns the exit status that the verdict gives, 0 or 1; on failure
 * *err is filled and its status counts. */
int run(int argc, char *argv[], Err *err);

#endif
