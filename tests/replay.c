/* Runs a fuzz harness over files, without libFuzzer: replay NAME FILE... SPDX-License-Identifier: MIT
 *
 * Each file has a process of its own, so that none finds what an earlier one left behind. The harness of each
 * tests/fuzz_NAME.c is called fuzz_NAME here; the Makefile names them: HARNESSES is HARNESS(a) HARNESS(b) ...
 */
#include "fuzz.h"

#include <sys/wait.h>

#define HARNESS(name) int fuzz_##name(const uint8_t *data, size_t size);
HARNESSES
#undef HARNESS
#define HARNESS(name) {#name, fuzz_##name},

typedef struct Harness {
    const char *name;
    int (*run)(const uint8_t *data, size_t size);
} Harness;

static const Harness table[] = {HARNESSES};

static void replay(const Harness *harness, const char *path) {
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
    (void)harness->run(exact, size);
    free(exact);
}

/* In a child; whether it ended well. */
static bool replay_apart(const Harness *harness, const char *path) {
    int status = -1;
    fprintf(stderr, "%s\n", path); /* the last line names what failed */
    pid_t child = fork();
    if (child == 0) {
        replay(harness, path);
        exit(0);
    }
    return child > 0 && waitpid(child, &status, 0) == child && status == 0;
}

int main(int argc, char *argv[]) {
    for (size_t i = 0; argc > 2 && i < sizeof table / sizeof *table; i++)
        if (strcmp(argv[1], table[i].name) == 0) {
            int at = 2;
            while (at < argc && replay_apart(&table[i], argv[at])) at++;
            return at < argc;
        }
    fprintf(stderr, "replay NAME FILE...: NAME is of tests/fuzz_NAME.c\n");
    return 1;
}
