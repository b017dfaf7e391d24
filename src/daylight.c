/* Soft light over the table. SPDX-License-Identifier: MIT
 *
 * 1. The light is a square window above, behind and to the left, and an even sky. What reaches a cell of the
 * table is counted with rays to both: RAYS each. TILES neighbours share a lattice of RAYS * TILES rays among
 * them, and a mean over TILE x TILE cells gives each the whole of it.
 * 2. A standing piece shades a point if the ray, seen from above, passes within its radius while it is no
 * higher than the piece; a lying one is met by the ray itself.
 * 3. A piece: wrapped diffuse light (candy glows a little round the edge), light from the table below, and
 * reflection (Schlick's Fresnel) of window, sky and table; ends are duller than sides; their rims are
 * rounded. */
#include "daylight.h"

#include "bands.h"
#include "geom.h"
#include "mem.h"
#include "noise.h"

#include <math.h>
#include <stdlib.h>

enum { RAYS = 16, SIDE_RAYS = 4, MARGIN = 2, TILE = 4, TILES = TILE * TILE };

static const Vec window = {-0.441, 0.392, 0.807};          /* unit: towards its middle */
static const double window_half = 0.26;                    /* of its distance */
static const double sky_share = 0.46, window_share = 0.54; /* of the light on a level white */
static const Linear table_colour = {0.715, 0.735, 0.760};
static const double wrap = 0.30, rim = 0.07; /* of the radius */

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

static bool standing_shades(const Piece *p, Vec from, Vec way) {
    double dx = p->middle.x - from.x, dy = p->middle.y - from.y, reach = (p->length - from.z) / way.z;
    double wx = way.x * reach, wy = way.y * reach, square = wx * wx + wy * wy;
    double t = square > 0 ? fmin(fmax((dx * wx + dy * wy) / square, 0), 1) : 0;
    dx -= t * wx;
    dy -= t * wy;
    return reach > 0 && dx * dx + dy * dy < p->radius * p->radius;
}

static bool shades(const Piece *p, Vec from, Vec way) {
    Hit hit;
    return p->standing ? standing_shades(p, from, way) : cast_piece(p, from, way, &hit);
}

/* The pieces near enough to shade a point, but `not`. */
static int near_pieces(const Scatter *s, Vec point, int not, const Piece *out[SCATTER_MAX]) {
    int count = 0;
    for (int i = 0; i < s->count; i++) {
        const Piece *p = &s->piece[i];
        double height = p->standing ? p->length : 2 * p->radius;
        double reach = (p->standing ? p->radius : p->length / 2 + p->radius) + 1.8 * height;
        double dx = p->middle.x - point.x, dy = p->middle.y - point.y;
        if (i != not &&dx * dx + dy * dy < reach * reach) out[count++] = p;
    }
    return count;
}

static bool any_shades(const Piece *const piece[], int count, Vec from, Vec way) {
    for (int i = 0; i < count; i++)
        if (shades(piece[i], from, way)) return true;
    return false;
}

/* What one mapping works with. */
typedef struct Mapping {
    const Daylight *light;
    Rays rays;
} Mapping;

