/* A check in words. SPDX-License-Identifier: MIT */
#include "check_words.h"

#include "text.h"

#include <string.h>

Check check_spoken(const Check *check, Units units) {
    Check spoken = *check;
    if (units == UNITS_IN && strcmp(check->name, "reading at 350 mm") == 0) spoken.name = "reading at 14 in";
    bool length = strcmp(check->unit, "mm") == 0, mass = strcmp(check->unit, "kg") == 0;
    if (units != UNITS_IN || (!length && !mass)) return spoken;
    double per = length ? 1 / MM_PER_IN : 1000 / G_PER_LB;
    spoken.unit = length ? "in" : "lb";
    spoken.value *= per;
    spoken.limit *= per;
    return spoken;
}

void check_print(const Check *check, char value[64], char limit[64]) {
    double larger = check->value > check->limit ? check->value : check->limit;
    int decimals = larger >= 100 ? 0 : larger >= 10 ? 1 : larger >= 0.1 ? 2 : 3;
    do {
        text_number(value, 64, check->value, decimals);
        text_number(limit, 64, check->limit, decimals);
    } while (check->value != check->limit && strcmp(value, limit) == 0 && ++decimals < 8);
}
