/* A photograph of scattered pieces. SPDX-License-Identifier: MIT
 *
 * 1. A camera above and before the table; each row of pixels knows which pieces can be seen in it.
 * 2. Rays go through the corners of a pixel, which neighbours share. Where all four meet one surface, what
 * lies between them is taken as straight: light is worked out once, the colour of the surface FEW x FEW
 * times. Else the pixel takes EDGE x EDGE rays. Light is mixed before it becomes bytes.
 * 3. Rows are shared out among threads; nothing but its own row is written. */
#include "draw/scene.h"

#include "base/parallel.h"
#include "base/mem.h"

#include <math.h>

enum { EDGE = 4, FEW = 2 };

static const double elevation = 60 * PI / 180;
static const double distance = 3.6; /* of the camera, in depths of the table's part */
static const double nothing = 1e-9; /* mm: a ray that starts on a piece does not meet it there */
static const double play = 0.94;    /* of the frame that the pieces take: perspective needs the rest */

/* --- rays --- */

Vec vec_unit(Vec a) {
    double length = sqrt(vec_dot(a, a));
    return vec_scale(a, 1 / length);
}

/* The ray in the piece's own frame. */
typedef struct Local {
    double px, py, pz; /* mm: where it starts */
    double dx, dy, dz; /* which way it goes */
} Local;

static Local local_of(const Piece *p, Vec from, Vec way) {
    Vec q = vec_minus(from, p->middle);
    return (Local){vec_dot(q, p->right),   vec_dot(q, p->up),   vec_dot(q, p->axis),
                   vec_dot(way, p->right), vec_dot(way, p->up), vec_dot(way, p->axis)};
}

/* The end that the ray comes from. */
static bool meets_end(const Piece *p, const Local *l, Hit *hit) {
    double half = p->length / 2;
    if (fabs(l->dz) < 1e-12) return false;
    bool picture = l->dz < 0;
    double t = ((picture ? half : -half) - l->pz) / l->dz;
    double x = l->px + t * l->dx, y = l->py + t * l->dy;
    if (t <= nothing || x * x + y * y > p->radius * p->radius) return false;
    *hit = (Hit){t,
                 picture ? SURFACE_PICTURE_END : SURFACE_OTHER_END,
                 x / p->radius,
                 y / p->radius,
                 picture ? 1 : -1,
                 vec_scale(p->axis, picture ? 1 : -1)};
    return true;
}

static bool meets_side(const Piece *p, const Local *l, Hit *hit) {
    double a = l->dx * l->dx + l->dy * l->dy, b = l->px * l->dx + l->py * l->dy;
    double c = l->px * l->px + l->py * l->py - p->radius * p->radius, root = b * b - a * c;
    if (a < 1e-15 || root < 0) return false;
    double t = (-b - sqrt(root)) / a, z = l->pz + t * l->dz;
    if (t <= nothing || fabs(z) > p->length / 2) return false;
    double u = (l->px + t * l->dx) / p->radius, v = (l->py + t * l->dy) / p->radius;
    *hit =
        (Hit){t, SURFACE_SIDE, u, v, 2 * z / p->length, vec_add(vec_scale(p->right, u), vec_scale(p->up, v))};
    return true;
}

bool ray_meets_piece(const Piece *piece, Vec from, Vec way, Hit *out) {
    Local local = local_of(piece, from, way);
    return meets_side(piece, &local, out) ||
           meets_end(piece, &local, out); /* from outside it is one or the other */
}

/* --- 1. camera --- */

typedef struct Camera {
    Vec place;                 /* mm */
    Vec ahead, up;             /* unit */
    double centre_x, centre_y; /* px */
    double focal;              /* px */
} Camera;

/* What the threads that render share. */
typedef struct Shot {
    const Scatter *scatter;      /* not owned */
    const PieceSurface *surface; /* not owned */
    Daylight light;              /* owned */
    Camera camera;
    Tone tone;
    Image image;                                     /* given away when it is rendered */
    double seen_x[SCATTER_MAX], seen_y[SCATTER_MAX]; /* px: middle and radius of a disc that holds */
    double seen_r[SCATTER_MAX];                      /* what is seen of the piece */
} Shot;

double scene_aspect(const SceneFrame *frame) {
    return (frame->bottom - frame->top) / sin(elevation) / (frame->right - frame->left);
}

