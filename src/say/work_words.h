/* Public. What the bench is to do, and to beware of. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_WORK_WORDS_H
#define LOGOCANE_WORK_WORDS_H

#include "say/log_words.h"

enum { WORK_STEPS = 11, WORK_STEP = 200 };

typedef struct WorkStep {
    char text[WORK_STEP];
    bool stop; /* what must not be overlooked */
} WorkStep;

/* The order of work, with this job's numbers; all WORK_STEPS are filled. */
void work_words(const Job *job, WorkStep out[WORK_STEPS]);

enum { CAUTION_PARAGRAPHS = 2 };

/* The cautions of every job, the gravest first. */
const char *caution_paragraph(Form form, int paragraph);

#endif
