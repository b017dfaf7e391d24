/* Soft light over the table. SPDX-License-Identifier: MIT
 *
 * 1. The light: a square window above, behind and to the left of the pieces, and an even sky. How
 * much of both reaches a place is counted with rays to both.
 * 2. Shade: a standing piece keeps a ray from a point if the ray, seen from above, passes within the piece's
 * radius while it is no higher than the piece; a lying one is met by the ray itself.
 * 3. The table: a map of cells, RAYS rays a cell to each light. TILE x TILE neighbours share a lattice of
 * RAYS * TILES rays among them, and a mean over TILE x TILE cells then gives each cell the whole of it.
 * 4. A piece: wrapped diffuse light (candy glows a little round the edge), light from the table below and
 * from the room, and what its surface mirrors (Schlick, "An inexpensive BRDF model", 1994): window, sky, and
 * the polished table with a white card that stands on it before the pieces, to the left. Ends are duller than
 * sides and a little bowed; their rims are rounded.
 *
 * Cost: cells * RAYS * 2 * pieces near; a few rays for each point of a piece. */
#include "draw/scene.h"

#include "base/parallel.h"
#include "base/geom.h"
#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

enum { RAYS = 8, TILE = 4, TILES = TILE * TILE };

void daylight_free(Daylight *light) {
    free(light->shade);
    *light = (Daylight){0};
}

/* --- 1. the light --- */

static const Vec window = {-0.441, 0.392, 0.807}; /* unit: towards its middle */
static const Vec across = {-0.664, -0.747, 0}, upwards = {0.603, -0.536, 0.591}; /* unit, in its plane */
static const double window_half = 0.26;                    /* its half side, of its distance */
static const double sky_share = 0.46, window_share = 0.54; /* of the light on a level white */

/* The ray to a point of the window, u and v 0..1. */
static Vec window_ray(double u, double v) {
    return vec_add(window, vec_add(vec_scale(across, (2 * u - 1) * window_half),
                                   vec_scale(upwards, (2 * v - 1) * window_half)));
}

/* The ray to a point of the sky, u and v 0..1; equal areas of (u, v) light a level table equally. */
static Vec sky_ray(double u, double v) {
    double r = sqrt(u) * 0.98, turn = 2 * PI * v;
    return (Vec){r * cos(turn), r * sin(turn), sqrt(1 - r * r)};
}

/* The rays of each cell of a tile. */
typedef struct Rays {
    Vec sky[TILES][RAYS], window[TILES][RAYS];
} Rays;

/* Fills both lights evenly: points of a lattice of golden ratios in two dimensions. */
static void fill_rays(Rays *rays) {
    for (int i = 0; i < TILES * RAYS; i++) {
        double u = fmod(0.7548776662466927 * i, 1), v = fmod(0.5698402909980532 * i, 1);
        rays->sky[i % TILES][i / TILES] = sky_ray(u, v);
        rays->window[i % TILES][i / TILES] = window_ray(u, v);
    }
}

/* --- 2. shade --- */

static double height_of(const Piece *p) {
    return p->standing ? p->length : 2 * p->radius;
}

/* From its middle to its farthest point, seen from above. */
static double half_width_of(const Piece *p) {
    return p->standing ? p->radius : p->length / 2 + p->radius;
}

/* The piece stands with its foot at (x, y) as seen from the ray's start, which is z above the table. */
static bool standing_shades(const Piece *p, double x, double y, double z, Vec way) {
    double reach = (p->length - z) / way.z; /* so far along its way the ray is as high as the piece */
    double end_x = way.x * reach, end_y = way.y * reach, r2 = p->radius * p->radius;
    double length2 = end_x * end_x + end_y * end_y, along = x * end_x + y * end_y;
    if (reach <= 0) return false;
    if (along <= 0) return x * x + y * y < r2; /* the start is nearest to the foot; */
    if (along >= length2) return (x - end_x) * (x - end_x) + (y - end_y) * (y - end_y) < r2; /* the end; */
    double off = x * end_y - y * end_x; /* or a point between: it is off / length away */
    return off * off < r2 * length2;
}

static bool shades(const Piece *p, Vec from, Vec way) {
    Hit hit;
    if (p->standing) return standing_shades(p, p->middle.x - from.x, p->middle.y - from.y, from.z, way);
    return ray_meets_piece(p, from, way, &hit);
}

static bool any_shades(const Scatter *s, const int *near, int count, Vec from, Vec way) {
    for (int i = 0; i < count; i++)
        if (shades(&s->piece[near[i]], from, way)) return true;
    return false;
}

/* --- 3. the table --- */

static const Linear table_colour = {0.775, 0.765, 0.740}; /* a pale, warm stone */
static const double apron = 2; /* of a piece's longer side: how far the map goes on beyond the scatter */