static Camera make_camera(const Scatter *s, const SceneFrame *frame) {
    double px_per_mm = play * (frame->right - frame->left) / s->width, far = distance * s->depth;
    double height = s->piece[0].standing ? s->piece[0].length : 2 * s->piece[0].radius;
    Camera c = {.ahead = {0, cos(elevation), -sin(elevation)}, .up = {0, sin(elevation), cos(elevation)}};
    c.place = vec_scale(c.ahead, -far);
    c.focal = far * px_per_mm;
    c.centre_x = (frame->left + frame->right) / 2;
    c.centre_y = (frame->top + frame->bottom) / 2 + height / 4 * cos(elevation) * px_per_mm;
    return c;
}

static Vec ray_through(const Camera *c, double x, double y) {
    Vec way = vec_add(vec_scale(c->ahead, c->focal), vec_scale(c->up, c->centre_y - y));
    way.x += x - c->centre_x;
    return way;
}

static void find_seen(Shot *shot) {
    const Camera *c = &shot->camera;
    for (int i = 0; i < shot->scatter->count; i++) {
        const Piece *p = &shot->scatter->piece[i];
        Vec q = vec_minus(p->middle, c->place);
        double away = vec_dot(q, c->ahead), scale = c->focal / away, r = hypot(p->length / 2, p->radius);
        shot->seen_x[i] = c->centre_x + q.x * scale;
        shot->seen_y[i] = c->centre_y - vec_dot(q, c->up) * scale;
        shot->seen_r[i] = r * scale * away / (away - r) + 2;
    }
}

/* --- 2. pixels --- */

/* What a ray meets: a piece, or the table. */
typedef struct Sighting {
    int piece; /* index; -1: the table */
    Hit hit;   /* on the piece; on the table only t */
} Sighting;

/* Pieces that may be seen in a pixel. */
typedef struct Seen {
    int count, piece[SCATTER_MAX]; /* indexes */
} Seen;

static Sighting meet(const Shot *shot, const Seen *seen, double x, double y) {
    Vec from = shot->camera.place, way = ray_through(&shot->camera, x, y);
    Sighting best = {-1, {.t = from.z / -way.z}};
    for (int i = 0; i < seen->count; i++) {
        Hit hit;
        if (ray_meets_piece(&shot->scatter->piece[seen->piece[i]], from, way, &hit) && hit.t < best.hit.t)
            best = (Sighting){seen->piece[i], hit};
    }
    return best;
}

/* The light from what rays near each other meet, all on one surface: lit as in their middle (x, y). */
static Linear shade(const Shot *shot, const Sighting *middle, const Hit *hit, int hits, double x, double y) {
    Vec from = shot->camera.place, way = ray_through(&shot->camera, x, y);
    double t = middle->piece < 0 ? from.z / -way.z : middle->hit.t;
    Vec point = vec_add(from, vec_scale(way, t));
    if (middle->piece < 0) return daylight_ground(&shot->light, point.x, point.y);
    const Piece *piece = &shot->scatter->piece[middle->piece];
    Lit lit = daylight_piece(&shot->light, middle->piece, &middle->hit, point, vec_unit(vec_scale(way, -1)));
    Linear c = piece_surface_colour(shot->surface, piece, hit, hits);
    return (Linear){c.r * lit.light + lit.gloss, c.g * lit.light + lit.gloss, c.b * lit.light + lit.gloss};
}

/* Between a and b. */
static Hit between(const Hit *a, const Hit *b, double at) {
    Hit hit = *a;
    hit.t += at * (b->t - a->t);
    hit.u += at * (b->u - a->u);
    hit.v += at * (b->v - a->v);
    hit.along += at * (b->along - a->along);
    hit.normal = vec_add(a->normal, vec_scale(vec_minus(b->normal, a->normal), at));
    return hit;
}

/* The corners of a pixel: upper left, lower left, upper right, lower right. */
typedef struct Corners {
    Sighting at[4];
} Corners;

static bool alike(const Corners *c) {
    for (int i = 1; i < 4; i++)
        if (c->at[i].piece != c->at[0].piece || c->at[i].hit.surface != c->at[0].hit.surface) return false;
    return true;
}

