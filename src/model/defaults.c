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
#define CLEAR(name, r, g, b)                                                                                 \
    { name, FINISH_CLEAR, {r, g, b}, 1.50, false, 0 }
#define PULLED(name, r, g, b)                                                                                \
    { name, FINISH_PULLED, {r, g, b}, 1.30, false, 0 }

static const Candy stock[] = {
    PULLED("white", 248, 246, 240),   PULLED("cream", 243, 229, 196), PULLED("black", 32, 29, 30),
    PULLED("grey", 142, 142, 140),    PULLED("red", 200, 32, 44),     PULLED("pink", 238, 140, 168),
    PULLED("orange", 240, 124, 32),   PULLED("yellow", 250, 210, 48), PULLED("green", 46, 142, 68),
    PULLED("sky blue", 96, 176, 224), PULLED("blue", 32, 76, 168),    PULLED("navy", 26, 36, 84),
    PULLED("violet", 112, 56, 142),   PULLED("brown", 104, 62, 40),   CLEAR("clear amber", 226, 176, 92),
    CLEAR("clear red", 150, 14, 30),
};

Shop shop_default(void) {
    Shop shop = {.log_diameter_max_mm = 200,
                 .log_diameter_min_mm = 80,
                 .log_length_min_mm = 300,
                 .log_mass_max_g = 12000,
                 .least_strip_mm = 6,
                 .least_sheet_mm = 3,
                 .bench_length_mm = 2000,
                 .lump_length_min_mm = 60,
                 .block_width_max_mm = 100,
                 .jacket_share = 0.10,
                 .lost_share = 0.12,
                 .spare_share = 0.05,
                 .rounding = 0.35,
                 .ropes_max = 60,
                 .minutes_rope = 0.6,
                 .minutes_join = 0.4,
                 .minutes_draw = 1.5,
                 .people = 2,
                 .working_minutes = 40,
                 .kettle_g = 6000,
                 .sugar_share = 0.70,
                 .syrup_solids = 80.3 / 100, /* as it is read from a file, in % */
                 .moisture = 0.025,
                 .cook_c = 149,
                 .water_share = 0.30,
                 .joining_c = 80,
                 .working_c = 70,
                 .room_c = 22};
    shop.stock.count = (int)(sizeof stock / sizeof *stock);
    for (int i = 0; i < shop.stock.count; i++) shop.stock.candy[i] = stock[i];
    return shop;
}
