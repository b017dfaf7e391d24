/* Soft light over the table. SPDX-License-Identifier: MIT
 *
 * 1. The light is a square window above, behind and to the left, and an even sky. What reaches a cell of the
 * table is counted with rays to both: RAYS each. TILES neighbours share a lattice of RAYS * TILES rays among
 * them, and a mean over TILE x TILE cells gives each the whole of it.
 * 2. A standing piece shades a point if the ray, seen from above, passes within its radius while it is no
 * higher than the piece; a lying one is met by the ray itself.
 * 3. A piece: wrapped diffuse light (candy glows a little round the edge), light from the table below, and
 * reflection (Schlick's Fresnel) of window, sky and table, and in the polished table of a white card that
 * stands before the pieces, to the left; ends are duller than sides, and a little bowed; their rims are
 * rounded. */
#include "draw/daylight.h"

#include "base/parallel.h"
#include "base/geom.h"
#include "base/mem.h"
#include "draw/noise.h"

#include <math.h>
#include <stdlib.h>

enum { RAYS = 8, SIDE_RAYS = 4, MARGIN = 2, TILE = 4, TILES = TILE * TILE };

static const Vec window = {-0.441, 0.392, 0.807};          /* unit: towards its middle */
static const double window_half = 0.26;                    /* of its distance */
static const double sky_share = 0.46, window_share = 0.54; /* of the light on a level white */
static const Linear table_colour = {0.775, 0.765, 0.740};  /* a pale, warm stone */
static const double wrap = 0.30, rim = 0.07;               /* of the radius */
static const double bowl = 0.07;                           /* how much a cut leans at its edge */
static const Vec card = {-0.530, -0.848, 0};               /* unit: towards a white card on the table */
static const double card_half = 0.30, card_light = 2.5;    /* rad; of what the window gives */

void daylight_free(Daylight *light) {
    free(light->shade);
    *light = (Daylight){0};
}

/* --- 1. rays --- */

static const Vec across = {-0.664, -0.747, 0}, upwards = {0.603, -0.536, 0.591}; /* unit, across the window */

/* The unit square filled evenly by points: number i of a lattice of golden ratios in two dimensions. */
static void lattice(int i, double *u, double *v) {
    *u = fmod(0.7548776662466927 * i, 1);
    *v = fmod(0.5698402909980532 * i, 1);
}

static Vec window_ray(double u, double v) {
    return vec_add(window, vec_add(vec_scale(across, (2 * u - 1) * window_half),
                                   vec_scale(upwards, (2 * v - 1) * window_half)));
}

/* As much sky as its height counts on a level table. */
static Vec sky_ray(double u, double v) {
    double r = sqrt(u) * 0.98, turn = 2 * PI * v;
    return (Vec){r * cos(turn), r * sin(turn), sqrt(1 - r * r)};
}

/* The rays of each cell of a tile. */
typedef struct Rays {
    Vec sky[TILES][RAYS], window[TILES][RAYS];
} Rays;

static void fill_rays(Rays *rays) {
    for (int i = 0; i < TILES * RAYS; i++) {
        double u, v;
        lattice(i, &u, &v);
        rays->sky[i % TILES][i / TILES] = sky_ray(u, v);
        rays->window[i % TILES][i / TILES] = window_ray(u, v);
    }
}

/* --- 2. shade --- */

/* (x, y): from the point to the foot of the piece's axis. */
static bool standing_shades(const Piece *p, double x, double y, double z, Vec way) {
    double reach = (p->length - z) / way.z, wx = way.x * reach, wy = way.y * reach;
    double square = wx * wx + wy * wy, r2 = p->radius * p->radius, along = x * wx + y * wy;
    if (reach <= 0) return false;
    if (along <= 0) return x * x + y * y < r2;
    if (along >= square) return (x - wx) * (x - wx) + (y - wy) * (y - wy) < r2;
    double off = x * wy - y * wx;
    return off * off < r2 * square;
}

