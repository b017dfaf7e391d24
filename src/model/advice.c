/* Changes to a job. SPDX-License-Identifier: MIT */
#include "model/advice.h"

bool change_same(const Change *a, const Change *b) {
    return a->diameter_mm == b->diameter_mm && a->pieces == b->pieces && a->colours == b->colours &&
           a->plain == b->plain && a->people == b->people && a->joining_c == b->joining_c &&
           a->dyed == b->dyed && a->without == b->without && a->joined == b->joined && a->into == b->into;
}
