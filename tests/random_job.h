/* A small picture, an order and a shop made from any bytes. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_TESTS_RANDOM_JOB_H
#define LOGOCANE_TESTS_RANDOM_JOB_H

#include "fuzz.h"

#include "model/job.h"

enum { RANDOM_SIDE = 48, RANDOM_SHAPES = 24 };

typedef struct RandomLogo {
    Picture picture;
    InkMap inks;
    Shop shop;
} RandomLogo;

/* Each key of the shop's table stays, or is somewhere in its range; but ropes are so thick, or the log so
 * thin, that a lay-up takes no time. */
static inline void random_shop(Feed *feed, Shop *shop) {
    int count, chance = feed_8(feed) % 4 ? 0 : 64;
    const ShopKey *key = shop_keys(&count);
    char value[64];
    for (int i = 0; i < count && chance; i++) {
        if (key[i].kind == KEY_WORD || key[i].kind == KEY_TEXT || feed_below(feed, 256) >= chance) continue;
        double number = feed_between(feed, key[i].low, key[i].high);
        (void)snprintf(value, sizeof value, key[i].kind == KEY_WHOLE ? "%.0f" : "%.4f", number);
        if (key[i].kind == KEY_YES) strcpy(value, number < 0.5 ? "no" : "yes");
        assert(shop_key_read(&key[i], value, shop));
    }
    shop->least_strip_mm = feed_between(feed, 15, 20);
    if (shop->log_diameter_max_mm > 80) shop->log_diameter_max_mm = feed_between(feed, 60, 80);
    if (shop->log_diameter_min_mm > shop->log_diameter_max_mm) shop->log_diameter_min_mm = 40;
    if (shop->working_c >= shop->joining_c) shop->working_c = 45;
    if (shop->working_c <= shop->room_c) shop->room_c = 22;
}

static inline void random_candy(Feed *feed, const Shop *shop, char out[CANDY_NAME]) {
    (void)snprintf(out, CANDY_NAME, "%s", shop->stock.candy[feed_below(feed, shop->stock.count)].name);
}

static inline Order random_order(Feed *feed, const Shop *shop) {
    static const int pieces[] = {1000, 1, 250, 3000, 100000, PIECES_MAX};
    Order order = order_default();
    order.pieces = pieces[feed_below(feed, 6)];
    order.piece_diameter_mm = feed_between(feed, 5, 60);
    order.piece_length_mm = feed_between(feed, 2, 100);
    unsigned flags = feed_8(feed);
    order.colours = flags & 1 ? 4 : 1 + feed_below(feed, INKS_MAX);
    if (flags & 2) order.weight_g = feed_between(feed, 1, 20000);
    if (flags & 4) random_candy(feed, shop, order.field);
    order.jackets = flags & 8 ? feed_below(feed, 4) : 0;
    for (int i = 0; i < order.jackets; i++) random_candy(feed, shop, order.jacket[i]);
    if (order.jackets > 1) order.stripes = order.jackets * feed_below(feed, 9);
    if (flags & 16) order.ropes_cap = 1 + feed_below(feed, 60);
    order.detail = (Detail)(flags >> 5 & 3) == 3 ? DETAIL_NORMAL : (Detail)(flags >> 5 & 3);
    order.no_fine = flags & 128;
    (void)snprintf(order.name, sizeof order.name, "random");
    return order;
}

/* Draws a box, a disc or noise of one of eight inks. */
static inline void random_shape(Feed *feed, const uint8_t ink[8][4], Picture *p) {
    unsigned kind = feed_8(feed), hash = kind * 2654435761u;
    int cx = feed_below(feed, RANDOM_SIDE), cy = feed_below(feed, RANDOM_SIDE);
    int a = 1 + feed_below(feed, RANDOM_SIDE / 2), b = 1 + feed_below(feed, RANDOM_SIDE / 2);
    for (int y = 0; y < p->height; y++)
        for (int x = 0; x < p->width; x++) {
            int dx = abs(x - cx), dy = abs(y - cy), which = (int)(kind >> 2 & 7);
            bool inside = kind & 1 ? dx * dx * b * b + dy * dy * a * a <= a * a * b * b : dx < a && dy < b;
            hash = hash * 1664525u + 1013904223u;
            if (kind >= 248) which = (int)(hash >> 24 & 7);
            if (inside) memcpy(p->rgba + ((size_t)y * (size_t)p->width + (size_t)x) * 4, ink[which], 4);
        }
}

static inline void random_picture(Feed *feed, Picture *p) {
    uint8_t ink[8][4];
    *p = (Picture){.width = 1 + feed_below(feed, RANDOM_SIDE), .height = 1 + feed_below(feed, RANDOM_SIDE)};
    p->file_width = p->width, p->file_height = p->height, p->shrink = 1;
    size_t count = (size_t)p->width * (size_t)p->height;
    p->rgba = calloc(count, 4);
    assert(p->rgba);
    for (int i = 0; i < 8; i++)
        for (int c = 0; c < 4; c++) ink[i][c] = (uint8_t)feed_8(feed);
    for (int i = 0; i < 8; i++) /* most are opaque */
        if (ink[i][3] < 192) ink[i][3] = 255;
    for (size_t i = 0; i < count && feed->left % 2; i++) memcpy(p->rgba + 4 * i, ink[0], 4);
    for (int i = 0; i < RANDOM_SHAPES && feed->left > 0; i++) random_shape(feed, (const uint8_t(*)[4])ink, p);
    p->rgba[3] = 255; /* there is something to see */
}

#endif
