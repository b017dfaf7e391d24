/* Rows of parts, as letters of a word stand. SPDX-License-Identifier: MIT
 *
 * 1. Neighbours on a line: parts of one candy about as high, side by side, near each other. What neighbours
 * join up is a row, from three on.
 * 2. Of what stands in none, or in one that is not level: the same round the core's middle, where high is
 * along the radius and beside is round it; gaps may be wider, since few things share a middle by chance.
 * 3. Of what stands in none, pairs: two parts of one candy that are alone of their height, and stand on one
 * line and reach up to one line nearly exactly.
 * Cost: the pairs of parts that are at one height, and O(samples) if there are rows round the middle to be
 * looked for. */
#include "parts/parts.h"

#include "base/components.h"
#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

enum { LETTERS = 3 /* in a row, or more; but for pairs */ };

/* docs/numbers.md tells of these. */
static const double like_high = 0.6, row_overlap = 0.5, row_gap = 0.75; /* of a letter's height */
static const double level_off = 0.15,
                    level_share = 0.75; /* of the height; of a level row's letters; chosen */
static const double arc_gap = 1.5;      /* likewise, round the middle */
static const double arc_turn = 1.2;     /* radians: what reaches farther round is no letter; chosen */
static const double pair_gap = 1.5;     /* of the height; chosen */
static const double pair_off = 0.06;    /* of the height: how far its two lines may be off; chosen */

/* A part as its row sees it: round the middle, or as its box is. */
typedef struct Seat {
    double left, right, top, bottom; /* right - left < arc_turn where `turn` > 0; any unit */
    double turn;                     /* left and right come round after so much; 0 = they do not */
    bool taken;                      /* it cannot be a letter, or is one already */
} Seat;

static double overlap(double a, double a_end, double b, double b_end) {
    return (a_end < b_end ? a_end : b_end) - (a > b ? a : b); /* no calls: there may be millions of pairs */
}

/* Do the two stand beside each other as letters of a word do? */
static bool are_neighbours(const Seat *a, const Seat *b, double gap) {
    double a_high = a->bottom - a->top, b_high = b->bottom - b->top;
    double low = a_high < b_high ? a_high : b_high, high = a_high < b_high ? b_high : a_high;
    if (low < like_high * high || overlap(a->top, a->bottom, b->top, b->bottom) < row_overlap * low)
        return false;
    double beside = overlap(a->left, a->right, b->left, b->right);
    if (a->turn > 0) {
        double scale = (a->top + a->bottom + b->top + b->bottom) / 4; /* radians to lengths */
        double once = overlap(a->left + a->turn, a->right + a->turn, b->left, b->right);
        double back = overlap(a->left - a->turn, a->right - a->turn, b->left, b->right);
        beside = fmax(beside, fmax(once, back)) * scale;
    }
    return -beside <= gap * high;
}

static bool can_be_letter(const Part *part, double least_high) {
    return !part->ring && part->box.h >= least_high;
}

/* A part by the upper end of its seat. */
typedef struct Top {
    double top;
    int part;
} Top;

static int compare_tops(const void *a, const void *b) {
    const Top *p = a, *q = b;
    if (p->top != q->top) return p->top < q->top ? -1 : 1;
    return p->part < q->part ? -1 : p->part > q->part;
}

/* Joins the neighbours among the parts that are not taken. From the top down: what begins below a seat is no
 * neighbour of it. */
static bool join_neighbours(const Part *part, const Seat *seat, int parts, double gap, int32_t *set,
                            Err *err) {
    Top *top = mem_alloc((size_t)parts, sizeof *top, err);
    int count = 0;
    if (!top) return false;
    for (int i = 0; i < parts; i++)
        if (!seat[i].taken) top[count++] = (Top){seat[i].top, i};
    qsort(top, (size_t)count, sizeof *top, compare_tops);
    for (int k = 0; k < count; k++)
        for (int m = k + 1; m < count && top[m].top <= seat[top[k].part].bottom; m++) {
            int i = top[k].part, j = top[m].part;
            if (part[i].candy == part[j].candy && are_neighbours(&seat[i], &seat[j], gap))
                set_join(set, i, j);
        }
    free(top);
    return true;
}

