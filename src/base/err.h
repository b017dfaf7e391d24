/* Public. Errors by value. SPDX-License-Identifier: MIT
 *
 * What can fail returns bool and takes `Err *err` last. The place that knows the fact fills it:
 *     if (width == 0) return err_set(err, ERR_INPUT, "%s: the picture is 0 px wide; send a PNG", name);
 */
#ifndef LOGOCANE_ERR_H
#define LOGOCANE_ERR_H

#include <stdbool.h>

#define MUST_CHECK __attribute__((warn_unused_result))

typedef enum ErrCode {
    ERR_NONE,   /* no error */
    ERR_USAGE,  /* the command is wrong: exit 2 */
    ERR_INPUT,  /* a file is wrong: exit 2 */
    ERR_MEMORY, /* no memory: exit 3 */
    ERR_SYSTEM, /* disk, permissions: exit 3 */
    ERR_STOPPED /* the work is not wanted any more (stop.h): exit 3 */
} ErrCode;

typedef struct Err {
    ErrCode code;
    char msg[512]; /* one line, no newline: "FILE: what is wrong; what to do" (room for a 255-byte file name)
                    */
} Err;

/* Fills *err and returns false, so that `return err_set(...)` reads well. The first error stays: a second
 * call on a filled Err changes nothing. Control bytes in the message become '?'. */
bool err_set(Err *err, ErrCode code, const char *format, ...) __attribute__((format(printf, 3, 4)));

/* The exit status that goes with a code: 0, 2 or 3. */
int err_status(ErrCode code);

#endif
