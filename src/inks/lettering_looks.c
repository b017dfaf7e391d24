/* Is a row of shapes lettering? SPDX-License-Identifier: MIT
 *
 * What is not sure is none: a drawing must never be taken for it. Windows, rays, petals, leaves, huts stand
 * in rows as well. Letters
 * 1. are strokes: nowhere much thicker than a third of their height, all about as thick;
 * 2. stand on one line, or reach up to one, nearly all of them, nearly exactly;
 * 3. are mostly no filled shapes: they have holes, inlets and arms;
 * 4. differ from each other, also mirrored;
 * 5. stand on one ground.
 * All limits are ours, chosen over the pictures that docs/decisions.md tells of. */
#include "inks/lettering.h"

#include <math.h>
#include <stdlib.h>

enum {
    LOOK = 16, /* a shape is looked at in so many places each way */
    LETTERS_MAX = 120,
    LETTERS_FEW = 4,    /* under that they must be surer, */
    LETTERS_SOUGHT = 6, /* and on a line that was sought there must be more */
    DESCENDS = 5,       /* letters: of so many some may go below the line, */
    BOTH_LEAST = 2,     /* if so many fill it from foot to top */
    KINDS_LEAST = 3,    /* 4: of short rows; one more round a middle, */
    KINDS_KNOWN = 2,    /* and beside other lettering, */
    KINDS_OF = 4,       /* one in so many of long ones, */
    KINDS_ENOUGH = 10,
    KINDS_MAX = 24,
    ODD_OF = 8 /* 1: one letter of so many may be broken or grown together */
};

/* 1: of the row's height where nothing else is said. */
static const double thick_most = 0.46;                      /* the widest disc in a letter */
static const double stroke_apart = 1.6, pixel = 0.7;        /* the thickest stroke: of the thinnest, and px */
static const double stroke_least = 0.065, stroke_px = 1.6;  /* in the mean; px */
static const double stroke_sought = 0.08, stroke_few = 0.1; /* on a line that was sought; of three */
static const double high_known = 8, high_least = 13, high_sure = 20; /* px: beside other lettering; of any
                                                   row; of few, or on a sought line */
/* 2: how far from a line is on it, of the height, and a pixel; how many are. */
static const double off_line = 0.08;
static const double on_line = 0.85, on_sought = 0.95, on_known = 0.6;
static const double on_before_descending = 0.7; /* ... without those that go below it */
/* 3: of its hull. No letter but I, l and the like fills more; so many fill less; half fill no more; how far
 * they lie apart on a sought line. */
static const double filled = 0.8, open_least = 0.6, filled_half = 0.75, filled_apart = 0.1;
static const double alike = 0.76, aspect_alike = 1.25; /* 4: of the places of both; of the wider one */
static const double grounded_least = 0.75;             /* 5: of its border */

bool is_stroke(const InkAreas *areas, const Shape *shape, double high) {
    return areas->area[shape->area].thick <= thick_most * high && shape->grounded >= grounded_least;
}

static int compare_doubles(const void *a, const void *b) {
    double p = *(const double *)a, q = *(const double *)b;
    return p < q ? -1 : p > q;
}

/* --- 1 --- */

double stroke_of(const InkArea *area) {
    return 2 * 1.2 * area->pixels / (area->border > 0 ? area->border : 1);
}

/* --- 2 --- */

static int count_near(const double *at, int count, double middle, double off) {
    int near = 0;
    for (int i = 0; i < count; i++) near += fabs(at[i] - middle) <= off;
    return near;
}

/* The end that most of them share: sorts a copy. */
static int count_on_line(const double *at, int count, double off, double *middle) {
    double sorted[LETTERS_MAX];
    int most = 0;
    for (int i = 0; i < count; i++) sorted[i] = at[i];
    qsort(sorted, (size_t)count, sizeof *sorted, compare_doubles);
    for (int i = 0; i < count; i++) {
        int near = count_near(at, count, sorted[i], off);
        if (near <= most) continue;
        most = near;
        *middle = sorted[i];
    }
    return most;
}

/* --- 4 --- */

typedef struct Look {
    double aspect;       /* width, of the height */
    bool on[LOOK][LOOK]; /* across, along */
} Look;