/* A pixel of one surface: the colour at FEW x FEW points in it, the light in its middle. */
static Linear shade_inside(const Shot *shot, const Corners *c, int x, int y) {
    if (c->at[0].piece < 0) return shade(shot, &c->at[0], NULL, 0, x + 0.5, y + 0.5);
    Hit hit[FEW * FEW], left, right;
    for (int i = 0; i < FEW * FEW; i++) {
        double u = (i % FEW + 0.5) / FEW, v = ((int)(i / FEW) + 0.5) / FEW;
        left = between(&c->at[0].hit, &c->at[1].hit, v);
        right = between(&c->at[2].hit, &c->at[3].hit, v);
        hit[i] = between(&left, &right, u);
    }
    left = between(&c->at[0].hit, &c->at[1].hit, 0.5);
    right = between(&c->at[2].hit, &c->at[3].hit, 0.5);
    const Sighting middle = {c->at[0].piece, between(&left, &right, 0.5)};
    return shade(shot, &middle, hit, FEW * FEW, x + 0.5, y + 0.5);
}

/* A glint counts as no brighter than paper, so that its edge stays smooth. */
static void add(float sum[3], Linear c, double weight) {
    sum[0] += (float)((c.r < 1 ? c.r : 1) * weight);
    sum[1] += (float)((c.g < 1 ? c.g : 1) * weight);
    sum[2] += (float)((c.b < 1 ? c.b : 1) * weight);
}

static void shade_edge(const Shot *shot, const Seen *seen, int x, int y, float sum[3]) {
    for (int i = 0; i < EDGE * EDGE; i++) {
        double sx = x + (i % EDGE + 0.5) / EDGE, sy = y + ((int)(i / EDGE) + 0.5) / EDGE;
        Sighting met = meet(shot, seen, sx, sy);
        add(sum, shade(shot, &met, &met.hit, 1, sx, sy), 1.0 / (EDGE * EDGE));
    }
}

/* The pieces of the row that a pixel may see. */
static Seen seen_at(const Shot *shot, const Seen *row, int x, int y) {
    Seen seen = {.count = 0};
    for (int i = 0; i < row->count; i++) {
        int k = row->piece[i];
        double dx = x + 0.5 - shot->seen_x[k], dy = y + 0.5 - shot->seen_y[k];
        if (dx * dx + dy * dy < shot->seen_r[k] * shot->seen_r[k]) seen.piece[seen.count++] = k;
    }
    return seen;
}

static void render_row(void *context, int y) {
    const Shot *shot = context;
    Seen row = {.count = 0};
    for (int i = 0; i < shot->scatter->count; i++)
        if (fabs(y + 0.5 - shot->seen_y[i]) < shot->seen_r[i]) row.piece[row.count++] = i;
    Corners corners;
    for (int x = 0; x < shot->image.width; x++) {
        Seen seen = seen_at(shot, &row, x, y);
        for (int k = 0; k < 2; k++) {
            corners.at[k] = x == 0 ? meet(shot, &seen, x, y + k) : corners.at[2 + k];
            corners.at[2 + k] = meet(shot, &seen, x + 1, y + k);
        }
        float sum[3] = {0, 0, 0};
        if (alike(&corners))
            add(sum, shade_inside(shot, &corners, x, y), 1);
        else
            shade_edge(shot, &seen, x, y, sum);
        uint8_t *to = shot->image.rgba + 4 * ((size_t)y * shot->image.width + x);
        for (int c = 0; c < 3; c++) to[c] = tone_byte(&shot->tone, sum[c]);
        to[3] = 255;
    }
}

bool scene_render(const Scatter *scatter, const PieceSurface *surface, const SceneFrame *frame, Image *out,
                  Err *err) {
    Shot shot = {.scatter = scatter, .surface = surface, .camera = make_camera(scatter, frame)};
    double px = shot.camera.focal / (distance * scatter->depth) * 2 * scatter->piece[0].radius;
    if (!daylight_make(scatter, px / 3, frame->threads, &shot.light, err)) return false;
    bool good = image_new(frame->width, frame->height, 0, &shot.image, err);
    if (good) {
        find_seen(&shot);
        tone_fill(&shot.tone);
        parallel_rows(frame->height, frame->threads, render_row, &shot);
        *out = shot.image;
    }
    daylight_free(&shot.light);
    return good;
}
