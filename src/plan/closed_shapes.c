/* Closed shapes of the wanted face. SPDX-License-Identifier: MIT
 *
 * Input: the wanted face. Output: areas of one candy with what they enclose, and what they enclose, with
 * their convex hulls, where they are nearly convex.
 * 1. Connected areas of one candy inside the core: the field by the sides of samples, others by corners too.
 * 2. Of each area, in its box: what is not of it and not connected with the box's edge are its holes. All of
 * the area's own samples with its holes are one shape, each hole is one.
 * 3. The hull of a shape is that of the corners of the first and the last sample of each of its rows.
 * Cost: O(samples), and again for the boxes of all areas that are large enough. */
#include "plan/closed_shapes.h"

#include "base/components.h"
#include "base/mem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Where an area lies. */
typedef struct Extent {
    int samples, left, top, right, bottom; /* the last two are the last ones inside */
    int candy;
} Extent;

typedef struct Finder {
    const Grid *grid;
    int side;            /* samples */
    double least, share; /* samples; of the hull's area */
    uint8_t *value;      /* [side][side] candies inside the core, OUTSIDE elsewhere; owned */
    int32_t *label;      /* [side][side] their areas; owned */
    Extent *extent;      /* [areas] owned */
    uint8_t *mask;       /* a box: 1 where it is of the area that is looked at; owned */
    int32_t *part;       /* a box: 0 round the area, 1 the area, 2.. its holes; owned */
    Extent *inner;       /* [parts] of a box; owned */
    Point *row;          /* [4 (side + 2)] scratch: corners of rows; owned */
    size_t inner_room, shape_room, corner_room;
    ClosedShapes out; /* owned until it is handed over */
} Finder;

static void extend(Extent *e, int x, int y) {
    if (e->samples++ == 0) *e = (Extent){.samples = 1, .left = x, .top = y, .right = x};
    if (x < e->left) e->left = x;
    if (x > e->right) e->right = x;
    e->bottom = y;
}

/* --- 3 --- */

