/* Public. A check as people read it. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_CHECK_WORDS_H
#define LOGOCANE_CHECK_WORDS_H

#include "model/judgement.h"
#include "base/units.h"

/* The check in the units spoken: lengths in inches, masses in pounds; its name too. */
Check check_spoken(const Check *check, Units units);

/* Value and limit with as few decimals as tell them apart, three figures at least. */
void check_print(const Check *check, char value[64], char limit[64]);

enum { ADVICE_SAID = CHECKS_MAX * CHECK_TEXT + 1 };

/* What of a check's advice is worth a line in print, where the lines before it have said `said` ("" at
 * first): what makes all go, else the least change; "as above" if that was said, and "" if there is no
 * advice. What is new is added to `said`. The whole of the advice stands in job.json. */
void advice_print(const Check *check, char said[ADVICE_SAID], char out[CHECK_TEXT]);

#endif