/* What neighbours join up is a row, if there are enough of them; it may take those of a row that is not
 * level.
 */
static bool join_rows(const Part *part, Seat *seat, int parts, double gap, RowKind kind, Rows *rows,
                      Err *err) {
    int32_t *set = mem_alloc((size_t)parts, 2 * sizeof *set, err);
    if (!set) return false;
    int32_t *letters = set + parts;
    for (int i = 0; i < parts; i++) set[i] = i;
    if (!join_neighbours(part, seat, parts, gap, set, err)) {
        free(set);
        return false;
    }
    for (int i = 0; i < parts; i++) letters[set_root(set, i)]++;
    for (int i = 0; i < parts; i++) {
        int root = set_root(set, i);
        if (letters[root] < LETTERS) continue;
        if (rows->of[i] >= 0) rows->row[rows->of[i]].letters--;
        if (root == i)
            rows->row[rows->count++] = (Row){.kind = kind, .letters = letters[i], .candy = part[i].candy};
        rows->of[i] = root == i ? rows->count - 1 : rows->of[root];
        seat[i].taken = true;
    }
    free(set);
    return true;
}

/* --- 1 --- */

static int compare_doubles(const void *a, const void *b) {
    double p = *(const double *)a, q = *(const double *)b;
    return p < q ? -1 : p > q;
}

/* How many of them are as good as the one in the middle, which is sorted for. */
static int count_alike(double *at, int count, double off) {
    int alike = 0;
    qsort(at, (size_t)count, sizeof *at, compare_doubles);
    for (int i = 0; i < count; i++) alike += fabs(at[i] - at[count / 2]) <= off;
    return alike;
}

/* Do most letters stand on one line, or reach up to one? Those of the upper part of an arc do not. */
static bool is_level(const Seat *seat, int parts, const Rows *rows, int row, double *scratch) {
    double *top = scratch, *bottom = scratch + parts, high = 0;
    int count = 0;
    for (int i = 0; i < parts; i++) {
        if (rows->of[i] != row) continue;
        top[count] = seat[i].top;
        bottom[count++] = seat[i].bottom;
        high = fmax(high, seat[i].bottom - seat[i].top);
    }
    return count_alike(top, count, level_off * high) >= level_share * count ||
           count_alike(bottom, count, level_off * high) >= level_share * count;
}

/* Letters of rows that are not level may be of others. */
static bool release_others(Seat *seat, int parts, const Rows *rows, Err *err) {
    double *scratch = mem_alloc((size_t)parts, 2 * sizeof *scratch, err);
    if (!scratch) return false;
    for (int row = 0; row < rows->count; row++) {
        bool level = is_level(seat, parts, rows, row, scratch);
        for (int i = 0; i < parts; i++)
            if (rows->of[i] == row && !level) seat[i].taken = false;
    }
    free(scratch);
    return true;
}

/* --- 2 --- */

static double turned(double angle, double from) {
    double turn = angle - from;
    return turn > PI ? turn - 2 * PI : turn <= -PI ? turn + 2 * PI : turn;
}

/* How far the parts that are not taken reach along the radius and round the middle, in samples and radians.
 */
static void seat_round(const Areas *areas, const int32_t *part_of, const Part *part, Seat *seat) {
    double half = areas->side / 2.0;
    for (int y = 0; y < areas->side; y++)
        for (int x = 0; x < areas->side; x++) {
            int32_t label = areas->label[(size_t)y * areas->side + x], i = label < 0 ? -1 : part_of[label];
            if (i < 0 || seat[i].taken) continue;
            const Point from = {x + 0.5 - half, y + 0.5 - half},
                        to = {part[i].middle.x - half, part[i].middle.y - half};
            if (areas_inside_round(areas, x, y, from, to)) continue;
            double r = sqrt(from.x * from.x + from.y * from.y), at = atan2(to.x, -to.y);
            double turn = at + turned(atan2(from.x, -from.y), at);
            seat[i].top = fmin(seat[i].top, r);
            seat[i].bottom = fmax(seat[i].bottom, r);
            seat[i].left = fmin(seat[i].left, turn);
            seat[i].right = fmax(seat[i].right, turn);
        }
}

