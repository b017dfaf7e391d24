/* What is thought of a lay-up: parts, checks, verdict. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_JUDGEMENT_H
#define LOGOCANE_JUDGEMENT_H

#include "geom.h"

enum { CHECKS_MAX = 24, CHECK_TEXT = 160 };

typedef enum Verdict { VERDICT_GO, VERDICT_CHANGE, VERDICT_NO } Verdict;

/* A part (8-connected area of one candy other than the field) or a hole (4-connected area of field that parts
 * enclose) of the matched logo. */
typedef struct Part {
    int candy;          /* palette index; the field's for a hole */
    bool hole;
    int samples;        /* its area in samples */
    Box box;            /* samples */
    Point middle;       /* samples: centre of its area */
    bool speck;         /* under 0.15 % of the core: counted, not scored */
    bool main;          /* 3 % of the area of all parts and holes or more; else a crumb */
    bool ring;          /* lies in the rings: a sheet wrapped round, not ropes */
    double iou;         /* 0..1, of its samples in the logo and those of the softened face that are its own */
    bool kept;          /* iou >= 0.5 and no other part has run into it */
    bool run_into;      /* another part has run into it */
    double stroke_mm;   /* finest stroke at the piece: largest t whose opening keeps 90 % of its area */
} Part;

typedef struct Check {
    const char *name;        /* a constant string */
    double value, limit;     /* in `unit`; limit is what *go* asks for */
    bool least;              /* value must be at least limit (else at most) */
    const char *unit;        /* a constant string; "" for a plain number */
    Verdict verdict;
    char advice[CHECK_TEXT]; /* "" = none */
} Check;

typedef struct Judgement {
    Verdict verdict; /* the worst line */
    double likeness; /* 0..1: sum of sqrt(a) * iou / sum of sqrt(a) over parts and holes that are no specks; 1 if none */
    double weakest;  /* least iou of a main part; 1 if none */
    double gap_mm;   /* finest gap at the piece; 0 if none */
    int parts;
    Part *part;      /* owned */
    int checks;
    Check check[CHECKS_MAX];
} Judgement;

void judgement_free(Judgement *judgement);

/* "go", "change", "no". */
const char *verdict_name(Verdict verdict);

#endif
