/* A photograph of scattered pieces. SPDX-License-Identifier: MIT
 *
 * 1. A camera above and before the table; each row of pixels knows which pieces can be seen in it.
 * 2. A pixel takes four rays, placed so that no two share a row or a column; where they meet different
 * things, it takes EDGE x EDGE. Light is mixed before it becomes bytes.
 * 3. Rows are shared out among threads; nothing but its own row is written. */
#include "scene.h"

#include "bands.h"
#include "daylight.h"
#include "mem.h"
#include "tone.h"

#include <math.h>

enum { EDGE = 4, FEW = 4 };

static const double elevation = 60 * PI / 180;
static const double distance = 3.6; /* of the camera, in depths of the table's part */
static const double play = 0.94;    /* of the frame that the pieces take: perspective needs the rest */

typedef struct Camera {
    Vec place, ahead, up;
    double centre_x, centre_y; /* px */
    double focal;              /* px */
} Camera;

typedef struct Shot {
    const Scatter *scatter;
    const Skin *skin;
    Daylight light;
    Camera camera;
    Tone tone;
    Image image;
    double seen_x[SCATTER_MAX], seen_y[SCATTER_MAX],
        seen_r[SCATTER_MAX]; /* px: a disc that holds the piece */
} Shot;

/* --- 1. camera --- */

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

/* The light along a ray, and a number for what it meets. */
static Linear trace(const Shot *shot, const int *list, int count, double x, double y, int *met) {
    Vec from = shot->camera.place, way = ray_through(&shot->camera, x, y);
    Hit best = {.t = HUGE_VAL};
    int nearest = -1;
    for (int i = 0; i < count; i++) {
        Hit hit;
        if (cast_piece(&shot->scatter->piece[list[i]], from, way, &hit) && hit.t < best.t) {
            best = hit;
            nearest = list[i];
        }
    }
    *met = nearest < 0 ? 0 : nearest * 4 + (int)best.surface;
    if (nearest < 0) {
        double t = from.z / -way.z;
        return daylight_ground(&shot->light, from.x + t * way.x, from.y + t * way.y);
    }
    const Piece *piece = &shot->scatter->piece[nearest];
    Vec point = vec_add(from, vec_scale(way, best.t));
    return daylight_piece(&shot->light, nearest, &best, point, vec_unit(vec_scale(way, -1)),
                          skin_colour(shot->skin, piece, &best));
}

static void add(float sum[3], Linear c, double weight) {
    sum[0] += (float)(fmin(c.r, 1) * weight); /* a glint is no brighter than paper: its edge stays smooth */
    sum[1] += (float)(fmin(c.g, 1) * weight);
    sum[2] += (float)(fmin(c.b, 1) * weight);
}

static void trace_pixel(const Shot *shot, const int *list, int count, int x, int y, float sum[3]) {
    static const double dx[FEW] = {0.375, 0.875, 0.125, 0.625}, dy[FEW] = {0.125, 0.375, 0.625, 0.875};
    int met[FEW];
    bool edge = false;
    sum[0] = sum[1] = sum[2] = 0;
    if (count == 0) {
        add(sum, trace(shot, list, 0, x + 0.5, y + 0.5, &met[0]), 1);
        return;
    }
    for (int i = 0; i < FEW; i++) {
        add(sum, trace(shot, list, count, x + dx[i], y + dy[i], &met[i]), 1.0 / FEW);
        edge = edge || met[i] != met[0];
    }
    if (!edge) return;
    sum[0] = sum[1] = sum[2] = 0;
    for (int i = 0; i < EDGE * EDGE; i++) {
        double sx = x + (i % EDGE + 0.5) / EDGE, sy = y + ((int)(i / EDGE) + 0.5) / EDGE;
        add(sum, trace(shot, list, count, sx, sy, &met[0]), 1.0 / (EDGE * EDGE));
    }
}

static void render_row(void *context, int y) {
    const Shot *shot = context;
    int row[SCATTER_MAX], rows = 0;
    for (int i = 0; i < shot->scatter->count; i++)
        if (fabs(y + 0.5 - shot->seen_y[i]) < shot->seen_r[i]) row[rows++] = i;
    for (int x = 0; x < shot->image.width; x++) {
        int list[SCATTER_MAX], count = 0;
        float sum[3];
        for (int i = 0; i < rows; i++) {
            double dx = x + 0.5 - shot->seen_x[row[i]], dy = y + 0.5 - shot->seen_y[row[i]];
            if (dx * dx + dy * dy < shot->seen_r[row[i]] * shot->seen_r[row[i]]) list[count++] = row[i];
        }
        trace_pixel(shot, list, count, x, y, sum);
        uint8_t *to = shot->image.rgba + 4 * ((size_t)y * shot->image.width + x);
        for (int c = 0; c < 3; c++) to[c] = tone_byte(&shot->tone, sum[c], 0);
        to[3] = 255;
    }
}

bool scene_render(const Scatter *scatter, const Skin *skin, const SceneFrame *frame, Image *out, Err *err) {
    Shot shot = {.scatter = scatter, .skin = skin, .camera = make_camera(scatter, frame)};
    double px = shot.camera.focal / (distance * scatter->depth) * 2 * scatter->piece[0].radius;
    if (!daylight_make(scatter, px / 3, frame->threads, &shot.light, err)) return false;
    bool good = image_new(frame->width, frame->height, 0, &shot.image, err);
    if (good) {
        find_seen(&shot);
        tone_fill(&shot.tone);
        bands_run(frame->height, frame->threads, render_row, &shot);
        *out = shot.image;
    }
    daylight_free(&shot.light);
    return good;
}
