/* How a picture comes to lie in the disc: whole, or as a disc out of it. SPDX-License-Identifier: MIT
 *
 * Input: a map with field, full_bleed, roundel and the foreground's circle. Output: circle, cropped, beyond;
 * inks, shares and borders by them.
 * 1. A picture that fills its rectangle is cropped to a disc of its short side: the one nearest to its middle
 * that cuts nothing which keeps clear of the border, and in which nothing that reaches the border is lost or
 * nearly lost. Corners of one ink beyond the disc of a square count for nothing.
 * 2. If there is none it lies whole: a further ink, transparent, is the field that lies round it.
 * 3. Anything else stands on its ground and lies whole, by its circle; a plain disc on a coloured or white
 * ground by that of the ground, for only its size in it tells of it.
 * 4. Asked for, a crop is to the middle; of a logo on a ground, that of the foreground's box.
 * Cost: O(pixels) for each disc that is tried. */
#include "inks/steps.h"

#include "inks/inks.h"
#include "base/components.h"
#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

/* All ours, chosen over tests/framing_logos.h. */
#define CLEAR_AREA 0.001     /* of the picture: smaller areas may be cut */
#define BORDER_AREA 0.005    /* of the picture: smaller areas at the border may be lost */
#define CUT_MOST 0.02        /* of an area that is clear of the border, outside the disc less its rim */
#define CLEAR_RIM 0.95       /* of the disc's radius: what is clear of the border stays inside */
#define KEPT_LEAST (1 / 3.0) /* of its share of the picture that an area at the border has of the disc */
#define CORNERS 0.95         /* of what falls away of a square: one ink */
#define SQUARE 1.1           /* longer side / shorter side */
#define RIM_FROM 0.965       /* of the disc's radius: its rim, where the field is looked for */
#define PAPER_RIM 0.15       /* of the rim: white that holds it is the field */
#define PLAIN 0.94           /* of its circle that a disc fills, and of it one ink */
#define DOT_LEAST 0.2        /* short sides: a smaller disc is a logo in a margin */

enum { DISCS = 9 }; /* that are tried: the middle, then ever farther to both sides */

typedef struct Fitting {
    InkMap *map;
    Regions regions; /* owned */
    bool *bordering; /* [regions.count] reaches the picture's border; owned */
    int *inside;     /* [regions.count] pixels inside the disc that is tried; owned */
    int *outside;    /* [regions.count] pixels outside that disc less its rim; owned */
} Fitting;

static Circle middle_disc(const InkMap *m) {
    double r = (m->width < m->height ? m->width : m->height) / 2.0;
    return (Circle){m->width / 2.0, m->height / 2.0, r};
}

static double square_from(Circle c, int x, int y) {
    double across = x + 0.5 - c.x, down = y + 0.5 - c.y;
    return across * across + down * down;
}

/* --- 1: the disc --- */

static bool fitting_new(InkMap *map, Fitting *out, Err *err) {
    Fitting f = {.map = map};
    size_t w = (size_t)map->width;
    if (!regions_find(map->label, map->width, map->height, &f.regions, err)) return false;
    size_t count = (size_t)f.regions.count;
    bool good = (f.bordering = mem_alloc(count, sizeof *f.bordering, err)) &&
                (f.inside = mem_alloc(count, sizeof *f.inside, err)) &&
                (f.outside = mem_alloc(count, sizeof *f.outside, err));
    for (int y = 0; good && y < map->height; y++)
        for (int x = 0; x < map->width; x++)
            if (x == 0 || y == 0 || x == map->width - 1 || y == map->height - 1)
                f.bordering[f.regions.of[(size_t)y * w + (size_t)x]] = true;
    *out = f;
    return good;
}

static void fitting_free(Fitting *f) {
    regions_free(&f->regions);
    free(f->bordering);
    free(f->inside);
    free(f->outside);
}

