/* Names as they are printed. SPDX-License-Identifier: MIT */
#include "fuzz.h"

/* A cell stays one cell, and is no formula. */
static void check_cell(const char *text) {
    char *cell = NULL;
    size_t size;
    FILE *file = open_memstream(&cell, &size);
    assert(file);
    text_csv(file, text);
    fclose(file);
    bool quoted = cell[0] == '"';
    const char *inside = cell + quoted, *end = cell + size - quoted, *first = inside + strspn(inside, " ");
    assert(text_valid(cell) && !(*first && strchr("=+-@\t\r", *first)));
    assert(!quoted || (size >= 2 && *end == '"'));
    for (const char *c = inside; c < end; c++) {
        assert(quoted || !strchr(",;\"", *c));
        if (*c == '"') assert(c[1] == '"' && ++c < end);
    }
    free(cell);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    if (size < 2) return 0;
    char *text = feed_text(data + 2, size - 2), out[512], again[512];
    size_t room = 1 + data[0];
    int columns = 8 + data[1] % 150;
    text_clean(out, room, text);
    assert(strlen(out) < room && text_valid(out));
    text_clean(again, room, out);
    assert(strcmp(out, again) == 0);
    text_fit(out, sizeof out, text, columns);
    assert(text_valid(out) && text_width(out) <= columns);
    check_cell(text);
    free(text);
    return 0;
}
