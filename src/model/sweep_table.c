/* The rows of a sweep. SPDX-License-Identifier: MIT */
#include "model/sweep_table.h"

#include <stdlib.h>

void sweep_table_free(SweepTable *table) {
    for (int i = 0; i < table->rows; i++) image_free(&table->row[i].face);
    free(table->row);
    *table = (SweepTable){0};
}
