/* Public. The answer at a glance, as rows: why, what helps, what it takes. SPDX-License-Identifier: MIT
 *
 * What the command prints, the page shows and job.html begins with. What to type and which files to open is
 * not among the rows: each of them says that in its own way. */
#ifndef LOGOCANE_SAY_ANSWER_H
#define LOGOCANE_SAY_ANSWER_H

#include "model/job.h"
#include "say/bench_words.h"
#include "say/verdict_words.h"

/* The logo's file; of a piped one the job's name. */
const char *logo_name(const Job *job);

/* "GO: ferry.png can be built as drawn"; the middle of the name cut out if it is over `columns` wide, 0 = any
 * width will do. */
void headline_words(const Job *job, int columns, char out[LOG_LINE]);

/* --- rows --- */

typedef enum AnswerKind {
    ANSWER_ORDER,
    ANSWER_ADDED, /* what --advised added to it */
    ANSWER_WHY,   /* what decides; of a go, what the shop puts right by itself */
    ANSWER_WAY,   /* what helps, tried */
    ANSWER_DO,    /* what it would take of the drawing: nothing that was tried helps */
    ANSWER_LOG,
    ANSWER_CANDIES,
    ANSWER_ROPES,
    ANSWER_COST
} AnswerKind;

enum { ANSWER_ROWS = (int)CHECKS_MAX + (int)ANSWER_COST };

typedef struct AnswerRow {
    AnswerKind kind;
    const char *label; /* a constant string; "" = goes on with the row before */
    char text[LOG_LINE];
} AnswerRow;

/* Filled by answer_fill. */
typedef struct Answer {
    int rows;
    AnswerRow row[ANSWER_ROWS]; /* a kind's rows together, in the order of the kinds */
} Answer;

/* Fills the rows of a job that was judged. At most `why` reasons, the last with how many there are beyond;
 * as many candies as `columns` hold, and how many more. 0 of either: all. */
void answer_fill(const Job *job, int why, int columns, Answer *out);

/* What makes the whole better, else the first thing that mends what decides; NULL if nothing was found.
 * Points into the job. */
const Way *answer_way(const Job *job);

/* --- ways out --- */

enum { ANSWER_WAYS = 8 };

/* Filled by answer_ways. */
typedef struct AnswerWay {
    const Way *way;      /* of the job */
    char text[LOG_LINE]; /* "in pieces of 21 mm across and with 5 colours: then all is go" */
} AnswerWay;

/* Lists what helps, each change once: the best way, then those that make the whole better, the best first,
 * then those that mend a check only. Returns how many. */
int answer_ways(const Job *job, AnswerWay out[ANSWER_WAYS]);

/* --- inks --- */

enum { INK_TEXT = CANDY_NAME + 32 };

/* "stock", "dyed" or "blend". */
const char *made_name(const Candy *candy);

/* "navy, from stock": what becomes of an ink. */
void ink_candy_words(const Job *job, int ink, char out[INK_TEXT]);

#endif
