/* A random logo with letters, redrawn in each way whether it gains or not, laid up, softened, weighed, made
 * into blocks, cooked and planned. SPDX-License-Identifier: MIT */
#include "fuzz.h"

#include "inks/inks.h"
#include "job_properties.h"
#include "plan/plan.h"
#include "run/run.h"
#include "random_job.h"

/* What is called lettering can be left out, and only that; every second time the logo is without it. */
static void leave_lettering_out(InkMap *map, bool stays) {
    const Edit lettering = {.kind = EDIT_LETTERING};
    InkMap out = {.count = 0};
    Err err = {0};
    double share, sum = 0;
    assert(find_lettering(map, &share, &err) && share >= 0 && share < 1);
    const bool left = leave_out(map, &lettering, 1, &out, &err);
    assert(left == (share > 0));
    if (!left) {
        check_message(&err);
        return;
    }
    assert(out.width == map->width && out.height == map->height && out.lettering == share);
    assert(out.count >= 1 && out.count <= map->count && out.field < out.count);
    for (int i = 0; i < out.count; i++) sum += out.ink[i].share;
    assert(sum > 1 - 1e-9 && sum < 1 + 1e-9);
    for (int i = 0; i < out.width * out.height; i++) assert(out.label[i] < out.count);
    inkmap_free(stays ? &out : map);
    if (!stays) *map = out;
}

/* Letters in rows by one of the wishes; what they are drawn over keeps its size and its candies. */
static void make_even(Feed *feed, Job *job) {
    EvenWish wish = even_wish(feed_below(feed, EVEN_WISHES));
    EvenLetters letters = {0};
    Grid even = {0};
    Err err = {0};
    size_t samples = (size_t)job->grid.wanted.side * (size_t)job->grid.wanted.side;
    uint8_t *made = malloc(samples);
    assert(made);
    memcpy(made, job->grid.wanted.candy, samples);
    assert(even_letters(&job->grid, &wish, made, &letters, &err));
    assert(letters.rows >= 0 && letters.rows <= EVEN_ROWS_MAX && letters.letters <= EVEN_LETTERS_MAX);
    for (size_t i = 0; i < samples; i++) {
        assert((made[i] == OUTSIDE) == (job->grid.wanted.candy[i] == OUTSIDE));
        assert(made[i] == OUTSIDE || made[i] < job->palette.count);
        assert(letters.rows > 0 || made[i] == job->grid.wanted.candy[i]);
    }
    for (int i = 0; i < letters.rows; i++)
        assert(letters.row[i].candy < job->palette.count && letters.row[i].letters > 0);
    if (letters.rows > 0) {
        assert(frame_redrawn(&job->grid, &job->cane.key, made, &even, &err));
        grid_free(&job->grid);
        job->grid = even;
        job->grid.redrawn.even = letters;
    }
    free(made);
}

static void check_redrawn(const Grid *grid) {
    const Face *sent = face_as_sent(grid);
    assert(sent->side == grid->wanted.side && grid->redrawn.count <= REDRAWN_MAX);
    for (int i = 0; i < sent->side * sent->side; i++) {
        assert((sent->candy[i] == OUTSIDE) == (grid->wanted.candy[i] == OUTSIDE));
        assert(sent->candy[i] == OUTSIDE || grid->wanted.candy[i] < grid->candies);
    }
}

static bool lay(Feed *feed, Job *j, Err *err) {
    if (!frame(j->inks, &j->palette, &j->cane.key, &j->grid, err)) return false;
    assert(redraw(&j->grid, (RedrawWay)feed_below(feed, REDRAW_WAYS), err));
    check_redrawn(&j->grid);
    if (feed_below(feed, 4)) make_even(feed, j);
    return cost_cells(&j->grid, err) && lay_up(&j->grid, &j->cane.key, &j->layup, err) &&
           find_blocks(&j->grid, &j->layup, &j->blocks, err) &&
           soften(&j->grid, &j->layup, &j->cane.key, &j->face, err) &&
           mark_fine(&j->grid, &j->layup, &j->fine, err) &&
           find_wrong_ways(&j->grid, &j->layup, j->shop->fits_within_mm / j->cane.step_mm, &j->blocks, err);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    Feed feed = {data, size};
    RandomLogo logo = {.shop = shop_default()};
    Job job = {.picture = &logo.picture, .inks = &logo.inks, .file = "random.png"};
    Shop shop;
    Err err = {0};
    random_shop(&feed, &logo.shop);
    job.order = random_order(&feed, &logo.shop);
    job.order.weight_g = 0;
    job.shop = &shop;
    const uint8_t *ways = feed.bytes; /* before the picture, which takes all that is left */
    size_t room = feed.left < 32 ? feed.left : 32;
    feed.bytes += room, feed.left -= room;
    random_picture(&feed, &logo.picture);
    random_letters(&(Feed){ways, room}, &logo.picture);
    assert(find_inks(&logo.picture, &logo.inks, &err));
    leave_lettering_out(&logo.inks, size % 2);
    feed = (Feed){ways, room};
    random_wishes(&feed, &logo, &job.order);
    bool good = shop_for(&logo.shop, &job.order, &shop, &err) &&
                match_candy(&logo.inks, &job.order, &shop, &job.palette, &err) &&
                size_cane(&job.order, &job.palette, &shop, &job.cane, &err) && lay(&feed, &job, &err) &&
                job_run_again(&job, &err); /* the lay-up stays, the rest is worked out */
    if (good)
        check_job(&job);
    else
        check_message(&err);
    job_free(&job);
    inkmap_free(&logo.inks);
    picture_free(&logo.picture);
    return 0;
}
