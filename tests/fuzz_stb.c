/* GIF, BMP and PSD files: the walks over them, then the whole reader. SPDX-License-Identifier: MIT */
#include "fuzz.h"

#include "read/decoders.h"

static WalkEnd walk(FileKind kind, uint8_t *bytes, size_t size, Walk *out) {
    switch (kind) {
    case KIND_GIF:
        return walk_gif(bytes, size, out);
    case KIND_BMP:
        return walk_bmp(bytes, size, out);
    default:
        return walk_psd(bytes, size, out);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    const char *what;
    FileKind kind = decode_kind(data, size < 1024 ? size : 1024, &what);
    Walk file = {0};
    Err err = {0};
    if (kind == KIND_GIF || kind == KIND_BMP || kind == KIND_PSD) {
        uint8_t *copy = malloc(size); /* of its own, so that a step too far is seen */
        assert(copy);
        memcpy(copy, data, size);
        WalkEnd end = walk(kind, copy, size, &file);
        free(copy);
        assert(file.sized || end != WALK_WHOLE);
    }
    if (kind != KIND_JPEG && (uint64_t)file.width * file.height <= 1 << 20)
        (void)fuzz_decode(data, size, &err);
    return 0;
}
