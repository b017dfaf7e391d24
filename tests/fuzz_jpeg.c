/* JPEG files. SPDX-License-Identifier: MIT */
#include "fuzz.h"

/* Does any frame header say more than a megapixel? Slow, and nothing new. */
static bool is_large(const uint8_t *data, size_t size) {
    for (size_t i = 0; i + 9 <= size; i++)
        if (data[i] == 0xff && data[i + 1] >= 0xc0 && data[i + 1] <= 0xcf) {
            uint64_t height = data[i + 5] << 8 | data[i + 6], width = data[i + 7] << 8 | data[i + 8];
            if (width * height > 1 << 20) return true;
        }
    return false;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    Err err = {0};
    if (size >= 3 && memcmp(data, "\xff\xd8\xff", 3) == 0 && !is_large(data, size))
        (void)fuzz_decode(data, size, &err);
    return 0;
}
