/* Which size of each card fills the fewest pages. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_FILL_PAGES_H
#define LOGOCANE_FILL_PAGES_H

#include "base/err.h"

enum { CARD_SIZES = 9 };

/* One of the ways in which a card can be drawn. */
typedef struct CardSize {
    bool wide;     /* over both columns */
    double height; /* pt, without the gap below it */
    double most;   /* pt: the height that its drawing was allowed; the caller's */
    double worse;  /* >= 0: by so many pages this size has to be shorter, to be taken instead of one of 0 */
    bool broad;    /* the caller's */
} CardSize;

typedef struct CardSizes {
    int count; /* 1..CARD_SIZES */
    CardSize size[CARD_SIZES];
} CardSizes;

/* The sheets that cards flow over, in two columns, as columns_place lets them; all in pt. */
typedef struct PageRoom {
    double first;  /* where the first page goes on */
    double top;    /* where each later one does */
    double bottom; /* of every page */
} PageRoom;

/* Chooses a size for each of the cards, whose order stays: chosen[i] is the one of card i. Fails with
 * ERR_MEMORY only; `chosen` is then undefined. */
bool fill_pages(const CardSizes *cards, int count, PageRoom room, int *chosen, Err *err) MUST_CHECK;

#endif
