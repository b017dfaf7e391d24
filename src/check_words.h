/* A check as people read it. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_CHECK_WORDS_H
#define LOGOCANE_CHECK_WORDS_H

#include "judgement.h"
#include "units.h"

/* The check in the units spoken: lengths in inches, masses in pounds; its name too. */
Check check_spoken(const Check *check, Units units);

/* Value and limit with as few decimals as tell them apart, three figures at least. */
void check_print(const Check *check, char value[64], char limit[64]);

#endif
