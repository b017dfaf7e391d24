/* Checked allocation. SPDX-License-Identifier: MIT */
#include "mem.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>

enum { WIDE_PAGE = 1 << 21 };

static void *out_of_memory(size_t count, size_t size, Err *err) {
    (void)err_set(err, ERR_MEMORY, "out of memory (%zu x %zu bytes wanted); close other programs", count,
                  size);
    return NULL;
}

void *mem_alloc(size_t count, size_t size, Err *err) {
    if (count == 0 || size == 0) count = size = 1;
    void *block = calloc(count, size); /* calloc checks count * size */
    return block ? block : out_of_memory(count, size, err);
}

void *mem_grow(void *old, size_t *capacity, size_t need, size_t size, Err *err) {
    if (need <= *capacity && old) return old;
    size_t room = *capacity < 8 ? 8 : *capacity;
    while (room < need && room <= SIZE_MAX / 2) room *= 2;
    if (room < need || room > SIZE_MAX / size) return out_of_memory(need, size, err);
    char *block = realloc(old, room * size);
    if (!block) return out_of_memory(room, size, err);
    memset(block + *capacity * size, 0, (room - *capacity) * size);
    *capacity = room;
    return block;
}

void *mem_alloc_wide(size_t count, size_t size, Err *err) {
    char *block = mem_alloc(count, size, err);
    uintptr_t start = ((uintptr_t)block + WIDE_PAGE - 1) / WIDE_PAGE * WIDE_PAGE;
    uintptr_t end = block ? ((uintptr_t)block + count * size) / WIDE_PAGE * WIDE_PAGE : 0;
    if (end > start)
        (void)madvise((void *)start, end - start, MADV_HUGEPAGE); /* a wish: no matter if not granted */
    return block;
}
