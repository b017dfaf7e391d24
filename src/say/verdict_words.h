/* Public. The verdict in words: checks, advice, flaws, what to tell the client. SPDX-License-Identifier: MIT
 */
#ifndef LOGOCANE_SAY_VERDICT_WORDS_H
#define LOGOCANE_SAY_VERDICT_WORDS_H

#include "base/units.h"
#include "model/job.h"
#include "model/judgement.h"

#include <stddef.h>

/* --- check_words: checks and verdicts in words --- */

/* "go", "change", "no"; and as a headline: "GO", "CHANGE", "NO". */
const char *verdict_name(Verdict verdict);
const char *verdict_headline(Verdict verdict);

/* The same is said beside a label in text, as a sentence on a sheet, or below a picture. */
typedef enum Form {
    FORM_TEXT,   /* of job.txt */
    FORM_SHEET,  /* of the bench sheets */
    FORM_PICTURE /* of check.png */
} Form;

/* "can be built as drawn"; "as changed" where parts were left out or inks joined. */
const char *verdict_meaning(const Job *job, Form form);

/* "dark teal", "background": a colour of the logo in plain words. */
const char *ink_plain_name(const Job *job, int ink);

/* "our limit", "habit", "published". */
const char *standing_name(Standing standing);

/* "finest stroke"; where inches are spoken a distance in the name is told in them. */
const char *check_name(CheckKind kind, Units units);

/* What is wrong where a check is not go, in a table: "fine strokes"; at most SHORT_COLUMNS wide. */
enum { SHORT_COLUMNS = 14 };
const char *check_short_name(CheckKind kind);

/* "mm"; "" of a plain number. */
const char *check_unit(CheckKind kind);

/* A check as people read it. */
typedef struct SpokenCheck {
    const char *name, *unit;   /* constant strings; unit "" for a plain number */
    char value[64], limit[64]; /* with as few decimals as tell them apart, three figures at least */
} SpokenCheck;

/* Lengths in inches and masses in pounds, where inches are spoken. */
SpokenCheck check_spoken(const Check *check, Units units);

enum { CHECK_TEXT = 200 };

/* "0.04 mm, at least 0.58 mm wanted"; how far colours are apart with what that number is like,
 * "; near enough" where measuring allows for it. */
void check_words(const Check *check, Units units, char out[CHECK_TEXT]);

/* The same as a sentence: "finest stroke 0.04 mm, at least 0.58 mm wanted", "it would take 5 candies, ...".
 */
void cause_words(const Check *check, Units units, char out[CHECK_TEXT]);

/* --- change_words: a change in words --- */

/* What is to be done, as it stands before ": then all is go": "in pieces of 22 mm across and without the
 * thin navy outline". Orders are told as ranges where there are any. For the client without what the command
 * is told. */
void change_print(char *out, size_t size, const Job *job, const Way *way, bool client);

/* "under 1 %", "12 %": a share of what is drawn. */
void percent_words(double share, char out[32]);

/* --- command_words: a change as options of the command --- */

enum { PAIR_VALUE = 16 + CHANGE_POINTS * SPOT_TEXT, CHANGE_OPTIONS = INKS_MAX + 9 };

/* An option of the command. */
typedef struct OptionPair {
    const char *name; /* its long name: "leave-out"; a constant string */
    char value[PAIR_VALUE];
} OptionPair;

/* Filled by change_options. */
typedef struct ChangeOptions {
    int pairs;
    OptionPair pair[CHANGE_OPTIONS];
} ChangeOptions;

/* The options that ask for the change of a job that was run; inches where the order speaks them. Behind what
 * was asked for before, map, join and leave-out add up, the others override; pieces override a mass. False,
 * *out untouched, if the change cannot be asked for. */
bool change_options(const Job *job, const Change *change, ChangeOptions *out);

/* The same as it is typed: "-p 22x14mm --leave-out 41:63 --people 3". False, *out untouched, if it cannot be
 * typed or is over size bytes (OPTIONS_TEXT is enough for most). Behind what was typed before (job->typed)
 * they add up or override. */