/* Does the disc keep what the picture shows? */
static bool keeps_all(Fitting *f, Circle disc) {
    const InkMap *m = f->map;
    double all = (double)m->width * m->height, rim = disc.r * CLEAR_RIM;
    double kept_least = KEPT_LEAST * PI * disc.r * disc.r / all;
    for (int i = 0; i < f->regions.count; i++) f->inside[i] = f->outside[i] = 0;
    for (int y = 0; y < m->height; y++) {
        const int32_t *row = f->regions.of + (size_t)y * (size_t)m->width;
        for (int x = 0; x < m->width; x++) {
            double square = square_from(disc, x, y);
            f->inside[row[x]] += square < disc.r * disc.r;
            f->outside[row[x]] += square >= rim * rim;
        }
    }
    for (int i = 0; i < f->regions.count; i++) {
        double area = f->regions.pixels[i];
        if (f->bordering[i] ? area >= BORDER_AREA * all && f->inside[i] < kept_least * area
                            : area >= CLEAR_AREA * all && f->outside[i] > CUT_MOST * area)
            return false;
    }
    return true;
}

/* Is the picture a square, and what lies outside the disc one ink? */
static bool only_corners(const InkMap *m, Circle disc) {
    double all = 0, count[INKS_MAX] = {0}, most = 0;
    if (fmax(m->width, m->height) > SQUARE * fmin(m->width, m->height)) return false;
    for (int y = 0; y < m->height; y++)
        for (int x = 0; x < m->width; x++) {
            if (square_from(disc, x, y) < disc.r * disc.r) continue;
            count[m->label[(size_t)y * (size_t)m->width + (size_t)x]]++;
            all++;
        }
    for (int i = 0; i < m->count; i++) most = fmax(most, count[i]);
    return most >= CORNERS * all;
}

/* *found: there is a disc to crop to, *disc. */
static bool find_disc(InkMap *map, Circle *disc, bool *found, Err *err) {
    Fitting f;
    Circle middle = middle_disc(map);
    *disc = middle;
    *found = only_corners(map, middle);
    if (*found) return true;
    bool good = fitting_new(map, &f, err);
    double across = map->width / 2.0 - middle.r, down = map->height / 2.0 - middle.r; /* one of them is 0 */
    for (int i = 0; good && i < DISCS && !*found; i++) {
        double way = (i + 1) / 2 * (i % 2 ? -2.0 : 2.0) / (DISCS - 1);
        *disc = (Circle){middle.x + way * across, middle.y + way * down, middle.r};
        *found = keeps_all(&f, *disc);
    }
    fitting_free(&f);
    return good;
}

/* --- cropping --- */

/* The ink that is the field of a disc out of a picture without one: white, if it reaches the rim, else what
 * holds most of it. */
static int rim_ink(const InkMap *m) {
    double count[INKS_MAX] = {0}, all = 0, from = m->circle.r * RIM_FROM;
    int most = 0;
    for (int y = 0; y < m->height; y++)
        for (int x = 0; x < m->width; x++) {
            double square = square_from(m->circle, x, y);
            if (square < from * from || square >= m->circle.r * m->circle.r) continue;
            count[m->label[(size_t)y * (size_t)m->width + (size_t)x]]++;
            all++;
        }
    for (int i = 1; i < m->count; i++)
        if (count[i] > count[most]) most = i;
    for (int i = 0; i < m->count; i++)
        if (count[i] >= PAPER_RIM * all && !m->ink[i].transparent && is_paper(m->ink[i].srgb)) return i;
    return most;
}

/* Inks of which nothing is left inside the circle are none of the picture any more. */
static void drop_lost(InkMap *m) {
    int number[INKS_MAX], count = 0, lost = m->field;
    for (int i = 0; i < m->count; i++) {
        bool stays = m->ink[i].share > 0 || i == m->field;
        number[i] = stays ? count : -1;
        if (!stays) continue;
        m->ink[count] = m->ink[i];
        for (int j = 0; j < m->count; j++) {
            m->border[count][j] = m->border[i][j];
            m->across[count][j] = m->across[i][j];
        }
        for (int j = 0; j < m->count; j++) {
            m->border[j][count] = m->border[j][i];
            m->across[j][count] = m->across[j][i];
        }
        count++;
    }
    for (size_t i = 0; i < (size_t)m->width * (size_t)m->height; i++)
        m->label[i] = (uint8_t)number[number[m->label[i]] < 0 ? lost : m->label[i]];
    m->field = number[m->field];
    m->count = count;
}

