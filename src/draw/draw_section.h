/* Ropes and blocks as the builder sees them: the face end, hatched and numbered. SPDX-License-Identifier: MIT
 */
#ifndef LOGOCANE_DRAW_SECTION_H
#define LOGOCANE_DRAW_SECTION_H

#include "model/job.h"

#include <cairo.h>

/* Where steps of the core's square come to lie on the page. */
typedef struct View {
    cairo_t *cr;    /* not owned */
    const Job *job; /* not owned */
    double x, y;    /* pt: the page's place of the square's top left corner */
    double scale;   /* pt a step */
    bool mirrored;  /* seen from the other end: x goes to the left */
} View;

/* The outline of what lies inside `box` and the core as a path. */
void box_path(const View *view, Box box);

/* Saves the state and keeps what follows inside the core, until cairo_restore. */
void core_clip(const View *view);

/* Fills all ropes inside the box with their candy, thin lines round them. */
void ropes_draw(const View *view, Box box);

/* The rope's number, or, white on black, the block's (index + 1) in the box from low to high (steps): as
 * large as fits inside it and the core, at most `largest` pt. */
void rope_label(const View *view, const Rope *rope, double largest);
void block_label(const View *view, Point low, Point high, int block, double largest);

/* The whole log round (x, y), scale pt a mm: jacket, rings, every rope numbered, small ones beside the log,
 * led to their ropes; trims are numbered on the jacket. Fails with ERR_MEMORY only. */
bool section_draw(cairo_t *cr, const Job *job, double x, double y, double scale, Err *err) MUST_CHECK;

/* The same without numbers, from either end: a test slice shows the one or the other. */
void slice_draw(cairo_t *cr, const Job *job, double x, double y, double scale, bool mirrored);

/* A small log of diameter `size` round (x, y) with the block's first place in black, further ones in grey. */
void key_draw(cairo_t *cr, const Job *job, double x, double y, double size, int block);

#endif
