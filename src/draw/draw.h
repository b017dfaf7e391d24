/* Public. Images and sheets. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_DRAW_DRAW_H
#define LOGOCANE_DRAW_DRAW_H

#include "base/err.h"
#include "model/image.h"
#include "model/job.h"
#include "model/sweep_table.h"

#include <stdio.h>

/* --- fonts: what drawing text needs of the system --- */

/* Is there a font to draw with, one that can be scaled and has letters and digits? Else ERR_SYSTEM: without
 * one all sheets would be empty of words. */
bool draw_fonts(Err *err) MUST_CHECK;

/* What is called before the libraries that draw text end the program. A value: no stage fills it. */
typedef struct LastCall {
    void (*call)(void *user);
    void *user;
} LastCall;

/* GLib, on which Pango stands, ends the program where it gets no memory or no thread: `last` is called
 * before, by the thread that met it. NULL: nothing is, as at the start. Not while others draw. */
void draw_before_end(const LastCall *last);

/* --- draw_face: the finished cut, large --- */

/* The softened face in its jacket, with stripes, side x side px, anti-aliased, transparent outside; px_per_mm
 * from the piece's diameter. Fails with ERR_MEMORY only; *out is then untouched. */
bool draw_face(const Job *job, int side, Image *out, Err *err) MUST_CHECK;

/* --- draw_logo: the logo by itself, and where the places lie on both --- */

/* What is seen through a logo where it is transparent. */
typedef struct LogoGround {
    bool clear;         /* it is transparent somewhere */
    const Candy *candy; /* that stands there, the job's; NULL = none, it lies beyond the picture: a chequer */
} LogoGround;

LogoGround logo_ground(const Job *job);

/* The logo as it was read, at most `most` px on its longer side, on its logo_ground; opaque. Fails with
 * ERR_MEMORY only; *out is then untouched. */
bool draw_logo(const Job *job, int most, Image *out, Err *err) MUST_CHECK;

/* The ring round a place: a box with round corners. A value: flaw_ring fills it. */
typedef struct FlawRing {
    Point middle; /* in shares of the side of a picture of the whole log, as draw_face's, from left and top */
    double w, h;  /* likewise */
} FlawRing;

/* Where flaw number `flaw` + 1 is ringed. */
FlawRing flaw_ring(const Job *job, int flaw);

/* The log's circle on the logo, in pixels of the Picture: where a point of the face lies on it. */
Circle log_on_logo(const Job *job);

/* --- draw_check: what cannot be built, beside what can --- */

/* The logo as sent beside the finished cut, at one scale, 1600 px wide: strokes and gaps finer than hands lay
 * tinted on the logo, the job's flaws ringed on both and numbered as in the text, and listed. Fails with
 * ERR_MEMORY only; *out is then untouched. */
bool draw_check(const Job *job, Image *out, Err *err) MUST_CHECK;

/* --- draw_size: both ends at true size --- */

/* The picture and, right of it, its mirror image as on the other end, at 600 px an inch, over rules of 20 mm
 * and half an inch and a legend; opaque, on white; px_per_mm set. Fails with ERR_MEMORY only; *out is then
 * untouched. */
bool draw_size(const Job *job, Image *out, Err *err) MUST_CHECK;

/* --- draw_mockup: the picture for the client --- */

/* Some two dozen pieces on a table, and a card with one face large, the logo as sent, the candies and the
 * size; `width` px wide (1600 for e-mail), three quarters as high, opaque. Fails with ERR_MEMORY only; *out
 * is then untouched. */
bool draw_mockup(const Job *job, int width, Image *out, Err *err) MUST_CHECK;

/* --- draw_sweep: a sweep as a picture --- */

enum { SWEEP_FACE = 132 }; /* px: the side of a row's face */

/* The faces, a column a piece size, a row an order, each with its verdict, likeness and ropes below. Every
 * row of the table needs a face of SWEEP_FACE px. Fails with ERR_MEMORY only; *out is then untouched. */
bool draw_sweep(const SweepTable *table, Image *out, Err *err) MUST_CHECK;

/* --- draw_bench: the sheets to build from --- */

/* bench.pdf: what to cook and in which order to work; the log's section, every rope numbered; the blocks in
 * build order; the ropes to pull; the sheets to roll. A4, US Letter if the order speaks inches. Same job,
 * same bytes. Fails with ERR_MEMORY; a write that failed shows when the file is closed. */
bool draw_bench(const Job *job, FILE *file, Err *err) MUST_CHECK;

#endif
