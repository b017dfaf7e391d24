/* Tests of src/run/advise.c and what it is made of (trial, leave_out), and of what say/ says of it.
 * SPDX-License-Identifier: MIT
 *
 * Logos are drawn here, one for each kind of advice; each gets the advice it should, the advised change is
 * then made by hand and gives *go* for the line, and a little less of it does not. */
#include "run/run.h"

#include "said.h"
#include "scene_logo.h"
#include "base/text.h"
#include "run/trial.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* --- logos: the colour at a place, -1..1 across and down; on white --- */

static const Rgb8 white = {255, 255, 255}, red = {200, 32, 44}, navy = {26, 36, 84}, yellow = {250, 210, 48},
                  blue = {32, 76, 168}, green = {46, 142, 68}, black = {32, 29, 30}, lime = {50, 205, 50};

/* A cross whose arms are thinner than a least strip. */

static Rgb8 thin_cross(double x, double y) {
    return fmin(fabs(x), fabs(y)) < 0.115 && fmax(fabs(x), fabs(y)) < 0.95 ? red : white;
}

/* A letter with thin strokes. */
static Rgb8 thin_letter(double x, double y) {
    bool post = fabs(fabs(x) - 0.55) < 0.1 && fabs(y) < 0.75, bar = fabs(y) < 0.1 && fabs(x) < 0.6;
    return post || bar ? navy : white;
}

/* A shield with a hairline round it. */
static Rgb8 outlined(double x, double y) {
    double r = fmax(fabs(x), fabs(y) * 0.9);
    return r < 0.78 ? blue : r < 0.81 ? black : white;
}

/* A bold ring of a green that the shop does not have. */
static Rgb8 odd_green(double x, double y) {
    double r = hypot(x, y);
    return r < 0.9 && r > 0.4 ? lime : white;
}

/* A bold crescent: no round rope, nor anything in a sheet. */
static Rgb8 crescent(double x, double y) {
    return hypot(x, y) < 0.9 && hypot(x - 0.4, y) > 0.6 ? red : white;
}

/* A bold square with two dots beside it. */
static Rgb8 dotted(double x, double y) {
    bool dot = hypot(fabs(x) - 0.82, y) < 0.088;
    return fmax(fabs(x), fabs(y)) < 0.62 || dot ? red : white;
}

/* Four quarters of a square: five candies with the field. */
static Rgb8 quarters(double x, double y) {
    if (fmax(fabs(x), fabs(y)) > 0.7) return white;
    return x < 0 ? (y < 0 ? red : yellow) : (y < 0 ? black : green);
}

static Rgb8 bold(double x, double y) {
    return fmax(fabs(x), fabs(y)) < 0.62 ? red : white;
}

/* A shield without a hairline. */
static Rgb8 plain_shield(double x, double y) {
    return fmax(fabs(x), fabs(y) * 0.9) < 0.795 ? blue : white;
}

/* A shield with a bold band round it, and what it is when the band is shared out between its two sides. */
static Rgb8 banded(double x, double y) {
    double r = fmax(fabs(x), fabs(y) * 0.9);
    return r < 0.5 ? blue : r < 0.84 ? black : white;
}

static Rgb8 band_shared(double x, double y) {
    return fmax(fabs(x), fabs(y) * 0.9) < 0.67 ? blue : white;
}

/* Slanted pales, thin and close: too fine for any piece, but readable on a larger one. */
static Rgb8 fence(double x, double y) {
    return fmod(x - 0.3 * y + 4, 0.28) < 0.1 && fabs(x) < 0.85 && fabs(y) < 0.4 ? navy : white;
}

/* Hairlines side by side: no size and no order helps. */
static Rgb8 screen(double x, double y) {
    return fmod(x + 2, 0.06) < 0.03 && fabs(x) < 0.8 && fabs(y) < 0.8 ? black : white;
}

/* With a small order and coarse ropes: few steps, quick runs. Without fine blocks, which a larger piece may
 * do without: then its strokes ask for twice as much. */
