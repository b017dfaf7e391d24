/* Parts that stand on one line, as letters do. SPDX-License-Identifier: MIT
 *
 * For each ink:
 * 1. Level lines; then lines round the middle of the circle, as a badge has.
 * 2. Then any line, straight or round, that a shape and the two nearest to it lie on.
 * 3. Once more the first two, for what is less sure beside rows that were found.
 * Along a line shapes are neighbours that are about as high, beside each other, near each other. What
 * neighbours join up, from three on, is a row if it looks like lettering (lettering_looks.c).
 * Cost: the pairs of shapes of an ink, for each line that is tried. */
#include "inks/lettering.h"

#include "base/components.h"
#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

enum {
    LETTERS_LEAST = 3,
    COMPANY_OTHERS = 4,
    FITTED_MAX = 60,
    SEEDS_MOST = 120 /* more shapes of an ink in no row: no free lines are tried */
};

/* Of the height of the higher, or the lower, of two. */
static const double like_high = 0.5, beside = 0.55, most_apart = 1.0;
static const double company_high = 0.3, company_apart = 1.5; /* of the higher row of two */
static const double middle_off = 0.05;                       /* of the radius: it is the middle */
static const double turn_least = 1.2; /* of a letter's height: no line of writing turns in a smaller radius */

/* --- a line --- */

static double reach(const Shape *shape, Point way) {
    double at = atan2(way.y, way.x) * REACHES / (2 * PI);
    int d = (int)floor(at + 0.5);
    return shape->reach[((d % REACHES) + REACHES) % REACHES];
}

Stand stand_of(const WriteLine *line, Point middle, const Shape *shape) {
    Point along = {cos(line->turn), sin(line->turn)}, up = {along.y, -along.x};
    Point from = {middle.x - line->middle.x, middle.y - line->middle.y};
    double across = from.x * up.x + from.y * up.y, at = from.x * along.x + from.y * along.y;
    if (line->round) {
        across = sqrt(from.x * from.x + from.y * from.y);
        up = across > 0 ? (Point){from.x / across, from.y / across} : (Point){0, -1};
        along = (Point){-up.y, up.x};
        at = atan2(up.x, -up.y);
    }
    Stand stand = {.at = at, .low = across, .high = across};
    if (shape) {
        stand.left = reach(shape, (Point){-along.x, -along.y});
        stand.right = reach(shape, along);
        stand.low -= reach(shape, (Point){-up.x, -up.y});
        stand.high += reach(shape, up);
    }
    return stand;
}

double stands_apart(const WriteLine *line, const Stand *a, const Stand *b) {
    double way = b->at - a->at;
    if (line->round) {
        way -= 2 * PI * floor(way / (2 * PI) + 0.5);
        way *= (a->low + a->high + b->low + b->high) / 4;
    }
    return way >= 0 ? way - a->right - b->left : -way - b->right - a->left;
}

/* --- a row --- */

bool goes_round(const WriteRow *row, Circle circle) {
    const double x = row->line.middle.x - circle.x, y = row->line.middle.y - circle.y;
    return row->line.round && x * x + y * y <= middle_off * middle_off * circle.r * circle.r;
}

typedef struct Search {
    const InkAreas *areas;
    WriteRows rows; /* owned */
    int *member;    /* [shapes] those of one ink that stand in no row yet; owned, and all of these */
    int members;
    int *row;     /* [shapes] */
    int32_t *set; /* [shapes] */
    Stand *stand; /* [shapes] */
} Search;

static bool are_neighbours(const WriteLine *line, const Stand *a, const Stand *b) {
    double p = a->high - a->low, q = b->high - b->low, less = fmin(p, q), more = fmax(p, q);
    return less >= like_high * more && fmin(a->high, b->high) - fmax(a->low, b->low) >= beside * less &&
           stands_apart(line, a, b) <= most_apart * more;
}

static void list_free(Search *s, int ink) {
    s->members = 0;
    for (int i = 0; i < s->areas->shapes; i++)
        if (s->areas->area[s->areas->shape[i].area].ink == ink && s->rows.of[i] < 0)
            s->member[s->members++] = i;
}

static void join_neighbours(Search *s, const WriteLine *line) {
    for (int k = 0; k < s->members; k++) {
        const Shape *shape = &s->areas->shape[s->member[k]];
        s->stand[k] = stand_of(line, s->areas->area[shape->area].middle, shape);
        s->set[k] = k;
    }
    for (int k = 0; k < s->members; k++) {
        const Shape *shape = &s->areas->shape[s->member[k]];
        if (!is_stroke(s->areas, shape, s->stand[k].high - s->stand[k].low)) continue;
        for (int m = k + 1; m < s->members; m++) {
            const Shape *other = &s->areas->shape[s->member[m]];
            if (shape->ground == other->ground && are_neighbours(line, &s->stand[k], &s->stand[m]) &&
                is_stroke(s->areas, other, s->stand[m].high - s->stand[m].low))
                set_join(s->set, k, m);
        }
    }
}

