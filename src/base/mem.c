/* Checked allocation. SPDX-License-Identifier: MIT */
#include "base/mem.h"

#include <malloc.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>

enum { WIDE_PAGE = 1 << 21, HEAP = 64 << 20 }; /* HEAP: a verdict's memory */

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

static void wish_wide(const void *block, size_t bytes) {
    uintptr_t start = ((uintptr_t)block + WIDE_PAGE - 1) / WIDE_PAGE * WIDE_PAGE;
    uintptr_t end = ((uintptr_t)block + bytes) / WIDE_PAGE * WIDE_PAGE;
    if (end > start)
        (void)madvise((void *)start, end - start,
                      MADV_HUGEPAGE); /* a wish: where it is not granted, only time is lost */
}

void *mem_alloc_wide(size_t count, size_t size, Err *err) {
    void *block = size > 0 && count > SIZE_MAX / size ? NULL : malloc(count * size);
    if (!block) return out_of_memory(count, size, err);
    wish_wide(block, count * size);
    return block;
}

/* One heap, which grows at its end only: no block has a mapping of its own, nor threads heaps. Its first HEAP
 * bytes are asked for in large pages; the block itself goes back to the heap untouched. */
void mem_keep(void) {
    (void)mallopt(M_MMAP_MAX, 0);
    (void)mallopt(M_TRIM_THRESHOLD, -1);
    (void)mallopt(M_ARENA_MAX, 1);
    void *block = malloc(HEAP);
    if (block) wish_wide(block, HEAP);
    free(block);
}
