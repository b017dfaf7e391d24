/* The cheapest ways to give each ink a candy that differ from each other. SPDX-License-Identifier: MIT
 *
 * 1. The cheapest. 2. The cheapest with one candy fewer. 3. For each candy of the first that is not fixed,
 * the cheapest without it; of these the cheapest, as far as there is room and FAR allows. */
#include "plan/plan_parts.h"

#include <string.h>

#define FORBIDDEN 1e4 /* CIEDE2000: no ink takes such a choice if there is another one */
#define FAR 12.0      /* CIEDE2000: what costs so much more than the cheapest is not tried; chosen */

static int count_used(const Assignment *a, const int of_ink[INKS_MAX]) {
    bool used[CHOICES_MAX];
    int count = 0;
    memcpy(used, a->cooked, sizeof used);
    for (int c = 0; c < a->choices; c++) count += used[c];
    for (int i = -1; i < a->inks; i++) {
        int c = i < 0 ? a->beyond : of_ink[i];
        if (c < 0 || used[c]) continue;
        used[c] = true;
        count++;
    }
    return count;
}

static bool is_fixed(const Assignment *a, int choice) {
    bool fixed = a->beyond == choice || a->cooked[choice];
    for (int i = 0; i < a->inks; i++) fixed |= a->fixed[i] == choice;
    return fixed;
}

static bool same_answer(const Assignment *a, const Answer *p, const Answer *q) {
    return memcmp(p->of_ink, q->of_ink, (size_t)a->inks * sizeof *p->of_ink) == 0;
}

/* Puts it in behind those that are no dearer, but for the first `fixed` that stay where they are. The last
 * one falls out where there is no room. */
static void insert(const Assignment *a, Answer list[], int *count, int fixed, const Answer *answer) {
    for (int i = 0; i < *count; i++)
        if (same_answer(a, &list[i], answer)) return;
    int at = *count;
    while (at > fixed && list[at - 1].cost > answer->cost) at--;
    if (at == PALETTES_MAX) return;
    if (*count < PALETTES_MAX) (*count)++;
    for (int i = *count - 1; i > at; i--) list[i] = list[i - 1];
    list[at] = *answer;
}

int cheapest_answers(const Assignment *a, Answer out[PALETTES_MAX]) {
    int count = 1;
    out[0].cost = cheapest_candies(a, out[0].of_ink); /* 1 */
    Assignment other = *a;
    int used = count_used(a, out[0].of_ink), needed = 0;
    bool seen[CHOICES_MAX] = {false};
    for (int c = 0; c < a->choices; c++) needed += is_fixed(a, c);
    other.limit = used - 1;
    if (other.limit >= 2 && other.limit >= needed) { /* 2 */
        Answer fewer;
        fewer.cost = cheapest_candies(&other, fewer.of_ink);
        if (fewer.cost < out[0].cost + FAR) insert(a, out, &count, 1, &fewer);
    }
    const int kept = count;
    for (int i = 0; i < a->inks; i++) { /* 3 */
        const int c = out[0].of_ink[i];
        if (seen[c] || is_fixed(a, c)) continue;
        seen[c] = true;
        other = *a;
        for (int j = 0; j < a->inks; j++) other.colour[j][c] += FORBIDDEN;
        Answer without;
        without.cost = cheapest_candies(&other, without.of_ink);
        if (without.cost < out[0].cost + FAR) insert(a, out, &count, kept, &without);
    }
    return count;
}
