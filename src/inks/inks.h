/* Public. A Picture becomes an InkMap. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_INKS_INKS_H
#define LOGOCANE_INKS_INKS_H

#include "base/err.h"
#include "model/ink.h"
#include "model/order.h"
#include "model/picture.h"

/* --- find_inks: the flat colours of a logo --- */

/* Finds the inks of the picture and the ink of each pixel, the field, the circle that comes on the core, the
 * roundel and the shaded share; a picture without a background is cropped to a disc, or laid whole on a
 * field, as it suits it. Fails with ERR_MEMORY only; *out is then untouched. Free with inkmap_free. */
bool find_inks(const Picture *picture, InkMap *out, Err *err) MUST_CHECK;

/* The same, cropped or whole as asked for. A logo on a background is whole unless a crop is asked for: then
 * it is the disc in the middle of its box. A roundel is a disc anyway. */
bool find_inks_fit(const Picture *picture, Fit fit, InkMap *out, Err *err) MUST_CHECK;

/* --- count_inks: how much there is of each ink, and which meet --- */

/* Fills in the shares of the map's inks, map->border and map->across from the labels, circle and field. Two
 * inks, both wide enough to be built, meet across on each row and column where they have no more between them
 * than lines that together are too thin to be built (up to 3 % of the circle's diameter, about half a least
 * strip in a small order). The field goes on beyond the picture. Fails with ERR_MEMORY only. */
bool count_inks(InkMap *map, Err *err) MUST_CHECK;

/* --- find_edges: where the drawing ends --- */

/* Fills in map->cuts and map->open from labels, field, circle and shares: find_inks does, and whoever changes
 * the labels must. Fails with ERR_MEMORY only. */
bool find_edges(InkMap *map, Err *err) MUST_CHECK;

/* --- leave_out: parts left out and inks joined, as asked for --- */

/* The map with the edits made, in their order; the same, as a copy, if there are none. Without its lettering
 * the picture is closed up: its circle becomes that of what stays. Fails with ERR_USAGE, naming it, on a
 * point of the open background (field that goes on to the edge of the picture, or out of the circle) or
 * outside the circle, if nothing would be left, where there is no lettering or no drawing beside it, on a
 * join of inks that the logo does not have or that are one, and with ERR_MEMORY; *out is then untouched. The
 * caller frees it. */
bool leave_out(const InkMap *from, const Edit *edit, int edits, InkMap *out, Err *err) MUST_CHECK;

/* How much of what is drawn is lettering, 0..1: parts of one ink that stand in rows as letters do, and what
 * goes with them. 0 if there is none, or no drawing beside it; what is not sure to be lettering is none.
 * Fails with ERR_MEMORY only. */
bool find_lettering(const InkMap *map, double *share, Err *err) MUST_CHECK;

/* Numbers the areas that a point can name, in reading order of their first pixels: area[height][width];
 * returns how many there are. */
int ink_areas(const InkMap *map, int32_t *area);

#endif
