/* Sheets and what is pressed in. SPDX-License-Identifier: MIT
 *
 * Input: the lay-up with its blocks as they are built, the rings. Output: Bill.wrap.
 * 1. Trims, a row a candy.
 * 2. Of each block that holds something round the rest about it, as often as it is built.
 * 3. The sheets of each wrapped block, inner ones first, as it is built: thickness and width `scale` times
 * those in the log, the block's length, once a build. Equal ones, to 1/100 mm, are one row. Round it a sheet
 * is as long as the middle line of its mitred section, so thickness * width is the section's area.
 * 4. Every sheet in the lay-up lies in a use of a block, which says its row.
 * 5. Rings from the inside out; the jacket, a row a candy.
 * Invariants: thickness * width * length * density * count is made_g; the mass_g of all sheets round blocks
 * is that of the lay-up's. Cost: sheets * (rows + uses), well under 1 ms. */
#include "bench/sheets.h"

#include "base/mem.h"
#include "model/wrapped.h"

#include <assert.h>
#include <math.h>
#include <string.h>

static const double equal_mm = 0.01;
static const double touching = 1e-3; /* steps: corners of one place, by other sums */

double block_times(const Block *block, const Cane *cane) {
    return block->builds * block->scale * block->scale * block->length_mm / cane->log_length_mm;
}

/* --- 1, 2. what is pressed in --- */

static void list_trims(const Palette *palette, const Cane *cane, const RopeGrams g_per_step2,
                       const LayUp *layup, Bill *bill) {
    for (int k = 0; k < palette->count; k++) {
        WrapRow row = {.kind = WRAP_TRIM, .candy = palette->candy[k], .length_mm = cane->log_length_mm};
        for (int i = 0; i < layup->ropes; i++) {
            const Rope *rope = &layup->rope[i];
            if (!rope->trim || rope->rest || rope->candy != k) continue;
            row.count++;
            row.mass_g += rope->area * g_per_step2[k];
        }
        row.made_g = row.mass_g;
        if (row.count > 0) bill->wrap[bill->wraps++] = row;
    }
}

static void list_rests(const Palette *palette, const Cane *cane, const RopeGrams g_per_step2,
                       const Blocks *blocks, const LayUp *layup, Bill *bill) {
    for (int b = 0; b < blocks->blocks; b++) {
        const Block *block = &blocks->block[b];
        if (block->kind != BLOCK_ROUND) continue;
        const Rope *rest = &layup->rope[block->rest];
        double g = rest->area * g_per_step2[rest->candy];
        bill->wrap[bill->wraps++] = (WrapRow){.kind = WRAP_REST,
                                              .candy = palette->candy[rest->candy],
                                              .count = block->builds,
                                              .length_mm = block->length_mm,
                                              .mass_g = g * block->made,
                                              .made_g = g * block_times(block, cane),
                                              .rest = block->rest};
    }
}

/* --- 3, 4. sheets round blocks --- */

static bool same_sheet(const WrapRow *a, const WrapRow *b) {
    return a->kind == b->kind && strcmp(a->candy.name, b->candy.name) == 0 &&
           fabs(a->thickness_mm - b->thickness_mm) <= equal_mm &&
           fabs(a->width_mm - b->width_mm) <= equal_mm && fabs(a->length_mm - b->length_mm) <= equal_mm;
}

/* The row of a sheet of this block, as it is built; its masses are not in it yet. */
static int sheet_row(const Palette *palette, const Cane *cane, const Block *block, const Wrap *sheet,
                     Bill *bill) {
    double mm = cane->step_mm * block->scale;
    WrapRow own = {.kind = WRAP_BLOCK,
                   .candy = palette->candy[sheet->candy],
                   .thickness_mm = sheet->thickness * mm,
                   .width_mm = wrap_length(sheet) * mm,
                   .length_mm = block->length_mm};
    int row = 0;
    while (row < bill->wraps && !same_sheet(&bill->wrap[row], &own)) row++;
    if (row == bill->wraps) bill->wrap[bill->wraps++] = own;
    return row;
}

/* Is the sheet, which lies in the log, this one of the block's as it lies at that use? */
static bool is_copy(const Wrap *sheet, const Wrap *of, const BlockUse *use) {
    Outline outline = outline_moved(&of->outline, use->motion);
    return sheet->candy == of->candy && outline_same(&sheet->outline, &outline, touching);
}

