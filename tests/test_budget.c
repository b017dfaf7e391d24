/* What a hostile file may cost: processor time and memory of the program, run as a child.
 * SPDX-License-Identifier: MIT
 *
 * The files are made here, beside the program, and removed again; those of many megabytes are mostly holes.
 */
#include "child.h"
#include "sanitized.h"

#include <zlib.h>

enum { SMALL_MB = 64 };

/* With the sanitizers both are theirs, not the program's; and large files take long. */
#if defined SANITIZED
enum { MEASURED = false, LARGE_SIDE = 3000, TEXT = 10 << 20 };
#else
enum { MEASURED = true, LARGE_SIDE = 9000, TEXT = 100 << 20 };
#endif

/* Judges the file, and removes it. */
static Ran run(char *path) {
    char program[PATH_ROOM];
    path_here(program, "logocane");
    Ran ran = run_child(NULL, (const char *[]){program, "-q", "--no-fine", path, NULL});
    (void)remove(path);
    return ran;
}

static void check_cost(const char *path, const Ran *ran, double seconds) {
    if (!MEASURED) return;
    if (ran->seconds > seconds) fail_msg("%s: took %.3f s, over %g", path, ran->seconds, seconds);
    if (ran->mb > SMALL_MB) fail_msg("%s: took %.1f MB, over %d", path, ran->mb, SMALL_MB);
}

/* Refused within 0.2 s and 64 MB. */
static void refused_early(char *path, const char *words) {
    Ran ran = run(path);
    if (ran.status != 2 || !strstr(ran.said, words)) fail_msg("status %d, \"%s\"", ran.status, ran.said);
    check_cost(path, &ran, 0.2);
    ran_free(&ran);
}

static void judged(char *path, double seconds) {
    Ran ran = run(path);
    if (ran.status != 0 && ran.status != 1) fail_msg("status %d, \"%s\"", ran.status, ran.said);
    check_cost(path, &ran, seconds);
    ran_free(&ran);
}

/* --- files --- */

typedef struct Output {
    char path[PATH_ROOM];
    FILE *file;
} Output;

static Output output_begin(const char *name) {
    Output out;
    path_here(out.path, name);
    out.file = fopen(out.path, "wb");
    assert_non_null(out.file);
    return out;
}

static void output_end(Output *out) {
    assert_int_equal(fclose(out->file), 0);
}

static void put_number(Output *out, uint32_t v) {
    const uint8_t bytes[4] = {(uint8_t)(v >> 24), (uint8_t)(v >> 16 & 255), (uint8_t)(v >> 8 & 255),
                              (uint8_t)(v & 255)};
    fwrite(bytes, 1, 4, out->file);
}

static void write_chunk(Output *out, const char *type, const uint8_t *data, size_t size) {
    put_number(out, (uint32_t)size);
    fwrite(type, 1, 4, out->file);
    if (size) fwrite(data, 1, size, out->file);
    uLong crc = crc32(0, (const Bytef *)type, 4);
    put_number(out, (uint32_t)(size ? crc32(crc, data, (uInt)size) : crc));
}

/* A chunk of that many zero bytes behind `start`: a hole in the file. */
static void write_hollow_chunk(Output *out, const char *type, const char *start, size_t start_size,
                               size_t zeros) {
    static const uint8_t none[1 << 16];
    put_number(out, (uint32_t)(start_size + zeros));
    fwrite(type, 1, 4, out->file);
    fwrite(start, 1, start_size, out->file);
    uLong crc = crc32(crc32(0, (const Bytef *)type, 4), (const Bytef *)start, (uInt)start_size);
    for (size_t left = zeros; left > 0; left -= left < sizeof none ? left : sizeof none)
        crc = crc32(crc, none, (uInt)(left < sizeof none ? left : sizeof none));
    assert_int_equal(fseek(out->file, (long)zeros, SEEK_CUR), 0);
    put_number(out, (uint32_t)crc);
}

static void write_png_head(Output *out, uint32_t side, uint8_t depth) {
    uint8_t header[13] = {0};
    for (int i = 0; i < 4; i++) header[i] = header[4 + i] = (uint8_t)(side >> (24 - 8 * i) & 255);
    header[8] = depth; /* grey */
    fwrite("\x89PNG\r\n\x1a\n", 1, 8, out->file);
    write_chunk(out, "IHDR", header, sizeof header);
}

