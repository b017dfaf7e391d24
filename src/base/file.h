/* Public. The end of a file that was written. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_FILE_H
#define LOGOCANE_FILE_H

#include "base/err.h"

#include <stdio.h>

/* Flushes and closes f, whatever happens. Writers ignore what each call says: all that went wrong shows here.
 * Fails with ERR_SYSTEM, naming `name` and the cause (a full disk). */
bool file_close(FILE *f, const char *name, Err *err) MUST_CHECK;

#endif