static void logo_draw_coarse(Logo *logo, Scene *scene) {
    logo_draw(logo, scene);
    bool thin = scene == thin_cross || scene == thin_letter; /* by a third thinner than hands need */
    logo->shop.least_strip_mm = scene == thin_letter ? 12 : thin ? 13 : 9;
    logo->job.order.pieces = 500;
    logo->job.order.no_fine = true;
}

static int logo_advise(Logo *logo, double budget) {
    Err err = {0};
    int runs = -1;
    logo_run(logo);
    assert_true(advise(&logo->job, budget, &runs, &err));
    return runs;
}

static const Check *find(const Job *job, const char *name) {
    const Check *check = check_named(&job->judgement, name);
    if (!check) fail_msg("no check %s", name);
    return check;
}

/* Runs the logo with an order of its own and returns the line's verdict. */
static Verdict line_of(Scene *scene, const Order *order, const char *name) {
    Logo logo;
    logo_draw_coarse(&logo, scene);
    if (order) logo.job.order = *order;
    logo_run(&logo);
    Verdict verdict = find(&logo.job, name)->verdict;
    logo_free(&logo);
    return verdict;
}

/* The number behind the words, its thousands grouped; *rest = what follows. */
static long number_after(const char *text, const char *words, const char **rest) {
    const char *at = strstr(text, words);
    if (!at) fail_msg("no '%s' in: %s", words, text);
    long number = 0;
    for (at += strlen(words); isdigit((unsigned char)*at) || (*at == ' ' && isdigit((unsigned char)at[1]));
         at++)
        if (*at != ' ') number = 10 * number + (*at - '0');
    *rest = at;
    return number;
}

static void says(const char *text, const char *words) {
    if (!strstr(text, words)) fail_msg("no '%s' in: %s", words, text);
}

/* --- a logo for each kind of advice: size, order, part, dye, colours, inks joined, hands, warmth --- */

static void a_thin_cross_goes_in_larger_pieces_and_not_in_a_millimetre_less(void **state) {
    (void)state;
    Logo logo;
    const char *rest;
    logo_draw_coarse(&logo, thin_cross);
    (void)logo_advise(&logo, ADVISE_BUDGET);
    assert_int_not_equal(logo.job.judgement.verdict, VERDICT_GO);
    Order order = logo.job.order;
    order.piece_diameter_mm =
        (double)number_after(advice_on(&logo.job, find(&logo.job, "finest stroke")), "in pieces of ", &rest);
    assert_true(order.piece_diameter_mm >= 17 && order.piece_diameter_mm <= 25);
    assert_int_equal(line_of(thin_cross, &order, "finest stroke"), VERDICT_GO);
    order.piece_diameter_mm--;
    assert_int_not_equal(line_of(thin_cross, &order, "finest stroke"), VERDICT_GO);
    says(told_client(&logo.job), "it comes out well.");
    logo_free(&logo);
}

static void where_inches_are_spoken_sizes_go_by_twentieths_of_an_inch(void **state) {
    (void)state;
    Logo logo;
    const double step = MM_PER_IN / 20;
    logo_draw_coarse(&logo, thin_cross);
    logo.job.order.units = UNITS_IN;
    (void)logo_advise(&logo, ADVISE_BUDGET);
    const Check *check = find(&logo.job, "finest stroke");
    assert_true(check->ways > 0);
    double mm = check->way[0].change.diameter_mm, steps = round(mm / step);
    assert_true(steps >= 13 && steps <= 20 && fabs(mm - steps * step) < 0.03);
    Order order = logo.job.order;
    order.piece_diameter_mm = mm;
    assert_int_equal(line_of(thin_cross, &order, "finest stroke"), VERDICT_GO);
    logo_free(&logo);
}

