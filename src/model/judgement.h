/* Public. What is thought of a lay-up: parts, checks, verdict. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_JUDGEMENT_H
#define LOGOCANE_JUDGEMENT_H

#include "base/geom.h"
#include "model/advice.h"

/* A part (8-connected area of one candy other than the field) or a hole (4-connected area of field that parts
 * enclose) of the matched logo. Filled by areas_find, for judge, but for what is marked. */
typedef struct Part {
    int candy; /* palette index; the field's for a hole */
    bool hole;
    int samples;  /* its area in samples */
    Box box;      /* samples */
    Point middle; /* samples: centre of its area */
    bool speck;   /* under 0.15 % of the core: counted, not scored */
    bool main;    /* 3 % of the area of all parts and holes or more, and no outline; else a crumb */
    bool outline; /* a line too thin to lay, between two other candies or round half of all: that is seen
                     without it */
    bool ring;    /* lies in the rings: a sheet wrapped round, not ropes */
    bool fine;    /* by fineness_measure: most of it lies in fine blocks, where half the least strip counts */
    double iou; /* by parts_compare: 0..1, of its samples in the logo and those of the softened face that are
                   its own */
    bool kept;  /* by parts_compare: iou >= 0.5 and no other part has run into it */
    bool run_into;    /* by parts_compare: another part has run into it */
    double stroke_mm; /* by fineness_measure: finest stroke at the piece: largest t whose opening keeps 90 %
                         of its area */
    double body_mm;   /* likewise the t that three quarters of its area are thinner than */
} Part;

/* Where a limit comes from: the three are never mixed. */
typedef enum Standing {
    STANDING_OURS,     /* chosen by us, no source */
    STANDING_HABIT,    /* a number of the shop's own */
    STANDING_PUBLISHED /* read in a publication */
} Standing;

/* What is checked, causes before effects: at most one check of a kind. What it is called, and its unit:
 * say/check_words.h. */
typedef enum CheckKind {
    CHECK_SHADED,   /* %: shaded area */
    CHECK_STROKE,   /* mm at the piece: finest stroke */
    CHECK_GAP,      /* mm at the piece: finest gap */
    CHECK_READING,  /* mm at the piece: finest stroke that came out, against what eyes see */
    CHECK_APART,    /* CIEDE2000: candies of touching inks */
    CHECK_MATCH,    /* CIEDE2000: an ink and its candy */
    CHECK_CANDIES,  /* candies that the picture wants */
    CHECK_PARTS,    /* parts and holes that came out, of all */
    CHECK_LIKENESS, /* 0..1 */
    CHECK_WEAKEST,  /* 0..1: least IoU of a main part */
    CHECK_ROPES,    /* ropes made for a log */
    CHECK_MINUTES,  /* of laying up a log */
    CHECK_MASS,     /* kg of a log */
    CHECK_DIAMETER, /* mm of a log */
    CHECK_WARMTH,   /* s that a rope stays workable out of the warm box */
    CHECKS_MAX
} CheckKind;

/* Filled by judge, but for the last three: by advise, of a check that is not go. */
typedef struct Check {
    CheckKind kind;
    double value, limit; /* in the kind's unit; limit is what *go* asks for */
    bool least;          /* value must be at least limit (else at most) */
    Verdict verdict;
    Standing standing; /* of the limit */
    int ways;          /* out of it */
    Way way[WAYS_MAX]; /* the likeliest first */
    Outlook outlook;   /* where there are none */
} Check;

/* Filled by judge, but for the last three: by advise. */
typedef struct Judgement {
    Verdict verdict; /* the worst check's */
    double likeness; /* 0..1: sum of sqrt(a) * iou / sum of sqrt(a) over parts and holes that are no specks; 1
                        if none */
    double weakest;  /* least iou of a main part; 1 if none */
    double gap_mm;   /* finest gap at the piece; 0 if none */
    int parts;
    Part *part; /* owned */
    int checks;
    Check check[CHECKS_MAX];
    bool advised;         /* a way out was looked for: the job is not go */
    Way best;             /* the way with the best whole; best.whole is `verdict` if there is no better one */
    double least_percent; /* the thinnest line that can be laid, in whole % of the logo's width */
} Judgement;

void judgement_free(Judgement *judgement);

#endif
