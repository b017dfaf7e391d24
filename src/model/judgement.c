/* What is thought of a lay-up. SPDX-License-Identifier: MIT */
#include "model/judgement.h"

const char *source_name(Source source) {
    static const char *const name[] = {"our limit", "habit", "published"};
    return name[source];
}

const char *verdict_name(Verdict verdict) {
    static const char *const name[] = {"go", "change", "no"};
    return name[verdict];
}
