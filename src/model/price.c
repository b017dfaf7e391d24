/* Which prices a shop gives. SPDX-License-Identifier: MIT */
#include "model/bill.h"
#include "model/shop.h"

double shop_price(const Shop *shop, PricePart part) {
    const double price[PRICE_PARTS] = {
        [PRICE_CANDY] = shop->price_candy_kg,     [PRICE_DYE] = shop->price_dyed_batch,
        [PRICE_FLAVOUR] = shop->price_flavour_kg, [PRICE_HOURS] = shop->price_hour,
        [PRICE_FUEL] = shop->price_boiling,       [PRICE_PACKING] = shop->price_packing};
    return price[part];
}

bool shop_has_prices(const Shop *shop) {
    for (int part = 0; part < PRICE_PARTS; part++)
        if (shop_price(shop, (PricePart)part) > 0) return true;
    return false;
}
