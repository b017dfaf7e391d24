/* What the bench is told about a block. SPDX-License-Identifier: MIT */
#include "block_words.h"

#include <stdio.h>
#include <string.h>

typedef struct Writer {
    const Job *job;
    int index;
    const Block *block;
    BlockWords out;
} Writer;

void block_size_print(const Job *job, const Block *block, bool turned, double scale, char out[96]) {
    double mm = job->cane.step_mm * scale, w = (block->high.x - block->low.x) * mm;
    double h = (block->high.y - block->low.y) * mm;
    size_print(out, 96, turned ? h : w, turned ? w : h, job->order.units);
}

static void say(Writer *e, bool bold, const char *text) {
    if (e->out.lines == WORDS_LINES || !text[0]) return;
    (void)snprintf(e->out.line[e->out.lines], WORDS_SIZE, "%s", text);
    e->out.bold[e->out.lines++] = bold;
}

/* "x2: build it once, 1.41 times thicker ...": what to do when it is drawn out. */
static void thicker_words(const Writer *e, char text[WORDS_SIZE]) {
    const Block *b = e->block;
    Units units = e->job->order.units;
    char length[32], drawn[32], piece[32], size[96];
    double drawn_mm = b->length_mm * b->scale * b->scale;
    length_print(length, sizeof length, length_by_hand(b->length_mm, units), units);
    length_print(drawn, sizeof drawn, length_by_hand(drawn_mm, units), units);
    length_print(piece, sizeof piece, length_by_hand(b->piece_mm, units), units);
    block_size_print(e->job, b, false, 1, size);
    (void)snprintf(
        text, WORDS_SIZE,
        "x%d: build it once, %.2f times thicker and %s long. Draw it out to %s%s, square the ends, cut %d "
        "pieces of %s, each %s.",
        b->pieces, b->scale, length, drawn,
        drawn_mm > e->job->shop->bench_length_mm ? ", as much at a time as the bench holds" : "", b->pieces,
        piece, size);
}

/* "Fine block: build it at 32 x 32 mm, 75 mm long ...". */
static void fine_words(const Writer *e, char text[WORDS_SIZE]) {
    const Block *b = e->block;
    Units units = e->job->order.units;
    char length[32], drawn[32], piece[32], built[96], size[96], pieces[64] = "";
    length_print(length, sizeof length, length_by_hand(b->length_mm, units), units);
    length_print(drawn, sizeof drawn, length_by_hand(b->length_mm * b->scale * b->scale, units), units);
    length_print(piece, sizeof piece, length_by_hand(b->piece_mm, units), units);
    block_size_print(e->job, b, false, b->scale, built);
    block_size_print(e->job, b, false, 1, size);
    if (b->pieces > 1) (void)snprintf(pieces, sizeof pieces, "%d pieces of ", b->pieces);
    (void)snprintf(
        text, WORDS_SIZE,
        "Fine block: build it at %s, %s long; draw it out to %s and %s, square the ends, cut to %s%s.", built,
        length, size, drawn, pieces, piece);
}

static void say_copies(Writer *e) {
    const Block *b = e->block;
    Units units = e->job->order.units;
    char text[WORDS_SIZE] = "", length[32], piece[32];
    length_print(length, sizeof length, length_by_hand(b->length_mm, units), units);
    length_print(piece, sizeof piece, length_by_hand(b->piece_mm, units), units);
    if (b->way == BUILD_FINE)
        fine_words(e, text);
    else if (b->way == BUILD_THICKER)
        thicker_words(e, text);
    else if (b->way == BUILD_LONGER)
        (void)snprintf(text, sizeof text, "x%d: build it once, %s long; cut %d pieces of %s.", b->pieces,
                       length, b->pieces, piece);
    else if (b->way == BUILD_EACH)
        (void)snprintf(text, sizeof text, "x%d: build it %d times, each %s long.", b->pieces, b->builds,
                       length);
    else if (b->scale > 1)
        (void)snprintf(text, sizeof text,
                       "It is part of a block that is drawn out later: %.2f times thicker than in the log.",
                       b->scale);
    say(e, true, text);
    if (b->way != BUILD_ONCE) say(e, false, "Nick the marked end of every piece as you cut.");
}

/* " as built, 2 end for end": how the holder takes pieces of this block. */
static void add_ways(const Writer *e, const Block *holder, char *text, size_t size) {
    int count[PLACEMENTS] = {0};
    for (int i = holder->first_item; i < holder->first_item + holder->items; i++) {
        const Item *item = &e->job->blocks.item[i];
        if (item->is_block && item->index == e->index) count[item->way.mirrored * 4 + item->way.turn]++;
    }
    const char *before = "";
    for (int i = 0; i < PLACEMENTS; i++) {
        char times[24] = "";
        size_t used = strlen(text);
        if (count[i] > 1) (void)snprintf(times, sizeof times, " %d times", count[i]);
        if (count[i] == 0) continue;
        (void)snprintf(text + used, size - used, "%s%s %s", before, times, placement_words(placement(i)));
        before = " and";
    }
}

/* "Goes into block 7 as built and end for end; into block 9 as built." */
static void say_holders(Writer *e) {
    const Blocks *blocks = &e->job->blocks;
    char text[WORDS_SIZE] = "";
    for (int h = e->index + 1; h < blocks->blocks; h++) {
        const Block *holder = &blocks->block[h];
        bool holds = false;
        for (int i = holder->first_item; i < holder->first_item + holder->items; i++)
            holds = holds || (blocks->item[i].is_block && blocks->item[i].index == e->index);
        if (!holds) continue;
        size_t used = strlen(text);
        (void)snprintf(text + used, sizeof text - used, used ? "; into block %d" : "Goes into block %d",
                       h + 1);
        add_ways(e, holder, text, sizeof text);
    }
    if (text[0]) strncat(text, ".", sizeof text - strlen(text) - 1);
    say(e, false, text);
}

static void say_way_round(Writer *e) {
    const Block *b = e->block;
    if (e->index + 1 == e->job->blocks.blocks)
        say(e, true, "This is the log: wrap it. It has no wrong way round.");
    else if (b->mirrored_risk && b->turned_risk)
        say(e, true,
            "ONE WAY ONLY: marked end to you, nick up. End for end or turned, it spoils every piece.");
    else if (b->mirrored_risk)
        say(e, true, "MARKED END TO YOU: end for end it spoils every piece. A half turn does no harm.");
    else if (b->turned_risk)
        say(e, true, "NICK UP: turned, it spoils every piece.");
    else
        say(e, false, "No wrong way: whichever way its outline fits is right.");
    if (b->looks_the_same) say(e, true, "LOOKS THE SAME THE OTHER WAY ROUND, IS NOT: go by the nick.");
}

void block_words(const Job *job, int block, BlockWords *out) {
    Writer w = {.job = job, .index = block, .block = &job->blocks.block[block]};
    say_way_round(&w);
    say_copies(&w);
    say_holders(&w);
    *out = w.out;
}
