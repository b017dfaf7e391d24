/* The lists as CSV. SPDX-License-Identifier: MIT
 *
 * Decimals: 0.01 mm in a section (a bench reads 0.1; one more so that areas still add up), 0.1 mm in a
 * length, 1 cm in a total, 0.1 g, and 0.0001 in a share; where inches are spoken 0.001 in, 0.01 in, 0.01 ft
 * and 0.01 oz. */
#include "write/files.h"

#include "base/text.h"
#include "say/bench_words.h"

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

bool write_ropes(const Job *job, FILE *file, Err *err) {
    const Speech *say = &speech[job->order.units];
    (void)err;
    fprintf(file,
            "rope,candy,shape,width_%s,height_%s,rim,count,length_each_%s,total_length_%s,mass_%s,made,"
            "blocks\r\n",
            say->length, say->length, say->length, say->distance, say->mass);
    for (int i = 0; i < job->bill.rope_types; i++) {
        const RopeRow *row = &job->bill.rope[i];
        fprintf(file, "%d,", i + 1);
        text_csv(file, job->palette.candy[row->candy].name);
        fprintf(file, ",%s,%.*f,%.*f,%s,%d,%.*f,%.2f,%.*f,%d,", shape_name(row->shape), say->fine,
                row->width_mm * say->per_mm, say->fine, row->height_mm * say->per_mm, row->rim ? "yes" : "no",
                row->count, say->coarse, row->length_each_mm * say->per_mm, row->total_length_m * say->per_m,
                say->coarse, row->mass_g * say->per_g, row->made);
        print_blocks(job, i, file);
        fputs("\r\n", file);
    }
    return true;
}

bool write_wraps(const Job *job, FILE *file, Err *err) {
    const Speech *say = &speech[job->order.units];
    (void)err;
    fprintf(file, "kind,candy,count,thickness_%s,width_%s,length_%s,mass_%s\r\n", say->length, say->length,
            say->length, say->mass);
    for (int i = 0; i < job->bill.wraps; i++) {
        const WrapRow *row = &job->bill.wrap[i];
        fprintf(file, "%s,", wrap_name(row->kind));
        text_csv(file, row->candy.name);
        fprintf(file, ",%d,%.*f,%.*f,%.*f,%.*f\r\n", row->count, say->fine, row->thickness_mm * say->per_mm,
                say->coarse, row->width_mm * say->per_mm, say->coarse, row->length_mm * say->per_mm,
                say->coarse, row->mass_g * say->per_g);
    }
    return true;
}

bool write_materials(const Job *job, FILE *file, Err *err) {
    const Speech *say = &speech[job->order.units];
    (void)err;
    fprintf(file, "candy,finish,share_of_log,volume_ml,mass_%s,with_spare_%s,block_ends_%s\r\n", say->mass,
            say->mass, say->mass);
    for (int i = 0; i < job->bill.materials; i++) {
        const MaterialRow *row = &job->bill.material[i];
        text_csv(file, row->candy.name);
        fprintf(file, ",%s,%.4f,%.1f,%.*f,%.*f,%.*f\r\n", finish_name(row->candy.finish), row->share_of_log,
                row->volume_ml, say->coarse, row->mass_g * say->per_g, say->coarse,
                row->with_spare_g * say->per_g, say->coarse, row->block_ends_g * say->per_g);
    }
    return true;
}
