/* The end of a file that was written. SPDX-License-Identifier: MIT */
#include "base/file.h"

#include <errno.h>
#include <string.h>

static const char *what_to_do(int cause) {
    if (cause == EPIPE) return "what reads it has ended";
    return cause == EBADF ? "it is closed; open it, or add -q" : "check the disk's free space";
}

bool file_close(FILE *f, const char *name, Err *err) {
    errno = 0;
    bool written = fflush(f) == 0 && !ferror(f);
    int cause = errno;
    if (fclose(f) != 0 && written) {
        written = false;
        cause = errno;
    }
    if (written) return true;
    return err_set(err, ERR_SYSTEM, "%s: could not be written (%s); %s", name,
                   cause ? strerror(cause) : "a write failed", what_to_do(cause));
}
