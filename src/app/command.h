/* One run of the command line. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_COMMAND_H
#define LOGOCANE_COMMAND_H

#include "base/err.h"
#include "model/order.h"

/* Does what the command line asks for. Returns the exit status that the verdict gives, 0 or 1. On failure
 * *err is filled, and the status is the one of its code. */
int command_run(int argc, char *argv[], Err *err);

/* Today, as ISO 8601 has it: the only clock that results know, and only if asked for. */
void date_today(char out[ORDER_DATE]);

#endif
