/* The whole pipeline on a small random picture. SPDX-License-Identifier: MIT */
#include "fuzz.h"

#include "inks/inks.h"
#include "job_properties.h"
#include "random_job.h"
#include "run/run.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    Feed feed = {data, size};
    RandomLogo logo = {.shop = shop_default()};
    Job job = {.picture = &logo.picture, .inks = &logo.inks, .shop = &logo.shop, .file = "random.png"};
    Err err = {0};
    random_shop(&feed, &logo.shop);
    job.order = random_order(&feed, &logo.shop);
    random_picture(&feed, &logo.picture);
    assert(find_inks(&logo.picture, &logo.inks, &err));
    if (job_run(&job, &err)) {
        check_job(&job);
    } else
        check_message(&err);
    job_free(&job);
    inkmap_free(&logo.inks);
    picture_free(&logo.picture);
    return 0;
}
