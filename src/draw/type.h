/* Lines of text in drawings, in any script. SPDX-License-Identifier: MIT
 *
 * Set by Pango in DejaVu Sans; a character that it lacks comes from another font of the system, if one has
 * it, else it is a box with its number. Right-to-left writing runs from the right. Sizes and places in the
 * units of the drawing; y is the line that letters stand on. What goes wrong shows in the state of the
 * drawing (cairo_status). */
#ifndef LOGOCANE_TYPE_H
#define LOGOCANE_TYPE_H

#include <cairo.h>
#include <stdbool.h>

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
