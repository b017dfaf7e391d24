/* Which of several palettes makes the best piece. SPDX-License-Identifier: MIT
 *
 * Input: the palettes that could do, by what they cost in area and borders. Output: one of them, and why the
 * others lost.
 * 1. Each is framed coarsely, laid up with straight cuts only, softened and judged: in a log for the usual
 * order, so that the candies depend on neither size nor number of the pieces. Threads share the palettes. Of
 * those that part the picture alike, one is laid up; the others are judged by its face in their own candies.
 * 2. The best: by the verdict of what the piece looks like (ropes, minutes, log and warmth do not count);
 * then by worth, likeness and features kept less colours far off, contrast lost and candies to cook; then the
 * cheaper one, so that nothing depends on threads. Cost: less than one lay-up with its search, on two cores.
 */
#include "run/choose.h"

#include "model/far_colour.h"
#include "judge/judge.h"
#include "plan/plan.h"
#include "run/coarse.h"

#include "base/parallel.h"

#include <math.h>
#include <string.h>

static const double colours_apart = 25; /* CIEDE2000: as match_candies has it */
/* What they count for, chosen by eye over the quality set. Likeness and features are of the picture in these
 * candies, so they do not tell what was joined in it; a coarse lay-up has its accidents besides. */
static const double likeness_worth = 0.4, features_worth = 0.05, contrast_worth = 0.5;
static const double loud_worth = 0.003; /* for each of CIELAB chroma of a field that the logo does not have */
static const double candy_worth = 0.01; /* of likeness: a batch less to cook; chosen */
static const double sure_worth = 0.01;  /* less is an accident: the cheaper one stays; chosen */
static const double close_worth = 0.02; /* so near is worth telling; chosen */

typedef struct Choosing {
    const Job *job;
    const Palettes *palettes;
    Job piece[PALETTES_MAX]; /* framed coarsely, then the first of those alike finished; owned */
    int like[PALETTES_MAX];  /* which piece is the first whose picture is the same; itself: it is the first */
    Choice choice;
} Choosing;

static bool is_of_shop(CheckKind kind) {
    return kind >= CHECK_ROPES;
}

static Verdict verdict_of_looks(const Judgement *judgement) {
    Verdict worst = VERDICT_GO;
    for (int i = 0; i < judgement->checks; i++) {
        const Check *check = &judgement->check[i];
        if (!is_of_shop(check->kind) && check->verdict > worst) worst = check->verdict;
    }
    return worst;
}

static Order usual_order(const Order *from) {
    const Order usual = order_default();
    Order order = *from;
    order.weight_g = 0;
    order.pieces = usual.pieces;
    order.piece_diameter_mm = usual.piece_diameter_mm;
    order.piece_length_mm = usual.piece_length_mm;
    order.detail = usual.detail;
    order.ropes_cap = 0;
    return order;
}

/* The job of the usual order; of its own where the shop cannot make that. */
static bool size_usual(Job *job, Err *err) {
    const Order order = usual_order(&job->order);
    Err unusual = {0};
    if (!size_cane(&order, &job->palette, job->shop, &job->cane, &unusual))
        return size_cane(&job->order, &job->palette, job->shop, &job->cane, err);
    job->order = order;
    return true;
}

/* The ink that the logo has where the sample is; -1 beyond it. */
static int ink_at(const Job *j, int x, int y) {
    const InkMap *inks = j->inks;
    const Frame *f = &j->grid.frame;
    const double half = j->grid.steps / 2.0;
    double column = f->centre_px.x + ((x + 0.5) / SAMPLES - half) * f->px_per_step;
    double row = f->centre_px.y + ((y + 0.5) / SAMPLES - half) * f->px_per_step;
    bool inside = column >= 0 && row >= 0 && column < inks->width && row < inks->height;
    return inside ? inks->label[(size_t)row * inks->width + (size_t)column] : -1;
}

/* How far a candy is from an ink, 0..1: from none, or a transparent one, all but the field's. */
static double far_from(const Job *j, int ink, int candy) {
    const Palette *p = &j->palette;
    if (ink < 0 || j->inks->ink[ink].transparent) return candy != p->field;
    return fmin(colour_cost(j->inks->ink[ink].srgb, p->candy[candy].srgb) / colours_apart, 1);
}