static void a_thin_letter_goes_in_orders_told_as_intervals(void **state) {
    (void)state;
    Logo logo;
    logo_draw_coarse(&logo, thin_letter);
    logo.job.order.no_fine = true; /* in a fine block the letter would be thick enough as it is */
    (void)logo_advise(&logo, ADVISE_BUDGET);
    Order order = logo.job.order;
    const char *at, *advice = advice_on(&logo.job, find(&logo.job, "finest gap"));
    long from = number_after(advice, "in an order of ", &at), first = from;
    int ends = 0;
    for (;;) {
        order.pieces = from;
        assert_int_equal(line_of(thin_letter, &order, "finest gap"), VERDICT_GO);
        if (strncmp(at, " to ", 4) == 0) {
            order.pieces = number_after(at, " to ", &at);
            assert_true(order.pieces > from);
            assert_int_equal(line_of(thin_letter, &order, "finest gap"), VERDICT_GO);
            ends++;
        }
        if (strncmp(at, ", or ", 5) != 0) break;
        from = number_after(at, ", or ", &at);
    }
    assert_true(ends > 0);
    assert_true(first > 600); /* or a hundred less were the order itself */
    logo_free(&logo);
}

/* Left out, or thick enough: all of it. */
static void the_hairline_round_a_shield_is_one_thing(void **state) {
    (void)state;
    Logo logo;
    logo_draw_coarse(&logo, outlined);
    logo_run(&logo);
    assert_int_equal(logo.job.grid.redrawn.count, 1);
    assert_true(logo.job.grid.redrawn.line[0].outline && !logo.job.grid.redrawn.line[0].limb);
    assert_int_not_equal(logo.job.grid.redrawn.line[0].how, REDRAWN_KEPT);
    assert_int_not_equal(logo.job.judgement.verdict, VERDICT_NO);
    assert_true(logo.job.judgement.likeness > 0.85);
    logo_free(&logo);
    logo_draw_coarse(&logo, plain_shield);
    logo_run(&logo);
    assert_int_equal(logo.job.judgement.verdict, VERDICT_GO);
    logo_free(&logo);
}

static void a_green_the_shop_has_not_goes_with_a_candy_dyed_to_it(void **state) {
    (void)state;
    Logo logo;
    logo_draw_coarse(&logo, odd_green);
    logo.shop.dye_to_order = false;
    (void)logo_advise(&logo, ADVISE_BUDGET);
    assert_string_equal(advice_on(&logo.job, find(&logo.job, "worst colour match")),
                        "with candy dyed to #32CD32: then all is go");
    assert_int_equal(find(&logo.job, "worst colour match")->verdict, VERDICT_CHANGE);
    says(told_client(&logo.job), "We would colour candy to match your green. Then it comes out well.");
    logo.job.order.wishes = 1;
    logo.job.order.wish[0] = (InkWish){lime, "dye"};
    logo_run(&logo);
    assert_int_equal(find(&logo.job, "worst colour match")->verdict, VERDICT_GO);
    logo_free(&logo);
    assert_int_equal(line_of(odd_green, NULL, "worst colour match"), VERDICT_GO); /* it dyes by itself */
}

static void a_square_goes_without_the_dots_beside_it(void **state) {
    (void)state;
    Logo logo;
    logo_draw_coarse(&logo, dotted);
    (void)logo_advise(&logo, ADVISE_BUDGET);
    says(advice_on(&logo.job, find(&logo.job, "parts and holes kept")),
         "without the red part at the left and the red part at the right: then all is go");
    assert_int_equal(line_of(dotted, NULL, "parts and holes kept"), VERDICT_CHANGE);
    assert_int_equal(line_of(bold, NULL, "parts and holes kept"), VERDICT_GO);
    logo_free(&logo);
}

static void five_colours_go_with_five_candies_and_not_with_four(void **state) {
    (void)state;
    Logo logo;
    logo_draw_coarse(&logo, quarters);
    (void)logo_advise(&logo, ADVISE_BUDGET);
    says(advice_on(&logo.job, find(&logo.job, "candies it would take")), "with 5 candies (-k 5): then");
    Order order = logo.job.order;
    assert_int_not_equal(line_of(quarters, &order, "candies it would take"), VERDICT_GO);
    order.colours = 5;
    assert_int_equal(line_of(quarters, &order, "candies it would take"), VERDICT_GO);
    logo_free(&logo);
}

/* A square in two greens so alike that the shop has one candy for both. */
static const Rgb8 dark_green = {24, 90, 40};

