/* The cells become ropes. SPDX-License-Identifier: MIT
 *
 * 1. The exact optimum over upright, level and corner-to-corner cuts (lay_straight.c), at a lower price of a
 *    rope than is asked for: the search takes ropes away more surely than it adds them.
 * 2. The search over cuts at any slope from there on (slant.c), at the price asked for.
 * 3. With a cap on ropes the price is bisected until at most so many are laid, since ropes fall as it rises;
 *    at the highest price one rope is left. */
#include "plan/plan_parts.h"
#include "plan/slicing.h"

#include <math.h>

/* What one more rope must be worth, in least strips squared: asked for, and of the start. Ours, chosen by
 * looking, and measured with `make quality`. */
typedef struct Worth {
    double rope, start;
} Worth;

static const Worth worth_strips[] = {
    [DETAIL_PLAIN] = {0.4, 0.22}, [DETAIL_NORMAL] = {0.132, 0.05}, [DETAIL_FINE] = {0.044, 0.017}};

static const double price_exact = 1.05; /* how near to each other prices are tried under a cap */

/* 3. */
static bool cap_ropes(const Grid *grid, const LayKey *key, const Starts *starts, double lambda, LayUp *out,
                      Err *err) {
    LayUp best = {0};
    double too_low = lambda, enough = (double)LAMBDA_MAX / COST_ONE;
    if (!lay_straight(grid, AXIS_NONE, enough, &best, err)) return false;
    while (enough > too_low * price_exact) {
        LayUp trial = {0};
        double middle = sqrt(too_low * enough);
        if (!search_cuts(grid, key, starts, middle, &trial, err)) {
            layup_free(&best);
            return false;
        }
        bool fits = trial.laid <= key->ropes_cap;
        layup_free(fits ? &best : &trial);
        if (fits) best = trial;
        *(fits ? &enough : &too_low) = middle;
    }
    *out = best;
    return true;
}

bool lay_up_straight(const Grid *grid, const LayKey *key, LayUp *out, Err *err) {
    const double strip = grid->least_steps < grid->steps ? grid->least_steps : grid->steps;
    return lay_straight(grid, AXIS_NONE, worth_strips[key->detail].rope * strip * strip, out, err);
}

bool lay_up(const Grid *grid, const LayKey *key, LayUp *out, Err *err) {
    const double strip = grid->least_steps < grid->steps ? grid->least_steps : grid->steps;
    const Worth worth = worth_strips[key->detail];
    const double lambda = worth.rope * strip * strip;
    Starts starts = {0};
    LayUp layup = {0};
    if (!starts_lay(grid, key, worth.start * strip * strip, &starts, err)) return false; /* 1 */
    bool done = search_cuts(grid, key, &starts, lambda, &layup, err);                    /* 2 */
    if (done && key->ropes_cap > 0 && layup.laid > key->ropes_cap) {
        layup_free(&layup);
        done = cap_ropes(grid, key, &starts, lambda, &layup, err);
    }
    starts_free(&starts);
    if (done) *out = layup;
    return done;
}
