/* The lists as CSV. SPDX-License-Identifier: MIT
 *
 * Decimals: 0.01 mm in a section (a bench reads 0.1; one more so that areas still add up), 0.1 mm in a
 * length, 1 cm in a total, 0.1 g, and 0.0001 in a share. */
#include "write_csv.h"

#include "text.h"

static const char *const shape_name[] = {[SHAPE_STRIP] = "strip", [SHAPE_WEDGE] = "wedge"};
static const char *const wrap_name[] = {[WRAP_RING] = "ring", [WRAP_STRIPE] = "jacket", [WRAP_TRIM] = "trim"};

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
    (void)err;
    fputs(
        "rope,candy,shape,width_mm,height_mm,rim,count,length_each_mm,total_length_m,mass_g,made,blocks\r\n",
        file);
    for (int i = 0; i < job->bill.rope_types; i++) {
        const RopeRow *row = &job->bill.rope[i];
        fprintf(file, "%d,", i + 1);
        text_csv(file, job->palette.candy[row->candy].name);
        fprintf(file, ",%s,%.2f,%.2f,%s,%d,%.1f,%.2f,%.1f,%d,", shape_name[row->shape], row->width_mm,
                row->height_mm, row->rim ? "yes" : "no", row->count, row->length_each_mm, row->total_length_m,
                row->mass_g, row->made);
        print_blocks(job, i, file);
        fputs("\r\n", file);
    }
    return true;
}

bool write_wraps(const Job *job, FILE *file, Err *err) {
    (void)err;
    fputs("kind,candy,count,thickness_mm,width_mm,length_mm,mass_g\r\n", file);
    for (int i = 0; i < job->bill.wraps; i++) {
        const WrapRow *row = &job->bill.wrap[i];
        fprintf(file, "%s,", wrap_name[row->kind]);
        text_csv(file, row->candy.name);
        fprintf(file, ",%d,%.2f,%.1f,%.1f,%.1f\r\n", row->count, row->thickness_mm, row->width_mm,
                row->length_mm, row->mass_g);
    }
    return true;
}

bool write_materials(const Job *job, FILE *file, Err *err) {
    (void)err;
    fputs("candy,finish,share_of_log,volume_ml,mass_g,with_spare_g\r\n", file);
    for (int i = 0; i < job->bill.materials; i++) {
        const MaterialRow *row = &job->bill.material[i];
        text_csv(file, row->candy.name);
        fprintf(file, ",%s,%.4f,%.1f,%.1f,%.1f\r\n", finish_name(row->candy.finish), row->share_of_log,
                row->volume_ml, row->mass_g, row->with_spare_g);
    }
    return true;
}
