/* Public. Strokes become lines. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_THIN_LINES_H
#define LOGOCANE_THIN_LINES_H

#include "base/err.h"

#include <stdint.h>

/* line[i] = 1 on the middle lines of what is 1 in ink[height][width], one pixel wide, connected by sides or
 * corners as the ink is: no line ends, breaks, meets or closes where the ink does not. thick[i], for pixels
 * of lines: how thick the ink is there, in pixels, at most `cap`; 0 elsewhere. Corners have no line of their
 * own; the line of a stroke ends half its thickness before it. Spurs are cut off: branches shorter than 0.4
 * of the thickness where they leave, or than all of it if they are also thinner than three quarters of it (a
 * serif). The outermost pixels of ink[] must be 0. O(pixels log pixels). Fails with ERR_MEMORY only.
 *
 * Homotopic thinning by rising distance (Pudney, "Distance-ordered homotopic thinning", Computer Vision and
 * Image Understanding 72 (1998) 404-413; from memory), about pixels that are kept: those whose own disc is
 * nearly as large as the largest that covers them. */
bool thin_lines(const uint8_t *ink, int width, int height, double cap, uint8_t *line, float *thick,
                Err *err) MUST_CHECK;

#endif
