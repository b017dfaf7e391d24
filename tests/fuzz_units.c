/* Numbers, lengths, pieces, masses, temperatures. SPDX-License-Identifier: MIT */
#include "fuzz.h"

#include "base/units.h"

#include <math.h>

/* A length that was read prints as one that reads back, in either unit. */
static void print_back(double mm) {
    char text[64];
    double again;
    for (int units = UNITS_MM; units <= UNITS_IN; units++) {
        length_print(text, sizeof text, mm, (Units)units);
        assert(length_parse(text, UNITS_MM, 0, 2e6, &again) && fabs(again - mm) <= 0.128);
        length_print_both(text, sizeof text, mm, (Units)units);
        mass_print(text, sizeof text, mm, (Units)units);
        distance_print(text, sizeof text, mm, (Units)units);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    char *text = feed_text(data, size);
    double a = -1, b = -1;
    long n = -1;
    assert(!number_parse(text, -10, 10, &a) || fabs(a) <= 10);
    assert(whole_parse(text, -7, 5000, &n) ? n >= -7 && n <= 5000 : n == -1);
    if (length_parse(text, UNITS_IN, 0.5, 1e5, &a)) {
        assert(a >= 0.5 && a <= 1e5);
        print_back(a);
    }
    assert(!piece_parse(text, &a, &b) || (isfinite(a) && isfinite(b) && b != -1));
    assert(!mass_parse(text, 1, 1e8, &a) || (a >= 1 && a <= 1e8));
    assert(!temperature_parse(text, 5, 170, &a) || (a >= 5 && a <= 170));
    free(text);
    return 0;
}
