/* Runs a fuzz harness over the files named, without libFuzzer. SPDX-License-Identifier: MIT */
#include "fuzz.h"

static void replay(const char *path) {
    uint8_t *bytes = NULL;
    size_t size = 0, room = 0;
    FILE *file = fopen(path, "rb");
    if (!file) {
        perror(path);
        exit(1);
    }
    do {
        room += 1 << 16;
        bytes = realloc(bytes, room);
        assert(bytes);
        size += fread(bytes + size, 1, room - size, file);
    } while (size == room);
    fclose(file);
    uint8_t *exact = malloc(size ? size : 1); /* so that a step too far is seen */
    assert(exact);
    memcpy(exact, bytes, size);
    free(bytes);
    fprintf(stderr, "%s\n", path); /* the last line names what failed */
    (void)LLVMFuzzerTestOneInput(exact, size);
    free(exact);
}

int main(int argc, char *argv[]) {
    for (int i = 1; i < argc; i++) replay(argv[i]);
    return argc < 2;
}
