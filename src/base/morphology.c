/* Opening and closing by a disc. SPDX-License-Identifier: MIT
 *
 * An opening is an erosion, then a dilation by the same disc (Serra, Image Analysis and Mathematical
 * Morphology, 1982; from memory). By exact distances: a disc that reaches to d about a pixel is free where no
 * site is nearer than d; what is nearer than d to such a pixel is covered. Two distance transforms. */
#include "base/morphology.h"

#include "base/distance.h"
#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

bool open_by_disc(const uint8_t *site, int width, int height, double across, uint8_t *opened, Err *err) {
    size_t count = (size_t)width * height;
    const double reach = (across + 0.5) / 2, reach2 = reach * reach;
    const int limit = (int)ceil(reach) + 1;
    int32_t *squared = mem_alloc(count, sizeof *squared, err);
    bool done = squared && distance_under(site, width, height, limit, squared, err);
    for (size_t i = 0; done && i < count; i++) opened[i] = squared[i] >= reach2;
    done = done && distance_under(opened, width, height, limit, squared, err);
    for (size_t i = 0; done && i < count; i++) opened[i] = squared[i] < reach2;
    free(squared);
    return done;
}