static bool shades(const Piece *p, Vec from, Vec way) {
    Hit hit;
    if (p->standing) return standing_shades(p, p->middle.x - from.x, p->middle.y - from.y, from.z, way);
    return ray_meets_piece(p, from, way, &hit);
}

static double height_of(const Piece *p) {
    return p->standing ? p->length : 2 * p->radius;
}

/* From its middle to its farthest point, seen from above. */
static double print_of(const Piece *p) {
    return p->standing ? p->radius : p->length / 2 + p->radius;
}

/* How far from its middle a piece's shade reaches. */
static double shade_reach(const Piece *p) {
    return print_of(p) + 1.8 * height_of(p);
}

static bool any_shades(const Scatter *s, const int *near, int count, Vec from, Vec way) {
    for (int i = 0; i < count; i++)
        if (shades(&s->piece[near[i]], from, way)) return true;
    return false;
}

/* The pieces that may keep the window from some point of each piece: those near, on its side. */
static void find_near(Daylight *light) {
    const Scatter *s = light->scatter;
    for (int i = 0; i < s->count; i++)
        for (int k = 0; k < s->count; k++) {
            Vec way = vec_minus(s->piece[k].middle, s->piece[i].middle);
            double room = print_of(&s->piece[i]) + print_of(&s->piece[k]),
                   reach = room + 1.4 * height_of(&s->piece[k]);
            bool near = way.x * way.x +
                        way.y * way.y<reach * reach, before = way.x * window.x + way.y * window.y> - room;
            if (k != i && near && before) light->near[i][light->nears[i]++] = k;
        }
}

/* What one mapping works with. */
typedef struct Mapping {
    const Daylight *light;
    Rays rays;
} Mapping;

/* Of the pieces that may shade a row, those that may shade a point of it; -1 if it lies under one that
 * stands. */
static int near_point(const Scatter *s, const int *row, int rows, Vec point, int near[SCATTER_MAX]) {
    int count = 0;
    for (int i = 0; i < rows; i++) {
        const Piece *p = &s->piece[row[i]];
        double dx = p->middle.x - point.x, dy = p->middle.y - point.y, square = dx * dx + dy * dy,
               reach = shade_reach(p);
        if (p->standing && square < p->radius * p->radius) return -1;
        if (square < reach * reach) near[count++] = row[i];
    }
    return count;
}

static void map_row(void *context, int row) {
    const Mapping *mapping = context;
    const Daylight *light = mapping->light;
    const Scatter *s = light->scatter;
    double y = light->front + (row + 0.5) * light->cell;
    int near_row[SCATTER_MAX], rows = 0, near[SCATTER_MAX];
    for (int i = 0; i < s->count; i++)
        if (fabs(s->piece[i].middle.y - y) < shade_reach(&s->piece[i])) near_row[rows++] = i;
    for (int i = 0; i < light->width; i++) {
        Vec from = {light->left + (i + 0.5) * light->cell, y, 0};
        Shade *shade = &light->shade[(size_t)row * light->width + i];
        int count = near_point(s, near_row, rows, from, near), sky = 0, lit = 0,
            tile = row % TILE * TILE + i % TILE;
        for (int k = 0; count > 0 && k < RAYS; k++) {
            sky += !any_shades(s, near, count, from, mapping->rays.sky[tile][k]);
            lit += !any_shades(s, near, count, from, mapping->rays.window[tile][k]);
        }
        *shade = count == 0 ? (Shade){1, 1} : (Shade){(float)sky / RAYS, (float)lit / RAYS};
    }
}