bool command_words(const Job *job, const Change *change, char *out, size_t size);

enum { COMMAND_TEXT = 1024 };

/* The whole command: what was typed, what --advised added, then `options` and `output`, and the logo as a
 * shell takes it; NULL or "" = none of it. False if it is not for a terminal, is too long, or if the logo or
 * what was typed is not known. */
bool command_whole(const Job *job, const char *options, const char *output, const char *logo,
                   char out[COMMAND_TEXT]);

/* --- advice_words: advice in words --- */

enum { ADVICE_TEXT = 320 };

/* All that is known of how to mend the check: "without the red part: then all is go; or in pieces of 22 mm
 * across: then this line is go". "" where there is nothing to say. */
void advice_print(const Job *job, const Check *check, char out[ADVICE_TEXT]);

/* What the lines of a text have said so far; {0} at first. */
typedef struct Said {
    int lines;
    char line[CHECKS_MAX * WAYS_MAX][ADVICE_TEXT];
} Said;

/* What of it is worth a line of a text: what makes all go, else the first way; "as above" if a line before
 * said so. What is new is added to `said`. */
void advice_print_short(const Job *job, const Check *check, Said *said, char out[ADVICE_TEXT]);

/* --- check_words: what does not come out, in words --- */

enum { FLAW_TEXT = 160 };

/* What a line that was redrawn is called: "text", "outline", "gap" or "line". */
const char *line_noun(const Job *job, const RedrawnLine *line);

/* Is it background between two parts? What is drawn in the background's candy is a line: a leaf's stem in a
 * picture that has no background. */
bool line_is_gap(const Job *job, const RedrawnLine *line);

/* Likewise of a line that was redrawn; least_mm: what hands need, at the piece. */
void line_print(const Job *job, const RedrawnLine *line, double least_mm, char out[FLAW_TEXT]);

enum { LETTERS_TEXT = 160 };

/* "4 navy letters made even: strokes 0.9 mm, were 0.6 mm; 110 % as wide, 140 % as high". */
void letters_print(const Job *job, int row, char out[LETTERS_TEXT]);

void flaw_print(const Job *job, const Flaw *flaw, char out[FLAW_TEXT]);

/* "upper left", "middle": where a point of the face lies, `side` samples wide. */
const char *face_where(Point p, double side);

/* --- letter_words: what to tell the client --- */

enum { SENTENCE_TEXT = 512, LETTER_TEXT = 1600 };

/* Where in the letter a sentence stands, in this order. */
typedef enum LetterPart {
    LETTER_HEAD, /* each a line of its own */
    LETTER_OFFER,
    LETTER_LOOK,     /* what will look different, or why it cannot be */
    LETTER_PROPOSAL, /* what would be better */
    LETTER_NEEDS,    /* what is wanted of the client, and the price */
    LETTER_END       /* each a line of its own */
} LetterPart;

/* A sentence, and when it is said. */
typedef struct LetterRow {
    LetterPart part;
    bool brief;            /* also in the paragraph of job.txt and job.json */
    uint64_t need, unless; /* sets of Facts (letter_facts.h): all of the one and none of the other */
    const char *sentence;  /* what stands in {} is filled in */
} LetterRow;

/* All sentences there are, in order. */
const LetterRow *letter_rows(int *count);

/* Is it said where these facts hold? */
bool letter_row_holds(const LetterRow *row, uint64_t facts);

/* The next paragraph or line of the letter from row *row on, which is moved behind it; 0 at first; *part:
 * where it stands. False if there is no more. No words of the trade, nobody's fault, nothing that only the
 * shop does. */
bool letter_next(const Job *job, int *row, LetterPart *part, char out[LETTER_TEXT]);

/* What of it goes into job.txt and job.json, for a job that was cropped or redrawn, or that is a change or a
 * no and was advised on. "" of another job. */
void client_print(const Job *job, char out[SENTENCE_TEXT]);

#endif
