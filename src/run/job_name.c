/* The names of a job. SPDX-License-Identifier: MIT */
#include "run/run.h"

#include "base/text.h"

#include <string.h>

void job_name(const char *path, Job *job) {
    const char *slash = strrchr(path, '/');
    text_clean(job->file, sizeof job->file, slash && slash[1] ? slash + 1 : path);
    if (job->order.name[0]) return;
    bool piped = strcmp(path, "-") == 0;
    text_clean(job->order.name, sizeof job->order.name, piped ? "logo" : job->file);
    char *dot = strrchr(job->order.name, '.');
    if (dot && dot > job->order.name) *dot = 0;
}