/* Lists the set of member k; returns how many are in it. */
static int list_set(Search *s, int k) {
    int count = 0;
    for (int m = k; m < s->members; m++)
        if (set_root(s->set, m) == k) s->row[count++] = s->member[m];
    return count;
}

/* Is there other lettering close by, on its line or on one next to it? Of another ink a few may be a chance.
 */
static bool has_company(const Search *s, const WriteRow *row) {
    const double high = row->high - row->low;
    for (int r = 0; r < s->rows.count; r++) {
        const WriteRow *other = &s->rows.row[r];
        const double their = other->high - other->low, more = fmax(high, their);
        const double apart = fmax(row->low - other->high, other->low - row->high);
        const bool alike = other->ink == row->ink && other->ground == row->ground;
        if (other->line.round == row->line.round && (alike || row->letters >= COMPANY_OTHERS) &&
            fmin(high, their) >= company_high * more && apart <= company_apart * more)
            return true;
    }
    return false;
}

/* Adds the rows of the ink that stand on the line. */
static void take_line(Search *s, int ink, const WriteLine *line, LineKind kind) {
    list_free(s, ink);
    if (s->members < LETTERS_LEAST) return;
    join_neighbours(s, line);
    for (int k = 0; k < s->members && s->rows.count < WRITE_ROWS_MAX; k++) {
        if (set_root(s->set, k) != k) continue;
        const int count = list_set(s, k);
        WriteRow row = {.line = *line, .ink = ink, .ground = s->areas->shape[s->row[0]].ground};
        if (count < LETTERS_LEAST || !looks_lettered(s->areas, s->row, count, kind, &row)) continue;
        if (kind == LINE_KNOWN && !has_company(s, &row)) continue;
        for (int m = 0; m < count; m++) s->rows.of[s->row[m]] = (int8_t)s->rows.count;
        s->rows.row[s->rows.count++] = row;
    }
}

/* --- 2 --- */

/* The line through three middles; false if they turn too sharply. */
static bool line_through(Point a, Point b, Point c, double high, WriteLine *out) {
    double bx = b.x - a.x, by = b.y - a.y, cx = c.x - a.x, cy = c.y - a.y, twice = 2 * (bx * cy - by * cx);
    double bb = bx * bx + by * by, cc = cx * cx + cy * cy, reach2 = fmax(bb, cc);
    if (fabs(twice) < 0.02 * reach2) { /* as good as straight */
        Point far = cc > bb ? (Point){cx, cy} : (Point){bx, by};
        if (far.x < 0) far = (Point){-far.x, -far.y};
        *out = (WriteLine){.middle = a, .turn = atan2(far.y, far.x)};
        return true;
    }
    double x = (cy * bb - by * cc) / twice, y = (bx * cc - cx * bb) / twice;
    *out = (WriteLine){.round = true, .middle = {a.x + x, a.y + y}};
    return x * x + y * y >= turn_least * turn_least * high * high;
}

/* Solves the sum of squares of x^2 + y^2 - a x - b y - c over the points: the circle nearest to them (Kasa,
 * IEEE Trans. Instrum. Meas. 25 (1976) 8-14; from memory). False if they lie straight. */
static bool fit_circle(const Point *p, int count, Point *middle) {
    Point mean = {0, 0};
    double xx = 0, xy = 0, yy = 0, xz = 0, yz = 0;
    for (int i = 0; i < count; i++) {
        mean.x += p[i].x / count;
        mean.y += p[i].y / count;
    }
    for (int i = 0; i < count; i++) {
        double x = p[i].x - mean.x, y = p[i].y - mean.y, z = x * x + y * y;
        xx += x * x;
        xy += x * y;
        yy += y * y;
        xz += x * z;
        yz += y * z;
    }
    double whole = xx * yy - xy * xy;
    if (whole <= 1e-6 * (xx + yy) * (xx + yy)) return false;
    *middle = (Point){mean.x + (xz * yy - yz * xy) / (2 * whole), mean.y + (yz * xx - xz * xy) / (2 * whole)};
    return true;
}

/* The line through the lower, or the upper, ends of the set that holds a shape. */
static bool line_of_ends(Search *s, const WriteLine *line, int shape, bool upper, WriteLine *out) {
    Point end[FITTED_MAX];
    int k = 0;
    while (s->member[k] != shape) k++;
    const int count = list_set(s, set_root(s->set, k));
    if (count < LETTERS_LEAST || count > FITTED_MAX) return false;
    for (int m = 0; m < count; m++) {
        const Shape *letter = &s->areas->shape[s->row[m]];
        Stand stand = stand_of(line, s->areas->area[letter->area].middle, letter);
        end[m] = place_at(line, stand.at, 0, upper ? stand.high : stand.low);
    }
    *out = (WriteLine){.round = true};
    return fit_circle(end, count, &out->middle);
}

