/* A change in words. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_PHRASE_H
#define LOGOCANE_PHRASE_H

#include "run/trial.h"

#include <stddef.h>

/* What is to be done, as it stands before ": then all is go": "in pieces of 22 mm across and without the
 * thin navy outline". `orders`: the pieces as intervals, in the place of change->pieces if it is
 * not "". For the client without what the command is told. */
void phrase_change(char *out, size_t size, const Job *job, const Change *change, const char *orders,
                   bool client);

#endif