static Rgb8 two_greens(double x, double y) {
    return fmax(fabs(x), fabs(y)) > 0.62 ? white : x < 0.03 ? green : dark_green;
}

/* The same, the two nearer to each other by half. */
static Rgb8 nearer_greens(double x, double y) {
    static const Rgb8 between = {35, 116, 54};
    return fmax(fabs(x), fabs(y)) > 0.62 ? white : x < 0.03 ? green : between;
}

static Rgb8 one_green(double x, double y) {
    return fmax(fabs(x), fabs(y)) > 0.62 ? white : green;
}

static void two_greens_go_as_one_where_there_is_no_candy_for_both(void **state) {
    (void)state;
    Logo logo;
    logo_draw_coarse(&logo, two_greens);
    assert_int_equal(logo.inks.count, 3);
    logo.job.order.colours = 2; /* a dyed candy would be one too many */
    logo.shop.dye_to_order = false;
    (void)logo_advise(&logo, ADVISE_BUDGET);
    const Check *check = find(&logo.job, "touching inks kept apart");
    assert_int_not_equal(check->verdict, VERDICT_GO);
    says(advice_on(&logo.job, check), "joined to #");
    says(advice_on(&logo.job, check), "then all is go");
    logo_free(&logo);
    Order order = order_default();
    order.pieces = 500;
    order.colours = 2;
    /* so near that one candy for both is no loss */
    assert_int_equal(line_of(nearer_greens, &order, "touching inks kept apart"), VERDICT_GO);
    assert_int_equal(line_of(one_green, &order, "touching inks kept apart"), VERDICT_GO);
}

/* A shop that makes a rope less than a crescent takes: plainer detail lays fewer. */
static void much_work_goes_with_plainer_detail_and_not_with_normal(void **state) {
    (void)state;
    for (int plain = 0; plain < 2; plain++) {
        Logo logo;
        logo_draw_coarse(&logo, crescent);
        logo_run(&logo);
        logo.shop.ropes_max = logo.job.bill.ropes_made - 1;
        if (plain) {
            logo.job.order.detail = DETAIL_PLAIN;
            logo_run(&logo);
            assert_int_equal(find(&logo.job, "ropes made")->verdict, VERDICT_GO);
        } else {
            (void)logo_advise(&logo, ADVISE_BUDGET);
            assert_int_equal(find(&logo.job, "ropes made")->verdict, VERDICT_CHANGE);
            says(advice_on(&logo.job, find(&logo.job, "ropes made")),
                 "with plainer detail (--detail plain): then");
        }
        logo_free(&logo);
    }
}

/* A tenth more work than two people do in the time. */
static void work_for_two_goes_with_a_third_and_not_without(void **state) {
    (void)state;
    for (int more = 0; more < 2; more++) {
        Logo logo;
        logo_draw_coarse(&logo, quarters);
        logo.job.order.colours = 5;
        logo_run(&logo);
        logo.shop.working_minutes = logo.job.work.laying / 1.1;
        if (more) logo.shop.people = 3;
        logo_run(&logo);
        if (!more) {
            Err err = {0};
            assert_int_equal(find(&logo.job, "minutes")->verdict, VERDICT_CHANGE);
            assert_true(advise(&logo.job, ADVISE_BUDGET, NULL, &err));
            says(advice_on(&logo.job, find(&logo.job, "minutes")), "with 3 people laying up: then");
            assert_null(strstr(told_client(&logo.job), "people")); /* not the client's affair */
        } else {
            assert_int_equal(find(&logo.job, "minutes")->verdict, VERDICT_GO);
        }
        logo_free(&logo);
    }
}

