/* A piece worked out coarsely. SPDX-License-Identifier: MIT */
#include "run/coarse.h"

#include "judge/judge.h"
#include "plan/plan.h"

#include <math.h>

enum { COARSE = 2 }; /* steps in a least strip */

/* Fewer steps for the same log: quicker, and near enough to compare by. */
static void make_coarse(Cane *cane) {
    LayKey *key = &cane->key;
    const double times = (double)key->least_steps / COARSE;
    cane->step_mm *= times;
    key->steps = (int)fmax(1, floor(key->steps / times));
    key->sheet_steps = (int)ceil(key->sheet_steps / times);
    key->fine_most = (int)(key->fine_most / times);
    key->least_steps = COARSE;
    cane->core_diameter_mm = key->steps * cane->step_mm;
}

static bool soften_by(Job *j, CoarseHand hand, Err *err) {
    return hand == COARSE_FREE ? soften_free_hand(&j->grid, &j->cane.key, &j->face, err)
                               : soften(&j->grid, &j->layup, &j->cane.key, &j->face, err);
}

bool coarse_frame(Job *j, Err *err) {
    make_coarse(&j->cane);
    return frame(j->inks, &j->palette, &j->cane.key, &j->grid, err);
}

bool coarse_piece(Job *j, CoarseHand hand, Err *err) {
    return cost_cells(&j->grid, err) && lay_up_straight(&j->grid, &j->cane.key, &j->layup, err) &&
           soften_by(j, hand, err) && judge_job(j, err);
}
