/* Places. SPDX-License-Identifier: MIT */
#include "model/flaw.h"

#include <math.h>

const char *face_where(Point p, double side) {
    static const char *const word[8] = {"right", "lower right", "bottom", "lower left",
                                        "left",  "upper left",  "top",    "upper right"};
    double x = p.x / side - 0.5, y = p.y / side - 0.5;
    if (hypot(x, y) < 0.10) return "middle";
    double eighth = atan2(y, x) / (PI / 4); /* clockwise from the right: y goes down */
    return word[((int)lround(eighth) + 8) % 8];
}
