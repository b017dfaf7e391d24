/* What is asked for. SPDX-License-Identifier: MIT */
#include "model/order.h"

Order order_default(void) {
    return (Order){.pieces = 1000,
                   .piece_diameter_mm = 16,
                   .piece_length_mm = 14,
                   .colours = 4,
                   .detail = DETAIL_NORMAL,
                   .units = UNITS_MM};
}
