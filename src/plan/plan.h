/* Public. The stages that plan a log, in the order in which they run. SPDX-License-Identifier: MIT
 *
 * Each leaves *out untouched where it fails, with ERR_MEMORY if nothing else is said. */
#ifndef LOGOCANE_PLAN_PLAN_H
#define LOGOCANE_PLAN_PLAN_H

#include "base/err.h"
#include "model/block.h"
#include "model/candy.h"
#include "model/cane.h"
#include "model/choice.h"
#include "model/even_letters.h"
#include "model/grid.h"
#include "model/ink.h"
#include "model/judgement.h"
#include "model/layup.h"
#include "model/order.h"
#include "model/shop.h"

/* --- match_candy: each ink becomes a candy --- */

/* The exact minimum of sum weight_i colour_cost(ink_i, candy_i) + sum border_ij max(0, min(dE(ink_i, ink_j),
 * 25) - dE(candy_i, candy_j)) + what the dyed batches cost, over all ways to give each ink a candy of the
 * stock or one dyed to order, at most order->colours different; ties to the earlier candy of the stock, inks
 * by falling area. An ink weighs its area, or an eighth of its borders if that is more. Clear candy, and
 * a field that is dyed, are taken only where they are asked for. Wishes (-m) and the field (-f) are kept; a
 * wish may name a candy that is dyed to order, or a blend: that is none of the different ones, but its two
 * candies are. Resolves the jacket: the field's candy, or as asked for; of
 * "auto" that and the largest other candy of the picture. Fails with ERR_USAGE on a candy name that is not in
 * the stock or fits several (the message lists the stock), on what is no blend (model/blend.h), on a wished
 * ink that no ink of the logo is near (lists the inks), on two different wishes for one ink, on wishes that
 * need more than order->colours candies, or than a picture holds, and on stripes that are no multiple of the
 * jacket's candies, or more than one in a jacket of one candy. */
bool match_candy(const InkMap *inks, const Order *order, const Shop *shop, Palette *out, Err *err) MUST_CHECK;

/* Several palettes that differ, match_candy's first: others with a candy less, or without one of its candies.
 * Fails as match_candy does. */
bool match_candies(const InkMap *inks, const Order *order, const Shop *shop, Palettes *out,
                   Err *err) MUST_CHECK;

/* --- named_candies: what an order names, before there is a logo --- */

/* Fails with ERR_USAGE, as match_candy does, on a candy or blend that no logo has with this shop: one that is
 * neither in the stock nor what a dyed one may be called. */
bool check_candies(const Order *order, const Shop *shop, Err *err) MUST_CHECK;

/* --- size_cane: order and shop become a log --- */

/* Sizes log and cane for the order: as many logs as the mass limit asks for, each as thick as the
 * least length allows, the core a whole number of steps. The densest finish in use, jacket included, counts.
 * Fails with ERR_USAGE if the piece is not thinner than the thinnest log. */
bool size_cane(const Order *order, const Palette *palette, const Shop *shop, Cane *out, Err *err) MUST_CHECK;

/* --- frame: the picture is laid on the core --- */

/* Places the matched logo on the core (the enclosing circle on the core less a quarter of a least strip; a
 * roundel without margin; full-bleed cropped or fitted), finds the rings, and says how far
 * the candies are apart. */
bool frame(const InkMap *inks, const Palette *palette, const LayKey *key, Grid *out, Err *err) MUST_CHECK;

/* --- redraw: what hands should aim at --- */

/* Leaves thin lines out of grid->wanted, or thickens them, and says which in grid->redrawn; what was there
 * before becomes grid->sent, if anything was redrawn. Fails with ERR_MEMORY only; the grid is as it was then.
 */
bool redraw(Grid *grid, RedrawWay way, Err *err) MUST_CHECK;

/* The same, but letters in rows stay as they were sent: for even_letters. */
bool redraw_but_letters(Grid *grid, RedrawWay way, Err *err) MUST_CHECK;

/* --- cost_cells: what each candy would cost in each cell --- */

/* Fills grid->cost and grid->weight from what is wanted, thin strokes and gaps weighing up to twice
 * (docs/numbers.md). They may be set after a failure, and are the grid's to free. */
bool cost_cells(Grid *grid, Err *err) MUST_CHECK;

/* --- even_letters: letters in rows are made even --- */

