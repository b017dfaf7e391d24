/* Work shared out among threads. SPDX-License-Identifier: MIT
 *
 * Whoever is free takes the next row: rows may cost more or less, and processors be busy with something
 * else. */
#include "base/parallel.h"

#include <assert.h>
#include <pthread.h>
#include <signal.h>
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

int parallel_threads(void) {
    long processors = sysconf(_SC_NPROCESSORS_ONLN);
    return processors < 1 ? 1 : processors > THREADS_MAX ? THREADS_MAX : (int)processors;
}

void parallel_rows(int rows, int threads, RowWork *work, void *context) {
    if (threads <= 0) threads = parallel_threads();
    if (threads > THREADS_MAX) threads = THREADS_MAX;
    if (threads > rows) threads = rows;
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

/* --- in order --- */

enum { WORKERS_MAX = 128 };

/* Items done wait in their places: item i's is i % window. All but items, window, work and context belong to
 * who has the lock. */
typedef struct Queue {
    pthread_mutex_t lock;
    pthread_cond_t changed;
    int items, window;
    int next;              /* the item that is begun next */
    int taken;             /* items taken so far: those of [taken, taken + window) may be begun */
    bool stopped;          /* no more are wanted */
    bool done[WINDOW_MAX]; /* by place: done and not taken yet */
    ItemWork *work;
    void *context;
} Queue;

/* The next item to begin, -1 if there is none; waits until it may be begun. */
static int begin_item(Queue *queue) {
    (void)pthread_mutex_lock(&queue->lock);
    while (!queue->stopped && queue->next < queue->items && queue->next >= queue->taken + queue->window)
        (void)pthread_cond_wait(&queue->changed, &queue->lock);
    int item = queue->stopped || queue->next == queue->items ? -1 : queue->next++;
    (void)pthread_mutex_unlock(&queue->lock);
    return item;
}

static void *do_items(void *argument) {
    Queue *queue = argument;
    for (int item; (item = begin_item(queue)) >= 0;) {
        queue->work(queue->context, item);
        (void)pthread_mutex_lock(&queue->lock);
        queue->done[item % queue->window] = true;
        (void)pthread_cond_broadcast(&queue->changed);
        (void)pthread_mutex_unlock(&queue->lock);
    }
    return NULL;
}

/* Waits until the item is done. */
static void await_item(Queue *queue, int item) {
    bool *done = &queue->done[item % queue->window];
    (void)pthread_mutex_lock(&queue->lock);
    while (!*done) (void)pthread_cond_wait(&queue->changed, &queue->lock);
    *done = false;
    (void)pthread_mutex_unlock(&queue->lock);
}

static void give_back(Queue *queue, bool more) {
    (void)pthread_mutex_lock(&queue->lock);
    queue->taken++;
    queue->stopped = !more;
    (void)pthread_cond_broadcast(&queue->changed);
    (void)pthread_mutex_unlock(&queue->lock);
}

/* The threads start with the signals blocked that would end the run: the system then gives them to the
 * caller, who may be holding them back. Gives how many there are. */
static int start_workers(Queue *queue, int wanted, pthread_t thread[WORKERS_MAX]) {
    sigset_t ending, before;
    int started = 0;
    (void)sigemptyset(&ending);
    (void)sigaddset(&ending, SIGINT);
    (void)sigaddset(&ending, SIGTERM);
    (void)sigaddset(&ending, SIGHUP);
    (void)pthread_sigmask(SIG_BLOCK, &ending, &before);
    while (started < wanted && pthread_create(&thread[started], NULL, do_items, queue) == 0) started++;
    (void)pthread_sigmask(SIG_SETMASK, &before, NULL);
    return started;
}

int parallel_workers(void) {
    long processors = sysconf(_SC_NPROCESSORS_ONLN);
    return processors < 1 ? 1 : processors > WORKERS_MAX ? WORKERS_MAX : (int)processors;
}

void parallel_in_order(int items, int threads, int window, ItemWork *work, ItemTake *take, void *context) {
    assert(window >= 1 && window <= WINDOW_MAX && threads <= WORKERS_MAX);
    Queue queue = {.items = items, .window = window, .work = work, .context = context};
    pthread_t thread[WORKERS_MAX];
    (void)pthread_mutex_init(&queue.lock, NULL); /* these two cannot fail on Linux */
    (void)pthread_cond_init(&queue.changed, NULL);
    int started = start_workers(&queue, threads, thread);
    for (int item = 0; item < items && !queue.stopped; item++) { /* only this thread sets `stopped` */
        if (started > 0)
            await_item(&queue, item);
        else
            work(context, item);
        give_back(&queue, take(context, item));
    }
    for (int i = 0; i < started; i++) (void)pthread_join(thread[i], NULL);
    (void)pthread_cond_destroy(&queue.changed);
    (void)pthread_mutex_destroy(&queue.lock);
}