/* Rows of a picture `side` px across, a dark disc on white (depth 1: all of one colour), `rows` of them. */
static void write_rows(Output *out, int side, int depth, int rows) {
    static uint8_t packed[1 << 16];
    size_t size = (size_t)(side * depth + 7) / 8 + 1;
    uint8_t *row = calloc(size, 1);
    z_stream z = {0};
    assert_non_null(row);
    assert_int_equal(deflateInit2(&z, 1, Z_DEFLATED, 15, 8, Z_RLE), Z_OK);
    for (int y = 0; y <= rows; y++) {
        int half = y < side && abs(2 * y - side) < side * 3 / 4 ? side / 3 : 0;
        if (depth == 8) {
            memset(row + 1, 250, (size_t)side);
            memset(row + 1 + side / 2 - half, 40, 2 * (size_t)half);
        }
        z.next_in = row, z.avail_in = y < rows ? (uInt)size : 0;
        do {
            z.next_out = packed, z.avail_out = sizeof packed;
            assert_int_not_equal(deflate(&z, y < rows ? Z_NO_FLUSH : Z_FINISH), Z_STREAM_ERROR);
            if (z.avail_out < sizeof packed) write_chunk(out, "IDAT", packed, sizeof packed - z.avail_out);
        } while (z.avail_out == 0);
    }
    deflateEnd(&z);
    free(row);
}

/* --- tests --- */

static void a_png_of_900_megapixels_is_refused_from_its_header(void **state) {
    (void)state;
    Output out = output_begin("budget-huge.png");
    write_png_head(&out, 30000, 1);
    write_rows(&out, 30000, 1, 30000);
    write_chunk(&out, "IEND", NULL, 0);
    assert_true(ftell(out.file) < 300000);
    output_end(&out);
    refused_early(out.path, "100 megapixels");
}

#define BYTES(literal) sizeof(literal) - 1, literal

static void a_few_bytes_that_ask_for_a_gigabyte_are_refused(void **state) {
    (void)state;
    enum { SIZE = 65 };
    static const struct {
        const char *words;
        size_t size;
        const char *bytes; /* zeros follow, to 65 bytes */
    } rows[] = {
        /* BMP: 16384 x 16384 x 32 bits; 10000 x 10000; 7700 x 7700 x 32; x 1 */
        {"100 megapixels", BYTES("BM\0\0\0\0\0\0\0\0\x36\0\0\0\x28\0\0\0\0\x40\0\0\0\x40\0\0\1\0\x20")},
        {"60 megapixels", BYTES("BM\0\0\0\0\0\0\0\0\x36\0\0\0\x28\0\0\0\x10\x27\0\0\x10\x27\0\0\1\0\x20")},
        {"cut off", BYTES("BM\0\0\0\0\0\0\0\0\x36\0\0\0\x28\0\0\0\x14\x1e\0\0\x14\x1e\0\0\1\0\x20")},
        {"cut off", BYTES("BM\0\0\0\0\0\0\0\0\x3e\0\0\0\x28\0\0\0\x14\x1e\0\0\x14\x1e\0\0\1\0\1")},
        /* PSD: 16384 x 16384 x 4 channels; 7700 x 7700, raw; packed */
        {"100 megapixels", BYTES("8BPS\0\1\0\0\0\0\0\0\0\4\0\0\x40\0\0\0\x40\0\0\10\0\3")},
        {"cut off", BYTES("8BPS\0\1\0\0\0\0\0\0\0\4\0\0\x1e\x14\0\0\x1e\x14\0\10\0\3")},
        {"cut off",
         BYTES("8BPS\0\1\0\0\0\0\0\0\0\4\0\0\x1e\x14\0\0\x1e\x14\0\10\0\3\0\0\0\0\0\0\0\0\0\0\0\0\0\1")},
        /* GIF: a screen of 32768 x 32768; of 5000 x 5000 with a frame of one pixel; with a frame without
           pixels */
        {"100 megapixels", BYTES("GIF89a\0\x80\0\x80\xf0\0\0\0\0\0\xff\xff\xff")},
        {"variety",
         BYTES("GIF89a\x88\x13\x88\x13\xf0\0\0\0\0\0\xff\xff\xff,\0\0\0\0\1\0\1\0\0\2\2\x44\1\0;")},
        {"damaged",
         BYTES("GIF89a\x88\x13\x88\x13\xf0\0\0\0\0\0\xff\xff\xff,\0\0\0\0\x88\x13\x88\x13\0\2\2\x44\1\0;")},
        /* JPEG: 32768 x 32768; 10000 x 10000 of three components, progressive; 10000 x 10000 with all
           segments and hardly a byte of data */
        {"100 megapixels", BYTES("\xff\xd8\xff\xc0\0\x11\10\x80\0\x80\0\3\1\x11\0\2\x11\0\3\x11\0")},
        {"variety",
         BYTES(
             "\xff\xd8\xff\xc2\0\x11\10\x27\x10\x27\x10\3\1\x11\0\2\x11\0\3\x11\0\xff\xda\0\10\1\1\0\0\0\0")},
        {"damaged",
         BYTES("\xff\xd8\xff\xc0\0\x0b\10\x27\x10\x27\x10\1\1\x11\0\xff\xc4\0\x14\0\1\0\0\0\0\0\0\0\0\0\0\0"
               "\0\0\0\0\7\xff\xdb\0\2\xff\xda\0\10\1\1\0\0\x3f\0\0\xff\xd9")},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        Output out = output_begin("budget-few");
        fwrite(rows[i].bytes, 1, rows[i].size, out.file);
        for (size_t k = rows[i].size; k < SIZE; k++) fputc(0, out.file);
        output_end(&out);
        refused_early(out.path, rows[i].words);
    }
}