/* Along a line of the map: the mean of TILE neighbours and of the TILE one further, which is centred. */
static void smooth_line(Shade *line, int count, size_t stride) {
    Shade before[2] = {line[0], line[0]};
    for (int i = 0; i < count; i++) {
        Shade ahead[2] = {line[(size_t)(i + 1 < count ? i + 1 : count - 1) * stride],
                          line[(size_t)(i + 2 < count ? i + 2 : count - 1) * stride]};
        const Shade *back = before, here = line[(size_t)i * stride]; /* back[0] is i - 2, back[1] i - 1 */
        Shade mean = {(back[0].sky + ahead[1].sky) / 8 + (back[1].sky + here.sky + ahead[0].sky) / 4,
                      (back[0].window + ahead[1].window) / 8 +
                          (back[1].window + here.window + ahead[0].window) / 4};
        before[0] = before[1];
        before[1] = here;
        line[(size_t)i * stride] = mean;
    }
}

bool daylight_make(const Scatter *scatter, double cells, int threads, Daylight *out, Err *err) {
    double d = 2 * scatter->piece[0].radius, room = MARGIN * fmax(d, scatter->piece[0].length);
    Daylight light = {.scatter = scatter, .cell = d / cells};
    light.left = -scatter->width / 2 - room;
    light.front = -scatter->depth / 2 - room;
    light.width = (int)(-2 * light.left / light.cell) + 1;
    light.depth = (int)(-2 * light.front / light.cell) + 1;
    light.shade = mem_alloc((size_t)light.width * light.depth, sizeof *light.shade, err);
    if (!light.shade) return false;
    Mapping mapping = {.light = &light};
    fill_rays(&mapping.rays);
    find_near(&light);
    parallel_rows(light.depth, threads, map_row, &mapping);
    for (int y = 0; y < light.depth; y++) smooth_line(light.shade + (size_t)y * light.width, light.width, 1);
    for (int x = 0; x < light.width; x++) smooth_line(light.shade + x, light.depth, (size_t)light.width);
    *out = light;
    return true;
}

Shade daylight_table(const Daylight *light, double x, double y) {
    double u = (x - light->left) / light->cell - 0.5, v = (y - light->front) / light->cell - 0.5;
    if (u < 0 || v < 0 || u >= light->width - 1 || v >= light->depth - 1) return (Shade){1, 1};
    int i = (int)u, j = (int)v;
    float a = (float)(u - i), b = (float)(v - j);
    const Shade *p = light->shade + (size_t)j * light->width + i, *q = p + light->width;
    return (Shade){(1 - b) * ((1 - a) * p[0].sky + a * p[1].sky) + b * ((1 - a) * q[0].sky + a * q[1].sky),
                   (1 - b) * ((1 - a) * p[0].window + a * p[1].window) +
                       b * ((1 - a) * q[0].window + a * q[1].window)};
}

Linear daylight_ground(const Daylight *light, double x, double y) {
    Shade shade = daylight_table(light, x, y);
    double lit = sky_share * (double)shade.sky + window_share * (double)shade.window;
    double u = x / light->scatter->width + 0.15, v = y / light->scatter->depth - 0.15;
    lit *= 1.06 - 0.16 * within(u * u + v * v, 0, 1.5);
    double warm = 0.03 * (1 - (double)shade.window); /* what the window does not reach is bluer */
    return (Linear){table_colour.r * lit * (1 - warm), table_colour.g * lit,
                    table_colour.b * lit * (1 + warm)};
}

/* --- 3. pieces --- */

/* The normal, its rim rounded: both faces of the rim lean to each other. */
static Vec rounded(const Piece *p, const Hit *hit) {
    Vec radial = vec_add(vec_scale(p->right, hit->u), vec_scale(p->up, hit->v));
    if (hit->surface == SURFACE_SIDE) {
        double off = (1 - fabs(hit->along)) * p->length / 2 / p->radius;
        double lean = 0.65 * (1 - smooth_step(0, rim, off));
        return vec_unit(vec_add(hit->normal, vec_scale(p->axis, hit->along > 0 ? lean : -lean)));
    }
    double r = sqrt(hit->u * hit->u + hit->v * hit->v), lean = 0.65 * smooth_step(1 - rim, 1, r);
    double skew = 0.05; /* cuts are never quite square */
    Vec n = vec_add(hit->normal, vec_scale(radial, bowl + lean / (r > 0.1 ? r : 0.1)));
    n = vec_add(n, vec_scale(p->right, chance_between(p->number, 21, -skew, skew)));
    return vec_unit(vec_add(n, vec_scale(p->up, chance_between(p->number, 22, -skew, skew))));
}