Point place_at(const WriteLine *line, double at, double right, double across) {
    if (line->round) {
        Point up = {sin(at), -cos(at)};
        return (Point){line->middle.x + up.x * across - up.y * right,
                       line->middle.y + up.y * across + up.x * right};
    }
    Point along = {cos(line->turn), sin(line->turn)};
    return (Point){line->middle.x + along.x * (at + right) + along.y * across,
                   line->middle.y + along.y * (at + right) - along.x * across};
}

static Look look_of(const InkAreas *a, const WriteLine *line, const Shape *shape) {
    Stand s = stand_of(line, a->area[shape->area].middle, shape);
    Look look = {.aspect = (s.left + s.right) / fmax(s.high - s.low, 1)};
    for (int j = 0; j < LOOK; j++)
        for (int i = 0; i < LOOK; i++) {
            Point p = place_at(line, s.at, (i + 0.5) / LOOK * (s.left + s.right) - s.left,
                               s.low + (j + 0.5) / LOOK * (s.high - s.low));
            int x = (int)floor(p.x), y = (int)floor(p.y);
            look.on[j][i] = x >= 0 && y >= 0 && x < a->map->width && y < a->map->height &&
                            a->of[(size_t)y * (size_t)a->map->width + (size_t)x] == shape->area;
        }
    return look;
}

static double likeness(const Look *a, const Look *b, bool mirrored, bool turned) {
    int both = 0, any = 0;
    for (int j = 0; j < LOOK; j++)
        for (int i = 0; i < LOOK; i++) {
            bool p = a->on[j][i], q = b->on[turned ? LOOK - 1 - j : j][mirrored ? LOOK - 1 - i : i];
            both += p && q;
            any += p || q;
        }
    return any > 0 ? (double)both / any : 1;
}

static bool look_alike(const Look *a, const Look *b) {
    double aspect = a->aspect > b->aspect ? a->aspect / b->aspect : b->aspect / a->aspect;
    if (aspect > aspect_alike) return false;
    for (int k = 0; k < 4; k++)
        if (likeness(a, b, k & 1, k >> 1) >= alike) return true;
    return false;
}

/* How many kinds of shapes that are open there are. */
static int count_kinds(const InkAreas *a, const WriteLine *line, const int *member, int count) {
    Look kind[KINDS_MAX];
    int kinds = 0;
    for (int i = 0; i < count && kinds < KINDS_MAX; i++) {
        const Shape *shape = &a->shape[member[i]];
        if (shape->solid > filled) continue;
        kind[kinds] = look_of(a, line, shape);
        bool known = false;
        for (int k = 0; k < kinds && !known; k++) known = look_alike(&kind[k], &kind[kinds]);
        kinds += !known;
    }
    return kinds;
}

/* What is measured of a row. */
typedef struct RowLook {
    int count, open;
    int bottom, top; /* letters on the line that most stand on, and on the one that most reach up to */
    int either;      /* on one of the two */
    double height;   /* px: three quarters of them are no higher */
    double thinnest, thickest; /* px: strokes, in the mean of a letter, but for an odd one */
    double half, apart;        /* of their hulls: half of them fill no more; the most less the least */
} RowLook;

static void measure_lines(const double *low, const double *high, RowLook *look, WriteRow *row) {
    const double off = 1 + off_line * look->height;
    double bottom = 0, top = 0;
    look->bottom = count_on_line(low, look->count, off, &bottom);
    look->top = count_on_line(high, look->count, off, &top);
    for (int i = 0; i < look->count; i++)
        look->either += fabs(low[i] - bottom) <= off || fabs(high[i] - top) <= off;
    const bool stand = look->bottom >= look->top; /* else they read from the other side */
    row->low = stand ? bottom : fmin(bottom, top - look->height);
    row->high = stand ? fmax(top, bottom + look->height) : top;
}