/* The free shapes nearest to one, the nearest first. */
static int find_nearest(const Search *s, int from, int near[2]) {
    double least[2] = {HUGE_VAL, HUGE_VAL};
    int found = 0;
    Point a = s->areas->area[s->areas->shape[from].area].middle;
    for (int k = 0; k < s->members; k++) {
        if (s->member[k] == from) continue;
        Point b = s->areas->area[s->areas->shape[s->member[k]].area].middle;
        double apart = (a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y);
        if (apart >= least[1]) continue;
        int at = apart < least[0] ? 0 : 1;
        if (at == 0) {
            least[1] = least[0];
            near[1] = near[0];
        }
        least[at] = apart;
        near[at] = s->member[k];
        found++;
    }
    return found < 2 ? found : 2;
}

/* The line that a seed and two others lie on, or one through the ends of what stands on it. */
static void take_seed(Search *s, int ink, int seed, const WriteLine *line) {
    take_line(s, ink, line, LINE_SOUGHT);
    for (int k = 0; k < 2 && s->rows.of[seed] < 0; k++) {
        WriteLine ends;
        list_free(s, ink);
        join_neighbours(s, line);
        if (line_of_ends(s, line, seed, k, &ends)) take_line(s, ink, &ends, LINE_SOUGHT);
    }
    if (s->rows.of[seed] < 0) return;
    const WriteLine known = s->rows.row[s->rows.of[seed]].line; /* other words on it are surer */
    take_line(s, ink, &known, LINE_KNOWN);
}

static void take_free_lines(Search *s, int ink) {
    const InkAreas *a = s->areas;
    list_free(s, ink);
    if (s->members > SEEDS_MOST) return;
    for (int i = 0; i < a->shapes; i++) {
        int near[2];
        WriteLine line;
        const InkArea *area = &a->area[a->shape[i].area];
        if (area->ink != ink || s->rows.of[i] >= 0) continue;
        list_free(s, ink);
        if (find_nearest(s, i, near) < 2) continue;
        double side = fmin(area->box.w, area->box.h);
        if (!line_through(area->middle, a->area[a->shape[near[0]].area].middle,
                          a->area[a->shape[near[1]].area].middle, side, &line))
            continue;
        take_seed(s, ink, i, &line);
    }
}

/* --- 1 --- */

/* The letters in rows that stand on the line, after those that were found before. */
static int count_letters(const Search *s, int before) {
    int letters = 0;
    for (int r = before; r < s->rows.count; r++) letters += s->rows.row[r].letters;
    return letters;
}

static void undo_rows(Search *s, int before) {
    for (int i = 0; i < s->areas->shapes; i++)
        if (s->rows.of[i] >= before) s->rows.of[i] = -1;
    s->rows.count = before;
}

/* First the one of the two that more letters stand on: some of an arc's are nearly level. */
static void take_level_and_round(Search *s, int ink) {
    const Circle c = s->areas->map->circle;
    const WriteLine line[2] = {{.middle = {c.x, c.y}}, {.round = true, .middle = {c.x, c.y}}};
    const int before = s->rows.count;
    int letters[2];
    for (int k = 0; k < 2; k++) {
        take_line(s, ink, &line[k], LINE_GIVEN);
        letters[k] = count_letters(s, before);
        undo_rows(s, before);
    }
    const int first = letters[1] > letters[0];
    take_line(s, ink, &line[first], LINE_GIVEN);
    take_line(s, ink, &line[!first], LINE_GIVEN);
}

static void take_all(Search *s) {
    for (int ink = 0; ink < s->areas->map->count; ink++) {
        take_level_and_round(s, ink); /* 1 */
        take_free_lines(s, ink);      /* 2 */
    }
    const Point middle = {s->areas->map->circle.x, s->areas->map->circle.y};
    for (int ink = 0; s->rows.count > 0 && ink < s->areas->map->count; ink++) /* 3 */
        for (int k = 0; k < 2; k++)
            take_line(s, ink, &(WriteLine){.round = k > 0, .middle = middle}, LINE_KNOWN);
}

bool lettering_rows(const InkAreas *areas, WriteRows *out, Err *err) {
    Search s = {.areas = areas};
    const size_t room = (size_t)areas->shapes;
    s.rows.of = mem_alloc(room, 1, err);
    s.member = s.rows.of ? mem_alloc(room, 2 * sizeof *s.member, err) : NULL;
    s.set = s.member ? mem_alloc(room, sizeof *s.set, err) : NULL;
    s.stand = s.set ? mem_alloc(room, sizeof *s.stand, err) : NULL;
    bool good = s.stand != NULL;
    if (good) {
        s.row = s.member + room;
        for (size_t i = 0; i < room; i++) s.rows.of[i] = -1;
        take_all(&s);
        *out = s.rows;
        s.rows.of = NULL;
    }
    free(s.rows.of);
    free(s.member);
    free(s.set);
    free(s.stand);
    return good;
}
