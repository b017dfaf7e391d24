/* Public. Opening and closing by a disc. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_MORPHOLOGY_H
#define LOGOCANE_MORPHOLOGY_H

#include "base/err.h"

#include <stdint.h>

/* The opening of the pixels with site == 0 by a disc `across` pixels wide: opened[i] is 1 where such a disc
 * covers pixel i and holds no site, else 0. The closing of the sites is all that the opening leaves out.
 * Discs are measured as by local_thickness (base/thickness.h): the disc about a pixel centre of which no site
 * is nearer than d is 2 d - 1/2 across. They may reach beyond the picture's edge. site[height][width], opened
 * likewise; across > 0. O(pixels). Fails with ERR_MEMORY only. */
bool open_by_disc(const uint8_t *site, int width, int height, double across, uint8_t *opened,
                  Err *err) MUST_CHECK;

#endif