/* How far from its middle a piece's shade reaches on the table. */
static double shade_reach(const Piece *p) {
    return half_width_of(p) + 1.8 * height_of(p);
}

/* What the threads that map the table share. */
typedef struct Mapping {
    const Daylight *light;
    Rays rays;
} Mapping;

/* Of the pieces that may shade a row, lists those that may shade a point of it; -1 if it lies under one that
 * stands. */
static int list_near(const Scatter *s, const int *row, int rows, Vec point, int near[SCATTER_MAX]) {
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

/* The share of a cell's rays that reach their light past `count` pieces. */
static Shade count_rays(const Mapping *m, int tile, const int *near, int count, Vec from) {
    const Scatter *s = m->light->scatter;
    int sky = 0, lit = 0;
    for (int k = 0; k < RAYS; k++) {
        sky += !any_shades(s, near, count, from, m->rays.sky[tile][k]);
        lit += !any_shades(s, near, count, from, m->rays.window[tile][k]);
    }
    return (Shade){(float)sky / RAYS, (float)lit / RAYS};
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
        int count = list_near(s, near_row, rows, from, near), tile = row % TILE * TILE + i % TILE;
        Shade shade = {0, 0}; /* under a piece */
        if (count == 0) shade = (Shade){1, 1};
        if (count > 0) shade = count_rays(mapping, tile, near, count, from);
        light->shade[(size_t)row * light->width + i] = shade;
    }
}

/* Along a line of the map: the mean of TILE neighbours and of the TILE one further, which is centred. */
static void smooth_line(Shade *line, int count, size_t stride) {
    Shade before[2] = {line[0], line[0]}; /* of the values as they were: i - 2 and i - 1 */
    for (int i = 0; i < count; i++) {
        Shade here = line[(size_t)i * stride];
        Shade ahead[2] = {line[(size_t)(i + 1 < count ? i + 1 : count - 1) * stride],
                          line[(size_t)(i + 2 < count ? i + 2 : count - 1) * stride]};
        line[(size_t)i * stride] =
            (Shade){(before[0].sky + ahead[1].sky) / 8 + (before[1].sky + here.sky + ahead[0].sky) / 4,
                    (before[0].window + ahead[1].window) / 8 +
                        (before[1].window + here.window + ahead[0].window) / 4};
        before[0] = before[1];
        before[1] = here;
    }
}

/* The pieces that may keep the window from some point of each piece: those near, on its side. */
static void find_near(Daylight *light) {
    const Scatter *s = light->scatter;
    for (int i = 0; i < s->count; i++)
        for (int k = 0; k < s->count; k++) {
            Vec way = vec_minus(s->piece[k].middle, s->piece[i].middle);
            double room = half_width_of(&s->piece[i]) + half_width_of(&s->piece[k]);
            double reach = room + 1.4 * height_of(&s->piece[k]);
            bool far = way.x * way.x + way.y * way.y >= reach * reach;
            bool behind = way.x * window.x + way.y * window.y <= -room;
            if (k != i && !far && !behind) light->near[i][light->nears[i]++] = k;
        }
}

bool daylight_make(const Scatter *scatter, double cells, int threads, Daylight *out, Err *err) {
    double d = 2 * scatter->piece[0].radius, room = apron * fmax(d, scatter->piece[0].length);
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
    lit *= 1.06 - 0.16 * within(u * u + v * v, 0, 1.5); /* the light falls off from the upper left on */
    double warm = 0.03 * (1 - (double)shade.window);    /* what the window does not reach is bluer */
    return (Linear){table_colour.r * lit * (1 - warm), table_colour.g * lit,
                    table_colour.b * lit * (1 + warm)};
}

/* --- 4. pieces --- */

static const double rim = 0.07, rim_lean = 0.65; /* of the radius: the rounded rim; how much it leans */
static const double bowl = 0.07;                 /* how much a cut leans at its edge */
static const double skew = 0.05;                 /* cuts are never quite square */
static const double wrap = 0.30;                 /* how far the window's light goes round a piece */

/* The normal, its rim rounded: both faces of the rim lean to each other. */
static Vec rounded_normal(const Piece *p, const Hit *hit) {
    if (hit->surface == SURFACE_SIDE) {
        double off = (1 - fabs(hit->along)) * p->length / 2 / p->radius; /* from the rim, in radii */
        double lean = rim_lean * (1 - smooth_step(0, rim, off));
        return vec_unit(vec_add(hit->normal, vec_scale(p->axis, hit->along > 0 ? lean : -lean)));
    }
    Vec radial = vec_add(vec_scale(p->right, hit->u), vec_scale(p->up, hit->v));
    double r = sqrt(hit->u * hit->u + hit->v * hit->v), lean = rim_lean * smooth_step(1 - rim, 1, r);
    Vec n = vec_add(hit->normal, vec_scale(radial, bowl + lean / (r > 0.1 ? r : 0.1)));
    n = vec_add(n, vec_scale(p->right, chance_between(p->number, 21, -skew, skew)));
    return vec_unit(vec_add(n, vec_scale(p->up, chance_between(p->number, 22, -skew, skew))));
}

