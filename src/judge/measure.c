/* Features kept and largest difference. SPDX-License-Identifier: MIT
 *
 * The two ask nothing of each other: a thread each. parts/features.c and parts/difference.c have the methods.
 * Cost: O(samples), and of each part whose features count. */
#include "judge/judge.h"

#include "base/parallel.h"
#include "parts/parts.h"

enum { TASKS = 2, THREADS_FROM = 320 }; /* samples a side: less is done before a thread is up */

typedef struct Work {
    const Job *job;
    Measures found;
} Work;

static bool find_features(Work *w, Err *err) {
    const Judgement *judgement = &w->job->judgement;
    Areas areas;
    if (!areas_find(&w->job->grid, &areas, err)) return false;
    bool done = features_find(&areas, judgement->part, judgement->parts, &w->job->face,
                              cane_sample_mm(&w->job->cane), &w->found.features, err);
    areas_free(&areas);
    return done;
}

static bool do_task(void *context, int task, Err *err) {
    Work *w = context;
    const Job *job = w->job;
    return task == 0 ? find_features(w, err)
                     : difference_find(&job->grid, &job->palette, &job->face, cane_sample_mm(&job->cane),
                                       &w->found.difference, err);
}

bool measure(const Job *job, Measures *out, Err *err) {
    Work w = {.job = job};
    if (!parallel_tasks(TASKS, job->face.side < THREADS_FROM ? 1 : 0, do_task, &w, err)) {
        measures_free(&w.found);
        return false;
    }
    *out = w.found;
    return true;
}
