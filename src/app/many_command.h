/* Several logos at the command line. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_MANY_COMMAND_H
#define LOGOCANE_MANY_COMMAND_H

#include "app/options.h"
#include "model/job.h"

/* Are several logos asked for, or a table of one? A folder counts as several. */
bool many_asked(const Options *options);

/* Judges them and prints a line each; `named` as many() wants it. *status: 2 if any failed, else 1 if any is
 * no, else 0. Fails as logos_list and many do, with ERR_USAGE on options that are of one logo only, and with
 * ERR_SYSTEM where what is printed cannot be written. */
bool many_command(const Options *options, const Job *named, int *status, Err *err) MUST_CHECK;

#endif
