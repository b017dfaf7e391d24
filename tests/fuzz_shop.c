/* Shop files: what is taken prints as a file that reads back to the same shop. SPDX-License-Identifier: MIT
 */
#include "fuzz.h"

#include "read/read.h"

static bool read_shop(const char *text, size_t size, Shop *out, Err *err) {
    FILE *file = size ? fmemopen((void *)(uintptr_t)text, size, "r") : fopen("/dev/null", "r");
    assert(file);
    bool good = shop_file_read(file, "shop", out, err);
    fclose(file);
    return good;
}

static char *printed(const Shop *shop, size_t *size) {
    char *text = NULL;
    FILE *file = open_memstream(&text, size);
    assert(file);
    shop_file_print(shop, file);
    fclose(file);
    return text;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    Shop shop, again;
    Err err = {0};
    if (!read_shop((const char *)data, size, &shop, &err)) return check_message(&err), 0;
    assert(shop.stock.count >= 1 && shop.stock.count <= STOCK_MAX);
    size_t first_size, second_size;
    char *first = printed(&shop, &first_size), *second;
    assert(text_valid(shop.currency) && read_shop(first, first_size, &again, &err));
    second = printed(&again, &second_size);
    assert(strcmp(first, second) == 0);
    free(first), free(second);
    return 0;
}
