/* The lay-up of a small grid, by limits of any shop. SPDX-License-Identifier: MIT */
#include "fuzz.h"

#include "laid.h"
#include "plain_costs.h"
#include "plan/plan.h"
#include "wanted.h"

static Grid fed_grid(Feed *feed) {
    GridKind kind = (GridKind)feed_below(feed, GRID_KINDS);
    int n = 1 + feed_below(feed, 14), least = 2 + feed_below(feed, 3), candies = 1 + feed_below(feed, 5);
    uint64_t seed = feed_8(feed);
    Grid grid = thrown_grid(kind, n, least, candies, seed << 8 | feed_8(feed));
    grid.fine_most = feed_below(feed, 2 * least + 2);
    for (int k = 0; k < candies; k++) /* cells changed by the bytes */
        for (int i = feed_below(feed, n); feed->left > 8 && i < n * n; i += 1 + feed_below(feed, 9))
            grid.cost[k * n * n + i] = COST_ONE / 16 * feed_below(feed, 32);
    return grid;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    Feed feed = {data, size};
    LayUp layup = {0};
    Err err = {0};
    LayKey key = lay_key((Detail)feed_below(&feed, 3), feed_below(&feed, 12));
    key.corners_most = 4 + feed_below(&feed, 5);
    key.sharpest = tan(feed_between(&feed, 5, 45) * PI / 180);
    key.taper_least = feed_between(&feed, 0.3, 1);
    Grid grid = fed_grid(&feed);
    assert(lay_up(&grid, &key, &layup, &err));
    assert(key.ropes_cap == 0 || layup.laid <= key.ropes_cap);
    check_laid(&grid, &key, &layup);
    layup_free(&layup);
    grid_free(&grid);
    return 0;
}
