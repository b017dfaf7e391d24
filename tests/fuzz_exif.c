/* The EXIF segment of a JPEG. SPDX-License-Identifier: MIT */
#include "fuzz.h"

#include "read/walk.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static const uint8_t head[] = {0xff, 0xd8, 0xff, 0xe1}, name[] = "Exif\0";
    if (size > 0xffff - 8) return 0;
    size_t length = sizeof name + size + 2, whole = sizeof head + length;
    uint8_t *jpeg = malloc(whole); /* of its own size, so that a step too far is seen */
    assert(jpeg);
    memcpy(jpeg, head, sizeof head);
    jpeg[4] = (uint8_t)(length >> 8), jpeg[5] = (uint8_t)(length & 255);
    memcpy(jpeg + 6, name, sizeof name);
    if (size) memcpy(jpeg + 6 + sizeof name, data, size);
    Walk file = {0};
    WalkEnd end = walk_jpeg(jpeg, whole, &file);
    assert(end == WALK_CUT && !file.sized); /* nothing follows the segment */
    assert(file.orientation >= 1 && file.orientation <= 8);
    free(jpeg);
    return 0;
}
