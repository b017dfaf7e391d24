/* What decides. SPDX-License-Identifier: MIT */
#include "model/judgement.h"

CheckKind judgement_cause(const Judgement *judgement) {
    const Check *check = judgement->check;
    int i = 0;
    while (i + 1 < judgement->checks &&
           (check[i].verdict != judgement->verdict || (check[i].own && check[i].verdict != VERDICT_GO)))
        i++;
    return check[i].kind;
}
