/* What the bench is told about a block. SPDX-License-Identifier: MIT */
#include "say/bench_words.h"

#include "base/text.h"
#include "model/wrapped.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { CUTS = 8 }; /* kinds of pieces cut from one block: two are rare */

/* What the lines of one block are written from and to. */
typedef struct Writer {
    const Job *job;     /* not owned */
    int index;          /* of the block */
    const Block *block; /* not owned */
    BlockWords out;     /* filled line by line */
} Writer;

const char *block_kind_name(BlockKind kind) {
    static const char *const name[] = {
        [BLOCK_ROW] = "row", [BLOCK_STACK] = "stack", [BLOCK_WRAPPED] = "wrapped", [BLOCK_ROUND] = "round"};
    return name[kind];
}

void block_kind_words(const Block *block, char out[32]) {
    if (block->kind == BLOCK_WRAPPED)
        (void)snprintf(out, 32, block->wraps > 1 ? "in two sheets" : "in a sheet");
    else if (block->kind == BLOCK_ROUND)
        (void)snprintf(out, 32, "round in its rest");
    else
        (void)snprintf(out, 32, "%s of %d", block_kind_name(block->kind), block->items);
}

const char *block_list_words(BlockKind kind) {
    static const char *const words[] = {[BLOCK_ROW] = "left to right:",
                                        [BLOCK_STACK] = "top to bottom:",
                                        [BLOCK_WRAPPED] = "inside first:",
                                        [BLOCK_ROUND] = "inside first:"};
    return words[kind];
}

const char *build_way_name(BuildWay way) {
    static const char *const name[] = {"once", "thicker", "longer", "fine", "each"};
    return name[way];
}

const char *placement_words(Placement way) {
    static const char *const name[2][4] = {
        {"as built", "a quarter turn right", "a half turn", "a quarter turn left"},
        {"end for end", "end for end, then a quarter turn right", "end for end, then a half turn",
         "end for end, then a quarter turn left"}};
    return name[way.mirrored][way.turn];
}

void block_uses_print(const Blocks *blocks, int block, char *out, size_t size) {
    int count[PLACEMENTS] = {0};
    out[0] = 0;
    if (blocks->block[block].made < 2) return;
    for (int i = 0; i < blocks->uses; i++)
        if (blocks->use[i].block == block)
            count[blocks->use[i].motion.way.mirrored * 4 + blocks->use[i].motion.way.turn]++;
    (void)snprintf(out, size, "x%d", blocks->block[block].made);
    for (int i = 1; i < PLACEMENTS; i++) {
        if (count[i] == 1) text_append(out, size, ", one %s", placement_words(placement(i)));
        if (count[i] > 1) text_append(out, size, ", %d %s", count[i], placement_words(placement(i)));
    }
}

void block_size_print(const Job *job, const Block *block, bool turned, double scale, char out[96]) {
    double mm = job->cane.step_mm * scale, w = (block->high.x - block->low.x) * mm;
    double h = (block->high.y - block->low.y) * mm;
    if (block_is_round(&job->layup, block)) {
        char across[64];
        across_print(across, sizeof across, w, job->order.units);
        (void)snprintf(out, 96, "%s across", across);
        return;
    }
    section_print(out, 96, turned ? h : w, turned ? w : h, job->order.units, false);
}

/* Is the longer side of the rope's section, the one its width is told of, nearer to upright than to level as
 * drawn? */
static bool stands_upright(const Rope *rope) {
    const Outline *o = &rope->outline;
    int base = 0;
    if (rope->rim) return false; /* along the edge, as its list has it */
    (void)section_of(o, &base);
    Point a = o->corner[base], b = o->corner[(base + 1) % o->corners];
    return fabs(b.y - a.y) > fabs(b.x - a.x);
}

void item_words(const Job *job, const Block *holder, const Item *item, char size[ROPE_SIZE],
                const char **way) {
    Placement laid = item->motion.way;
    *way = item->is_block && (laid.mirrored || laid.turn) ? placement_words(laid) : "";
    if (item->is_block) {
        const Block *block = &job->blocks.block[item->index];
        block_size_print(job, block, laid.turn % 2, holder->scale, size);
        if (block_is_round(&job->layup, block)) unit_drop(size); /* "across" */
        unit_drop(size);
        if (block_is_round(&job->layup, block)) text_append(size, ROPE_SIZE, " across");
        return;
    }
    const Rope *rope = &job->layup.rope[item->index];
    if (rope->rest)
        block_rest_words(job, holder, size);
    else if (rope->trim)
        (void)snprintf(size, ROPE_SIZE, "a trim");
    else
        rope_section_print(&job->bill.rope[rope->type], holder->scale, stands_upright(rope), job->order.units,
                           size);
}