enum { EVEN_WISHES = 7 };

/* What is worth trying, 0..EVEN_WISHES - 1, the boldest first. */
EvenWish even_wish(int i);

/* Redraws the letters of grid->wanted that stand in rows: strokes all as thick, their gaps no narrower than
 * wished. made[side][side], a copy of the face at call, is redrawn; so many rows, and which letters, says
 * *out. A row that does not have the room, or has no counters and bays, stays as it is. Nothing but the row's
 * ground is drawn over, and the letters keep clear of all else. Rings are not looked at: they may change,
 * since letters may grow into a ring of their ground. Fails with ERR_MEMORY only; *out is then untouched. */
bool even_letters(const Grid *grid, const EvenWish *wish, uint8_t *made, EvenLetters *out,
                  Err *err) MUST_CHECK;

/* Do letters stand in rows in grid->wanted? Fails with ERR_MEMORY only. */
bool any_letters(const Grid *grid, bool *any, Err *err) MUST_CHECK;

/* The same grid with another wanted face, [side][side]: rings are found anew, there are no costs yet. Fails
 * with ERR_MEMORY only; *out is then untouched. */
bool frame_redrawn(const Grid *grid, const LayKey *key, const uint8_t *wanted, Grid *out,
                   Err *err) MUST_CHECK;

/* --- lay_up: the cells become ropes: a slicing tree of straight cuts at any slope --- */

/* A tree over the grid's square, searched for the least sum of the leaves' costs + lambda * ropes, lambda by
 * key->detail, or the least price that was tried at which ropes laid are within key->ropes_cap. Hands can
 * form every rope by the key's limits (a grid narrower than the least side is one strip). Every cut ends at
 * whole or half steps along the sides of the block that it parts. A picture that is its own mirror image
 * stays it, unless a sheet all round something is worth a tenth of all. */
bool lay_up(const Grid *grid, const LayKey *key, LayUp *out, Err *err) MUST_CHECK;

/* The exact optimum with upright, level and corner-to-corner cuts alone, quickly: to compare pictures by. */
bool lay_up_straight(const Grid *grid, const LayKey *key, LayUp *out, Err *err) MUST_CHECK;

/* --- find_blocks: the tree becomes blocks to build --- */

/* Flattens the slicing tree into rows and stacks, whose items are joined by whole straight cuts, finds equal
 * blocks up to the eight placements and puts them in build order. A log of one rope has no blocks. */
bool find_blocks(const Grid *grid, const LayUp *layup, Blocks *out, Err *err) MUST_CHECK;

/* --- find_wrong_ways: which blocks could be laid in the wrong way round --- */

/* Sets mirrored_risk, turned_risk and looks_the_same of each block: a way to lay it, other than the right
 * one, that goes into its place, rim included, and gives a face that is neither the intended one nor the
 * whole of it turned or mirrored. It goes in where the two outlines, laid on each other as well as they go,
 * are nowhere farther apart than `apart` steps, or a tenth of the block's longer side if that is more; apart
 * 0: only where they are the same. The log itself has no wrong way: each piece shows the picture on one end
 * and its mirror image on the other. Fails with ERR_MEMORY only. */
bool find_wrong_ways(const Grid *grid, const LayUp *layup, double apart, Blocks *blocks, Err *err) MUST_CHECK;

/* --- soften: what rolling does to the lay-up --- */

/* The face as it comes out: the laid-up section, rings included, with corners rounded as by threshold
 * dynamics, the area of each candy kept to 0.5 %. `out` covers the whole core, OUTSIDE beyond it. */
bool soften(const Grid *grid, const LayUp *layup, const LayKey *key, Face *out, Err *err) MUST_CHECK;

/* The same of the wanted face itself, as if it could be laid without ropes: what lay-ups are measured
 * against. Few come out nearer to the wanted face, by ropes that happen to make up for the rounding. */
bool soften_free_hand(const Grid *grid, const LayKey *key, Face *out, Err *err) MUST_CHECK;

/* --- mark_fine: wanted face and lay-up -> what of it is finer than hands lay --- */

/* Strokes of any candy but the field, and gaps (field), thinner than a least strip, or than half of it in a
 * fine block; inside the rings. */
bool mark_fine(const Grid *grid, const LayUp *layup, FineMap *out, Err *err) MUST_CHECK;

#endif
