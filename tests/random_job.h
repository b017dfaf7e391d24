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

/* Rows of letters of five by three dots, now and then round: what letters are made even of. */
static inline void random_letters(Feed *feed, Picture *p) {
    static const uint16_t glyph[] = {0x7b6f, 0x7497, 0x7bed, 0x4927, 0x5b6d, 0x7a4f, 0x2492, 0x75af};
    int rows = feed_below(feed, 3), dot = 1 + feed_below(feed, 3), gap = 1 + feed_below(feed, 3);
    uint8_t ink[4] = {(uint8_t)feed_8(feed), (uint8_t)feed_8(feed), (uint8_t)feed_8(feed), 255};
    for (int row = 0; row < rows; row++) {
        unsigned which = feed_8(feed);
        int top = feed_below(feed, RANDOM_SIDE), bend = feed_below(feed, 4) == 0;
        for (int at = 0; at + 3 * dot <= p->width; at += 3 * dot + gap) {
            int down = top + (bend ? abs(at - p->width / 2) / 4 : 0);
            which = which * 5 + 3;
            for (int y = down; y < down + 5 * dot && y < p->height; y++)
                for (int x = at; x < at + 3 * dot; x++)
                    if (glyph[which / 2 % 8] >> (14 - (y - down) / dot * 3 - (x - at) / dot) & 1)
                        memcpy(p->rgba + 4 * ((size_t)y * (size_t)p->width + (size_t)x), ink, 4);
        }
    }
}

/* For inks of the logo: a candy, a blend of two, a dye. People and the warm box beside them. */
static inline void random_wishes(Feed *feed, const RandomLogo *logo, Order *order) {
    const InkMap *inks = &logo->inks;
    order->wishes = 0;
    for (int i = 0; i < inks->count && order->wishes < INKS_MAX; i++) {
        unsigned kind = feed_8(feed) % 4;
        if (kind == 0 || inks->ink[i].transparent) continue;
        InkWish *wish = &order->wish[order->wishes++];
        wish->ink = inks->ink[i].srgb;
        random_candy(feed, &logo->shop, wish->candy);
        char other[CANDY_NAME];
        random_candy(feed, &logo->shop, other);
        if (kind == 2) (void)snprintf(wish->candy, CANDY_NAME, "dye");
        char blend[2 * CANDY_NAME + 16];
        (void)snprintf(blend, sizeof blend, "%s+%d%s", wish->candy, 1 + feed_below(feed, 3), other);
        if (kind == 3 && strlen(blend) < CANDY_NAME) memcpy(wish->candy, blend, strlen(blend) + 1);
    }
    order->people = feed_below(feed, 6);
    order->joining_c = feed_below(feed, 2) ? 0 : feed_between(feed, WARM_BOX_LEAST_C, WARM_BOX_MOST_C);
}

/* Something of the order becomes otherwise: most changes leave the candies, some do not. */
static inline void random_change(Feed *feed, const RandomLogo *logo, Order *order) {
    const InkMap *inks = &logo->inks;
    switch (feed_below(feed, 10)) {
    case 0:
        order->piece_diameter_mm = feed_between(feed, 5, 60);
        break;
    case 1:
        order->piece_length_mm = feed_between(feed, 2, 100);
        break;
    case 2:
        order->pieces = 1 + 97L * feed_8(feed);
        break;
    case 3:
        order->weight_g = feed_below(feed, 2) ? 0 : feed_between(feed, 1, 20000);
        break;
    case 4:
        order->detail = (Detail)feed_below(feed, 3);
        break;
    case 5:
        order->people = feed_below(feed, 6);
        break;
    case 6:
        order->joining_c = feed_between(feed, WARM_BOX_LEAST_C, WARM_BOX_MOST_C);
        break;
    case 7:
        random_wishes(feed, logo, order);
        break;
    case 8:
        order->ropes_cap = feed_below(feed, 40);
        break;
    default:
        order->edits = 1;
        order->edit[0] = (Edit){.kind = feed_below(feed, 2) ? EDIT_JOIN : EDIT_LEAVE_OUT,
                                .x = 40 * feed_8(feed),
                                .y = 40 * feed_8(feed),
                                .ink = inks->ink[feed_below(feed, inks->count)].srgb,
                                .into = inks->ink[feed_below(feed, inks->count)].srgb};
    }
}

#endif