static void mark_copies(const Blocks *blocks, int block, const Wrap *of, LayUp *layup) {
    for (int u = 0; u < blocks->uses; u++) {
        if (blocks->use[u].block != block) continue;
        for (int i = 0; i < layup->wraps; i++) {
            if (!is_copy(&layup->wrap[i], of, &blocks->use[u])) continue;
            layup->wrap[i].block = block;
            layup->wrap[i].row = of->row;
        }
    }
}

static void list_wrapped(const Palette *palette, const Cane *cane, const RopeGrams g_per_step2,
                         const Blocks *blocks, LayUp *layup, Bill *bill) {
    for (int i = 0; i < layup->wraps; i++) layup->wrap[i].row = -1;
    for (int b = 0; b < blocks->blocks; b++) {
        const Block *block = &blocks->block[b];
        for (int k = 0; k < block->wraps; k++) {
            Wrap *sheet = &layup->wrap[block->wrap[k]];
            sheet->block = b;
            sheet->row = sheet_row(palette, cane, block, sheet, bill);
            WrapRow *row = &bill->wrap[sheet->row];
            row->count += block->builds;
            row->made_g += wrap_area(sheet) * g_per_step2[sheet->candy] * block_times(block, cane);
            mark_copies(blocks, b, sheet, layup);
        }
    }
    for (int i = 0; i < layup->wraps; i++) {
        const Wrap *sheet = &layup->wrap[i];
        assert(sheet->row >= 0); /* every sheet lies in a use of its block */
        bill->wrap[sheet->row].mass_g += wrap_area(sheet) * g_per_step2[sheet->candy];
    }
}

/* --- 5. rings, jacket --- */

/* From the inner to the outer radius: thickness times the middle's length is its area. */
static WrapRow wrap(WrapKind kind, Candy candy, double outer_mm, double inner_mm, const Cane *cane) {
    WrapRow row = {.kind = kind, .candy = candy, .count = 1, .length_mm = cane->log_length_mm};
    row.thickness_mm = outer_mm - inner_mm;
    row.width_mm = PI * (outer_mm + inner_mm);
    row.mass_g = row.thickness_mm * row.width_mm * row.length_mm / 1000 * candy.density_g_ml;
    row.made_g = row.mass_g;
    return row;
}

static void list_rings(const Palette *palette, const Cane *cane, const Grid *grid, Bill *bill) {
    for (int i = grid->rings - 1; i >= 0; i--) {
        Ring ring = grid->ring[i];
        bill->wrap[bill->wraps++] = wrap(WRAP_RING, palette->candy[ring.candy], ring.outer * cane->step_mm,
                                         ring.inner * cane->step_mm, cane);
    }
}

static void list_jacket(const Palette *palette, const Cane *cane, Bill *bill) {
    for (int i = 0; i < palette->jackets; i++) {
        WrapRow row = wrap(WRAP_STRIPE, palette->jacket[i], cane->log_diameter_mm / 2,
                           cane->core_diameter_mm / 2, cane);
        row.count = palette->stripes / palette->jackets;
        row.width_mm /= palette->stripes;
        row.mass_g /= palette->jackets;
        row.made_g = row.mass_g;
        bill->wrap[bill->wraps++] = row;
    }
}

/* --- all --- */

static size_t most_rows(const Palette *palette, const Grid *grid, const Blocks *blocks) {
    int rows = palette->count + grid->rings + palette->jackets;
    for (int b = 0; b < blocks->blocks; b++)
        rows += blocks->block[b].kind == BLOCK_ROUND ? 1 : blocks->block[b].wraps;
    return (size_t)rows;
}

bool list_sheets(const Palette *palette, const Cane *cane, const Grid *grid, const RopeGrams g_per_step2,
                 const Blocks *blocks, LayUp *layup, Bill *bill, Err *err) {
    bill->wrap = mem_alloc(most_rows(palette, grid, blocks), sizeof *bill->wrap, err);
    if (!bill->wrap) return false;
    list_trims(palette, cane, g_per_step2, layup, bill);
    list_rests(palette, cane, g_per_step2, blocks, layup, bill);
    list_wrapped(palette, cane, g_per_step2, blocks, layup, bill);
    list_rings(palette, cane, grid, bill);
    list_jacket(palette, cane, bill);
    return true;
}
