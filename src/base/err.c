/* Errors by value. SPDX-License-Identifier: MIT */
#include "base/err.h"

#include <stdarg.h>
#include <stdio.h>

bool err_set(Err *err, ErrCode code, const char *format, ...) {
    if (err->code != ERR_NONE) return false;
    err->code = code;
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(err->msg, sizeof err->msg, format, arguments);
    va_end(arguments);
    for (char *c = err->msg; *c; c++)
        if ((unsigned char)*c < 32 || *c == 127) *c = '?';
    return false;
}

int err_status(ErrCode code) {
    if (code == ERR_NONE) return 0;
    return code == ERR_USAGE || code == ERR_INPUT ? 2 : 3;
}