static double turn(Point a, Point b, Point c) {
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

/* Leaves of count points, in the order in which they lie along one side, those of the convex hull. */
static int half_hull(Point *p, int count) {
    int kept = 0;
    for (int i = 0; i < count; i++) {
        while (kept > 1 && turn(p[kept - 2], p[kept - 1], p[i]) <= 0) kept--;
        p[kept++] = p[i];
    }
    return kept;
}

/* The part of that number in a raster so wide: its hull in row[], in samples, clockwise; how many corners.
 * Its middle is that of its rows, each from its first to its last sample. */
static int hull_of(Finder *f, int wide, int number, Extent e, Point *middle) {
    const int rows = e.bottom - e.top + 1;
    Point *right = f->row, *left = f->row + 2 * ((size_t)f->side + 2);
    double all = 0, across = 0, down = 0;
    for (int k = 0; k < rows; k++) {
        const int32_t *part = f->part + (size_t)(e.top + k) * wide;
        int first = e.left, last = e.right, y = e.top + k, back = rows - 1 - k;
        while (part[first] != number) first++;
        while (part[last] != number) last--;
        right[2 * k] = (Point){last + 1, y};
        right[2 * k + 1] = (Point){last + 1, y + 1};
        left[2 * back] = (Point){first, y + 1};
        left[2 * back + 1] = (Point){first, y};
        double length = last + 1 - first;
        all += length;
        across += length * (first + last + 1) / 2.0;
        down += length * (y + 0.5);
    }
    int one = half_hull(right, 2 * rows), other = half_hull(left, 2 * rows);
    memmove(right + one, left, (size_t)other * sizeof *left);
    *middle = (Point){across / all, down / all};
    return one + other;
}

static bool add_shape(Finder *f, ClosedShape shape, Point shift, Err *err) {
    double hull = polygon_area(f->row, shape.corners);
    if (shape.area < f->share * hull) return true;
    void *shapes = mem_grow(f->out.shape, &f->shape_room, (size_t)f->out.count + 1, sizeof shape, err);
    if (shapes) f->out.shape = shapes;
    size_t corners = (size_t)(f->out.corners + shape.corners);
    void *corner =
        shapes ? mem_grow(f->out.corner, &f->corner_room, corners, sizeof *f->out.corner, err) : NULL;
    if (!corner) return false;
    f->out.corner = corner;
    shape.first = f->out.corners;
    shape.area /= SAMPLES * SAMPLES;
    shape.middle.x = (shape.middle.x + shift.x) / SAMPLES;
    shape.middle.y = (shape.middle.y + shift.y) / SAMPLES;
    for (int i = 0; i < shape.corners; i++)
        f->out.corner[f->out.corners++] =
            (Point){(f->row[i].x + shift.x) / SAMPLES, (f->row[i].y + shift.y) / SAMPLES};
    f->out.shape[f->out.count++] = shape;
    return true;
}

/* --- 2 --- */

/* Numbers the parts of the box, one sample wider all round than the area: 0 lies round it. How many. */
static int part_box(Finder *f, int area, Extent e, int wide, int high) {
    uint8_t ways[256] = {4, 8};
    memset(f->mask, 0, (size_t)wide * (size_t)high);
    for (int y = e.top; y <= e.bottom; y++)
        for (int x = e.left; x <= e.right; x++)
            if (f->label[(size_t)y * f->side + x] == area)
                f->mask[(size_t)(y - e.top + 1) * wide + x - e.left + 1] = 1;
    return components(f->mask, wide, high, ways, f->part);
}

/* Every sample of an area is met before those of its holes: it is part 1. */
static bool add_area(Finder *f, int area, Err *err) {
    const Extent e = f->extent[area];
    const int wide = e.right - e.left + 3, high = e.bottom - e.top + 3;
    const int parts = part_box(f, area, e, wide, high);
    const Point shift = {e.left - 1, e.top - 1};
    Extent *inner = mem_grow(f->inner, &f->inner_room, (size_t)parts, sizeof *inner, err);
    if (!inner) return false;
    f->inner = inner;
    memset(inner, 0, (size_t)parts * sizeof *inner);
    for (int y = 0; y < high; y++)
        for (int x = 0; x < wide; x++) extend(&inner[f->part[(size_t)y * wide + x]], x, y);
    for (int i = 1; i < parts; i++) {
        ClosedShape shape = {.candy = f->extent[area].candy, .hole = i > 1};
        int samples = shape.hole ? inner[i].samples : wide * high - inner[0].samples;
        if (samples < f->least) continue;
        shape.area = samples;
        shape.corners = hull_of(f, wide, i, inner[i], &shape.middle);
        if (!add_shape(f, shape, shift, err)) return false;
    }
    return true;
}

/* --- 1 --- */

static int label_areas(Finder *f) {
    uint8_t ways[256];
    memset(ways, 8, sizeof ways);
    ways[f->grid->field] = 4;
    ways[OUTSIDE] = 0;
    for (int y = 0; y < f->side; y++)
        for (int x = 0; x < f->side; x++) {
            size_t i = (size_t)y * f->side + x;
            f->value[i] = disc_holds(f->grid->core, SAMPLES, x, y) ? f->grid->wanted.candy[i] : OUTSIDE;
        }
    return components(f->value, f->side, f->side, ways, f->label);
}

static bool find(Finder *f, Err *err) {
    const size_t side = (size_t)f->side, wide = side + 2;
    if (!(f->value = mem_alloc(side * side, 1, err)) ||
        !(f->label = mem_alloc(side * side, sizeof *f->label, err)) ||
        !(f->mask = mem_alloc(wide * wide, 1, err)) ||
        !(f->part = mem_alloc(wide * wide, sizeof *f->part, err)) ||
        !(f->row = mem_alloc(4 * wide, sizeof *f->row, err)))
        return false;
    const int areas = label_areas(f);
    if (!(f->extent = mem_alloc((size_t)areas, sizeof *f->extent, err))) return false;
    for (int y = 0; y < f->side; y++)
        for (int x = 0; x < f->side; x++) {
            size_t i = (size_t)y * side + (size_t)x;
            if (f->label[i] < 0) continue;
            extend(&f->extent[f->label[i]], x, y);
            f->extent[f->label[i]].candy = f->value[i];
        }
    for (int i = 0; i < areas; i++) {
        Extent e = f->extent[i];
        double box = (double)(e.right + 1 - e.left) * (e.bottom + 1 - e.top);
        if (box >= f->least && !add_area(f, i, err)) return false;
    }
    return true;
}

bool closed_shapes_find(const Grid *grid, double least, double share, ClosedShapes *out, Err *err) {
    Finder f = {.grid = grid, .side = grid->wanted.side, .least = least * SAMPLES * SAMPLES, .share = share};
    bool done = find(&f, err);
    free(f.value);
    free(f.label);
    free(f.mask);
    free(f.part);
    free(f.extent);
    free(f.inner);
    free(f.row);
    if (done)
        *out = f.out;
    else
        closed_shapes_free(&f.out);
    return done;
}

void closed_shapes_free(ClosedShapes *shapes) {
    free(shapes->shape);
    free(shapes->corner);
    *shapes = (ClosedShapes){0};
}
