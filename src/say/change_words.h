/* A change in words. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_CHANGE_WORDS_H
#define LOGOCANE_CHANGE_WORDS_H

#include "model/job.h"

#include <stddef.h>

/* What is to be done, as it stands before ": then all is go": "in pieces of 22 mm across and without the
 * thin navy outline". Orders are told as ranges where there are any. For the client without what the command
 * is told. */
void change_print(char *out, size_t size, const Job *job, const Way *way, bool client);

#endif
