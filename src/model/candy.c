/* Candies. SPDX-License-Identifier: MIT */
#include "model/candy.h"

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
