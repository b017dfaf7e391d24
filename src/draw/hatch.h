/* Candies told apart in black and white: a hatch each, over a light tint. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_HATCH_H
#define LOGOCANE_HATCH_H

#include "model/bill.h"

#include <cairo.h>

enum { HATCHES = 13 }; /* distinct ones; number 0 is plain */

/* The number of a candy's hatch: its place among the materials. The field comes first there and stays plain;
 * beyond HATCHES they begin anew with 1. */
int hatch_of(const Bill *bill, const Candy *candy);

/* Fills the path, which stays, with the candy's tint and hatch. `size` is the hatch's repeat in pt, 3..12. */
void hatch_fill(cairo_t *cr, int hatch, Rgb8 colour, double size);

#endif