/* The window as a mirror of that roughness shows it, 0..1. */
static double window_seen(Vec way, double rough) {
    double ahead = vec_dot(way, window), low = window_half - rough, high = window_half + rough;
    if (ahead <= 0) return 0;
    double x = fabs(vec_dot(way, across)) / ahead, y = fabs(vec_dot(way, upwards)) / ahead;
    return (1 - smooth_step(low, high, x)) * (1 - smooth_step(low, high, y));
}

/* How much of the white card a level direction sees, 0..1: softest along its edges. */
static double card_seen(double x, double y) {
    static const Vec card = {-0.530, -0.848, 0}; /* unit: towards it, level */
    static const double half = 0.30;             /* rad */
    double length2 = x * x + y * y, ahead = x * card.x + y * card.y;
    if (ahead <= 0) return 0;
    double off = 1 - ahead * ahead / length2; /* the sine's square */
    return 1 - smooth_step(0, half * half, off);
}

/* How a surface mirrors. */
typedef struct Mirror {
    double rough; /* of the window's distance: how much its edge is blurred */
    double gloss; /* how bright the window is in it */
    double card;  /* likewise the card; 0: not seen */
} Mirror;

static const Mirror side_mirror = {0.10, 7, 2.5}, end_mirror = {0.45, 1.6, 0};

/* The light that the surface sends to the eye as a mirror would. */
static double mirrored(const Daylight *light, Vec point, Vec normal, Vec eye, const Mirror *mirror) {
    double facing = within(vec_dot(normal, eye), 0, 1), dull = (1 - facing) * (1 - facing);
    double fresnel = 0.04 + 0.96 * dull * dull * (1 - facing), seen;
    Vec way = vec_minus(vec_scale(normal, 2 * vec_dot(normal, eye)), eye);
    if (way.z < -0.02) { /* the table */
        double reach = within(point.z / -way.z, 0, 3 * light->scatter->piece[0].radius);
        Shade shade = daylight_table(light, point.x + way.x * reach, point.y + way.y * reach);
        seen = (0.5 + mirror->card * card_seen(way.x, way.y)) * (double)shade.sky;
    } else { /* the sky, and the window in it */
        seen = 0.24 + mirror->gloss * window_seen(way, mirror->rough);
    }
    return (fresnel < 0.35 ? fresnel : 0.35) * seen;
}

/* How much of the window a point of piece `index` sees past the others. */
static double window_share_at(const Daylight *light, int index, Vec point) {
    enum { PER_SIDE = 2, RAYS_TO_IT = PER_SIDE * PER_SIDE };
    const int *near = light->near[index], count = light->nears[index];
    int lit = 0;
    if (count == 0) return 1;
    for (int i = 0; i < RAYS_TO_IT; i++) {
        Vec way = window_ray(0.25 + 0.5 * (i % PER_SIDE), 0.25 + 0.5 * ((int)(i / PER_SIDE)));
        lit += !any_shades(light->scatter, near, count, point, way);
    }
    return (double)lit / RAYS_TO_IT;
}

Lit daylight_piece(const Daylight *light, int index, const Hit *hit, Vec point, Vec eye) {
    const Piece *p = &light->scatter->piece[index];
    Vec n = rounded_normal(p, hit);
    bool side = hit->surface == SURFACE_SIDE, top = p->standing && !side;
    double away = 0.3 * p->radius, height = point.z / (2 * p->radius);
    Shade foot = daylight_table(light, point.x + n.x * away, point.y + n.y * away); /* the table before it */
    double foot_sky = (double)foot.sky;
    double open = top ? 1 : smooth_step(-0.3, 1.1, height); /* low points see as much sky as the table */
    double sky = open + (1 - open) * foot_sky;
    double facing = fmax((vec_dot(n, window) + wrap) / (window.z + wrap), 0);
    if (!top && facing > 0) facing *= window_share_at(light, index, point);
    double below = (0.5 - 0.5 * n.z) * 0.80 * (0.35 + 0.65 * foot_sky); /* from the table */
    double room = n.y < 0 ? -0.20 * n.y * (0.4 + 0.6 * sky) : 0;        /* from behind the viewer */
    double lit =
        sky_share * sky * (0.5 + 0.5 * n.z) + window_share * facing + below * (1 - 0.3 * height) + room;
    return (Lit){lit, mirrored(light, point, n, eye, side ? &side_mirror : &end_mirror)};
}