static void map_row(void *context, int row) {
    const Mapping *mapping = context;
    const Daylight *light = mapping->light;
    for (int i = 0; i < light->width; i++) {
        Vec from = {light->left + (i + 0.5) * light->cell, light->front + (row + 0.5) * light->cell, 0};
        Shade *shade = &light->shade[(size_t)row * light->width + i];
        const Piece *near[SCATTER_MAX];
        int count = near_pieces(light->scatter, from, -1, near), sky = 0, lit = 0,
            tile = row % TILE * TILE + i % TILE;
        *shade = (Shade){1, 1};
        if (count == 0) continue;
        for (int k = 0; k < RAYS; k++) {
            sky += !any_shades(near, count, from, mapping->rays.sky[tile][k]);
            lit += !any_shades(near, count, from, mapping->rays.window[tile][k]);
        }
        *shade = (Shade){(float)sky / RAYS, (float)lit / RAYS};
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
    bands_run(light.depth, threads, map_row, &mapping);
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
    double far = hypot(x / light->scatter->width + 0.15, y / light->scatter->depth - 0.15);
    lit *= 1.06 - 0.16 * fmin(far * far, 1.5);
    double warm = 0.03 * (1 - (double)shade.window); /* what the window does not reach is bluer */
    return (Linear){table_colour.r * lit * (1 - warm), table_colour.g * lit,
                    table_colour.b * lit * (1 + warm)};
}

/* --- 3. pieces --- */

static double step(double from, double to, double at) {
    double t = fmin(fmax((at - from) / (to - from), 0), 1);
    return t * t * (3 - 2 * t);
}

/* The normal, its rim rounded: both faces of the rim lean to each other. */
static Vec rounded(const Piece *p, const Hit *hit) {
    Vec radial = vec_add(vec_scale(p->right, hit->u), vec_scale(p->up, hit->v));
    if (hit->surface == SURFACE_SIDE) {
        double off = (1 - fabs(hit->along)) * p->length / 2 / p->radius;
        double lean = 0.65 * (1 - step(0, rim, off));
        return vec_unit(vec_add(hit->normal, vec_scale(p->axis, hit->along > 0 ? lean : -lean)));
    }
    double r = sqrt(hit->u * hit->u + hit->v * hit->v), lean = 0.65 * step(1 - rim, 1, r);
    double skew = 0.05; /* cuts are never quite square */
    Vec n = vec_add(hit->normal, vec_scale(radial, lean / fmax(r, 0.1)));
    n = vec_add(n, vec_scale(p->right, chance_between(p->number, 21, -skew, skew)));
    return vec_unit(vec_add(n, vec_scale(p->up, chance_between(p->number, 22, -skew, skew))));
}

/* The window as a mirror of that roughness shows it, 0..1. */
static double window_seen(Vec way, double rough) {
    double ahead = vec_dot(way, window);
    if (ahead <= 0) return 0;
    double x = fabs(vec_dot(way, across)) / ahead, y = fabs(vec_dot(way, upwards)) / ahead,
           half = window_half;
    return (1 - step(half - rough, half + rough, x)) * (1 - step(half - rough, half + rough, y));
}

static double reflected(const Daylight *light, Vec point, Vec normal, Vec eye, bool side) {
    double facing = fmax(vec_dot(normal, eye), 0), fresnel = 0.04 + 0.96 * pow(1 - facing, 5);
    Vec way = vec_minus(vec_scale(normal, 2 * vec_dot(normal, eye)), eye);
    double rough = side ? 0.10 : 0.55, gloss = side ? 7 : 1.1, seen;
    if (way.z < -0.02) {
        double reach = fmin(point.z / -way.z, 3 * light->scatter->piece[0].radius);
        Shade shade = daylight_table(light, point.x + way.x * reach, point.y + way.y * reach);
        seen = 0.5 * (double)shade.sky;
    } else
        seen = 0.24 + gloss * window_seen(way, rough);
    return fmin(fresnel, 0.35) * seen;
}

/* How much of the window a point of piece `index` sees past the others. */
static double window_share_at(const Daylight *light, int index, Vec point) {
    const Piece *near[SCATTER_MAX];
    int count = near_pieces(light->scatter, point, index, near), lit = 0;
    if (count == 0) return 1;
    for (int i = 0; i < SIDE_RAYS; i++)
        lit += !any_shades(near, count, point, window_ray(0.25 + 0.5 * (i % 2), 0.25 + 0.5 * ((int)(i / 2))));
    return (double)lit / SIDE_RAYS;
}

Linear daylight_piece(const Daylight *light, int index, const Hit *hit, Vec point, Vec eye, Linear colour) {
    const Piece *p = &light->scatter->piece[index];
    Vec n = rounded(p, hit);
    bool side = hit->surface == SURFACE_SIDE, top = p->standing && !side;
    double away = 0.3 * p->radius, height = point.z / (2 * p->radius);
    Shade foot = daylight_table(light, point.x + n.x * away, point.y + n.y * away);
    double open = top ? 1 : step(-0.3, 1.1, height), sky = open + (1 - open) * (double)foot.sky;
    double window_lit = fmax((vec_dot(n, window) + wrap) / (window.z + wrap), 0);
    if (!top && window_lit > 0) window_lit *= window_share_at(light, index, point);
    double below = (0.5 - 0.5 * n.z) * 0.80 * (0.35 + 0.65 * (double)foot.sky);
    double room = 0.20 * fmax(-n.y, 0) * (0.4 + 0.6 * sky); /* what the room behind the viewer gives */
    double lit =
        sky_share * sky * (0.5 + 0.5 * n.z) + window_share * window_lit + below * (1 - 0.3 * height) + room;
    double gloss = reflected(light, point, n, eye, side);
    return (Linear){colour.r * lit + gloss, colour.g * lit + gloss, colour.b * lit + gloss};
}
