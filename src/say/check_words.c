/* Checks and verdicts in words. SPDX-License-Identifier: MIT */
#include "say/verdict_words.h"

#include "base/text.h"

#include <stdio.h>
#include <string.h>

static const struct {
    const char *name, *unit;
} said[CHECKS_MAX] = {
    [CHECK_SHADED] = {"shaded area", "%"},
    [CHECK_STROKE] = {"finest stroke", "mm"},
    [CHECK_GAP] = {"finest gap", "mm"},
    [CHECK_READING] = {"reading at 350 mm", "mm"},
    [CHECK_APART] = {"touching inks kept apart", "dE00"},
    [CHECK_MATCH] = {"worst colour match", "dE00"},
    [CHECK_CANDIES] = {"candies it would take", ""},
    [CHECK_PARTS] = {"parts and holes kept", ""},
    [CHECK_LIKENESS] = {"likeness", ""},
    [CHECK_WEAKEST] = {"weakest main part", ""},
    [CHECK_ROPES] = {"ropes made", ""},
    [CHECK_MINUTES] = {"minutes", "min"},
    [CHECK_MASS] = {"log mass", "kg"},
    [CHECK_DIAMETER] = {"log diameter", "mm"},
    [CHECK_WARMTH] = {"out of the warm box", "s"},
};

const char *verdict_name(Verdict verdict) {
    static const char *const name[] = {"go", "change", "no"};
    return name[verdict];
}

const char *standing_name(Standing standing) {
    static const char *const name[] = {"our limit", "habit", "published"};
    return name[standing];
}

const char *check_name(CheckKind kind, Units units) {
    return kind == CHECK_READING && units == UNITS_IN ? "reading at 14 in" : said[kind].name;
}

const char *check_unit(CheckKind kind) {
    return said[kind].unit;
}

SpokenCheck check_spoken(const Check *check, Units units) {
    SpokenCheck spoken = {.name = check_name(check->kind, units), .unit = check_unit(check->kind)};
    bool length = strcmp(spoken.unit, "mm") == 0, mass = strcmp(spoken.unit, "kg") == 0;
    double per = 1;
    if (units == UNITS_IN && (length || mass)) {
        per = length ? 1 / MM_PER_IN : 1000 / G_PER_LB;
        spoken.unit = length ? "in" : "lb";
    }
    double value = check->value * per, limit = check->limit * per, larger = value > limit ? value : limit;
    int decimals = larger >= 100 ? 0 : larger >= 10 ? 1 : larger >= 0.1 ? 2 : 3;
    do {
        text_number(spoken.value, sizeof spoken.value, value, decimals);
        text_number(spoken.limit, sizeof spoken.limit, limit, decimals);
    } while (value != limit && strcmp(spoken.value, spoken.limit) == 0 && ++decimals < 8);
    return spoken;
}
