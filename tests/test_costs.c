/* What pictures made to be slow may cost: processor time and memory of the program, run as a child.
 * SPDX-License-Identifier: MIT
 *
 * Each of these took 10 to 90 s, or over 300 MB, before there was a budget for it. The limits leave room for
 * a slow machine.
 */
#include "child.h"
#include "sanitized.h"

#include <math.h>
#include <png.h>

#if defined SANITIZED || defined COUNT_LINES
enum { MEASURED = false, FEW = 4 }; /* sanitizers and counts are slow */
#else
enum { MEASURED = true, FEW = 1 };
#endif

enum { MOST_MB = 300 };

static void check_cost(const char *path, const Ran *ran, double seconds) {
    if (!MEASURED) return;
    if (ran->seconds > seconds) fail_msg("%s: took %.3f s, over %g", path, ran->seconds, seconds);
    if (ran->mb > MOST_MB) fail_msg("%s: took %.1f MB, over %d", path, ran->mb, MOST_MB);
}

/* Judges the file and removes it. `words`: of the line that refuses it; NULL = it is judged. */
static void costs(char *path, const char *words, double seconds) {
    char program[PATH_ROOM];
    path_here(program, "logocane");
    Ran ran = run_child(NULL, (const char *[]){program, "-q", path, NULL});
    (void)remove(path);
    bool good = words ? ran.status == 2 && strstr(ran.said, words) : ran.status == 0 || ran.status == 1;
    if (!good) fail_msg("%s: status %d, \"%s\"", path, ran.status, ran.said);
    check_cost(path, &ran, seconds);
    ran_free(&ran);
}

static void write_file(const char *name, const uint8_t *bytes, size_t size, char path[PATH_ROOM]) {
    path_here(path, name);
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    assert_int_equal(fwrite(bytes, 1, size, file), size);
    assert_int_equal(fclose(file), 0);
}

typedef void Paint(int x, int y, uint32_t *random, uint8_t rgba[4]);

static void picture_costs(const char *name, int side, Paint *paint, double seconds) {
    char path[PATH_ROOM];
    uint8_t *rgba = malloc((size_t)side * (size_t)side * 4);
    uint32_t random = 1;
    assert_non_null(rgba);
    memset(rgba, 255, (size_t)side * (size_t)side * 4);
    for (int i = 0; i < side * side; i++) paint(i % side, i / side, &random, rgba + 4 * (size_t)i);
    png_image image = {.version = PNG_IMAGE_VERSION,
                       .width = (png_uint_32)side,
                       .height = (png_uint_32)side,
                       .format = PNG_FORMAT_RGBA,
                       .flags = PNG_IMAGE_FLAG_FAST};
    path_here(path, name);
    assert_true(png_image_write_to_file(&image, path, 0, rgba, 0, NULL));
    free(rgba);
    costs(path, NULL, seconds);
}

static void paint_random(uint32_t *random, uint8_t *bytes, int count) {
    for (int c = 0; c < count; c++) {
        *random = *random * 1664525u + 1013904223u;
        bytes[c] = (uint8_t)(*random >> 24);
    }
}

static void paint_noise(int x, int y, uint32_t *random, uint8_t rgba[4]) {
    (void)x, (void)y;
    paint_random(random, rgba, 3);
}

static void paint_clear_noise(int x, int y, uint32_t *random, uint8_t rgba[4]) {
    (void)x, (void)y;
    paint_random(random, rgba, 4);
}

static void paint_checks(int x, int y, uint32_t *random, uint8_t rgba[4]) {
    (void)random;
    memset(rgba, (x + y) & 1 ? 255 : 0, 3);
}

/* Of eight colours, 3 px wide. */
static void paint_rings(int x, int y, uint32_t *random, uint8_t rgba[4]) {
    enum { MIDDLE = 240 / FEW };
    static const uint8_t colour[8][3] = {{200, 30, 40}, {30, 60, 160},   {250, 210, 40}, {40, 150, 70},
                                         {20, 20, 20},  {255, 255, 255}, {240, 120, 30}, {120, 50, 140}};
    (void)random;
    memcpy(rgba, colour[(int)(hypot(x - MIDDLE, y - MIDDLE) / 3) % 8], 3);
}

/* --- tests --- */

static void noise_is_not_asked_for_mixes_for_ever(void **state) {
    (void)state;
    picture_costs("costs-noise.png", 360 / FEW, paint_noise, 12);
}

static void noise_of_transparency_is_not_searched_for_colours_for_ever(void **state) {
    (void)state;
    picture_costs("costs-clear.png", 600 / FEW, paint_clear_noise, 12);
}

static void thousands_of_parts_are_judged(void **state) {
    (void)state;
    picture_costs("costs-checks.png", 400 / FEW, paint_checks, 8);
}

