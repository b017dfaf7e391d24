/* The lists as CSV. SPDX-License-Identifier: MIT
 *
 * Decimals: 0.01 mm in a section (a bench reads 0.1; one more so that areas still add up), 0.1 mm in a
 * length, 1 cm in a total, 0.1 g, and 0.0001 in a share; where inches are spoken 0.001 in, 0.01 in, 0.01 ft
 * and 0.01 oz. */
#include "write/files.h"

#include "base/text.h"
#include "model/section.h"
#include "say/bench_words.h"

#include <math.h>

/* What a list speaks: the units' names, and their factors. */
typedef struct Speech {
    const char *length, *distance, *mass; /* names of units */
    double per_mm, per_m, per_g;          /* factors to them */
    int fine, coarse;                     /* decimals of a section's lengths and of others */
} Speech;

static const Speech speech[] = {
    [UNITS_MM] = {"mm", "m", "g", 1, 1, 1, 2, 1},
    [UNITS_IN] = {"in", "ft", "oz", 1 / MM_PER_IN, 1 / M_PER_FT, 1 / G_PER_OZ, 3, 2},
};

/* The numbers of the blocks that ropes of this type are joined into, as built, with spaces between. */
static void print_blocks(const Job *job, int type, FILE *file) {
    bool first = true;
    for (int b = 0; b < job->blocks.blocks; b++) {
        const Block *block = &job->blocks.block[b];
        bool holds = false;
        for (int i = block->first_item; i < block->first_item + block->items; i++) {
            const Item *item = &job->blocks.item[i];
            const Rope *rope = item->is_block ? NULL : &job->layup.rope[item->index];
            holds = holds || (rope && !rope->trim && rope->type == type);
        }
        if (holds) fprintf(file, first ? "%d" : " %d", b + 1);
        if (holds) first = false;
    }
}

/* Likewise of what a sheet or a rest belongs to. */
static void print_row_blocks(const Job *job, const WrapRow *row, FILE *file) {
    bool first = true;
    for (int b = 0; b < job->blocks.blocks; b++) {
        if (!row_is_of(job, row, b)) continue;
        fprintf(file, first ? "%d" : " %d", b + 1);
        first = false;
    }
}

/* A cell with a length of a section; an empty one if `told` is false. */
static void print_fine(double mm, bool told, const Speech *say, FILE *file) {
    if (told)
        fprintf(file, "%.*f,", say->fine, mm * say->per_mm);
    else
        fputc(',', file);
}

/* Top, base, how far in from the base's ends the top's ends are, and how high they lie. Of a wedge both ends
 * of the top are its tip; of five corners or more only the base is told. */
static void print_measures(const Outline *section, const Speech *say, FILE *file) {
    const Point *c = section->corner;
    const int last = section->corners - 1, right = last - 1; /* corner 1 is the top's left end */
    bool four = last <= 3, level = four && fabs(c[1].y - c[right].y) < 0.005;
    print_fine(c[right].x - c[1].x, level, say, file);
    print_fine(c[last].x - c[0].x, true, say, file);
    print_fine(c[1].x - c[0].x, four, say, file);
    print_fine(c[last].x - c[right].x, four, say, file);
    print_fine(section_up(section, 1), four, say, file);
    print_fine(section_up(section, right), four, say, file);
}

static void print_corners(const Outline *section, const Speech *say, FILE *file) {
    for (int i = 0; i < section->corners; i++)
        fprintf(file, "%s%.*f %.*f", i > 0 ? ";" : "", say->fine, section->corner[i].x * say->per_mm,
                say->fine, section->corner[i].y * say->per_mm);
    fputc(',', file);
}

static void print_rope_head(const Speech *say, FILE *file) {
    static const char *const length[] = {"width",      "height",      "a",         "b",
                                         "inset_left", "inset_right", "high_left", "high_right"};
    fputs("rope,candy,shape,", file);
    for (size_t i = 0; i < sizeof length / sizeof *length; i++)
        fprintf(file, "%s_%s,", length[i], say->length);
    fprintf(file, "corners,rim,count,length_each_%s,total_length_%s,mass_%s,made,blocks\r\n", say->length,
            say->distance, say->mass);
}