/* Mean over the inks, each by the root of its samples: an accent is seen too. */
static double colour_far(const Job *j) {
    double far[INKS_MAX + 1][INKS_MAX], sum[INKS_MAX + 1] = {0}, all = 0, weight = 0;
    long count[INKS_MAX + 1] = {0};
    const Face *face = &j->face;
    for (int i = -1; i < j->inks->count; i++)
        for (int k = 0; k < j->palette.count; k++) far[i + 1][k] = far_from(j, i, k);
    for (int y = 0; y < face->side; y++)
        for (int x = 0; x < face->side; x++) {
            uint8_t candy = face->candy[(size_t)y * face->side + x];
            if (candy == OUTSIDE) continue;
            int ink = ink_at(j, x, y) + 1;
            sum[ink] += far[ink][candy];
            count[ink]++;
        }
    for (int i = 0; i <= j->inks->count; i++) {
        if (count[i] == 0) continue;
        double root = sqrt((double)count[i]);
        all += root * sum[i] / (double)count[i];
        weight += root;
    }
    return weight > 0 ? all / weight : 0;
}

/* Chroma of the field where the logo has none of its own. */
static double loudness(const Job *j) {
    bool own = !j->inks->ink[j->inks->field].transparent;
    return own ? 0 : rgb8_chroma(j->palette.candy[j->palette.field].srgb);
}

static double looks_of(const Tried *t) {
    return likeness_worth * t->likeness + features_worth * t->features;
}

static double far_of(const Tried *t) {
    return t->colour + contrast_worth * t->contrast + loud_worth * t->loud;
}

static bool frame_palette(void *context, int i, Err *err) {
    Choosing *c = context;
    const Job *from = c->job;
    Job *j = &c->piece[i];
    *j = (Job){.inks = from->inks, .shop = from->shop, .order = from->order};
    j->palette = c->palettes->palette[i];
    return is_wanted(from->stop, err) && size_usual(j, err) && coarse_frame(j, err);
}

/* Does all that comes before the judging see the same of both? */
static bool same_picture(const Job *a, const Job *b) {
    const Grid *p = &a->grid, *q = &b->grid;
    bool same = lay_key_compare(&a->cane.key, &b->cane.key) == 0 && p->candies == q->candies &&
                p->field == q->field && p->rings == q->rings;
    for (int i = 0; same && i < p->rings; i++)
        same = p->ring[i].candy == q->ring[i].candy && p->ring[i].inner == q->ring[i].inner;
    for (int i = 0; same && i < p->candies; i++)
        for (int k = 0; same && k < p->candies; k++) same = p->apart[i][k] == q->apart[i][k];
    return same &&
           memcmp(p->wanted.candy, q->wanted.candy, (size_t)p->wanted.side * (size_t)p->wanted.side) == 0;
}

static void fill_tried(Choosing *c, int i) {
    const Job *j = &c->piece[i];
    Tried *tried = &c->choice.tried[i];
    *tried = (Tried){.palette = j->palette, .verdict = verdict_of_looks(&j->judgement)};
    tried->likeness = j->judgement.likeness;
    tried->features = j->measures.features.kept_share;
    tried->colour = colour_far(j);
    tried->contrast = fmin(c->palettes->lacking[i] / colours_apart, 1);
    tried->loud = loudness(j);
    tried->worth = looks_of(tried) - far_of(tried) - candy_worth * j->palette.count;
}

static bool try_first(void *context, int i, Err *err) {
    Choosing *c = context;
    Job *j = &c->piece[i];
    if (c->like[i] != i) return true;
    if (!is_wanted(c->job->stop, err) || !redraw(&j->grid, REDRAW_LINES, err) ||
        !coarse_piece(j, COARSE_LAID, err))
        return false;
    fill_tried(c, i);
    return true;
}

static bool try_other(void *context, int i, Err *err) {
    Choosing *c = context;
    Job *j = &c->piece[i];
    const Job *first = &c->piece[c->like[i]];
    if (first == j) return true;
    const Grid own = j->grid;
    j->grid = first->grid;
    j->layup = first->layup;
    j->face = first->face;
    bool done = is_wanted(c->job->stop, err) && judge_job(j, err);
    if (done) fill_tried(c, i);
    j->grid = own;
    j->layup = (LayUp){0};
    j->face = (Face){0};
    return done;
}