static void discs_within_discs_are_not_tried_for_ever(void **state) {
    (void)state;
    picture_costs("costs-rings.png", 480 / FEW, paint_rings, 8);
}

/* Bits as GIF packs them, the lowest first. */
typedef struct Bits {
    uint8_t *bytes;
    size_t size;
    uint32_t bits;
    unsigned count;
} Bits;

static void put_bits(Bits *b, unsigned value, unsigned width) {
    b->bits |= value << b->count;
    for (b->count += width; b->count >= 8; b->count -= 8, b->bits >>= 8)
        b->bytes[b->size++] = (uint8_t)(b->bits & 255);
}

/* Of 100 x 100 px; each code of 12 bits is a pixel longer than the one before, up to 4 kB. */
static void codes_of_a_gif_do_not_run_on(void **state) {
    (void)state;
    enum { CODES = 4000, TIMES = 200 };
    static const char head[] =
        "GIF89a\x64\0\x64\0\x81\0\0\0\0\0\xff\xff\xff\xff\0\0\0\0\xff,\0\0\0\0\x64\0\x64\0\0\2";
    Bits codes = {.bytes = malloc(TIMES * CODES * 2)};
    uint8_t *file = malloc(TIMES * CODES * 2 + 1000);
    assert_true(codes.bytes && file);
    for (int t = 0; t < TIMES; t++) {
        unsigned width = t == 0 ? 3 : 12, next = 6;
        put_bits(&codes, 4, width);
        put_bits(&codes, 0, width = 3);
        for (int i = 1; i < CODES; i++) {
            put_bits(&codes, next++, width);
            if (next == 1u << width && width < 12) width++;
        }
    }
    size_t size = sizeof head - 1;
    memcpy(file, head, size);
    for (size_t at = 0; at < codes.size; at += 255) {
        size_t count = codes.size - at < 255 ? codes.size - at : 255;
        file[size++] = (uint8_t)count;
        memcpy(file + size, codes.bytes + at, count), size += count;
    }
    memcpy(file + size, "\0;", 2);
    char path[PATH_ROOM];
    write_file("costs.gif", file, size + 2, path);
    free(codes.bytes), free(file);
    costs(path, "damaged", 0.5);
}

#define PUT(to, literal) (memcpy(to, literal, sizeof(literal) - 1), (to) += sizeof(literal) - 1)

/* Grey, 9 992 px a side: 1.56 million blocks; a scan of the first values, then one for each of the others,
 * all of nothing: 48 runs of 32 767 blocks. */
static void scans_of_a_large_jpeg_are_counted(void **state) {
    (void)state;
    enum { BLOCKS = 1249 * 1249, OTHERS = 63, RUNS = BLOCKS / 32767 + 1 };
    uint8_t *file = calloc(1, BLOCKS / 8 + OTHERS * 250 + 1000), *to = file;
    assert_non_null(file);
    PUT(to, "\xff\xd8\xff\xdb\0\x43\0");
    memset(to, 1, 64), to += 64;
    PUT(to, "\xff\xc2\0\x0b\10\x27\x08\x27\x08\1\1\x11\0");
    PUT(to, "\xff\xc4\0\x14\0\1\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0");     /* 0: the same value again */
    PUT(to, "\xff\xc4\0\x14\x10\1\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\xe0"); /* 0, 14 bits: a run of 16 384 + */
    PUT(to, "\xff\xda\0\10\1\1\0\0\0\0");
    to += BLOCKS / 8 + 1;
    for (int k = 1; k <= OTHERS; k++) {
        PUT(to, "\xff\xda\0\10\1\1\0");
        *to++ = (uint8_t)k, *to++ = (uint8_t)k, *to++ = 0;
        for (int bit = 0; bit < RUNS * 15; bit++) { /* 0 and fourteen ones, the highest bit first */
            if (bit % 15) to[0] |= (uint8_t)(128 >> bit % 8);
            if (bit % 8 < 7 && bit + 1 < RUNS * 15) continue;
            if (*to++ == 0xff) to++;
        }
    }
    PUT(to, "\xff\xd9");
    char path[PATH_ROOM];
    write_file("costs.jpg", file, (size_t)(to - file), path);
    free(file);
    costs(path, "variety", 5);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(noise_is_not_asked_for_mixes_for_ever),
        cmocka_unit_test(noise_of_transparency_is_not_searched_for_colours_for_ever),
        cmocka_unit_test(thousands_of_parts_are_judged),
        cmocka_unit_test(discs_within_discs_are_not_tried_for_ever),
        cmocka_unit_test(codes_of_a_gif_do_not_run_on),
        cmocka_unit_test(scans_of_a_large_jpeg_are_counted),
    };
    return cmocka_run_group_tests_name("costs", tests, NULL, NULL);
}
