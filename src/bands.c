/* Rows of a picture shared out among threads. SPDX-License-Identifier: MIT
 *
 * Thread i of n takes the rows i, i + n, i + 2 n ...: neighbours cost about the same. */
#include "bands.h"

#include <pthread.h>
#include <stdbool.h>
#include <unistd.h>

enum { THREADS_MAX = 8 };

typedef struct Band {
    int first, stride, rows;
    RowWork *work;
    void *context;
} Band;

static void *do_band(void *argument) {
    const Band *band = argument;
    for (int row = band->first; row < band->rows; row += band->stride) band->work(band->context, row);
    return NULL;
}

void bands_run(int rows, int threads, RowWork *work, void *context) {
    if (threads <= 0) threads = (int)sysconf(_SC_NPROCESSORS_ONLN);
    threads = threads < 1 ? 1 : threads > THREADS_MAX ? THREADS_MAX : threads;
    Band band[THREADS_MAX];
    pthread_t thread[THREADS_MAX];
    bool started[THREADS_MAX] = {false};
    for (int i = 0; i < threads; i++) {
        band[i] = (Band){i, threads, rows, work, context};
        started[i] = i > 0 && pthread_create(&thread[i], NULL, do_band, &band[i]) == 0;
    }
    for (int i = 0; i < threads; i++)
        if (!started[i]) (void)do_band(&band[i]);
    for (int i = 0; i < threads; i++)
        if (started[i]) (void)pthread_join(thread[i], NULL);
}