/* The window as a mirror of that roughness shows it, 0..1. */
static double window_seen(Vec way, double rough) {
    double ahead = vec_dot(way, window);
    if (ahead <= 0) return 0;
    double x = fabs(vec_dot(way, across)) / ahead, y = fabs(vec_dot(way, upwards)) / ahead,
           half = window_half;
    return (1 - smooth_step(half - rough, half + rough, x)) *
           (1 - smooth_step(half - rough, half + rough, y));
}

/* How much of the card a level direction sees, 0..1: softest along its edges. */
static double card_seen(double x, double y) {
    double length2 = x * x + y * y, ahead = x * card.x + y * card.y;
    if (ahead <= 0) return 0;
    double off = 1 - ahead * ahead / length2; /* the sine's square */
    return 1 - smooth_step(0, card_half * card_half, off);
}

static double reflected(const Daylight *light, Vec point, Vec normal, Vec eye, bool side) {
    double facing = within(vec_dot(normal, eye), 0, 1), dull = (1 - facing) * (1 - facing);
    double fresnel = 0.04 + 0.96 * dull * dull * (1 - facing);
    Vec way = vec_minus(vec_scale(normal, 2 * vec_dot(normal, eye)), eye);
    double rough = side ? 0.10 : 0.45, gloss = side ? 7 : 1.6, seen;
    if (way.z < -0.02) {
        double reach = within(point.z / -way.z, 0, 3 * light->scatter->piece[0].radius);
        Shade shade = daylight_table(light, point.x + way.x * reach, point.y + way.y * reach);
        seen = (0.5 + (side ? card_light * card_seen(way.x, way.y) : 0)) * (double)shade.sky;
    } else
        seen = 0.24 + gloss * window_seen(way, rough);
    return (fresnel < 0.35 ? fresnel : 0.35) * seen;
}

/* How much of the window a point of piece `index` sees past the others. */
static double window_share_at(const Daylight *light, int index, Vec point) {
    const int *near = light->near[index], count = light->nears[index];
    int lit = 0;
    if (count == 0) return 1;
    for (int i = 0; i < SIDE_RAYS; i++) {
        Vec way = window_ray(0.25 + 0.5 * (i % 2), 0.25 + 0.5 * ((int)(i / 2)));
        lit += !any_shades(light->scatter, near, count, point, way);
    }
    return (double)lit / SIDE_RAYS;
}

Lit daylight_piece(const Daylight *light, int index, const Hit *hit, Vec point, Vec eye) {
    const Piece *p = &light->scatter->piece[index];
    Vec n = rounded(p, hit);
    bool side = hit->surface == SURFACE_SIDE, top = p->standing && !side;
    double away = 0.3 * p->radius, height = point.z / (2 * p->radius);
    Shade foot = daylight_table(light, point.x + n.x * away, point.y + n.y * away);
    double open = top ? 1 : smooth_step(-0.3, 1.1, height), sky = open + (1 - open) * (double)foot.sky;
    double window_lit = (vec_dot(n, window) + wrap) / (window.z + wrap);
    if (window_lit < 0) window_lit = 0;
    if (!top && window_lit > 0) window_lit *= window_share_at(light, index, point);
    double below = (0.5 - 0.5 * n.z) * 0.80 * (0.35 + 0.65 * (double)foot.sky);
    double room = n.y < 0 ? -0.20 * n.y * (0.4 + 0.6 * sky) : 0; /* what the room behind the viewer gives */
    double lit =
        sky_share * sky * (0.5 + 0.5 * n.z) + window_share * window_lit + below * (1 - 0.3 * height) + room;
    return (Lit){lit, reflected(light, point, n, eye, side)};
}
