/* What the order comes to. SPDX-License-Identifier: MIT
 *
 * Candy is coloured log by log, for it does not wait: each candy is a batch for each log. Work is that of
 * laying up, the only one whose minutes are known: minutes of a log, of all people, for all logs. */
#include "bench/quote.h"

void quote(const Order *order, const Cane *cane, const Shop *shop, Bill *bill) {
    Quote q = {.spare_pieces = cane->pieces - order->pieces,
               .pieces_per_kg = 1000 / bill->piece_mass_g,
               .pieces_mass_g = bill->piece_mass_g * (double)order->pieces};
    for (int i = 0; i < bill->materials; i++) {
        if (bill->material[i].mass_g >= MATERIAL_LEAST_G) q.batches += cane->logs;
        q.candy_cost += bill->material[i].with_spare_g / 1000 * shop->price_candy_kg;
    }
    q.work_cost = bill->minutes / 60 * shop->people * cane->logs * shop->price_hour;
    bill->quote = q;
}