static RowLook measure_row(const InkAreas *areas, const int *member, int count, WriteRow *row) {
    double low[LETTERS_MAX], high[LETTERS_MAX], tall[LETTERS_MAX], solid[LETTERS_MAX], stroke[LETTERS_MAX];
    RowLook look = {.count = count};
    row->stroke = 0;
    row->letters = count;
    for (int i = 0; i < count; i++) {
        const Shape *shape = &areas->shape[member[i]];
        const Stand s = stand_of(&row->line, areas->area[shape->area].middle, shape);
        low[i] = s.low;
        high[i] = s.high;
        tall[i] = s.high - s.low;
        stroke[i] = stroke_of(&areas->area[shape->area]);
        row->stroke += stroke[i] / count;
        solid[i] = shape->solid;
        look.open += solid[i] <= filled;
    }
    qsort(tall, (size_t)count, sizeof *tall, compare_doubles);
    qsort(solid, (size_t)count, sizeof *solid, compare_doubles);
    qsort(stroke, (size_t)count, sizeof *stroke, compare_doubles);
    look.height = tall[count * 3 / 4];
    look.thinnest = stroke[count / ODD_OF];
    look.thickest = stroke[count - 1 - count / ODD_OF];
    look.half = solid[(count - 1) / 2];
    look.apart = solid[count - 1] - solid[0];
    measure_lines(low, high, &look, row);
    return look;
}

/* What goes round may have copies that stand upright. */
static int least_kinds(const InkAreas *areas, const WriteLine *line, const int *member, int count) {
    const WriteLine level = {.turn = 0};
    const int along = count_kinds(areas, line, member, count),
              upright = count_kinds(areas, &level, member, count);
    return along < upright ? along : upright;
}

/* Letters stand on a level line; round a middle they may be read from either side. Of longer words some
 * letters may go below a level line, if they reach up to that of the others. */
static int count_standing(const RowLook *look, bool round) {
    const int most = look->bottom > look->top ? look->bottom : look->top;
    if (round) return most;
    const bool descends = look->count >= DESCENDS && most >= ceil(on_before_descending * look->count) &&
                          look->bottom + look->top - look->either >= BOTH_LEAST;
    return descends ? look->either : look->bottom;
}

/* So many must differ in so long a row. */
static int kinds_wanted(int count, LineKind kind, bool round) {
    if (count < LETTERS_FEW) return kind == LINE_KNOWN ? KINDS_KNOWN : count;
    if (kind == LINE_KNOWN) return KINDS_LEAST;
    const int of = (count + KINDS_OF - 1) / KINDS_OF;
    const int least = (kind == LINE_GIVEN && !round) || count == LETTERS_FEW ? KINDS_LEAST : KINDS_LEAST + 1;
    return of < least ? least : of < KINDS_ENOUGH ? of : KINDS_ENOUGH;
}

/* Three are a chance more often: level capitals only. */
static bool three_are_sure(const RowLook *look, const WriteRow *row) {
    const int all = look->count;
    return !row->line.round && look->bottom == all && look->top == all && look->open == all &&
           row->stroke >= stroke_few * look->height;
}

/* So do many things on a line that was sought through them. */
static bool sought_is_sure(const RowLook *look, const WriteRow *row) {
    return look->count >= LETTERS_SOUGHT && look->height >= high_sure &&
           row->stroke >= stroke_sought * look->height && look->apart >= filled_apart;
}

/* All but how they differ from each other. */
static bool may_be_letters(const RowLook *look, LineKind kind, const WriteRow *row) {
    const int count = look->count, standing = count_standing(look, row->line.round);
    const double height = look->height, on = kind == LINE_SOUGHT ? on_sought : on_line;
    if (row->stroke < stroke_least * height || look->thickest > stroke_apart * look->thinnest + pixel)
        return false;
    if (kind == LINE_KNOWN) return height >= high_known && standing >= ceil(on_known * count);
    if (height < high_least || row->stroke < stroke_px) return false;
    if (count <= LETTERS_FEW && height < high_sure) return false;
    if (count < LETTERS_FEW && (kind != LINE_GIVEN || !three_are_sure(look, row))) return false;
    if (kind == LINE_SOUGHT && !sought_is_sure(look, row)) return false;
    return standing >= ceil(on * count) && look->open >= ceil(open_least * count) &&
           look->half <= filled_half;
}

bool looks_lettered(const InkAreas *areas, const int *member, int count, LineKind kind, WriteRow *row) {
    if (count > LETTERS_MAX) return false;
    const RowLook look = measure_row(areas, member, count, row);
    return may_be_letters(&look, kind, row) &&
           least_kinds(areas, &row->line, member, count) >= kinds_wanted(count, kind, row->line.round);
}
