/* Public. What is thought of a lay-up: parts, checks, verdict, ways out, flaws. SPDX-License-Identifier: MIT
 *
 * Data only: say/ makes English of it, and nothing reads that back. */
#ifndef LOGOCANE_JUDGEMENT_H
#define LOGOCANE_JUDGEMENT_H

#include "base/geom.h"

#include <stdint.h>

/* --- what could be changed about a job, and the verdict that it would lead to --- */

typedef enum Verdict { VERDICT_GO, VERDICT_CHANGE, VERDICT_NO } Verdict;

/* The largest piece and the warmest box that are advised: finished pieces are 8 to 25 mm across, candy is
 * workable from 70 to 90 C; common practice. */
#define ADVISED_PIECE_MM 25
#define ADVISED_PIECE_IN 1 /* where inches are spoken */
#define ADVISED_JOINING_C 90

enum {
    CHANGE_PARTS = 64, /* parts and holes that `without` can name: the first of the judgement's */
    CHANGE_POINTS = 8  /* they are left out where these lie: more are not advised */
};

/* A point of the picture. Filled by change_points. */
typedef struct Spot {
    int x, y; /* 1 / 100 percent of the picture, from its left and its top */
} Spot;

/* What is changed; zero: nothing. Filled by advise, as are all of these. */
typedef struct Change {
    double diameter_mm;        /* of the piece; 0 = as ordered */
    long pieces;               /* 0 = as ordered */
    int colours;               /* most candies; 0 = as ordered */
    bool plain;                /* plainer detail */
    int people;                /* laying up; 0 = as many as the shop has */
    double joining_c;          /* of the warm box; 0 = as the shop has it */
    unsigned dyed;             /* set of the job's inks that get a candy dyed to them */
    uint64_t without;          /* set of parts and holes of the job's judgement that are left out */
    int points;                /* 0..CHANGE_POINTS; follows from `without`: by change_points */
    Spot point[CHANGE_POINTS]; /* one in each area of one ink that is left out */
    double lettering;          /* 0..1: all lettering is left out, which is so much of what is drawn; 0 = it
                                  stays */
    unsigned joined;           /* 0, or 1 + the ink that becomes ... */
    unsigned into;             /* ... this one */
} Change;

/* Points and shares, which follow from what is left out, are not compared. */
bool change_same(const Change *a, const Change *b);

/* Filled by advise_pieces. */
typedef struct PieceRange {
    long from, to; /* pieces, both included */
} PieceRange;

enum { RANGES_MAX = 2, WAYS_MAX = 4 };

/* A way out, which was run. Filled by advise. */
typedef struct Way {
    Change change;
    int ranges; /* of orders that do as change.pieces does; 0 = no others are known */
    PieceRange range[RANGES_MAX];
    bool mends;    /* the check for which it is meant is go with it */
    Verdict whole; /* of the job with it */
} Way;

/* Where no way out of a check was found. */
typedef enum Outlook {
    OUTLOOK_UNKNOWN,    /* nothing was looked for */
    OUTLOOK_REDRAW,     /* another drawing would do; what else might was not tried to the end */
    OUTLOOK_ONLY_REDRAW /* only another drawing would: all else was tried */
} Outlook;

/* --- parts, checks, verdict --- */

/* A part (8-connected area of one candy other than the field) or a hole (4-connected area of field that parts
 * enclose) of the matched logo. Filled by areas_find, for judge, but for what is marked. */
