/* Connected areas of one label. SPDX-License-Identifier: MIT */
#include "inks/regions.h"

#include "base/components.h"
#include "base/mem.h"

#include <stdlib.h>
#include <string.h>

bool regions_find(const uint8_t *label, int width, int height, Regions *out, Err *err) {
    int32_t size = width * height;
    uint8_t ways[256];
    Regions r = {.of = mem_alloc((size_t)size, sizeof *r.of, err)};
    if (!r.of) return false;
    memset(ways, 4, sizeof ways);
    r.count = components(label, width, height, ways, r.of);
    r.pixels = mem_alloc((size_t)r.count, sizeof *r.pixels, err);
    r.label = r.pixels ? mem_alloc((size_t)r.count, 1, err) : NULL;
    if (!r.label) {
        regions_free(&r);
        return false;
    }
    for (int32_t i = 0; i < size; i++) {
        r.pixels[r.of[i]]++;
        r.label[r.of[i]] = label[i];
    }
    *out = r;
    return true;
}

void regions_free(Regions *regions) {
    free(regions->of);
    free(regions->pixels);
    free(regions->label);
    *regions = (Regions){0};
}
