/* A job ordered again and again beside one of its own; blends, dyes, changes of the logo, people, the warm
 * box. SPDX-License-Identifier: MIT */
#include "fuzz.h"

#include "inks/inks.h"
#include "job_properties.h"
#include "random_job.h"
#include "run/run.h"

static char *json_of(const Job *job) {
    char *text = NULL;
    size_t size = 0;
    Err err = {0};
    FILE *file = open_memstream(&text, &size);
    assert(file && write_json(job, file, &err));
    fclose(file);
    return text;
}

/* Both ran, with the same results, or both say the same. */
static bool same_again(const Job *named, Ordered *again) {
    Ordered own;
    Err err = {0}, own_err = {0};
    bool good = ordered_again(named, again, &err), made = ordered_new(named, &own, &own_err);
    bool own_good = made && job_run(&own.job, &own_err);
    assert(good == own_good && strcmp(err.msg, own_err.msg) == 0);
    if (good) {
        char *got = json_of(&again->job), *want = json_of(&own.job);
        assert(strcmp(got, want) == 0);
        free(got), free(want);
        check_job(&again->job);
    } else {
        check_message(&err);
    }
    if (made) ordered_free(&own);
    return good;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    Feed feed = {data, size};
    RandomLogo logo = {.shop = shop_default()};
    Job named = {.picture = &logo.picture, .inks = &logo.inks, .shop = &logo.shop, .file = "random.png"};
    Ordered ordered = {0};
    Err err = {0};
    random_shop(&feed, &logo.shop);
    named.order = random_order(&feed, &logo.shop);
    const uint8_t *changes = feed.bytes; /* before the picture, which takes all that is left */
    size_t room = feed.left < 64 ? feed.left : 64;
    feed.bytes += room, feed.left -= room;
    random_picture(&feed, &logo.picture);
    assert(find_inks(&logo.picture, &logo.inks, &err));
    feed = (Feed){changes, room};
    bool good = ordered_new(&named, &ordered, &err) && job_run(&ordered.job, &err);
    for (int i = 0; i < 3 && good && feed.left > 0; i++) {
        random_change(&feed, &logo, &named.order);
        good = same_again(&named, &ordered);
    }
    ordered_free(&ordered);
    inkmap_free(&logo.inks);
    picture_free(&logo.picture);
    return 0;
}
