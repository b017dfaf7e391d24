/* The logo's own colours: how far apart those are that meet. SPDX-License-Identifier: MIT
 *
 * What hardly differs on paper hardly does in candy, and no candy helps.
 * 1. Each two inks that meet are as far apart as CIEDE2000 says, and weigh as their border; so do colours
 * that lie so near that they are one ink, by their edges. What is transparent is white paper on a white
 * field, and apart from all on another; an ink that is paper itself does not count beside it.
 * 2. The value is the one that half of all borders keep at least: the drawing hangs on those. If it is under
 * its limit, the drawing is hardly seen; if nothing of it comes out, it is *no*.
 * 3. The nearest two that meet on some of the borders are told of, whatever the verdict: radiation's yellow
 * rim on pale yellow.
 * Cost: O(pixels), for where they meet. */
#include "judge/checks.h"
#include "judge/judge.h"

#include <assert.h>
#include <math.h>

enum { LATTICE = 16, PAIRS = INKS_MAX * (INKS_MAX - 1) / 2 + 1 };

static const double level = 5, level_go = 16; /* CIELAB lightness; CIEDE2000, of what is as light */
static const double own_go = 10;        /* CIEDE2000: candies nearer than that are no two colours either */
static const double told_border = 0.15; /* of all borders */
static const double paper_near = 3;     /* CIEDE2000: of white: an ink so near is the paper itself */
static const double white_near = 12;    /* CIEDE2000: as match_candy has it, so near is white */
static const double unshaded = 0.05;    /* of what is drawn: of a picture shaded more, edges tell nothing */
static const double far_apart = 100;    /* CIEDE2000: black and white */

typedef struct Meeting {
    double apart, least; /* CIEDE2000: as they are, and as they should be */
    double border;       /* share of all borders */
    int one, other;      /* inks; -1 = colours that are one ink */
} Meeting;

/* The shape of a cream letter on white is hard to see, though its hue is another. */
static Meeting meeting_of(Rgb8 one, Rgb8 other) {
    const Lab p = rgb8_lab(one), q = rgb8_lab(other);
    return (Meeting){.apart = delta_e00(p, q), .least = fabs(p.l - q.l) < level ? level_go : own_go};
}

/* How two inks meet; border 0: they do not, or do not count. */
static Meeting inks_meeting(const Job *job, int a, int b) {
    const Ink *p = &job->inks->ink[a], *q = &job->inks->ink[b];
    const Rgb8 white = {255, 255, 255}, field = job->palette.candy[job->palette.field].srgb;
    const bool clear = p->transparent || q->transparent;
    const bool paper = clear && delta_e00(rgb8_lab(field), rgb8_lab(white)) < white_near;
    Meeting m = meeting_of(p->transparent ? white : p->srgb, q->transparent ? white : q->srgb);
    if (clear && !paper) m = (Meeting){.apart = far_apart, .least = own_go};
    m.border = paper && m.apart < paper_near ? 0 : job->inks->border[a][b];
    m.one = a;
    m.other = b;
    return m;
}

/* Adds one behind those whose colours are nearer, for what they should be. */
static void add_meeting(Meeting meeting[PAIRS], int *count, Meeting next) {
    if (next.border <= 0) return;
    int at = (*count)++;
    for (; at > 0 && meeting[at - 1].apart * next.least > next.apart * meeting[at - 1].least; at--)
        meeting[at] = meeting[at - 1];
    meeting[at] = next;
}

static int list_meetings(const Job *job, Meeting meeting[PAIRS]) {
    const InkMap *inks = job->inks;
    const double faint = inks->shaded <= unshaded ? inks->faint : 0;
    int count = 0;
    add_meeting(meeting, &count, (Meeting){inks->faint_apart, own_go, faint, -1, -1});
    for (int a = 0; a < inks->count; a++)
        for (int b = a + 1; b < inks->count; b++) {
            Meeting next = inks_meeting(job, a, b);
            next.border *= 1 - faint;
            add_meeting(meeting, &count, next);
        }
    return count;
}

/* j->verdict is that of the checks of the drawing. */
void check_own_colours(const Job *job, Judgement *j) {
    Meeting meeting[PAIRS];
    const int count = list_meetings(job, meeting); /* 1 */
    double all = 0, sum = 0;
    int half = 0;
    if (count == 0 || j->verdict == VERDICT_NO) return; /* a photograph has no colours of its own */
    for (int i = 0; i < count; i++) all += meeting[i].border;
    for (int i = 0; i < count; i++) { /* 3 */
        const Meeting *m = &meeting[i];
        if (m->one < 0 || m->border < told_border || m->apart >= m->least) continue;
        j->near = (NearInks){m->one, m->other, m->apart, m->border};
        break;
    }
    while (half + 1 < count && (sum += meeting[half].border) < all / 2) half++; /* 2 */
    const Meeting *m = &meeting[half];
    (void)check_add(j, CHECK_OWN, m->apart, m->least, true,
                    at_least(m->apart, m->least, j->parts == 0 ? m->least : 0));
}

/* --- where they meet --- */

static bool meet(const InkMap *map, const NearInks *near, int x, int y, int dx, int dy) {
    if (x + dx >= map->width || y + dy >= map->height) return false;
    int p = map->label[(size_t)y * map->width + x], q = map->label[(size_t)(y + dy) * map->width + x + dx];
    return (p == near->one && q == near->other) || (p == near->other && q == near->one);
}

bool own_colours_spot(const Job *job, Point *out) {
    const InkMap *map = job->inks;
    const NearInks *near = &job->judgement.near;
    const Frame *frame = &job->grid.frame;
    double count[LATTICE][LATTICE] = {{0}}, sx[LATTICE][LATTICE] = {{0}}, sy[LATTICE][LATTICE] = {{0}};
    int bx = 0, by = 0;
    for (int y = 0; near->border > 0 && y < map->height; y++)
        for (int x = 0; x < map->width; x++) {
            if (!meet(map, near, x, y, 1, 0) && !meet(map, near, x, y, 0, 1)) continue;
            int u = x * LATTICE / map->width, v = y * LATTICE / map->height;
            count[v][u]++;
            sx[v][u] += x + 0.5;
            sy[v][u] += y + 0.5;
            if (count[v][u] > count[by][bx]) {
                bx = u;
                by = v;
            }
        }
    if (count[by][bx] <= 0) return false;
    const double per_px = SAMPLES / frame->px_per_step, half = job->grid.wanted.side / 2.0;
    *out = (Point){half + (sx[by][bx] / count[by][bx] - frame->centre_px.x) * per_px,
                   half + (sy[by][bx] / count[by][bx] - frame->centre_px.y) * per_px};
    return true;
}
