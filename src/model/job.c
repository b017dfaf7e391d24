/* A job. SPDX-License-Identifier: MIT */
#include "model/job.h"

void job_free_laid(Job *j) {
    grid_free(&j->grid);
    layup_free(&j->layup);
    blocks_free(&j->blocks);
    face_free(&j->face);
    fine_map_free(&j->fine);
}

void job_free_results(Job *j) {
    job_free_laid(j);
    judgement_free(&j->judgement);
    bill_free(&j->bill);
    heat_free(&j->heat);
    j->recipe = (Recipe){0};
    j->flaws = (Flaws){0};
}

void job_free(Job *job) {
    job_free_results(job);
    *job = (Job){0};
}
