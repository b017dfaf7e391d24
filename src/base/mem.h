/* Public. Checked allocation. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_MEM_H
#define LOGOCANE_MEM_H

#include "base/err.h"

#include <stddef.h>

/* count items of size bytes, all zero; at least one byte, so NULL always means failure. On overflow or when
 * memory is out: NULL and ERR_MEMORY. The caller frees with free(). */
void *mem_alloc(size_t count, size_t size, Err *err) MUST_CHECK;

/* Makes room for `need` items in an array of *capacity items of `size` bytes, doubling. Returns the array's
 * (new) place, new items zero; NULL and ERR_MEMORY if that fails, then `old` and *capacity are untouched and
 * still owned by the caller. */
void *mem_grow(void *old, size_t *capacity, size_t need, size_t size, Err *err) MUST_CHECK;

/* As mem_alloc, but not cleared, and count and size at least 1: for a large block that is written before it
 * is read. The system is asked for large pages, which saves most of the page faults. */
void *mem_alloc_wide(size_t count, size_t size, Err *err) MUST_CHECK;

/* For a program to call first: memory that is freed stays with the process and is taken again, and most of it
 * lies in large pages. Stages take and free some 30 MB one after the other; to have each page anew from the
 * system is a quarter of a verdict where page faults are dear (virtual machines). */
void mem_keep(void);

#endif