/* Bytes, or rows, behind the picture's last row. */
static void a_png_with_256_mb_too_much_is_refused(void **state) {
    (void)state;
    enum { SURPLUS = 256 << 20 };
    for (int packed = 0; packed < 2; packed++) {
        Output out = output_begin("budget-surplus.png");
        write_png_head(&out, 320, 8);
        write_rows(&out, 320, 8, 320 + (packed ? SURPLUS / 321 : 0));
        if (!packed) write_hollow_chunk(&out, "IDAT", "", 0, SURPLUS);
        write_chunk(&out, "IEND", NULL, 0);
        output_end(&out);
        refused_early(out.path, "more data than its rows");
    }
}

static void text_of_100_mb_is_skipped(void **state) {
    (void)state;
    Output out = output_begin("budget-text.png");
    write_png_head(&out, 320, 8);
    write_hollow_chunk(&out, "tEXt", "Comment", 8, TEXT);
    write_rows(&out, 320, 8, 320);
    write_chunk(&out, "IEND", NULL, 0);
    output_end(&out);
    judged(out.path, 4);
}

/* A hundred kilobytes that would be a hundred megabytes. */
static void packed_text_is_not_unpacked(void **state) {
    (void)state;
    static const struct {
        const char *type;
        size_t size;
        const char *start;
    } rows[] = {
        {"zTXt", BYTES("Comment\0\0")}, {"iTXt", BYTES("Comment\0\1\0\0\0")}, {"iCCP", BYTES("harbour\0\0")}};
    enum { ROOM = 1 << 20 };
    uint8_t *text = calloc(1, TEXT), *chunk = malloc(ROOM);
    assert_true(text && chunk);
    Output out = output_begin("budget-packed.png");
    write_png_head(&out, 320, 8);
    uLong size = ROOM - 16;
    assert_int_equal(compress2(chunk + 16, &size, text, TEXT, 1), Z_OK);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        uint8_t *start = chunk + 16 - rows[i].size;
        memcpy(start, rows[i].start, rows[i].size);
        write_chunk(&out, rows[i].type, start, rows[i].size + size);
    }
    write_rows(&out, 320, 8, 320);
    write_chunk(&out, "IEND", NULL, 0);
    output_end(&out);
    free(text), free(chunk);
    judged(out.path, 3);
}

static void a_png_of_81_megapixels_is_judged_in_64_mb(void **state) {
    (void)state;
    Output out = output_begin("budget-large.png");
    write_png_head(&out, LARGE_SIDE, 8);
    write_rows(&out, LARGE_SIDE, 8, LARGE_SIDE);
    write_chunk(&out, "IEND", NULL, 0);
    output_end(&out);
    judged(out.path, 10);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_png_of_900_megapixels_is_refused_from_its_header),
        cmocka_unit_test(a_few_bytes_that_ask_for_a_gigabyte_are_refused),
        cmocka_unit_test(a_png_with_256_mb_too_much_is_refused),
        cmocka_unit_test(text_of_100_mb_is_skipped),
        cmocka_unit_test(packed_text_is_not_unpacked),
        cmocka_unit_test(a_png_of_81_megapixels_is_judged_in_64_mb),
    };
    return cmocka_run_group_tests_name("budget", tests, NULL, NULL);
}
