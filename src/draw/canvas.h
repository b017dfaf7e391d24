/* A picture that cairo draws on. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_CANVAS_H
#define LOGOCANE_CANVAS_H

#include "model/colour.h"
#include "model/image.h"
#include "model/job.h"

#include <cairo.h>

typedef struct Canvas {
    cairo_t *cr; /* in px, y down; owned; NULL before canvas_open and after canvas_close */
    double px_per_mm;
} Canvas;

/* Opens a canvas filled with one colour. What goes wrong is told by canvas_close. */
void canvas_open(Canvas *canvas, int width, int height, double px_per_mm, Rgb8 ground);

/* Lays pixels [height][width][4], sRGB with straight alpha, into the box of w x h px at (x, y), scaled if
 * they must be. False and ERR_MEMORY if that fails. */
bool canvas_lay(Canvas *canvas, const uint8_t *rgba, int width, int height, double x, double y, double w,
                double h, Err *err) MUST_CHECK;

/* Lays the job's finished cut, drawn `side` px large (draw_face), into the square of w px at (x, y). */
bool canvas_lay_face(Canvas *canvas, const Job *job, int side, double x, double y, double w,
                     Err *err) MUST_CHECK;

/* Ends the drawing and frees the canvas whatever happens. `good`: was all drawn? If not, false, as the step
 * that failed has said. Else *out is the image, opaque; fails with ERR_MEMORY only. *out is untouched where
 * this returns false. */
bool canvas_close(Canvas *canvas, bool good, Image *out, Err *err) MUST_CHECK;

/* The colour that cairo draws with next. */
void canvas_ink(cairo_t *cr, Rgb8 colour, double alpha);

/* Draws the path as a line of that width. */
void canvas_stroke(cairo_t *cr, double width);

/* The outline of a box with corners rounded to the radius r, as a path. */
void canvas_round_box(cairo_t *cr, double x, double y, double w, double h, double r);

/* --- type: lines of text, in any script ---
 *
 * Set by Pango in DejaVu Sans; a character that it lacks comes from another font of the system, if one has
 * it, else it is a box with its number. Right-to-left writing runs from the right. Sizes and places in the
 * units of the drawing; y is the line that letters stand on. What goes wrong shows in the state of the
 * drawing (cairo_status). */

typedef enum Align { ALIGN_LEFT, ALIGN_CENTRE, ALIGN_RIGHT } Align;

/* Text on the line y; cleaned first. Returns its width. */
double type_show(cairo_t *cr, double x, double y, double size, bool bold, Align align, const char *text);

/* The same made to fit `room`: smaller by up to a third, then with its middle left out. */
double type_fit(cairo_t *cr, double x, double y, double size, bool bold, double room, const char *text);

/* Words broken into lines of `room`, the first on the line y; returns the line below the last. */
double type_wrap(cairo_t *cr, double x, double y, double size, bool bold, double room, const char *text);

/* How far down type_wrap would go. */
double type_height(cairo_t *cr, double size, bool bold, double room, const char *text);

double type_width(cairo_t *cr, double size, bool bold, const char *text);

#endif
