/* Points of the picture; the shop as an order has it. SPDX-License-Identifier: MIT */
#include "model/order.h"

#include "base/text.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>

int spot_pixel(int width, int height, int x, int y) {
    enum { WHOLE = 100 * POINT_UNIT };
    int column = (int)((int64_t)x * width / WHOLE), row = (int)((int64_t)y * height / WHOLE);
    return (row < height ? row : height - 1) * width + (column < width ? column : width - 1);
}

void spot_print(int x, int y, char out[SPOT_TEXT]) {
    char across[12], down[12];
    text_number(across, sizeof across, (double)x / POINT_UNIT, 2);
    text_number(down, sizeof down, (double)y / POINT_UNIT, 2);
    (void)snprintf(out, SPOT_TEXT, "%s:%s", across, down);
}

double diameter_typed(double mm, Units units) {
    return units == UNITS_IN ? ceil(mm / MM_PER_IN * 1000 - 1e-9) / 1000 * MM_PER_IN : mm;
}

bool shop_for(const Shop *shop, const Order *order, Shop *out, Err *err) {
    Shop made = *shop;
    if (order->people > 0) made.people = order->people;
    if (order->joining_c > 0) made.joining_c = order->joining_c;
    if (made.joining_c <= made.working_c)
        return err_set(
            err, ERR_USAGE,
            "--warm-box: %.4g °C is not over the %.4g °C below which no rope is joined; choose more",
            made.joining_c, made.working_c);
    *out = made;
    return true;
}
