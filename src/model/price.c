/* What an order comes to. SPDX-License-Identifier: MIT */
#include "model/bill.h"
#include "model/shop.h"

bool shop_has_prices(const Shop *shop) {
    return shop->price_candy_kg > 0 || shop->price_hour > 0 || shop->price_dyed_batch > 0;
}

double quote_price(const Quote *quote) {
    return quote->candy_cost + quote->dye_cost + quote->work_cost;
}
