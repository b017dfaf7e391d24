/* Freeing the nouns. SPDX-License-Identifier: MIT
 *
 * Each of these frees what the noun owns and resets it to {0}; safe on an empty one, and twice. */
#include "model/job.h"
#include "model/sweep_table.h"

#include <stdlib.h>

void picture_free(Picture *picture) {
    free(picture->rgba);
    *picture = (Picture){0};
}

void inkmap_free(InkMap *map) {
    free(map->label);
    *map = (InkMap){0};
}

void face_free(Face *face) {
    free(face->candy);
    *face = (Face){0};
}

void grid_free(Grid *grid) {
    face_free(&grid->wanted);
    free(grid->cost);
    *grid = (Grid){0};
}

void layup_free(LayUp *layup) {
    free(layup->node);
    free(layup->rope);
    *layup = (LayUp){0};
}

void blocks_free(Blocks *blocks) {
    free(blocks->block);
    free(blocks->item);
    free(blocks->use);
    free(blocks->copied);
    *blocks = (Blocks){0};
}

void fine_map_free(FineMap *map) {
    free(map->fine);
    *map = (FineMap){0};
}

void bill_free(Bill *bill) {
    free(bill->rope);
    free(bill->pull);
    *bill = (Bill){0};
}

void heat_free(Heat *heat) {
    free(heat->rope);
    free(heat->pull);
    free(heat->block);
    *heat = (Heat){0};
}

void judgement_free(Judgement *judgement) {
    free(judgement->part);
    *judgement = (Judgement){0};
}

void job_free_laid(Job *job) {
    grid_free(&job->grid);
    layup_free(&job->layup);
    blocks_free(&job->blocks);
    face_free(&job->face);
    fine_map_free(&job->fine);
}

void job_free_results(Job *job) {
    job_free_laid(job);
    judgement_free(&job->judgement);
    bill_free(&job->bill);
    heat_free(&job->heat);
    job->recipe = (Recipe){0};
    job->flaws = (Flaws){0};
}

void job_free(Job *job) {
    job_free_results(job);
    *job = (Job){0};
}

void sweep_table_free(SweepTable *table) {
    for (int i = 0; i < table->rows; i++) image_free(&table->row[i].face);
    free(table->row);
    *table = (SweepTable){0};
}
