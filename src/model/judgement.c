/* What is thought of a lay-up. SPDX-License-Identifier: MIT */
#include "model/judgement.h"

#include <stdlib.h>

void judgement_free(Judgement *judgement) {
    free(judgement->part);
    *judgement = (Judgement){0};
}
