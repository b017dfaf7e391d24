/* The counters, bays and arms of one part, as masks. SPDX-License-Identifier: MIT
 *
 * Gaps: the closing of the part less the part. Arms: the part less its opening by a disc of `arm_body` of the
 * largest that fits into it, or of the largest gap, if that is less. Both opened by the least disc. Left: the
 * same of the part in the face, with a disc that is a little larger, since what was a gap is one still if it
 * came out a little wider; and all that this encloses. What else is of the part's candy there, the inside of
 * an O in a wide part say, is no feature of this part.
 * Cost: O(points), at most twelve distance transforms; six where there are no gaps and no arms. */
#include "parts/feature_masks.h"

#include "base/components.h"
#include "base/distance.h"
#include "base/mem.h"
#include "base/morphology.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MASKS = 9, LABELS = 2 };

static const double arm_body = 0.6;   /* docs/numbers.md */
static const double gap_wider = 1.25; /* chosen: a gap a quarter wider than drawn is still that gap */

static double widest(const FeatureSizes *sizes) {
    return gap_wider * sizes->gap_most;
}

bool masks_new(Box part, bool hole, const FeatureSizes *sizes, FeatureMasks *out, Err *err) {
    int room = (int)ceil(widest(sizes) / 2) + 3; /* discs beside the part must find theirs in the window */
    FeatureMasks m = {.hole = hole};
    m.box.x = part.x / POINT - room;
    m.box.y = part.y / POINT - room;
    m.box.w = (part.x + part.w - 1) / POINT + room + 1 - m.box.x;
    m.box.h = (part.y + part.h - 1) / POINT + room + 1 - m.box.y;
    m.points = (size_t)m.box.w * m.box.h;
    m.block = mem_alloc(m.points, MASKS + LABELS * sizeof *m.label, err);
    if (!m.block) return false;
    m.label = m.block;
    m.other = m.label + m.points;
    m.own = (uint8_t *)(m.other + m.points);
    m.got = m.own + m.points;
    m.like = m.got + m.points;
    m.shown = m.like + m.points;
    m.gaps = m.shown + m.points;
    m.left = m.gaps + m.points;
    m.arms = m.left + m.points;
    m.wide = m.arms + m.points;
    m.spare = m.wide + m.points;
    *out = m;
    return true;
}

void masks_free(FeatureMasks *m) {
    free(m->block);
    *m = (FeatureMasks){0};
}

static void turn_round(uint8_t *mask, size_t points) {
    for (size_t i = 0; i < points; i++) mask[i] = !mask[i];
}

static bool holds_any(const uint8_t *mask, size_t points) {
    return memchr(mask, 1, points) != NULL;
}

int masks_label(const FeatureMasks *m, const uint8_t *mask, int32_t *label) {
    const uint8_t ways[256] = {[1] = 4};
    return components(mask, m->box.w, m->box.h, ways, label);
}

int masks_label_rest(const FeatureMasks *m, const uint8_t *mask, int32_t *label) {
    const uint8_t ways[256] = {[0] = m->hole ? 8 : 4};
    return components(mask, m->box.w, m->box.h, ways, label);
}

bool masks_open(FeatureMasks *m, uint8_t *mask, double across, Err *err) {
    memcpy(m->spare, mask, m->points);
    turn_round(m->spare, m->points);
    return open_by_disc(m->spare, m->box.w, m->box.h, across, mask, err);
}

/* out = the closing of the mask. */
static bool close_mask(const FeatureMasks *m, const uint8_t *mask, double across, uint8_t *out, Err *err) {
    if (!open_by_disc(mask, m->box.w, m->box.h, across, out, err)) return false;
    turn_round(out, m->points);
    return true;
}

bool masks_within(FeatureMasks *m, const FeatureSizes *sizes, const uint8_t *mask, uint8_t *out, Err *err) {
    if (!close_mask(m, mask, widest(sizes), out, err)) return false;
    (void)masks_label_rest(m, out, m->other);
    for (size_t i = 0; i < m->points; i++) out[i] = m->other[i] != 0 && !mask[i];
    return true;
}

static void take_away(uint8_t *from, const uint8_t *mask, size_t points) {
    for (size_t i = 0; i < points; i++) from[i] = from[i] && !mask[i];
}

static bool find_gaps(FeatureMasks *m, const FeatureSizes *sizes, Err *err) {
    if (!close_mask(m, m->own, sizes->gap_most, m->gaps, err)) return false;
    take_away(m->gaps, m->own, m->points);
    if (!holds_any(m->gaps, m->points)) return true;
    if (!masks_open(m, m->gaps, sizes->least, err)) return false;
    take_away(m->gaps, m->like, m->points);
    if (!holds_any(m->gaps, m->points)) return true;
    if (!masks_within(m, sizes, m->got, m->left, err)) return false;
    take_away(m->left, m->shown, m->points);
    return true;
}

/* Diameter of the largest disc in the part. */
static bool measure_body(FeatureMasks *m, double *out, Err *err) {
    int32_t *squared = m->other, most = 0;
    for (size_t i = 0; i < m->points; i++) m->spare[i] = !m->own[i];
    if (!distance_transform(m->spare, m->box.w, m->box.h, squared, NULL, err)) return false;
    for (size_t i = 0; i < m->points; i++) most = squared[i] > most ? squared[i] : most;
    *out = 2 * sqrt(most) - 0.5;
    return true;
}

static bool find_arms(FeatureMasks *m, const FeatureSizes *sizes, Err *err) {
    double body = 0;
    if (!measure_body(m, &body, err)) return false;
    double across = fmin(arm_body * body, sizes->gap_most);
    if (across <= sizes->least) return true;
    memcpy(m->arms, m->own, m->points);
    if (!masks_open(m, m->arms, across, err)) return false;
    for (size_t i = 0; i < m->points; i++) m->arms[i] = m->own[i] && !m->arms[i];
    return !holds_any(m->arms, m->points) || masks_open(m, m->arms, sizes->least, err);
}

bool masks_find(FeatureMasks *m, const FeatureSizes *sizes, Err *err) {
    return find_gaps(m, sizes, err) && find_arms(m, sizes, err);
}
