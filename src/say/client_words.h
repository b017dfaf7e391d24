/* Public. What to tell the client. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_CLIENT_WORDS_H
#define LOGOCANE_CLIENT_WORDS_H

#include "model/job.h"

enum { SENTENCE_TEXT = 512 };

/* Two or three plain sentences for the client of a job that is a change or a no and was advised on: what can
 * be had, and how. No words of the trade, nobody's fault. "" of another job. */
void client_print(const Job *job, char out[SENTENCE_TEXT]);

#endif
