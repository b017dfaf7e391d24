/* Work shared out among threads. SPDX-License-Identifier: MIT
 *
 * Whoever is free takes the next row: rows may cost more or less, and processors be busy with something
 * else. */
#include "base/parallel.h"

#include <assert.h>
#include <pthread.h>
#include <stdatomic.h>
#include <unistd.h>

enum { THREADS_MAX = 8 };

typedef struct Bands {
    atomic_int next;
    int rows;
    RowWork *work;
    void *context;
} Bands;

static void *do_rows(void *argument) {
    Bands *bands = argument;
    for (int row; (row = atomic_fetch_add(&bands->next, 1)) < bands->rows;) bands->work(bands->context, row);
    return NULL;
}

void parallel_rows(int rows, int threads, RowWork *work, void *context) {
    if (threads <= 0) threads = (int)sysconf(_SC_NPROCESSORS_ONLN);
    threads = threads < 1 ? 1 : threads > THREADS_MAX ? THREADS_MAX : threads;
    Bands bands = {.rows = rows, .work = work, .context = context};
    pthread_t thread[THREADS_MAX];
    bool started[THREADS_MAX] = {false};
    atomic_init(&bands.next, 0);
    for (int i = 1; i < threads; i++) started[i] = pthread_create(&thread[i], NULL, do_rows, &bands) == 0;
    (void)do_rows(&bands);
    for (int i = 1; i < threads; i++)
        if (started[i]) (void)pthread_join(thread[i], NULL);
}

typedef struct Trying {
    Task *task;
    void *context;
    bool done[TASKS_MAX];
    Err err[TASKS_MAX];
} Trying;

static void try_task(void *context, int i) {
    Trying *trying = context;
    trying->done[i] = trying->task(trying->context, i, &trying->err[i]);
}

bool parallel_tasks(int tasks, int threads, Task *task, void *context, Err *err) {
    assert(tasks <= TASKS_MAX);
    Trying trying = {.task = task, .context = context};
    parallel_rows(tasks, threads, try_task, &trying);
    for (int i = 0; i < tasks; i++)
        if (!trying.done[i]) {
            *err = trying.err[i];
            return false;
        }
    return true;
}
