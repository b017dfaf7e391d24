/* Public. What is thought of a lay-up: parts, checks, verdict. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_JUDGEMENT_H
#define LOGOCANE_JUDGEMENT_H

#include "base/geom.h"

enum { CHECKS_MAX = 24, CHECK_TEXT = 320, SENTENCE_TEXT = 512 };

typedef enum Verdict { VERDICT_GO, VERDICT_CHANGE, VERDICT_NO } Verdict;

/* A part (8-connected area of one candy other than the field) or a hole (4-connected area of field that parts
 * enclose) of the matched logo. */
typedef struct Part {
    int candy; /* palette index; the field's for a hole */
    bool hole;
    int samples;      /* its area in samples */
    Box box;          /* samples */
    Point middle;     /* samples: centre of its area */
    bool speck;       /* under 0.15 % of the core: counted, not scored */
    bool main;        /* 3 % of the area of all parts and holes or more, and no outline; else a crumb */
    bool outline;     /* a line too thin to lay, between two other candies or round half of all: that is seen
                         without it */
    bool ring;        /* lies in the rings: a sheet wrapped round, not ropes */
    bool fine;        /* most of it lies in fine blocks, where half the least strip counts */
    double iou;       /* 0..1, of its samples in the logo and those of the softened face that are its own */
    bool kept;        /* iou >= 0.5 and no other part has run into it */
    bool run_into;    /* another part has run into it */
    double stroke_mm; /* finest stroke at the piece: largest t whose opening keeps 90 % of its area */
    double body_mm;   /* likewise the t that three quarters of its area are thinner than */
} Part;

/* Where a limit comes from: the three are never mixed. */
typedef enum Source {
    SOURCE_OURS,     /* chosen by us, no source */
    SOURCE_HABIT,    /* a number of the shop's own */
    SOURCE_PUBLISHED /* read in a publication */
} Source;

typedef struct Check {
    const char *name;    /* a constant string */
    double value, limit; /* in `unit`; limit is what *go* asks for */
    bool least;          /* value must be at least limit (else at most) */
    const char *unit;    /* a constant string; "" for a plain number */
    Verdict verdict;
    char advice[CHECK_TEXT]; /* "" = none */
    Source source;           /* of the limit */
} Check;

typedef struct Judgement {
    Verdict verdict; /* the worst line */
    double likeness; /* 0..1: sum of sqrt(a) * iou / sum of sqrt(a) over parts and holes that are no specks; 1
                        if none */
    double weakest;  /* least iou of a main part; 1 if none */
    double gap_mm;   /* finest gap at the piece; 0 if none */
    int parts;
    Part *part; /* owned */
    int checks;
    Check check[CHECKS_MAX];
    char sentence[SENTENCE_TEXT]; /* what to tell the client, plain English; "" = nothing to say */
} Judgement;

void judgement_free(Judgement *judgement);

/* "our limit", "habit", "published". */
const char *source_name(Source source);

/* "go", "change", "no". */
const char *verdict_name(Verdict verdict);

#endif
