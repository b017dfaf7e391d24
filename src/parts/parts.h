/* Public. What people see of a face. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_PARTS_PARTS_H
#define LOGOCANE_PARTS_PARTS_H

#include "base/err.h"
#include "model/candy.h"
#include "model/grid.h"
#include "model/judgement.h"
#include "model/measures.h"

#include <stdbool.h>

/* --- face_areas: the areas of a logo on the core: parts, holes, open field --- */

typedef struct FaceArea {
    Part part;    /* filled by areas_find: candy, hole, samples, box, middle, speck, main, ring; by
                     fineness_measure: fine, stroke_mm, body_mm; by parts_compare: the rest */
    bool open;    /* field that touches the core's edge: neither part nor hole */
    int in_rings; /* samples outside the laid-up core */
} FaceArea;

typedef struct Areas {
    const Grid *grid;    /* not owned */
    const uint8_t *fine; /* [side][side] 1 where a rope of a fine block lies; NULL = nowhere; not owned */
    int side;            /* samples */
    int32_t *label;      /* [side][side] index of the area, -1 outside the core; owned */
    int count;
    FaceArea *area; /* [count], in reading order of their first samples; owned */
} Areas;

/* The connected areas of grid->wanted, 4 ways for the field, 8 for all else, told apart as specks, main parts
 * and crumbs (limits: docs/numbers.md). Fails with ERR_MEMORY only; *out is then untouched. Free with
 * areas_free. */
bool areas_find(const Grid *grid, Areas *out, Err *err) MUST_CHECK;
void areas_free(Areas *areas);

/* Are all four neighbours of the sample of its area? Then it is the outermost of the area on no line across
 * it; nor round a middle and along the radius, `from` the middle, unless it is near that or near the
 * direction opposite to `to`, where turns begin anew. */
bool areas_inside(const Areas *areas, int x, int y);
bool areas_inside_round(const Areas *areas, int x, int y, Point from, Point to);

/* Does the sample lie outside the laid-up core, where the rings are? */
bool areas_in_rings(const Grid *grid, int x, int y);

/* --- fineness: how fine strokes and gaps are --- */

typedef struct Gap {
    double mm; /* how fine, at the piece; 0 = there are no parts */
    bool fine; /* most of what is so fine lies in fine blocks, where half a least strip counts */
} Gap;

/* Fills in stroke_mm, body_mm and fine of the parts and holes that are no specks, measured up to 4 least
 * strips, and *gap, the finest for what hands lay there, and *gap_of_main, the finest that concerns a main
 * part or hole, up to 2. sample_mm: the size of a sample at the piece. Fails with ERR_MEMORY only. */
bool fineness_measure(Areas *areas, double sample_mm, Gap *gap, Gap *gap_of_main, Err *err) MUST_CHECK;

/* --- parts: parts and holes: what people read a picture by --- */

/* What a logo asks of hands, part by part, and how much of it a face shows. */
typedef struct Comparison {
    int parts;
    Part *part;      /* parts and holes in reading order of their first samples; owned */
    Gap gap;         /* the finest, at most the thickness that gaps are measured up to; 0 if no parts */
    Gap gap_of_main; /* the finest that concerns a main part or hole; likewise */
} Comparison;

/* Finds parts and holes of grid->wanted, their finest strokes and gaps, and compares each with its own
 * samples in `face`, which has the same side (limits: docs/numbers.md). `fine`, [side][side]: 1 where a
 * rope of a fine block lies; NULL = nowhere. sample_mm: the size of a sample at the piece.
 * Strokes are measured up to 4, gaps up to 2 least strips. Fails with ERR_MEMORY only; *out is then
 * untouched. The caller frees out->part. */
bool parts_compare(const Grid *grid, const Face *face, const uint8_t *fine, double sample_mm, Comparison *out,
                   Err *err) MUST_CHECK;

/* --- rows: parts that stand in a row, as letters of a word do --- */

#define LETTER_MM 0.5 /* at the piece: letters lower than that are not read */

typedef enum RowKind {
    ROW_STRAIGHT, /* three or more on a level line */
    ROW_ARC,      /* three or more round the core's middle */
    ROW_PAIR      /* two that stand on one level line and are just as high, with no third */
} RowKind;

typedef struct Row {
    RowKind kind;
    int letters; /* parts in it; 0, 1 or 2 may be left of one that another took letters of */
    int candy;   /* palette index: theirs */
} Row;

typedef struct Rows {
    int count;
    Row *row;    /* [count]; owned */
    int32_t *of; /* [parts] the row that each stands in, -1 = none; owned */
} Rows;

/* Which parts and holes stand in rows: of one candy, about as high, beside each other, at least `least_high`
 * samples high (limits: docs/numbers.md). `part`: the areas that are not open, in their order. Fails with
 * ERR_MEMORY only; *out is then untouched. Free with rows_free. */
bool rows_find(const Areas *areas, const Part *part, int parts, double least_high, Rows *out,
               Err *err) MUST_CHECK;
void rows_free(Rows *rows);

/* --- features: counters, bays and arms --- */

/* Finds the features of grid->wanted and says which are left in `face`, which has the same side. Features of
 * main parts and holes count, and those of letters: parts and holes in rows
 * of three or more, at least half a millimetre high.
 * `part`: the areas that are not open, in their order, as parts_compare gives them. sample_mm: the size of a
 * sample at the piece. Fails with ERR_MEMORY only; *out is then untouched. The caller frees out->feature. */
bool features_find(const Areas *areas, const Part *part, int parts, const Face *face, double sample_mm,
                   Features *out, Err *err) MUST_CHECK;

/* --- difference: the largest disc in what is wrongly coloured --- */

/* Compares `face` with grid->wanted, of the same side; the palette's candies tell what is wrong. Fails with
 * ERR_MEMORY only; *out is then untouched. */
bool difference_find(const Grid *grid, const Palette *palette, const Face *face, double sample_mm,
                     Difference *out, Err *err) MUST_CHECK;

#endif