static void thin_ropes_go_from_a_warmer_box_and_not_from_a_degree_less(void **state) {
    (void)state;
    Logo logo;
    const char *rest;
    Err err = {0};
    logo_draw_coarse(&logo, bold);
    logo.shop.people = 8; /* so that joining takes long, and the work does not */
    logo_run(&logo);
    logo.shop.working_minutes = 600;
    logo.shop.minutes_join = find(&logo.job, "out of the warm box")->value * 1.2 / 60;
    logo_run(&logo);
    assert_int_equal(find(&logo.job, "out of the warm box")->verdict, VERDICT_CHANGE);
    assert_true(advise(&logo.job, ADVISE_BUDGET, NULL, &err));
    long celsius = number_after(advice_on(&logo.job, find(&logo.job, "out of the warm box")),
                                "with the warm box at ", &rest);
    assert_true(celsius > 80 && celsius <= 90);
    for (int less = 0; less < 2; less++) {
        logo.shop.joining_c = (double)(celsius - less);
        logo_run(&logo);
        /* a tenth under the join is go: so well is the time known */
        const Check *check = find(&logo.job, "out of the warm box");
        assert_int_equal(check->verdict, less ? VERDICT_CHANGE : VERDICT_GO);
    }
    logo_free(&logo);
}

static Verdict whole_at(Scene *scene, double diameter_mm) {
    Logo logo;
    logo_draw_coarse(&logo, scene);
    logo.job.order.no_fine = false;
    logo.job.order.piece_diameter_mm = diameter_mm;
    logo_run(&logo);
    Verdict verdict = logo.job.judgement.verdict;
    logo_free(&logo);
    return verdict;
}

static void a_fence_that_is_no_can_be_built_in_larger_pieces(void **state) {
    (void)state;
    Logo logo;
    const char *rest;
    logo_draw_coarse(&logo, fence);
    logo.job.order.no_fine = false;
    (void)logo_advise(&logo, ADVISE_BUDGET);
    assert_int_equal(logo.job.judgement.verdict, VERDICT_NO);
    const Check *parts = find(&logo.job, "parts and holes kept");
    assert_int_equal(parts->verdict, VERDICT_NO);
    long mm = number_after(advice_on(&logo.job, parts), "in pieces of ", &rest);
    assert_memory_equal(rest, " mm across: then this line is go, the whole a change", 51);
    assert_int_equal(whole_at(fence, (double)mm), VERDICT_CHANGE);
    says(told_client(&logo.job), " mm across. Then we can make it, a little simpler than drawn.");
    logo_free(&logo);
}

/* A job of its own with the change, in an order of so many pieces. */
static void run_of_its_own(const Logo *logo, const Change *change, long pieces, Verdict *whole,
                           const Check *check, Verdict *line) {
    Err err = {0};
    Job named = {.picture = logo->job.picture, .inks = logo->job.inks, .shop = logo->job.shop};
    Ordered own;
    assert_true(change_order(&logo->job, change, &named.order));
    if (pieces > 0) named.order.pieces = pieces;
    assert_true(ordered_new(&named, &own, &err));
    assert_true(job_run(&own.job, &err));
    *whole = own.job.judgement.verdict;
    const Check *now = check_named(&own.job.judgement, check_name(check->kind, UNITS_MM));
    *line = now ? now->verdict : VERDICT_GO;
    ordered_free(&own);
}

/* What a way promises: of the hundreds of its ranges (a sample of them) that the check is go, and what the
 * whole is at worst. */
static void keeps_its_promise(const Logo *logo, const Check *check, const Way *way) {
    const PieceRange one = {way->change.pieces, way->change.pieces};
    Verdict worst = VERDICT_GO, whole, line;
    for (int i = 0; i < way->ranges || i == 0; i++) {
        const PieceRange *range = way->ranges > 0 ? &way->range[i] : &one;
        long stride = ((range->to - range->from) / 400 + 1) * 100;
        for (long pieces = range->from; pieces <= range->to; pieces += stride) {
            run_of_its_own(logo, &way->change, pieces, &whole, check, &line);
            if (way->mends) assert_int_equal(line, VERDICT_GO);
            if (whole > worst) worst = whole;
        }
    }
    assert_true(way->ranges > 0 ? worst <= way->whole : worst == way->whole);
}