/* Which ways of laying a block in spoil the picture. */
typedef enum Caution { CAUTION_BOTH, CAUTION_MIRRORED, CAUTION_TURNED, CAUTION_NONE } Caution;

enum { CAUTIONS = CAUTION_NONE + 1 };

static const Term caution_term[CAUTIONS] = {
    [CAUTION_BOTH] = {"ONE WAY ONLY",
                      "marked end to you, nick up; turned or end for end it spoils every piece."},
    [CAUTION_MIRRORED] = {"MARKED END TO YOU", "end for end it spoils every piece; turned it does no harm."},
    [CAUTION_TURNED] = {"NICK UP", "lay it as drawn; turned it spoils every piece."},
    [CAUTION_NONE] = {"CANNOT GO WRONG", ""}};

/* The tenth is that of find_wrong_ways. */
static void any_way_print(const Job *job, char out[TERM_SIZE]) {
    char apart[32], large[32];
    hand_print(apart, sizeof apart, job->shop->fits_within_mm, job->order.units);
    hand_print(large, sizeof large, job->shop->fits_within_mm * 10, job->order.units);
    (void)snprintf(out, TERM_SIZE,
                   "turned or end for end, no wrong way goes in: not even with its edges up to %s off their "
                   "place or, if its longer side is over %s, a tenth of that.",
                   apart, large);
}

static Caution caution_of(const Block *block) {
    if (block->mirrored_risk) return block->turned_risk ? CAUTION_BOTH : CAUTION_MIRRORED;
    return block->turned_risk ? CAUTION_TURNED : CAUTION_NONE;
}

/* Is a join neither upright nor level? */
static bool any_join_slanted(const Blocks *blocks) {
    for (int i = 0; i < blocks->items; i++) {
        const Point *cut = blocks->item[i].cut;
        if (fabs(cut[0].x - cut[1].x) > 1e-9 && fabs(cut[0].y - cut[1].y) > 1e-9) return true;
    }
    return false;
}

/* The last block is the log, which has no wrong way round. */
int block_terms(const Job *job, Term out[TERMS]) {
    const Blocks *blocks = &job->blocks;
    bool used[CAUTIONS] = {false}, cut = false, kind[BLOCK_ROUND + 1] = {false};
    int terms = 0;
    for (int i = 0; i + 1 < blocks->blocks; i++) {
        const Block *block = &blocks->block[i];
        used[caution_of(block)] = true;
        cut |= block->way != BUILD_ONCE && block->way != BUILD_EACH;
    }
    for (int i = 0; i < blocks->blocks; i++) kind[blocks->block[i].kind] = true;
    out[terms++] =
        any_rope_slanted(&job->bill)
            ? (Term){"SIZES", "width x height, as drawn; of a slanted rope as the page of ropes "
                              "draws it: 12 over 24 x 9 is 12 on top, 24 below, 9 high; 9@3 is 9 "
                              "high at 3 from left, and what stands before a colon is its base; of a rim "
                              "its length, and its thickness in the mean."}
            : (Term){"SIZES", "width x height, as drawn; of a rim its length, and its thickness in "
                              "the mean."};
    if (any_join_slanted(blocks))
        out[terms++] = (Term){
            "FIGURES", "bold: how far along its side a join ends, from the dot; plain: how long a side is."};
    if (kind[BLOCK_WRAPPED])
        out[terms++] =
            (Term){"WRAP", "roll the sheet, lay it round so that its ends just meet, pinch the seam; press "
                           "it flat to each side with a bar, the corners sharp."};
    if (kind[BLOCK_ROUND])
        out[terms++] =
            (Term){"REST", "lay it round while soft, push it into the corners, press the block to shape "
                           "between bars; bold: how far in, from the dots, the round stands."};
    for (int i = 0; i < CAUTIONS; i++)
        if (used[i]) out[terms++] = caution_term[i];
    if (used[CAUTION_NONE]) any_way_print(job, out[terms - 1].meaning);
    if (cut)
        out[terms++] = (Term){"CUT AND NICK",
                              "while you draw and cut it, keep its top up and its nicked end to one side: "
                              "that end of each piece is its face end."};
    if (job->work.tasks > 0)
        out[terms++] = (Term){
            "MIN 21 A", "begin it at minute 21 of the day, person A; a second one: it is laid up then."};
    return terms;
}

