/* Public. Checks and verdicts in words. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_CHECK_WORDS_H
#define LOGOCANE_CHECK_WORDS_H

#include "base/units.h"
#include "model/judgement.h"

/* "go", "change", "no". */
const char *verdict_name(Verdict verdict);

/* "our limit", "habit", "published". */
const char *source_name(Source source);

/* "finest stroke"; where inches are spoken a distance in the name is told in them. */
const char *check_name(CheckKind kind, Units units);

/* "mm"; "" of a plain number. */
const char *check_unit(CheckKind kind);

/* A check as people read it. */
typedef struct SpokenCheck {
    const char *name, *unit;   /* constant strings; unit "" for a plain number */
    char value[64], limit[64]; /* with as few decimals as tell them apart, three figures at least */
} SpokenCheck;

/* Lengths in inches and masses in pounds, where inches are spoken. */
SpokenCheck check_spoken(const Check *check, Units units);

#endif