static void every_way_gives_what_a_run_of_its_own_gives(void **state) {
    (void)state;
    static const struct {
        Scene *scene;
        bool no_fine; /* fine blocks depend on the log's length, too */
        double log_length_min_mm;
    } cases[] = {{thin_cross, false, 150}, {thin_letter, true, 300}, {outlined, false, 150},
                 {odd_green, false, 150},  {dotted, false, 300},     {quarters, false, 150},
                 {two_greens, true, 300}};
    int ways = 0;
    for (size_t s = 0; s < sizeof cases / sizeof *cases; s++) {
        Logo logo;
        logo_draw_coarse(&logo, cases[s].scene);
        logo.job.order.no_fine = cases[s].no_fine;
        logo.shop.log_length_min_mm = cases[s].log_length_min_mm;
        logo.shop.least_strip_mm = 12;
        (void)logo_advise(&logo, ADVISE_BUDGET);
        for (int i = 0; i < logo.job.judgement.checks; i++) {
            const Check *check = &logo.job.judgement.check[i];
            for (int w = 0; w < check->ways; w++, ways++) keeps_its_promise(&logo, check, &check->way[w]);
        }
        logo_free(&logo);
    }
    assert_true(ways > 4);
}

/* --- what is said when there is nothing to say --- */

static void where_nothing_helps_a_simpler_drawing_is_described(void **state) {
    (void)state;
    Logo logo;
    logo_draw_coarse(&logo, screen);
    (void)logo_advise(&logo, ADVISE_BUDGET);
    const Check *check = find(&logo.job, "finest stroke");
    assert_int_equal(logo.job.judgement.verdict, VERDICT_NO);
    double width = 2 * logo.inks.circle.r / logo.job.grid.frame.px_per_step;
    char percent[64];
    (void)snprintf(percent, sizeof percent, "of %.0f %% of the logo's width", ceil(400 / width));
    says(advice_on(&logo.job, check), "no piece up to 25 mm makes it go");
    says(advice_on(&logo.job, check), percent);
    assert_null(strstr(advice_on(&logo.job, check), "then"));
    says(told_client(&logo.job), "A simpler version");
    logo_free(&logo);
}

static void a_job_that_is_go_is_left_alone(void **state) {
    (void)state;
    Logo logo;
    logo_draw_coarse(&logo, bold);
    assert_int_equal(logo_advise(&logo, ADVISE_BUDGET), 0);
    assert_string_equal(told_client(&logo.job), "");
    for (int i = 0; i < logo.job.judgement.checks; i++)
        assert_string_equal(advice_on(&logo.job, &logo.job.judgement.check[i]), "");
    logo_free(&logo);
}

static void no_run_is_spent_on_a_drawing_full_of_shading(void **state) {
    (void)state;
    Logo logo;
    logo_draw_coarse(&logo, thin_cross);
    logo.inks.shaded = logo.inks.deep = 0.6;
    assert_int_equal(logo_advise(&logo, ADVISE_BUDGET), 0);
    says(told_client(&logo.job), "flat colours");
    logo_free(&logo);
}

static void the_budget_is_kept_and_what_was_not_run_is_not_advised(void **state) {
    (void)state;
    static const double budgets[] = {0, 0.15, 0.4};
    int last = 0;
    for (size_t i = 0; i < sizeof budgets / sizeof *budgets; i++) {
        Logo logo;
        logo_draw_coarse(&logo, thin_cross);
        int runs = logo_advise(&logo, budgets[i]);
        assert_true(runs >= last);
        if (runs == 0) assert_null(strstr(advice_on(&logo.job, find(&logo.job, "finest stroke")), ": then"));
        if (i == 0) assert_int_equal(runs, 0);
        last = runs;
        logo_free(&logo);
    }
    assert_true(last > 0);
}

static void a_run_that_the_budget_does_not_allow_is_refused(void **state) {
    (void)state;
    Logo logo;
    logo_draw_coarse(&logo, bold);
    logo_run(&logo);
    Trials trials;
    const Outcome *outcome;
    Err err = {0};
    double cost = trial_cost(logo.job.cane.key.steps, logo.job.palette.count);
    assert_true(cost > 0.005 && cost < 1);
    assert_true(trials_new(&logo.job, 1.5 * cost, &trials, &err));
    Change change = {.plain = true};
    assert_true(trial_run(&trials, &change, &outcome, &err));
    assert_non_null(outcome);
    assert_true(trials.budget >= 0 && trials.budget < cost);
    change.plain = false;
    change.dyed = 1u << 1;
    assert_true(trial_run(&trials, &change, &outcome, &err));
    assert_null(outcome);
    assert_int_equal(trials.runs, 1);
    assert_int_equal(trials.refused, 1);
    trials_free(&trials);
    logo_free(&logo);
}

