/* Which ink is the background of a picture, and whether it has one. SPDX-License-Identifier: MIT
 *
 * 1. What reaches the picture's border: the part of the border that each ink holds, and the areas there.
 * 2. Transparency at the border is the field: what stands on it has an outline of its own.
 * 3. An ink that holds most of the border is the field, unless the others run straight across: bars, a cross
 * or a band part a flag's ground into areas without a hollow; on a ground that is not white also what runs
 * straight into the picture, as a flag's corner field does. What merely touches the border leaves hollows
 * beside it: a disc, a shield, letters. On white paper a square sign of bars stands by itself, as a plus.
 * 4. Else the picture fills its rectangle, unless there is white with hollows, whose edges do not run
 * straight in: paper round a logo cut tight. Cost: O(pixels), and for each area of 0.5 % its box. */
#include "inks/steps.h"

#include "base/components.h"
#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

/* Of the picture's border; all ours, chosen over tests/framing_logos.h. */
#define CLEAR_LEAST 0.05  /* so much of it transparent: that is the field */
#define FIELD_LEAST 0.6   /* an ink that holds it is the field */
#define OTHERS_LEAST 0.04 /* bars hold so much of it */
#define PAPER_LEAST 0.2   /* white that holds it may be paper */
#define AREA_LEAST 0.005  /* of the picture: smaller areas are not looked at */
#define HOLLOW 0.95       /* of its convex hull that an area without a hollow fills */
#define DEPTH 0.05    /* of the short side: how far behind the border is looked whether edges run straight */
#define STRAIGHT 0.85 /* of what is at the border or behind it: the same */
#define LONG 1.15     /* a flag is at least so many times as long as high */

typedef struct Bordering {
    const Labelling *labelling;
    const uint8_t *ink; /* [h][w] swatch of each pixel */
    int w, h;
    double share[SWATCHES_MAX]; /* 1: of the border, 0..1 */
    Regions regions;            /* owned */
    Box *box;                   /* [regions.count] px; owned */
} Bordering;

/* --- 1 --- */

static void share_border(Bordering *b) {
    int all = 0, w = b->w, h = b->h;
    for (int y = 0; y < h; y++)
        for (int x = 0; x < w; x += (y == 0 || y == h - 1 || x == w - 1 || w == 1) ? 1 : w - 1) {
            b->share[b->ink[(size_t)y * (size_t)w + (size_t)x]]++;
            all++;
        }
    for (int k = 0; k < SWATCHES_MAX; k++) b->share[k] /= all;
}

static bool find_regions(Bordering *b, Err *err) {
    if (!regions_find(b->ink, b->w, b->h, &b->regions, err)) return false;
    b->box = mem_alloc((size_t)b->regions.count, sizeof *b->box, err);
    if (!b->box) return false;
    for (int y = 0; y < b->h; y++)
        for (int x = 0; x < b->w; x++) {
            Box *box = &b->box[b->regions.of[(size_t)y * (size_t)b->w + (size_t)x]];
            if (box->w == 0) *box = (Box){x, y, 1, 1};
            if (x < box->x) *box = (Box){x, box->y, box->x + box->w - x, box->h};
            if (x >= box->x + box->w) box->w = x + 1 - box->x;
            box->h = y + 1 - box->y;
        }
    return true;
}

/* --- hollows --- */