static void say(Writer *e, bool bold, const char *text) {
    if (e->out.lines == WORDS_LINES || !text[0]) return;
    (void)snprintf(e->out.line[e->out.lines], WORDS_SIZE, "%s", text);
    e->out.bold[e->out.lines++] = bold;
}

/* Pieces of one thickness and length that are cut from the block. */
typedef struct CutPieces {
    double scale; /* their sides against those in the log */
    double length_mm;
    int pieces; /* how many */
} CutPieces;

static bool block_holds(const Blocks *blocks, int holder, int block) {
    const Block *h = &blocks->block[holder];
    for (int i = h->first_item; i < h->first_item + h->items; i++)
        if (blocks->item[i].is_block && blocks->item[i].index == block) return true;
    return false;
}

/* Is the cut made before (< 0), with or after the pieces for the holder? Equal sizes may come by other sums.
 */
static int order_cuts(const CutPieces *cut, const Block *holder) {
    double thicker = cut->scale - holder->scale, longer = cut->length_mm - holder->length_mm;
    if (fabs(thicker) > 1e-9) return thicker > 0 ? -1 : 1;
    return fabs(longer) < 1e-6 ? 0 : longer > 0 ? -1 : 1;
}

/* The thickest first, the longer of equal ones first. */
static int list_cuts(const Writer *e, CutPieces cut[CUTS]) {
    const Blocks *blocks = &e->job->blocks;
    int cuts = 0;
    for (int h = e->index + 1; h < blocks->blocks; h++) {
        const Block *holder = &blocks->block[h];
        for (int i = holder->first_item; i < holder->first_item + holder->items; i++) {
            if (!blocks->item[i].is_block || blocks->item[i].index != e->index) continue;
            int at = 0;
            while (at < cuts && order_cuts(&cut[at], holder) < 0) at++;
            bool known = at < cuts && order_cuts(&cut[at], holder) == 0;
            if (!known && cuts == CUTS) continue;
            if (!known) {
                memmove(cut + at + 1, cut + at, (size_t)(cuts - at) * sizeof *cut);
                cut[at] = (CutPieces){holder->scale, holder->length_mm, 0};
                cuts++;
            }
            cut[at].pieces += holder->builds;
        }
    }
    return cuts;
}

/* "; draw it out to 12 x 9 mm, 700 mm long; square the ends; cut and nick 2 pieces of 308 mm". */
static void add_cut(const Writer *e, const CutPieces *cut, bool first, double kept, char text[WORDS_SIZE]) {
    const Block *b = e->block;
    Units units = e->job->order.units;
    char drawn[32], piece[32], size[96];
    double drawn_mm = cut->pieces * cut->length_mm / kept;
    if (cut->scale < b->scale - 1e-9) {
        hand_print(drawn, sizeof drawn, drawn_mm, units);
        block_size_print(e->job, b, false, cut->scale, size);
        text_append(text, WORDS_SIZE, "; draw %s out to %s, %s long%s; square the ends",
                    first ? "it" : "the rest", size, drawn,
                    drawn_mm > e->job->shop->bench_length_mm ? " (as much at a time as the bench holds)"
                                                             : "");
    }
    hand_print(piece, sizeof piece, cut->length_mm, units);
    if (cut->pieces > 1)
        text_append(text, WORDS_SIZE, "; cut and nick %d pieces of %s", cut->pieces, piece);
    else
        text_append(text, WORDS_SIZE, "; cut and nick a piece of %s", piece);
}

/* How a block is built from which pieces are cut. */
static void pieces_words(const Writer *e, char text[WORDS_SIZE]) {
    const Block *b = e->block;
    char head[32] = "Fine block", length[32], size[96];
    CutPieces cut[CUTS];
    int cuts = list_cuts(e, cut);
    double volume = 0;
    for (int i = 0; i < cuts; i++) volume += cut[i].pieces * cut[i].scale * cut[i].scale * cut[i].length_mm;
    double kept = volume / (b->builds * b->length_mm * b->scale * b->scale);
    hand_print(length, sizeof length, b->length_mm, e->job->order.units);
    block_size_print(e->job, b, false, b->scale, size);
    if (b->way != BUILD_FINE) (void)snprintf(head, sizeof head, "x%d", b->pieces);
    (void)snprintf(text, WORDS_SIZE, "%s: build it once at %s, %s long", head, size, length);
    for (int i = 0; i < cuts; i++) add_cut(e, &cut[i], i == 0, kept, text);
    text_append(text, WORDS_SIZE, ".");
}

