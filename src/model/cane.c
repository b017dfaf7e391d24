/* The log, and the key of a lay-up. SPDX-License-Identifier: MIT */
#include "model/cane.h"

#include "model/grid.h"

#include <stddef.h>

int lay_key_compare(const LayKey *a, const LayKey *b) {
    const double pair[][2] = {{a->least_steps, b->least_steps}, {a->steps, b->steps},
                              {a->sheet_steps, b->sheet_steps}, {a->fine_most, b->fine_most},
                              {a->rounding, b->rounding},       {(int)a->detail, (int)b->detail},
                              {a->ropes_cap, b->ropes_cap}};
    for (size_t i = 0; i < sizeof pair / sizeof *pair; i++)
        if (pair[i][0] != pair[i][1]) return pair[i][0] < pair[i][1] ? -1 : 1;
    return 0;
}

double cane_sample_mm(const Cane *cane) {
    return cane->step_mm / SAMPLES / cane->reduction;
}
