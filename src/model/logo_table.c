/* Several logos. SPDX-License-Identifier: MIT */
#include "model/logo_table.h"

#include <stdlib.h>

void logos_count(const LogoRow *row, LogoCounts *counts) {
    if (row->err.code == ERR_NONE)
        counts->verdict[row->verdict]++;
    else
        counts->failed++;
}

int logos_status(const LogoCounts *counts) {
    return counts->failed > 0 ? 2 : counts->verdict[VERDICT_NO] > 0;
}

void logo_list_free(LogoList *list) {
    for (int i = 0; i < list->count; i++) {
        free(list->path[i]);
        if (list->folder) free(list->folder[i]);
    }
    free(list->path);
    free(list->folder);
    *list = (LogoList){0};
}