bool write_ropes(const Job *job, FILE *file, Err *err) {
    const Speech *say = &speech[job->order.units];
    (void)err;
    print_rope_head(say, file);
    for (int i = 0; i < job->bill.rope_types; i++) {
        const RopeRow *row = &job->bill.rope[i];
        fprintf(file, "%d,", i + 1);
        text_csv(file, job->palette.candy[row->candy].name);
        fprintf(file, ",%s,", shape_name(row->shape));
        print_fine(row->width_mm, true, say, file);
        print_fine(row->height_mm, true, say, file);
        if (row->shape == SHAPE_ROUND) {
            fputs(",,,,,,,", file); /* its diameter says it all */
        } else {
            print_measures(&row->section, say, file);
            print_corners(&row->section, say, file);
        }
        fprintf(file, "%s,%d,%.*f,%.2f,%.*f,%d,", row->rim ? "yes" : "no", row->count, say->coarse,
                row->length_each_mm * say->per_mm, row->total_length_m * say->per_m, say->coarse,
                row->mass_g * say->per_g, row->made);
        print_blocks(job, i, file);
        fputs("\r\n", file);
    }
    return true;
}

bool write_wraps(const Job *job, FILE *file, Err *err) {
    const Speech *say = &speech[job->order.units];
    (void)err;
    fprintf(file, "kind,candy,count,thickness_%s,width_%s,length_%s,mass_%s,to_make_%s,blocks\r\n",
            say->length, say->length, say->length, say->mass, say->mass);
    for (int i = 0; i < job->bill.wraps; i++) {
        const WrapRow *row = &job->bill.wrap[i];
        fprintf(file, "%s,", wrap_name(row->kind));
        text_csv(file, row->candy.name);
        fprintf(file, ",%d,%.*f,%.*f,%.*f,%.*f,%.*f,", row->count, say->fine, row->thickness_mm * say->per_mm,
                say->coarse, row->width_mm * say->per_mm, say->coarse, row->length_mm * say->per_mm,
                say->coarse, row->mass_g * say->per_g, say->coarse, row->made_g * say->per_g);
        print_row_blocks(job, row, file);
        fputs("\r\n", file);
    }
    return true;
}

bool write_materials(const Job *job, FILE *file, Err *err) {
    const Speech *say = &speech[job->order.units];
    (void)err;
    fprintf(file, "candy,finish,share_of_log,volume_ml,mass_%s,with_spare_%s,block_ends_%s,dyed_to_order\r\n",
            say->mass, say->mass, say->mass);
    for (int i = 0; i < job->bill.materials; i++) {
        const MaterialRow *row = &job->bill.material[i];
        text_csv(file, row->candy.name);
        fprintf(file, ",%s,%.4f,%.1f,%.*f,%.*f,%.*f,%s\r\n", finish_name(row->candy.finish),
                row->share_of_log, row->volume_ml, say->coarse, row->mass_g * say->per_g, say->coarse,
                row->with_spare_g * say->per_g, say->coarse, row->block_ends_g * say->per_g,
                row->candy.dyed ? "yes" : "no");
    }
    return true;
}

/* The numbers of the tasks that must be done before task `at`, with spaces between. */
static void print_before(const WorkPlan *work, int at, FILE *file) {
    bool first = true;
    for (int i = 0; i < work->edges; i++) {
        if (work->edge[i].after != at) continue;
        fprintf(file, first ? "%d" : " %d", work->edge[i].before + 1);
        first = false;
    }
}

bool write_plan(const Job *job, FILE *file, Err *err) {
    const WorkPlan *work = &job->work;
    char of[CANDY_NAME], who[16];
    (void)err;
    fputs("task,what,of,who,start_min,minutes,count,waits_min,keeps_min,after\r\n", file);
    for (int i = 0; i < work->tasks; i++) {
        const WorkTask *task = &work->task[i];
        task_of_print(job, task, of);
        person_print(work, task->person, who);
        fprintf(file, "%d,%s,", i + 1, task_name(task->kind));
        text_csv(file, of);
        fprintf(file, ",%s,%.2f,%.2f,", who, task->start, task->minutes);
        if (task->count > 0) fprintf(file, "%d", task->count);
        fprintf(file, ",%.2f,", task->waits);
        if (task->keeps > 0) fprintf(file, "%.2f", task->keeps);
        fputc(',', file);
        print_before(work, i, file);
        fputs("\r\n", file);
    }
    return true;
}
