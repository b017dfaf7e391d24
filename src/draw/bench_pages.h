/* What the bench sheets are drawn with, and their pages. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_BENCH_PAGES_H
#define LOGOCANE_BENCH_PAGES_H

#include "model/job.h"
#include "draw/figures.h"
#include "draw/sheet.h"

/* --- pages --- */

/* The finished cut from both ends, and at true size, below the section. Fails with ERR_MEMORY only. */
bool draw_slices(Sheet *sheet, const Job *job, Err *err) MUST_CHECK;

/* The plan of work: a page or more. */
void draw_day(Sheet *sheet, const Job *job);

/* The ropes in the order in which they are needed, a page or more. */
void draw_needed(Sheet *sheet, const Job *job);

/* Blanks to write down what came out. */
void draw_notes(Sheet *sheet, const Job *job);

/* As many pages as they take; none if the log is a single rope. Fails with ERR_MEMORY only. */
bool draw_blocks(Sheet *sheet, const Job *job, Err *err) MUST_CHECK;

/* Rope types with their pulls, and what is pressed in, by candy; then the sheets. */
void draw_lists(Sheet *sheet, const Job *job);

/* Sheets round blocks, rings and jacket, a section of their own. */
void draw_sheets(Sheet *sheet, const Job *job);

/* A small area hatched as the candy, its lower left corner at (x, y). */
void swatch_draw(Sheet *sheet, const Job *job, const Candy *candy, double x, double y, double w, double h);

/* --- draw_form: the sections of ropes --- */

enum { SHAPE_AT = 36 }; /* pt from the margin: where a section stands in the list */

/* The section of a type in a box of w x h with its upper left corner at (x, y): its shape, not its size, and
 * thicker if it could not be seen. A rim rope as it lies in the log, the core's edge up. */
void shape_draw(Sheet *sheet, const Job *job, const RopeRow *row, double x, double y, double w, double h);

/* The section to scale, and how to form it, which tells all its measures, from the sheet's y; returns how
 * high that is. With `show` false nothing is drawn. */
double form_draw(Sheet *sheet, const Job *job, const RopeRow *row, double scale, bool show);

/* --- section_paths: ropes, sheets and blocks as paths, and filled --- */

/* Where steps of the core's square come to lie on the page. */
typedef struct View {
    cairo_t *cr;    /* not owned */
    const Job *job; /* not owned */
    double x, y;    /* pt: the page's place of the square's top left corner */
    double scale;   /* pt a step */
    bool mirrored;  /* seen from the other end: x goes to the left */
} View;

/* Where a place in steps comes to lie on the page, pt. */
double view_x(const View *view, double x);
double view_y(const View *view, double y);

/* The outline, in steps, as a path; if it is round the disc in that square. */
void section_path(const View *view, const Outline *outline, bool round);
void disc_path(const View *view, Circle disc);

/* Saves the state and keeps what follows inside the core, until cairo_restore. */
void core_clip(const View *view);

/* Fills all ropes and sheets inside the block's outline with their candy, thin lines round them. */
void ropes_draw(const View *view, const Outline *block);

/* --- draw_section: the log as the builder sees it, the face end, and numbers in it --- */

/* A nick: a notch that points into a block. */
typedef struct Nick {
    Point tip;  /* steps */
    Point into; /* of length 1 */
} Nick;

/* The rope's number, or, white on black, the block's (index + 1): as large as fits inside the outline (if it
 * is round inside the disc in it; of a rest outside what is round), the core and, of a block, what lies
 * behind its nick or on one side of it, `half` steps off its middle; at most `largest` pt. */
void rope_label(const View *view, const Rope *rope, double largest);
void block_label(const View *view, const Outline *outline, bool round, Nick nick, double half, int block,
                 double largest);

/* The whole log round (x, y), scale pt a mm, from either end: jacket, rings, ropes, sheets. Returns where its
 * steps lie. */
View slice_draw(cairo_t *cr, const Job *job, double x, double y, double scale, bool mirrored);

/* The same from the face end with every rope numbered, small ones beside the log, led to their ropes; trims
 * are numbered on the jacket. Fails with ERR_MEMORY only. */
bool section_draw(cairo_t *cr, const Job *job, double x, double y, double scale, Err *err) MUST_CHECK;

/* A small log of diameter `size` round (x, y) with the block's first place in black, further ones in grey. */
void key_draw(cairo_t *cr, const Job *job, double x, double y, double size, int block);

/* --- block_list: what goes into a block, on its card --- */

/* From the head on, `room` pt wide; how high it is. */
double block_list_height(Sheet *sheet, const Job *job, const Block *block, double room);
void block_list_draw(Sheet *sheet, const Job *job, const Block *block, double x, double y, double room);

/* --- cut_figures: where the joins of a block stand --- */

enum { NICK_ROOM = 14 }; /* pt above a block's drawing */

/* The figures beside a block that is drawn `scale` pt a step, from the top left of what of it lies inside the
 * core; none beside a rectangle whose cuts are all upright or all level, but those of how far in something
 * round stands. The box includes the nick. */
void cut_figures(const Job *job, const Block *block, double scale, Figures *out);

/* The nick of a block as it is built: in the middle of its top. */
Nick block_nick(const Job *job, const Block *block);

/* --- callouts: numbers beside a drawing, led to what they name --- */

/* Gives each of `anchors` points a place of its own among `places`, at least as many: the index in place_of.
 * Leads are straight; they are short together, so no two of them cross. Nearest first, then exchanges as long
 * as they shorten. Cost: O(anchors * places) a pass, a few passes. */
void callouts_assign(const Point *anchor, int anchors, const Point *place, int places, int *place_of);

/* --- hatch: candies told apart in black and white --- */

enum { HATCHES = 13 }; /* distinct ones; number 0 is plain */

/* The number of a candy's hatch: the same in every job, by its place in the shop's stock, or its name; the
 * next free one if another candy of the picture, the jacket or a blend has it. The field's is plain, 0;
 * beyond HATCHES candies some are alike. */
int hatch_of(const Job *job, const Candy *candy);

/* Fills the path, which stays, with the candy's tint and hatch. `size` is the hatch's repeat in pt, 3..12. */
void hatch_fill(cairo_t *cr, int hatch, Rgb8 colour, double size);

/* Fills the path as that candy and draws its outline, a line of that width in pt. */
void candy_fill(cairo_t *cr, const Job *job, const Candy *candy, double line);

#endif
