/* Which size of each card fills the fewest pages. SPDX-License-Identifier: MIT
 *
 * Input: for each card, in order, the sizes it can have; the page. Output: a size for each.
 *
 * 1. A state is how far both columns of the current page are filled, and what it cost to come there: pages
 *    begun, and how much worse the chosen sizes are than the best.
 * 2. From each state that is kept, the next card is placed in each of its sizes, by the rule of columns_place
 *    (sheet.h).
 * 3. Of states with the same columns, to a point, the cheapest is kept; of all, the KEPT that are cheapest
 *    once the filled part of the page is counted in.
 * 4. The cheapest last state is followed back.
 *
 * Ties go to the state that was made first, so to the better size. Cost: cards x KEPT x CARD_SIZES steps. */
#include "draw/fill_pages.h"

#include "base/mem.h"
#include "draw/sheet.h"

#include <math.h>
#include <stdlib.h>

enum { KEPT = 40 };

typedef struct State {
    double y[2]; /* pt: where each column goes on */
    double cost; /* pages that are full or left, and what the sizes are worse */
    double rank; /* cost, and the part of this page that is filled */
    int from;    /* of the states before; -1 at the start */
    int size;    /* of the card that was placed last */
} State;

/* The states after a card, the cheapest first. */
typedef struct Step {
    int states;
    State state[KEPT];
} Step;

static State place(const State *from, int index, const CardSize *size, int number, PageRoom room) {
    State s = {
        .y = {from->y[0], from->y[1]}, .cost = from->cost + size->worse, .from = index, .size = number};
    double y = size->wide ? fmax(s.y[0], s.y[1]) : fmin(s.y[0], s.y[1]);
    if (y + size->height > room.bottom) {
        s.cost += 1;
        y = s.y[0] = s.y[1] = room.top;
    }
    const int column = !size->wide && s.y[1] < s.y[0];
    s.y[column] = y + size->height + COLUMN_GAP;
    if (size->wide) s.y[1] = s.y[0];
    s.rank = s.cost + ((s.y[0] + s.y[1]) / 2 - room.top) / (room.bottom - room.top);
    return s;
}

/* Takes the state into the step, in order of rank, unless it is one too many or there is a cheaper one with
 * the same columns. */
static void keep(Step *step, State s) {
    for (int i = 0; i < step->states; i++) {
        State *other = &step->state[i];
        if (fabs(other->y[0] - s.y[0]) >= 1 || fabs(other->y[1] - s.y[1]) >= 1) continue;
        if (other->cost <= s.cost) return;
        for (int k = i; k + 1 < step->states; k++) step->state[k] = step->state[k + 1];
        step->states--;
        break;
    }
    int at = step->states;
    while (at > 0 && step->state[at - 1].rank > s.rank) at--;
    if (at == KEPT) return;
    if (step->states < KEPT) step->states++;
    for (int k = step->states - 1; k > at; k--) step->state[k] = step->state[k - 1];
    step->state[at] = s;
}

bool fill_pages(const CardSizes *cards, int count, PageRoom room, int *chosen, Err *err) {
    const State start = {.y = {room.first, room.first}, .from = -1};
    Step *step = mem_alloc((size_t)count + 1, sizeof *step, err);
    if (!step) return false;
    keep(&step[0], start);
    for (int i = 0; i < count; i++)
        for (int k = 0; k < step[i].states; k++)
            for (int c = 0; c < cards[i].count; c++)
                keep(&step[i + 1], place(&step[i].state[k], k, &cards[i].size[c], c, room));
    for (int i = count, at = 0; i > 0; i--) {
        chosen[i - 1] = step[i].state[at].size;
        at = step[i].state[at].from;
    }
    free(step);
    return true;
}
