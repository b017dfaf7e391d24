/* The order of the stages. SPDX-License-Identifier: MIT */
#include "run/run.h"

#include "run/choose.h"
#include "run/choose_way.h"
#include "run/even.h"

#include "base/parallel.h"
#include "bench/bench.h"
#include "plan/plan.h"
#include "judge/judge.h"

#include <math.h>

/* Steps that hands let a block's edges be off its place. */
static double apart_steps(const Job *j) {
    return j->shop->fits_within_mm / j->cane.step_mm;
}

/* Letters in rows are made even, where they come out better. */
static bool lay_letters(Job *j, Err *err) {
    Job even;
    EvenLetters letters;
    LetterGain gain;
    if (!even_best(j, &even, &letters, &gain, err)) return false;
    if (letters.rows > 0) {
        job_free_laid(j);
        j->grid = even.grid;
        j->layup = even.layup;
        j->blocks = even.blocks;
        j->face = even.face;
        j->fine = even.fine;
        j->grid.redrawn.even = letters;
        even.grid = (Grid){0};
        even.layup = (LayUp){0};
        even.blocks = (Blocks){0};
        even.face = (Face){0};
        even.fine = (FineMap){0};
    }
    job_free(&even);
    return letters.rows == 0 || find_wrong_ways(&j->grid, &j->layup, apart_steps(j), &j->blocks, err);
}

enum { LOOKS = 2 }; /* at what is laid up, neither of which asks for the other */

static bool look_at_laid(void *context, int look, Err *err) {
    Job *j = context;
    if (look == 0) return soften(&j->grid, &j->layup, &j->cane.key, &j->face, err);
    return mark_fine(&j->grid, &j->layup, &j->fine, err) &&
           find_wrong_ways(&j->grid, &j->layup, apart_steps(j), &j->blocks, err);
}

/* What depends on order and shop through the key of the lay-up only. How long a step is follows from the key
 * and the shop's least strip. */
static bool lay(Job *j, Err *err) {
    if (!frame(j->inks, &j->palette, &j->cane.key, &j->grid, err)) return false;
    j->grid.stop = j->stop;
    return redraw_best(j, err) && is_wanted(j->stop, err) && cost_cells(&j->grid, err) &&
           lay_up(&j->grid, &j->cane.key, &j->layup, err) && is_wanted(j->stop, err) &&
           find_blocks(&j->grid, &j->layup, &j->blocks, err) &&
           parallel_tasks(LOOKS, 0, look_at_laid, j, err) && lay_letters(j, err);
}

/* The log of the order, laid up anew if its key has changed, and weighed. */
static bool weigh_log(Job *j, Err *err) {
    Cane cane;
    if (!size_cane(&j->order, &j->palette, j->shop, &cane, err)) return false;
    bool laid = j->layup.nodes > 0 && lay_key_compare(&j->cane.key, &cane.key) == 0;
    j->cane = cane;
    if (!laid) {
        job_free_laid(j);
        if (!lay(j, err)) return false;
    }
    plan_builds(&j->cane, j->shop, &j->blocks);
    bill_free(&j->bill);
    return weigh(&j->order, &j->palette, &j->cane, &j->grid, j->shop, &j->blocks, &j->layup, &j->bill, err);
}

/* Pieces for the mass ordered. The mass of a piece depends on the lay-up, and that on the pieces: N =
 * ceil(mass / piece) until it stays, twice or three times as a rule. Should it swing between two numbers, the
 * larger is taken: enough. */
static bool weigh_mass(Job *j, Err *err) {
    double d = j->order.piece_diameter_mm, usual_g = PI / 4 * d * d * j->order.piece_length_mm * 1.35 / 1000;
    j->order.pieces =
        (long)fmin(fmax(1, j->order.weight_g / usual_g), PIECES_MAX); /* a start: pulled and some clear */
    for (int round = 0; round < 8; round++) {
        if (!weigh_log(j, err)) return false;
        double pieces = ceil(j->order.weight_g / j->bill.piece_mass_g * (1 - 1e-12));
        if (pieces > PIECES_MAX)
            return err_set(err, ERR_USAGE, "--weight: that is over %d pieces; order less", PIECES_MAX);
        long before = j->order.pieces;
        if ((long)pieces == before || (round >= 6 && pieces < (double)before)) return true;
        j->order.pieces = (long)pieces;
    }
    return weigh_log(j, err);
}

/* Weighing comes before judging: ropes made, minutes and the log's mass are among what is judged; so is how
 * long ropes stay workable. */
static bool run_stages(Job *j, Err *err) {
    if (!is_wanted(j->stop, err)) return false;
    if (!(j->order.weight_g > 0 ? weigh_mass(j, err) : weigh_log(j, err)) ||
        !plan_pulls(&j->palette, j->shop, &j->layup, &j->blocks, &j->bill, err))
        return false;
    judgement_free(&j->judgement);
    measures_free(&j->measures);
    heat_free(&j->heat);
    work_free(&j->work);
    cook(&j->cane, &j->bill, j->shop, &j->recipe);
    if (!cool(&j->palette, &j->cane, j->shop, &j->blocks, &j->bill, &j->heat, err) ||
        !plan_work(&j->palette, &j->cane, j->shop, &j->layup, &j->blocks, &j->bill, &j->heat, &j->recipe,
                   &j->work, err))
        return false;
    price(&j->cane, j->shop, &j->recipe, &j->work, &j->bill);
    if (!judge_job(j, err)) return false;
    find_flaws(j, &j->flaws);
    return true;
}

bool job_run_again(Job *job, Err *err) {
    if (run_stages(job, err)) return true;
    job_free_results(job);
    return false;
}

bool job_run(Job *job, Err *err) {
    return choose_palette(job, &job->palette, &job->choice, err) && job_run_again(job, err);
}