typedef struct Part {
    int candy; /* palette index; the field's for a hole */
    bool hole;
    int samples;  /* its area in samples */
    Box box;      /* samples */
    Point middle; /* samples: centre of its area */
    bool speck;   /* under 0.15 % of the core: counted, not scored */
    bool main;    /* 3 % of the area of all parts and holes or more; else a crumb */
    bool ring;    /* lies in the rings: a sheet wrapped round, not ropes */
    bool
        letter; /* by parts_compare: it stands in a row with others as letters do, or is a hole in such one */
    bool fine;  /* by fineness_measure: most of it lies in fine blocks, where half the least strip counts */
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
 * say/verdict_words.h. */
typedef enum CheckKind {
    CHECK_SHADED,   /* %: shaded area */
    CHECK_CUT,      /* places where inks meet on the picture's edge: it cuts through the drawing */
    CHECK_OWN,      /* CIEDE2000: colours of the logo's own that meet on half of its borders, at least */
    CHECK_STROKE,   /* mm at the piece: finest stroke */
    CHECK_GAP,      /* mm at the piece: finest gap */
    CHECK_LINES,    /* %: what an eye misses of the logo's thin lines, of all that is drawn */
    CHECK_READING,  /* mm at the piece: finest stroke that came out, against what eyes see */
    CHECK_APART,    /* CIEDE2000: candies of touching inks */
    CHECK_MATCH,    /* CIEDE2000: an ink and its candy */
    CHECK_CANDIES,  /* candies that the picture wants */
    CHECK_PARTS,    /* parts and holes that came out, of all */
    CHECK_SHAPES,   /* %: features kept */
    CHECK_DRAWN,    /* %: borders between colours that show, of all, by how strong they are */
    CHECK_LETTERS,  /* letters that keep their shape, of all */
    CHECK_BLOTCH,   /* mm at the piece: largest disc that is wrongly coloured */
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
    bool own;          /* *change*, but put right by the shop itself: the whole is none the worse */
    Standing standing; /* of the limit */
    int ways;          /* out of it */
    Way way[WAYS_MAX]; /* the likeliest first */
    Outlook outlook;   /* where there are none */
} Check;

/* The nearest two inks of the logo that meet and hardly differ; border 0: there are none. Filled by judge. */
typedef struct NearInks {
    int one, other; /* of the job's inks */
    double apart;   /* CIEDE2000 */
    double border;  /* 0..1: theirs, of all borders of the logo */
} NearInks;

/* Filled by judge, but for the last two: by advise. */
typedef struct Judgement {
    Verdict verdict; /* the worst check's that is not the shop's own */
    double likeness; /* 0..1: sum of sqrt(a) * iou / sum of sqrt(a) over parts and holes that are no specks; 1
                        if none */
    double weakest;  /* least iou of a main part; 1 if none */
    double gap_mm;   /* finest gap at the piece; 0 if none */
    NearInks near;   /* told of, whatever the verdict */
    double least_percent; /* the thinnest line that can be laid, in whole % of the logo's width */
    int parts;
    Part *part; /* owned */
    int checks;
    Check check[CHECKS_MAX];
    bool advised; /* a way out was looked for: the job is not go */
    Way best;     /* the way with the best whole; best.whole is `verdict` if there is no better one */
} Judgement;

/* The first check of the verdict of the whole, what the shop puts right by itself aside: of one that is not
 * go, what decides it. */
CheckKind judgement_cause(const Judgement *judgement);

/* --- what of the logo does not come out, numbered the same in words and in pictures --- */

enum { FLAWS_MAX = 8 };

typedef enum FlawKind {
    FLAW_LOST,  /* the face does not show it, or as something else */
    FLAW_RUN,   /* it and another part have run together; a hole has run out */
    FLAW_OFF,   /* less than half of it is where it should be */
    FLAW_FINE,  /* it is there, but thinner than hands lay; a hole: narrower */
    FLAW_SHAPE, /* a hole, an inlet or a tip of it is gone */
    FLAW_LINE,  /* a line of the logo that was redrawn */
    FLAW_OWN    /* two of the logo's own colours hardly differ */
} FlawKind;

/* Filled by find_flaws. */
typedef struct Flaw {
    FlawKind kind;
    int part;        /* index of the Judgement's part; of a line and of colours -1 */
    int line;        /* index of the Redrawn's line, of a shape of the Measures' feature; of a part
                        or of colours -1 */
    Box box;         /* samples of the wanted face: the part or line, or of a large one where it is worst */
    double least_mm; /* what hands need there, at the piece */
} Flaw;

/* Filled by find_flaws. */
typedef struct Flaws {
    int count;
    Flaw flaw[FLAWS_MAX]; /* number i + 1, the worst first */
    int more;             /* flaws beyond these */
} Flaws;

/* What of the wanted face is thinner than hands lay. */
typedef enum Fine { FINE_NOT, FINE_STROKE, FINE_GAP } Fine;

/* Filled by mark_fine. */
typedef struct FineMap {
    int side;      /* points: half the samples of the wanted face, rounded up */
    uint8_t *fine; /* [side][side] Fine; owned */
} FineMap;

/* The sum over the parts that are no specks of the root of their samples: what likeness is weighed by. */
double judgement_scored(const Judgement *judgement);

void judgement_free(Judgement *judgement);
void fine_map_free(FineMap *map);

#endif
