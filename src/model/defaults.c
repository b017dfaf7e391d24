/* The order and the shop that hold where nobody says otherwise. SPDX-License-Identifier: MIT */
#include "model/order.h"
#include "model/shop.h"

Order order_default(void) {
    return (Order){.pieces = 1000,
                   .piece_diameter_mm = 16,
                   .piece_length_mm = 14,
                   .colours = 4,
                   .detail = DETAIL_NORMAL,
                   .units = UNITS_MM};
}

/* Densities: clear 1.50 g/ml (sucrose glass 1.43-1.51, literature, from memory); pulled 1.30 g/ml (common
 * practice). The colours are our own choice: what well-made candy of that name looks like on a cut face. */
#define CLEAR(name_, r_, g_, b_)                                                                             \
    { .name = name_, .finish = FINISH_CLEAR, .srgb = {r_, g_, b_}, .density_g_ml = 1.50 }
#define PULLED(name_, r_, g_, b_)                                                                            \
    { .name = name_, .finish = FINISH_PULLED, .srgb = {r_, g_, b_}, .density_g_ml = 1.30 }

static const Candy stock[] = {
    PULLED("white", 248, 246, 240),   PULLED("cream", 243, 229, 196), PULLED("black", 32, 29, 30),
    PULLED("grey", 142, 142, 140),    PULLED("red", 200, 32, 44),     PULLED("pink", 238, 140, 168),
    PULLED("orange", 240, 124, 32),   PULLED("yellow", 250, 210, 48), PULLED("green", 46, 142, 68),
    PULLED("sky blue", 96, 176, 224), PULLED("blue", 32, 76, 168),    PULLED("navy", 26, 36, 84),
    PULLED("violet", 112, 56, 142),   PULLED("brown", 104, 62, 40),   CLEAR("clear amber", 226, 176, 92),
    CLEAR("clear red", 150, 14, 30),
};

Shop shop_default(void) {
    Shop shop = {0};
    int count;
    const ShopKey *key = shop_keys(&count);
    for (int i = 0; i < count; i++) shop_key_reset(&key[i], &shop);
    shop.stock.count = (int)(sizeof stock / sizeof *stock);
    for (int i = 0; i < shop.stock.count; i++) shop.stock.candy[i] = stock[i];
    return shop;
}
