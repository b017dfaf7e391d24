/* Public. What is told of the order, the log and the pieces. SPDX-License-Identifier: MIT
 *
 * Job text and sheets tell the same facts. Where their wordings differ, a `form` says which is wanted: a line
 * that stands beside a label, or a sentence that stands by itself. */
#ifndef LOGOCANE_LOG_WORDS_H
#define LOGOCANE_LOG_WORDS_H

#include "model/job.h"

enum { LOG_LINE = 500 }; /* bytes of a line, the closing 0 included */

typedef enum Form {
    FORM_TEXT, /* of job.txt */
    FORM_SHEET /* of the bench sheets */
} Form;

/* "16 x 14 mm": a piece's diameter and length. */
void piece_size_print(const Job *job, char out[96]);

/* How many pieces of which size. */
void order_words(const Job *job, Form form, char out[LOG_LINE]);

/* How many logs, their size and mass; how far a log is drawn out. */
void log_words(const Job *job, Form form, char out[LOG_LINE]);
void drawn_words(const Job *job, Form form, char out[LOG_LINE]);

/* What a piece weighs; what the log gives beyond the order, "" if nothing. */
void piece_words(const Job *job, Form form, char out[LOG_LINE]);
void spare_words(const Job *job, Form form, char out[LOG_LINE]);

/* What the order costs; "" where the shop gives no price. */
void cost_words(const Job *job, char out[LOG_LINE]);

/* How long the log takes to lay up; on the sheet also how many ropes and joins that is. */
void minutes_words(const Job *job, Form form, char out[LOG_LINE]);

#endif
