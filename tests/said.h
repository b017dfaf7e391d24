/* What is said of a job. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_TESTS_SAID_H
#define LOGOCANE_TESTS_SAID_H

#include "model/job.h"
#include "say/verdict_words.h"

#include <string.h>

/* The check of that name; NULL if the judgement has none. */
static inline const Check *check_named(const Judgement *judgement, const char *name) {
    for (int i = 0; i < judgement->checks; i++)
        if (strcmp(check_name(judgement->check[i].kind, UNITS_MM), name) == 0) return &judgement->check[i];
    return NULL;
}

/* The whole advice of a check; good until the next call. */
static inline const char *advice_on(const Job *job, const Check *check) {
    static char text[ADVICE_TEXT];
    advice_print(job, check, text);
    return text;
}

/* What is to be told to the client; good until the next call. */
static inline const char *told_client(const Job *job) {
    static char text[SENTENCE_TEXT];
    client_print(job, text);
    return text;
}

#endif