static void say_copies(Writer *e) {
    const Block *b = e->block;
    char text[WORDS_SIZE] = "", length[32];
    hand_print(length, sizeof length, b->length_mm, e->job->order.units);
    if (b->way == BUILD_EACH)
        (void)snprintf(text, sizeof text, "x%d: build it %d times, each %s long; nick each.", b->pieces,
                       b->builds, length);
    else if (b->way != BUILD_ONCE)
        pieces_words(e, text);
    else if (b->scale > 1)
        (void)snprintf(text, sizeof text, "%.3g times as thick as in the log.", b->scale);
    say(e, b->way != BUILD_ONCE, text);
}

/* " as built, 2 end for end": how the holder takes pieces of this block; nothing of one as it was built. */
static void add_ways(const Writer *e, const Block *holder, char *text, size_t size) {
    int count[PLACEMENTS] = {0}, all = 0;
    for (int i = holder->first_item; i < holder->first_item + holder->items; i++) {
        const Item *item = &e->job->blocks.item[i];
        if (!item->is_block || item->index != e->index) continue;
        count[item->motion.way.mirrored * 4 + item->motion.way.turn]++;
        all++;
    }
    const char *before = "";
    for (int i = 0; i < PLACEMENTS; i++) {
        if (count[i] == 0 || (all == 1 && i == 0)) continue;
        text_append(text, size, "%s", before);
        if (count[i] > 1) text_append(text, size, " %d times", count[i]);
        text_append(text, size, " %s", placement_words(placement(i)));
        before = " and";
    }
}

/* "Goes into block 7 as built and end for end; into block 9." */
static void say_holders(Writer *e) {
    const Blocks *blocks = &e->job->blocks;
    char text[WORDS_SIZE] = "";
    for (int h = e->index + 1; h < blocks->blocks; h++) {
        if (!block_holds(blocks, h, e->index)) continue;
        text_append(text, sizeof text, text[0] ? "; into block %d" : "Goes into block %d", h + 1);
        add_ways(e, &blocks->block[h], text, sizeof text);
    }
    if (text[0]) text_append(text, sizeof text, ".");
    say(e, false, text);
}

static void say_way_round(Writer *e) {
    if (e->index + 1 == e->job->blocks.blocks)
        say(e, true, "This is the log: wrap it. It has no wrong way round.");
    else
        say(e, true, caution_term[caution_of(e->block)].word);
    if (e->block->looks_the_same) say(e, true, "LOOKS THE SAME THE OTHER WAY, IS NOT: go by the nick.");
}

void block_words(const Job *job, int block, BlockWords *out) {
    Writer w = {.job = job, .index = block, .block = &job->blocks.block[block]};
    say_way_round(&w);
    say_copies(&w);
    say_holders(&w);
    *out = w.out;
}

void copy_words(const Job *job, int block, char out[WORDS_SIZE]) {
    static const char *const how[] = {[BUILD_THICKER] = ": built thicker, drawn out and cut",
                                      [BUILD_LONGER] = ": built longer and cut",
                                      [BUILD_FINE] = ": a fine block, built at twice its size and drawn down",
                                      [BUILD_EACH] = ": each built"};
    BuildWay way = job->blocks.block[block].way;
    char uses[320];
    out[0] = 0;
    if (way == BUILD_ONCE) return;
    block_uses_print(&job->blocks, block, uses, sizeof uses);
    (void)snprintf(out, WORDS_SIZE, "block %d%s%s%s", block + 1, uses[0] ? " " : "", uses, how[way]);
}

int blocks_at_risk(const Blocks *blocks) {
    int count = 0;
    for (int i = 0; i < blocks->blocks; i++) count += caution_of(&blocks->block[i]) != CAUTION_NONE;
    return count;
}

void risks_words(const Blocks *blocks, char out[WORDS_SIZE]) {
    int mirrored = 0, turned = 0, all = blocks_at_risk(blocks);
    for (int i = 0; i < blocks->blocks; i++) {
        mirrored += blocks->block[i].mirrored_risk;
        turned += blocks->block[i].turned_risk;
    }
    out[0] = 0;
    if (all > 0)
        (void)snprintf(
            out, WORDS_SIZE,
            "%d of the %d blocks spoil%s every piece if laid wrong: %d end for end, %d turned; mark "
            "an end",
            all, blocks->blocks, all == 1 ? "s" : "", mirrored, turned);
}