static bool join_arcs(const Areas *areas, const Part *part, Seat *seat, int parts, double least_high,
                      Rows *rows, Err *err) {
    int32_t *part_of = mem_alloc((size_t)areas->count, sizeof *part_of, err);
    int left = 0, at = 0;
    if (!part_of) return false;
    for (int i = 0; i < areas->count; i++) part_of[i] = areas->area[i].open ? -1 : at++;
    for (int i = 0; i < parts; i++) {
        left += !seat[i].taken;
        if (seat[i].taken) continue;
        seat[i] = (Seat){.left = HUGE_VAL, .right = -HUGE_VAL, .top = HUGE_VAL, .turn = 2 * PI};
    }
    if (left >= LETTERS) seat_round(areas, part_of, part, seat);
    for (int i = 0; i < parts; i++) {
        bool low = seat[i].bottom - seat[i].top < least_high;
        if (seat[i].right - seat[i].left > arc_turn || low) seat[i].taken = true;
    }
    free(part_of);
    return left < LETTERS || join_rows(part, seat, parts, arc_gap, ROW_ARC, rows, err);
}

/* --- 3 --- */

static bool is_pair(const Part *a, const Part *b) {
    double high = (a->box.h + b->box.h) / 2.0, off = pair_off * high;
    double apart = -overlap(a->box.x, a->box.x + a->box.w, b->box.x, b->box.x + b->box.w);
    return a->candy == b->candy && abs(a->box.y - b->box.y) <= off &&
           abs(a->box.y + a->box.h - b->box.y - b->box.h) <= off && apart > 0 && apart <= pair_gap * high;
}

/* How many parts are pairs of part i; one of them in *other. Parts are in the order of their upper ends, so
 * only those near by are looked at: of a pair neither height is over 1.13 of the other. */
static int count_pairs(const Part *part, int parts, const int32_t *of, double least_high, int i, int *other) {
    const double off = 1.1 * pair_off * part[i].box.h;
    int count = 0, j = i;
    while (j > 0 && part[i].box.y - part[j - 1].box.y <= off) j--;
    for (; j < parts && part[j].box.y - part[i].box.y <= off; j++)
        if (j != i && of[j] < 0 && can_be_letter(&part[j], least_high) && is_pair(&part[i], &part[j])) {
            count++;
            *other = j;
        }
    return count;
}

static void find_pairs(const Part *part, int parts, double least_high, Rows *rows) {
    for (int i = 0; i < parts; i++) {
        int j = -1, back = -1;
        if (rows->of[i] >= 0 || !can_be_letter(&part[i], least_high)) continue;
        if (count_pairs(part, parts, rows->of, least_high, i, &j) != 1 || j < i ||
            count_pairs(part, parts, rows->of, least_high, j, &back) != 1)
            continue;
        rows->row[rows->count] = (Row){.kind = ROW_PAIR, .letters = 2, .candy = part[i].candy};
        rows->of[i] = rows->of[j] = rows->count++;
    }
}

void rows_free(Rows *rows) {
    free(rows->row);
    free(rows->of);
    *rows = (Rows){0};
}

bool rows_find(const Areas *areas, const Part *part, int parts, double least_high, Rows *out, Err *err) {
    Rows rows = {.row = mem_alloc((size_t)parts, 2 * sizeof *rows.row, err)};
    Seat *seat = rows.row ? mem_alloc((size_t)parts, sizeof *seat, err) : NULL;
    rows.of = seat ? mem_alloc((size_t)parts, sizeof *rows.of, err) : NULL;
    for (int i = 0; rows.of && i < parts; i++) {
        Box b = part[i].box;
        rows.of[i] = -1;
        seat[i] = (Seat){.left = b.x, .right = b.x + b.w, .top = b.y, .bottom = b.y + b.h};
        seat[i].taken = !can_be_letter(&part[i], least_high);
    }
    bool done = rows.of && join_rows(part, seat, parts, row_gap, ROW_STRAIGHT, &rows, err) && /* 1 */
                release_others(seat, parts, &rows, err) &&
                join_arcs(areas, part, seat, parts, least_high, &rows, err); /* 2 */
    if (done) {
        find_pairs(part, parts, least_high, &rows); /* 3 */
        *out = rows;
        rows = (Rows){0};
    }
    free(seat);
    rows_free(&rows);
    return done;
}