static void advice_is_the_same_each_time(void **state) {
    (void)state;
    Logo one, other;
    logo_draw_coarse(&one, thin_cross);
    logo_draw_coarse(&other, thin_cross);
    (void)logo_advise(&one, 0.4);
    (void)logo_advise(&other, 0.4);
    const Judgement *p = &one.job.judgement, *q = &other.job.judgement;
    assert_int_equal(p->checks, q->checks);
    for (int i = 0; i < p->checks; i++) {
        char first[ADVICE_TEXT];
        strcpy(first, advice_on(&one.job, &p->check[i]));
        assert_string_equal(first, advice_on(&other.job, &q->check[i]));
    }
    assert_true(change_same(&p->best.change, &q->best.change) && p->best.whole == q->best.whole);
    logo_free(&one);
    logo_free(&other);
}

static void clients_get_plain_words(void **state) {
    (void)state;
    static Scene *const scenes[] = {thin_cross, fence, odd_green, dotted, quarters, screen};
    static const char *const jargon[] = {"rope", "strip", "dE00", "core",  "likeness",
                                         "-k",   "--",    "ink",  "lay-up"};
    for (size_t s = 0; s < sizeof scenes / sizeof *scenes; s++) {
        Logo logo;
        logo_draw_coarse(&logo, scenes[s]);
        logo.shop.dye_to_order = false; /* else one is go, and nothing is to be said */
        (void)logo_advise(&logo, 0.3);
        const char *sentence = told_client(&logo.job);
        assert_true(text_valid(sentence) && strlen(sentence) > 40 && sentence[strlen(sentence) - 1] == '.');
        for (size_t i = 0; i < sizeof jargon / sizeof *jargon; i++) assert_null(strstr(sentence, jargon[i]));
        logo_free(&logo);
    }
}

/* --- trials and redrawing --- */

static void orders_with_the_same_lay_up_share_it_and_nothing_is_run_twice(void **state) {
    (void)state;
    Logo logo;
    logo_draw_coarse(&logo, bold);
    logo_run(&logo);
    Trials trials;
    const Outcome *one, *other;
    Err err = {0};
    assert_true(trials_new(&logo.job, 10, &trials, &err));
    Change change = {.pieces = 600};
    assert_true(trial_run(&trials, &change, &one, &err));
    assert_non_null(one);
    assert_true(trial_run(&trials, &change, &other, &err));
    assert_int_equal(trials.runs, 1);
    assert_ptr_equal(one, other);
    double laid = 10 - trials.budget, left = trials.budget;
    change.pieces = 601; /* another log, as long as a hair */
    assert_true(trial_run(&trials, &change, &other, &err));
    assert_int_equal(trials.runs, 2);
    assert_true(left - trials.budget > 0 && left - trials.budget < laid / 2);
    change.diameter_mm = 17;
    assert_true(trial_run(&trials, &change, &other, &err));
    assert_int_equal(trials.runs, 3);
    change.dyed = 1u << logo.inks.field;
    change.colours = 1; /* the field dyed, and no candy left for the square: can be run, red merges */
    change.pieces = 600;
    assert_true(trial_run(&trials, &change, &other, &err));
    assert_true(!other || other->verdict != VERDICT_GO);
    trials_free(&trials);
    logo_free(&logo);
}

