/* Public. Loops that gain from vector registers. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_VECTORS_H
#define LOGOCANE_VECTORS_H

#include <stdint.h> /* a header is not to be empty */

/* Before a function of long runs of sums, each by itself: compiled a second time for processors that have
 * AVX2, and the loader takes what fits. Each sum is done in the same order either way, so the bytes are the
 * same. Not with sanitizers: they are not up yet when the loader picks the variant. */
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && !defined(__SANITIZE_ADDRESS__) &&     \
    !defined(__SANITIZE_THREAD__)
#define WIDE __attribute__((target_clones("avx2", "default")))
#define WIDE_CLONES
#else
#define WIDE
#endif

#endif