/* Adds the next point of a convex chain, which turns one way only: sense 1 or -1. */
static int chain_add(Point *chain, int count, Point p, int sense) {
    while (count >= 2) {
        Point a = chain[count - 2], b = chain[count - 1];
        double turn = (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
        if (sense * turn < 0) break;
        count--;
    }
    chain[count] = p;
    return count + 1;
}

/* Does the region, its rows filled from end to end, fill its convex hull? chain: room for 4 h + 4 points. */
static bool has_no_hollow(const Bordering *b, int region, Point *chain) {
    Box box = b->box[region];
    Point *right = chain + 2 * (size_t)box.h;
    double filled = 0;
    int lefts = 0, rights = 0;
    for (int y = box.y; y < box.y + box.h; y++) {
        const int32_t *row = b->regions.of + (size_t)y * (size_t)b->w;
        int from = box.x, to = box.x + box.w;
        while (row[from] != region) from++;
        while (row[to - 1] != region) to--;
        filled += to - from;
        for (int end = 0; end < 2; end++) {
            lefts = chain_add(chain, lefts, (Point){from, y + end}, 1);
            rights = chain_add(right, rights, (Point){to, y + end}, -1);
        }
    }
    Point *hull = chain; /* down the left, up the right */
    memmove(hull + lefts, right, (size_t)rights * sizeof *right);
    for (int i = 0; i < rights / 2; i++) {
        Point swap = hull[lefts + i];
        hull[lefts + i] = hull[lefts + rights - 1 - i];
        hull[lefts + rights - 1 - i] = swap;
    }
    return filled >= HOLLOW * polygon_area(hull, lefts + rights);
}

static bool at_border(const Bordering *b, Box box) {
    return box.x == 0 || box.y == 0 || box.x + box.w == b->w || box.y + box.h == b->h;
}

/* The areas of the ink at the border that are large enough to be looked at; *straight: none has a hollow. */
static bool look_at_areas(const Bordering *b, int swatch, int *areas, bool *straight, Err *err) {
    double least = AREA_LEAST * b->w * b->h;
    Point *chain = mem_alloc(4 * (size_t)b->h + 4, sizeof *chain, err);
    if (!chain) return false;
    *areas = 0;
    *straight = true;
    for (int i = 0; i < b->regions.count; i++) {
        if (b->regions.value[i] != swatch || b->regions.pixels[i] < least || !at_border(b, b->box[i]))
            continue;
        ++*areas;
        *straight = *straight && has_no_hollow(b, i, chain);
    }
    free(chain);
    return true;
}

/* --- straight edges --- */

typedef struct Runs {
    double either, alike; /* places where it is seen at the border or behind it; where both are the same */
} Runs;

/* Counts a place where the swatch is, or is not (`but`), at the border or behind it. */
static void compare_place(const Bordering *b, int swatch, bool but, size_t edge, size_t behind, Runs *runs) {
    int at = b->ink[edge], in = b->ink[behind];
    if ((at == swatch) == but && (in == swatch) == but) return;
    runs->either++;
    runs->alike += at == in;
}

/* Does what reaches the border, of that swatch or (`but`) of any other, run straight into the picture? */
static bool runs_straight_in(const Bordering *b, int swatch, bool but) {
    int w = b->w, h = b->h, depth = (int)fmax(2, DEPTH * fmin(w, h));
    if (depth >= (w < h ? w : h)) return false; /* there is nothing behind the border */
    size_t row = (size_t)w, in = (size_t)depth;
    Runs runs = {0};
    for (int x = depth; x < w - depth; x++) {
        size_t at = (size_t)x, last = (size_t)(h - 1) * row + at;
        compare_place(b, swatch, but, at, at + in * row, &runs);
        compare_place(b, swatch, but, last, last - in * row, &runs);
    }
    for (int y = depth; y < h - depth; y++) {
        size_t at = (size_t)y * row, last = at + row - 1;
        compare_place(b, swatch, but, at, at + in, &runs);
        compare_place(b, swatch, but, last, last - in, &runs);
    }
    return runs.alike >= STRAIGHT * runs.either;
}

/* --- 2 to 4 --- */

static bool is_flag(const Bordering *b, int main, bool *flag, Err *err) {
    int areas;
    bool straight, is_long = b->w >= LONG * b->h || b->h >= LONG * b->w;
    bool paper = is_paper(tint_rgb8(&b->labelling->swatches.tint[main]));
    *flag = false;
    if (1 - b->share[main] < OTHERS_LEAST || (paper && !is_long)) return true;
    if (!look_at_areas(b, main, &areas, &straight, err)) return false;
    *flag = (areas >= 2 && straight) || (!paper && runs_straight_in(b, main, true));
    return true;
}

/* The white that is paper round what fills the rest, -1 if none is. */
static bool find_paper(const Bordering *b, int *paper, Err *err) {
    *paper = -1;
    for (int k = 0; k < b->labelling->swatches.count; k++) {
        int areas;
        bool straight;
        if (b->share[k] < PAPER_LEAST || !is_paper(tint_rgb8(&b->labelling->swatches.tint[k]))) continue;
        if (!look_at_areas(b, k, &areas, &straight, err)) return false;
        if (!straight && !runs_straight_in(b, k, false)) *paper = k;
    }
    return true;
}

static bool decide(Bordering *b, int *field, bool *full_bleed, Err *err) {
    int main = 0, paper, clear = -1;
    for (int k = 0; k < b->labelling->swatches.count; k++) {
        if (b->share[k] > b->share[main]) main = k;
        bool shines = tint_transparent(&b->labelling->swatches.tint[k]) && b->share[k] >= CLEAR_LEAST;
        if (shines && (clear < 0 || b->share[k] > b->share[clear])) clear = k;
    }
    *field = clear >= 0 ? clear : main;
    *full_bleed = false;
    if (clear >= 0 || b->share[main] == 1) return true;
    if (!find_regions(b, err)) return false;
    if (b->share[main] >= FIELD_LEAST) return is_flag(b, main, full_bleed, err);
    if (!find_paper(b, &paper, err)) return false;
    if (paper >= 0)
        *field = paper;
    else
        *full_bleed = true;
    return true;
}

bool find_field(const Labelling *l, const uint8_t *ink, int *field, bool *full_bleed, Err *err) {
    Bordering b = {.labelling = l, .ink = ink, .w = l->picture->width, .h = l->picture->height};
    share_border(&b);
    bool good = decide(&b, field, full_bleed, err);
    regions_free(&b.regions);
    free(b.box);
    return good;
}