static bool crop_to(InkMap *map, Circle disc, Err *err) {
    map->circle = disc;
    map->cropped = true;
    if (map->full_bleed) map->field = rim_ink(map);
    if (!count_inks(map, err)) return false;
    drop_lost(map);
    order_inks(map);
    return true;
}

/* --- 2 --- */

/* The smallest ink goes to the nearest of the others, which makes room for one. */
static void join_smallest(InkMap *m) {
    int last = m->count - 1, nearest = 0; /* the largest share is first */
    double least = HUGE_VAL;
    for (int i = 0; i < last; i++) {
        double apart = delta_e00(rgb8_lab(m->ink[i].srgb), rgb8_lab(m->ink[last].srgb));
        if (apart < least) {
            least = apart;
            nearest = i;
        }
    }
    for (size_t i = 0; i < (size_t)m->width * (size_t)m->height; i++)
        if (m->label[i] == last) m->label[i] = (uint8_t)nearest;
    m->count--;
}

static bool lay_on_field(InkMap *map, Err *err) {
    if (map->count == INKS_MAX) join_smallest(map);
    map->field = map->count++;
    map->ink[map->field] = (Ink){.transparent = true};
    map->beyond = true;
    if (!count_inks(map, err)) return false;
    order_inks(map);
    return true;
}

/* --- 3 and 4 --- */

Box foreground_box(const InkMap *m, double *pixels) {
    int left = m->width, right = -1, top = m->height, bottom = -1;
    *pixels = 0;
    for (int y = 0; y < m->height; y++)
        for (int x = 0; x < m->width; x++) {
            if (m->label[(size_t)y * (size_t)m->width + (size_t)x] == m->field) continue;
            if (x < left) left = x;
            if (x > right) right = x;
            if (y < top) top = y;
            bottom = y;
            ++*pixels;
        }
    return right < 0 ? (Box){0} : (Box){left, top, right + 1 - left, bottom + 1 - top};
}

/* Is all there is a disc of one ink? */
static bool is_dot(const InkMap *m) {
    double count[INKS_MAX] = {0}, all = 0, most = 0;
    for (size_t i = 0; i < (size_t)m->width * (size_t)m->height; i++) count[m->label[i]]++;
    for (int i = 0; i < m->count; i++) {
        if (i == m->field) continue;
        all += count[i];
        most = fmax(most, count[i]);
    }
    return all > 0 && most >= PLAIN * all && all >= PLAIN * PI * m->circle.r * m->circle.r;
}

/* A disc inside the largest that the ground holds is seen with it. */
static bool fit_dot(InkMap *map, Err *err) {
    Circle disc = middle_disc(map), dot = map->circle;
    double apart = sqrt((dot.x - disc.x) * (dot.x - disc.x) + (dot.y - disc.y) * (dot.y - disc.y));
    if (map->ink[map->field].transparent || dot.r < DOT_LEAST * 2 * disc.r || apart + dot.r > disc.r ||
        !is_dot(map))
        return true;
    map->circle = disc;
    if (!count_inks(map, err)) return false;
    order_inks(map);
    return true;
}

bool fit_picture(InkMap *map, Fit fit, Err *err) {
    Circle disc = middle_disc(map);
    bool crop = fit == FIT_CROP;
    if (map->roundel) return true;
    if (map->full_bleed) {
        if (fit == FIT_AUTO && !find_disc(map, &disc, &crop, err)) return false;
        return crop ? crop_to(map, disc, err) : lay_on_field(map, err);
    }
    if (fit == FIT_AUTO) return fit_dot(map, err);
    double pixels;
    Box box = crop ? foreground_box(map, &pixels) : (Box){0};
    if (box.w == 0) return true;
    disc = (Circle){box.x + box.w / 2.0, box.y + box.h / 2.0, (box.w < box.h ? box.w : box.h) / 2.0};
    return crop_to(map, disc, err);
}
