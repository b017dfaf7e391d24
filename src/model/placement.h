/* Public. The eight ways to lay a straight rope or block. SPDX-License-Identifier: MIT
 *
 * A block is turned about its length in quarters, and may be laid end for end, which shows the mirror image
 * of its section. */
#ifndef LOGOCANE_PLACEMENT_H
#define LOGOCANE_PLACEMENT_H

#include "model/layup.h"

/* A value: whoever has a Placement says who fills it. */
typedef struct Placement {
    bool mirrored; /* first: left and right change places */
    int turn;      /* then: quarter turns clockwise, 0..3 */
} Placement;

enum { PLACEMENTS = 8 };

/* Number i of the eight: 0 = as it is, 1..3 turned, 4..7 mirrored and turned. */
Placement placement(int i);

/* The box `inner`, given within `outer`, after `outer` was laid that way with its top left corner staying
 * put. */
Box box_placed(Box inner, Box outer, Placement way);

/* Where a corner goes. */
Corner corner_placed(Corner corner, Placement way);

/* Does a section of w x h fit its own place when laid that way? */
bool placement_fits(Box box, Placement way);

/* The placement that undoes `way`; and the one that is `first`, then `second`. */
Placement placement_undone(Placement way);
Placement placement_after(Placement first, Placement second);

#endif
