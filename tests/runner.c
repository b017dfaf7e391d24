/* Runs one of the tests that are linked into this program: runner NAME. SPDX-License-Identifier: MIT
 *
 * The `main` of each tests/test_NAME.c is called test_NAME here; the Makefile names them: TESTS is TEST(a)
 * TEST(b) ... */
#include <stdio.h>
#include <string.h>

#define TEST(name) int test_##name(void);
TESTS
#undef TEST
#define TEST(name) {#name, test_##name},

static const struct {
    const char *name;
    int (*run)(void);
} table[] = {TESTS};

int main(int argc, char *argv[]) {
    for (size_t i = 0; argc >= 2 && i < sizeof table / sizeof *table; i++)
        if (strcmp(argv[1], table[i].name) == 0) return table[i].run();
    fprintf(stderr, "name one of:\n");
    for (size_t i = 0; i < sizeof table / sizeof *table; i++) fprintf(stderr, "  %s\n", table[i].name);
    return 1;
}