static void what_is_left_out_takes_the_ink_round_it_to_the_pixel(void **state) {
    (void)state;
    Logo logo, plain;
    logo_draw_coarse(&logo, banded);
    logo_draw_coarse(&plain, band_shared);
    logo_run(&logo);
    uint64_t set = 0;
    for (int i = 0; i < logo.job.judgement.parts; i++) {
        Rgb8 candy = logo.job.palette.candy[logo.job.judgement.part[i].candy].srgb;
        if (candy.b < 100) set |= (uint64_t)1 << i; /* neither white nor blue */
    }
    assert_true(set != 0);
    InkMap map;
    Err err = {0};
    Change change = {.without = set};
    Edit edit[CHANGE_POINTS];
    bool can = false;
    assert_true(change_points(&logo.job, &change, &can, &err));
    assert_true(can && change.points > 0);
    for (int i = 0; i < change.points; i++)
        edit[i] = (Edit){.with = i > 0, .x = change.point[i].x, .y = change.point[i].y};
    assert_true(leave_out(&logo.inks, edit, change.points, &map, &err));
    assert_int_equal(map.count, 2);
    int wrong = 0;
    double shares = 0, borders = 0;
    for (int i = 0; i < SIDE * SIDE; i++) {
        Rgb8 a = map.ink[map.label[i]].srgb, b = plain.inks.ink[plain.inks.label[i]].srgb;
        wrong += a.r != b.r || a.g != b.g || a.b != b.b;
    }
    assert_true(wrong <= 5 * SIDE); /* its middle may lie a pixel off, and is round at the band's corners */
    for (int i = 0; i < map.count; i++) {
        shares += map.ink[i].share;
        for (int k = 0; k < i; k++) borders += map.border[i][k];
    }
    assert_true(fabs(shares - 1) < 1e-9 && fabs(borders - 1) < 1e-9);
    inkmap_free(&map);
    int other = (logo.inks.field + 1) % logo.inks.count;
    Edit join = {.kind = EDIT_JOIN,
                 .ink = logo.inks.ink[other].srgb,
                 .into = logo.inks.ink[logo.inks.field].srgb}; /* it joins the field */
    assert_true(leave_out(&logo.inks, &join, 1, &map, &err));
    assert_int_equal(map.count, 2);
    inkmap_free(&map);
    logo_free(&logo);
    logo_free(&plain);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_thin_cross_goes_in_larger_pieces_and_not_in_a_millimetre_less),
        cmocka_unit_test(where_inches_are_spoken_sizes_go_by_twentieths_of_an_inch),
        cmocka_unit_test(a_thin_letter_goes_in_orders_told_as_intervals),
        cmocka_unit_test(the_hairline_round_a_shield_is_one_thing),
        cmocka_unit_test(a_green_the_shop_has_not_goes_with_a_candy_dyed_to_it),
        cmocka_unit_test(a_square_goes_without_the_dots_beside_it),
        cmocka_unit_test(five_colours_go_with_five_candies_and_not_with_four),
        cmocka_unit_test(two_greens_go_as_one_where_there_is_no_candy_for_both),
        cmocka_unit_test(much_work_goes_with_plainer_detail_and_not_with_normal),
        cmocka_unit_test(work_for_two_goes_with_a_third_and_not_without),
        cmocka_unit_test(thin_ropes_go_from_a_warmer_box_and_not_from_a_degree_less),
        cmocka_unit_test(a_run_that_the_budget_does_not_allow_is_refused),
        cmocka_unit_test(a_fence_that_is_no_can_be_built_in_larger_pieces),
        cmocka_unit_test(where_nothing_helps_a_simpler_drawing_is_described),
        cmocka_unit_test(a_job_that_is_go_is_left_alone),
        cmocka_unit_test(no_run_is_spent_on_a_drawing_full_of_shading),
        cmocka_unit_test(the_budget_is_kept_and_what_was_not_run_is_not_advised),
        cmocka_unit_test(every_way_gives_what_a_run_of_its_own_gives),
        cmocka_unit_test(advice_is_the_same_each_time),
        cmocka_unit_test(clients_get_plain_words),
        cmocka_unit_test(orders_with_the_same_lay_up_share_it_and_nothing_is_run_twice),
        cmocka_unit_test(what_is_left_out_takes_the_ink_round_it_to_the_pixel),
    };
    return cmocka_run_group_tests_name("advise", tests, NULL, NULL);
}
