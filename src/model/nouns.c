/* The little that nouns do by themselves: found, compared, made, freed. SPDX-License-Identifier: MIT */
#include "model/job.h"
#include "model/sweep_table.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

int stock_find(const Stock *stock, const char *name) {
    size_t length = strlen(name);
    int found = -1;
    for (int i = 0; i < stock->count; i++) {
        if (strcasecmp(stock->candy[i].name, name) == 0) return i;
        if (length > 0 && strncasecmp(stock->candy[i].name, name, length) == 0) found = found == -1 ? i : -2;
    }
    return found;
}

const char *finish_name(Finish finish) {
    return finish == FINISH_CLEAR ? "clear" : "pulled";
}

int lay_key_compare(const LayKey *a, const LayKey *b) {
    const double pair[][2] = {{a->least_steps, b->least_steps},
                              {a->steps, b->steps},
                              {a->sheet_steps, b->sheet_steps},
                              {a->fine_most, b->fine_most},
                              {a->rounding, b->rounding},
                              {(int)a->detail, (int)b->detail},
                              {a->ropes_cap, b->ropes_cap},
                              {a->corners_most, b->corners_most},
                              {a->sharpest, b->sharpest},
                              {a->taper_least, b->taper_least},
                              {a->margin, b->margin}};
    for (size_t i = 0; i < sizeof pair / sizeof *pair; i++)
        if (pair[i][0] != pair[i][1]) return pair[i][0] < pair[i][1] ? -1 : 1;
    return 0;
}

double cane_sample_mm(const Cane *cane) {
    return cane->step_mm / SAMPLES / cane->reduction;
}

bool change_same(const Change *a, const Change *b) {
    return a->diameter_mm == b->diameter_mm && a->pieces == b->pieces && a->colours == b->colours &&
           a->plain == b->plain && a->people == b->people && a->joining_c == b->joining_c &&
           a->dyed == b->dyed && a->without == b->without && (a->lettering > 0) == (b->lettering > 0) &&
           a->joined == b->joined && a->into == b->into;
}

bool image_new(int width, int height, double px_per_mm, Image *out, Err *err) {
    uint8_t *rgba = mem_alloc((size_t)width * (size_t)height, 4, err);
    if (!rgba) return false;
    *out = (Image){width, height, px_per_mm, rgba};
    return true;
}

/* --- each frees what the noun owns and resets it to {0}; safe on an empty one, and twice --- */

void image_free(Image *image) {
    free(image->rgba);
    *image = (Image){0};
}

void picture_free(Picture *picture) {
    free(picture->rgba);
    *picture = (Picture){0};
}

void inkmap_free(InkMap *map) {
    free(map->label);
    *map = (InkMap){0};
}

int ink_nearest(const InkMap *map, Rgb8 named) {
    int nearest = -1;
    double least = INK_NEAR;
    for (int i = 0; i < map->count; i++) {
        if (map->ink[i].transparent) continue;
        double distance = delta_e00(rgb8_lab(named), rgb8_lab(map->ink[i].srgb));
        if (distance > least || (distance == least && nearest >= 0)) continue;
        nearest = i;
        least = distance;
    }
    return nearest;
}

/* Ours, chosen by eye over the quality set and the samples. */
static const double large_share = 0.15;  /* of all that is drawn: smaller is not missed behind a thin line */
static const double touch_large = 0.4;   /* of a large one's border: so much meets the field */
static const double touch_small = 0.75;  /* likewise of a small one */
static const double touch_of_flag = 0.3; /* of either, in a picture that fills its rectangle */
static const double touch_partly = 0.25; /* of either: some of its shape goes with it */
static const double inside_most = 0.1;   /* of an ink's border: what meets the field with less lies inside */
static const double own_least = 0.6;     /* of itself and what lies inside: less goes round other inks */

static bool is_large(const InkMap *map, int ink) {
    return map->ink[ink].share >= large_share * (1 - map->ink[map->field].share);
}

double ink_at_field(const InkMap *map, int ink) {
    double border = 0, meets = map->border[ink][map->field];
    if (is_large(map, ink)) meets += map->across[ink][map->field];
    for (int i = 0; i < map->count; i++) border += map->border[ink][i];
    return border > 0 ? fmin(meets / border, 1) : 0;
}

OnField ink_on_field(const InkMap *map, int ink) {
    double inside = 0, own = map->ink[ink].share, touch = ink_at_field(map, ink);
    double least = map->beyond ? touch_of_flag : is_large(map, ink) ? touch_large : touch_small;
    for (int i = 0; i < map->count; i++)
        if (i != ink && i != map->field && map->border[ink][i] > 0 && ink_at_field(map, i) < inside_most)
            inside += map->ink[i].share;
    if (touch < touch_partly || own < own_least * (own + inside)) return ON_FIELD_SEEN;
    return touch >= least ? ON_FIELD_MISSED : ON_FIELD_PARTLY;
}

void face_free(Face *face) {
    free(face->candy);
    *face = (Face){0};
}

void grid_free(Grid *grid) {
    face_free(&grid->sent);
    face_free(&grid->wanted);
    free(grid->cost);
    free(grid->weight);
    *grid = (Grid){0};
}

void layup_free(LayUp *layup) {
    free(layup->node);
    free(layup->rope);
    free(layup->wrap);
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
    free(bill->wrap);
    *bill = (Bill){0};
}

void work_free(WorkPlan *work) {
    free(work->task);
    free(work->edge);
    *work = (WorkPlan){0};
}

void heat_free(Heat *heat) {
    free(heat->rope);
    free(heat->pull);
    free(heat->block);
    *heat = (Heat){0};
}

double judgement_scored(const Judgement *judgement) {
    double sum = 0;
    for (int i = 0; i < judgement->parts; i++)
        if (!judgement->part[i].speck) sum += sqrt((double)judgement->part[i].samples);
    return sum;
}

void judgement_free(Judgement *judgement) {
    free(judgement->part);
    *judgement = (Judgement){0};
}

void measures_free(Measures *measures) {
    free(measures->features.feature);
    *measures = (Measures){0};
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
    measures_free(&job->measures);
    bill_free(&job->bill);
    heat_free(&job->heat);
    work_free(&job->work);
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
