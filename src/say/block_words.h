/* Public. What the bench is told about a block. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_BLOCK_WORDS_H
#define LOGOCANE_BLOCK_WORDS_H

#include "say/rope_words.h"

enum { WORDS_LINES = 8, WORDS_SIZE = 400 };

typedef struct BlockWords {
    int lines; /* used */
    char line[WORDS_LINES][WORDS_SIZE];
    bool bold[WORDS_LINES]; /* what must not be overlooked */
} BlockWords;

/* A word of these lines and what it asks for; constant strings. */
typedef struct Term {
    const char *word, *meaning;
} Term;

enum { TERMS = 6 };

/* Lists the words that the lines of these blocks use. Returns how many. */
int block_terms(const Blocks *blocks, Term out[TERMS]);

/* How a block that is needed more than once comes to be, in a line; "" of one built once for one place. */
void copy_words(const Job *job, int block, char out[WORDS_SIZE]);

/* How many blocks can be laid in so that every piece is spoilt; "" if none. */
void risks_words(const Blocks *blocks, char out[WORDS_SIZE]);

/* Which way round it goes, how copies of it are made, which blocks it goes into. */
void block_words(const Job *job, int block, BlockWords *out);

/* Width x height of what hands build of a block, `scale` times as in the log, width and height changed if
 * turned. */
void block_size_print(const Job *job, const Block *block, bool turned, double scale, char out[96]);

/* Of what goes into a block, as it is built: its size as drawn, width first, or "a trim"; how a block lies
 * that is not laid as it was built, else "". */
void item_words(const Job *job, const Block *holder, const Item *item, char size[ROPE_SIZE],
                const char **way);

/* "row", "stack", "pair". */
const char *block_kind_name(BlockKind kind);

/* "once", "thicker", "longer", "fine", "each". */
const char *build_way_name(BuildWay way);

/* How a piece is laid against how it was built: "as built", "a half turn", "end for end, then a quarter turn
 * right". */
const char *placement_words(Placement way);

/* How a block's uses lie: "x2, one end for end", or "" of a block used once. */
void block_uses_print(const Blocks *blocks, int block, char *out, size_t size);

#endif