static bool try_palettes(Choosing *c, Err *err) {
    const int count = c->palettes->count;
    bool done = parallel_tasks(count, 0, frame_palette, c, err);
    for (int i = 0; i < count && done; i++)
        for (c->like[i] = 0; c->like[i] < i && !same_picture(&c->piece[c->like[i]], &c->piece[i]);)
            c->like[i]++;
    done = done && parallel_tasks(count, 0, try_first, c, err) && parallel_tasks(count, 0, try_other, c, err);
    for (int i = 0; i < count; i++) job_free(&c->piece[i]);
    return done;
}

/* What of the worth decided, if the verdict did not. */
static Loss loss_of(const Tried *tried, const Tried *best) {
    if (tried->verdict > best->verdict) return LOSS_VERDICT;
    double likeness = looks_of(best) - looks_of(tried), colour = far_of(tried) - far_of(best),
           batches = candy_worth * (tried->palette.count - best->palette.count);
    if (likeness > colour && likeness >= batches) return LOSS_LIKENESS;
    return colour >= batches ? LOSS_COLOUR : LOSS_BATCHES;
}

static bool is_better(const Tried *a, const Tried *b) {
    return a->verdict != b->verdict ? a->verdict < b->verdict : a->worth > b->worth + sure_worth;
}

static void take_best(Choice *c) {
    c->runner_up = -1;
    for (int i = 1; i < c->count; i++)
        if (is_better(&c->tried[i], &c->tried[c->taken])) c->taken = i;
    const Tried *best = &c->tried[c->taken];
    for (int i = 0; i < c->count; i++) {
        Tried *t = &c->tried[i];
        if (i == c->taken) continue;
        t->loss = loss_of(t, best);
        bool close = t->verdict == best->verdict && t->worth > best->worth - close_worth;
        if (close && (c->runner_up < 0 || t->worth > c->tried[c->runner_up].worth)) c->runner_up = i;
    }
}

bool choose_palette(const Job *job, Palette *palette, Choice *out, Err *err) {
    Palettes palettes;
    if (!match_candies(job->inks, &job->order, job->shop, &palettes, err)) return false;
    Choosing c = {.job = job, .palettes = &palettes, .choice.runner_up = -1};
    if (palettes.count > 1) {
        c.choice.count = palettes.count;
        if (!try_palettes(&c, err)) return false;
        take_best(&c.choice);
    }
    *palette = palettes.palette[c.choice.taken];
    *out = c.choice;
    return true;
}

/* --- another order --- */

static bool same_colour(Rgb8 a, Rgb8 b) {
    return a.r == b.r && a.g == b.g && a.b == b.b;
}

static bool same_wishes(const Order *a, const Order *b) {
    bool same = a->wishes == b->wishes;
    for (int i = 0; same && i < a->wishes; i++)
        same = same_colour(a->wish[i].ink, b->wish[i].ink) && strcmp(a->wish[i].candy, b->wish[i].candy) == 0;
    return same;
}

static bool same_jackets(const Order *a, const Order *b) {
    bool same = a->jackets == b->jackets && a->stripes == b->stripes;
    for (int i = 0; same && i < a->jackets; i++) same = strcmp(a->jacket[i], b->jacket[i]) == 0;
    return same;
}

static bool same_edits(const Order *a, const Order *b) {
    bool same = a->edits == b->edits;
    for (int i = 0; same && i < a->edits; i++) {
        const Edit *p = &a->edit[i], *q = &b->edit[i];
        same = p->kind == q->kind && p->with == q->with && p->x == q->x && p->y == q->y &&
               same_colour(p->ink, q->ink) && same_colour(p->into, q->into);
    }
    return same;
}

bool choice_stays(const Job *job, const Order *other) {
    const Order *order = &job->order, usual = usual_order(order);
    Cane cane;
    Err unusual = {0};
    return order->colours == other->colours && strcmp(order->field, other->field) == 0 &&
           order->fit == other->fit && order->no_fine == other->no_fine && same_wishes(order, other) &&
           same_jackets(order, other) && same_edits(order, other) &&
           size_cane(&usual, &job->palette, job->shop, &cane, &unusual);
}
