/* What the order costs. SPDX-License-Identifier: MIT
 *
 * Input: what is cooked, the plan of work, the shop's prices. Output: the quote's hours and prices.
 * 1. Candy with its spare; dyeing to order, a batch each; flavour by its dose; the hours that people are at
 * it, each log's; fuel, a boiling each; packing, by the pieces that the logs give.
 * 2. The shop's margin on all that.
 * 3. Its least price of an order, if that is more, then up to the next multiple of what it rounds to.
 * What the shop gives no price for counts nothing; say/ says so beside the price. Cost: nothing. */
#include "bench/bench.h"

#include <math.h>

static double amount_of(const Cane *cane, const Recipe *recipe, const Bill *bill, PricePart part) {
    const Quote *quote = &bill->quote;
    double candy_g = 0;
    for (int i = 0; i < bill->materials; i++) candy_g += bill->material[i].with_spare_g;
    const double amount[PRICE_PARTS] = {[PRICE_CANDY] = candy_g / 1000,
                                        [PRICE_DYE] = quote->dyed,
                                        [PRICE_FLAVOUR] = recipe->whole.flavour_g / 1000,
                                        [PRICE_HOURS] = quote->hours,
                                        [PRICE_FUEL] = recipe->boilings,
                                        [PRICE_PACKING] = (double)cane->pieces / 1000};
    return amount[part];
}

void price(const Cane *cane, const Shop *shop, const Recipe *recipe, const WorkPlan *work, Bill *bill) {
    Quote *quote = &bill->quote;
    double sum = 0;
    quote->hours = (work->paid + (cane->logs - 1) * work->next * work->people) / 60;
    for (int part = 0; part < PRICE_PARTS; part++) {
        double cost = amount_of(cane, recipe, bill, (PricePart)part) * shop_price(shop, (PricePart)part);
        quote->cost[part] = cost;
        sum += cost;
    }
    quote->margin_cost = sum * shop->price_margin;
    double all = fmax(sum + quote->margin_cost, shop->price_least);
    if (shop->price_round > 0) all = ceil(all / shop->price_round - 1e-9) * shop->price_round;
    quote->price = shop_has_prices(shop) ? all : 0;
}
