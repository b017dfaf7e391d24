/* Tests of src/read/decode_png.c. SPDX-License-Identifier: MIT */
#include "png_files.h"

#include <png.h>
#include <math.h>
#include <sys/wait.h>

typedef struct Spec {
    int width, height, type, depth;
    bool interlaced;
    bool transparent; /* a tRNS chunk: the sample values of pixel 0, 0; of a palette, the first 2 entries */
    double gamma;     /* 0: no gAMA */
    unsigned seed;    /* of the samples; 0: a picture that packs well */
} Spec;

static int channels_of(int type) {
    return type == PNG_COLOR_TYPE_RGB    ? 3
           : type == PNG_COLOR_TYPE_RGBA ? 4
           : type == PNG_COLOR_TYPE_GA   ? 2
                                         : 1;
}

/* Sample c of the pixel x, y: any value of the depth. */
static unsigned sample_of(const Spec *s, int x, int y, int c) {
    uint32_t v = s->seed ? ((uint32_t)(y * 1000 + x) * 4 + (uint32_t)c + s->seed) * 2654435761u
                         : (uint32_t)(x / 100 * 40 + y / 50 * 7 + c * 90) << 24;
    if (s->seed) v = (v ^ v >> 15) * 2246822519u;
    if (!s->seed && c == 3) v = 0xffffffff;
    return v >> (32 - s->depth);
}

static void on_write(png_structp png, png_bytep bytes, size_t size) {
    put(png_get_io_ptr(png), bytes, size);
}

static void on_flush(png_structp png) {
    (void)png;
}

static void put_row(const Spec *s, int y, uint8_t *row) {
    int channels = channels_of(s->type), bit = 0;
    memset(row, 0, (size_t)s->width * 8);
    for (int x = 0; x < s->width; x++)
        for (int c = 0; c < channels; c++, bit += s->depth) {
            unsigned v = sample_of(s, x, y, c);
            if (s->depth == 16)
                row[bit / 8] = (uint8_t)(v >> 8), row[bit / 8 + 1] = (uint8_t)(v & 255);
            else
                row[bit / 8] |= (uint8_t)(v << (8 - s->depth - bit % 8));
        }
}

static void set_chunks(png_structp png, png_infop info, const Spec *s) {
    if (s->type == PNG_COLOR_TYPE_PALETTE) {
        png_color palette[256];
        for (int i = 0; i < 1 << s->depth; i++)
            palette[i] = (png_color){(png_byte)(i * 7), (png_byte)(255 - i), (png_byte)(i * 31)};
        png_set_PLTE(png, info, palette, 1 << s->depth);
    }
    if (s->transparent) {
        png_byte alpha[2] = {0, 77};
        png_color_16 colour = {.gray = (png_uint_16)sample_of(s, 0, 0, 0),
                               .red = (png_uint_16)sample_of(s, 0, 0, 0),
                               .green = (png_uint_16)sample_of(s, 0, 0, 1),
                               .blue = (png_uint_16)sample_of(s, 0, 0, 2)};
        bool palette = s->type == PNG_COLOR_TYPE_PALETTE;
        png_set_tRNS(png, info, palette ? alpha : NULL, palette ? 2 : 0, palette ? NULL : &colour);
    }
    if (s->gamma > 0) png_set_gAMA(png, info, s->gamma);
}

static Bytes make_png(Spec s) {
    Bytes b = {0};
    png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
    png_infop info = png_create_info_struct(png);
    uint8_t *row = malloc((size_t)s.width * 8);
    assert_true(row && info);
    png_set_write_fn(png, &b, on_write, on_flush);
    png_set_IHDR(png, info, (png_uint_32)s.width, (png_uint_32)s.height, s.depth, s.type, s.interlaced, 0, 0);
    png_set_compression_level(png, 1);
    if (s.width > 1000) png_set_filter(png, 0, PNG_FILTER_SUB); /* trying all five takes seconds */
    set_chunks(png, info, &s);
    png_write_info(png, info);
    for (int passes = png_set_interlace_handling(png); passes > 0; passes--)
        for (int y = 0; y < s.height; y++) {
            put_row(&s, y, row);
            png_write_row(png, row);
        }
    png_write_end(png, info);
    png_destroy_write_struct(&png, &info);
    free(row);
    return b;
}

/* What PNG says the pixel looks like, in 8 bits: 0xRRGGBBAA. */
static uint32_t expected_pixel(const Spec *s, int x, int y) {
    unsigned v[4] = {0, 0, 0, 255}, max = (1u << s->depth) - 1;
    int channels = channels_of(s->type);
    bool clear = s->transparent;
    for (int c = 0; c < channels; c++) {
        unsigned sample = sample_of(s, x, y, c), byte = (sample * 255 + max / 2) / max;
        clear = clear && sample == sample_of(s, 0, 0, c);
        v[channels == 2 && c == 1 ? 3 : c] = byte;
    }
    if (channels < 3) v[1] = v[2] = v[0];
    if (s->type == PNG_COLOR_TYPE_PALETTE) {
        unsigned i = sample_of(s, x, y, 0);
        v[0] = i * 7 & 255, v[1] = (255 - i) & 255, v[2] = i * 31 & 255,
        v[3] = !s->transparent || i > 1 ? 255 : 77 * i;
    } else if (clear)
        v[3] = 0;
    return v[3] == 0 ? 0 : v[0] << 24 | v[1] << 16 | v[2] << 8 | v[3];
}

static bool is_visible(const Spec *s) {
    for (int i = 0; i < s->width * s->height; i++)
        if ((expected_pixel(s, i % s->width, i / s->width) & 255) > 2) return true;
    return false;
}

static void check_pixels(const Spec *s, const Picture *p) {
    int limit =
        s->depth == 16 ? 1 : 0; /* 16 bits go through linear light, where a tie may fall the other way */
    assert_int_equal(p->width, s->width);
    assert_int_equal(p->height, s->height);
    assert_int_equal(p->shrink, 1);
    for (int y = 0; y < s->height; y++)
        for (int x = 0; x < s->width; x++) {
            uint32_t got = pixel_at(p, x, y), want = expected_pixel(s, x, y);
            for (int shift = 0; shift < 32; shift += 8)
                if (abs((int)(got >> shift & 255) - (int)(want >> shift & 255)) > limit)
                    fail_msg("type %d depth %d interlaced %d transparent %d: pixel %d, %d is %08x, not %08x",
                             s->type, s->depth, s->interlaced, s->transparent, x, y, got, want);
        }
}

static void every_type_and_depth_is_read_exactly(void **state) {
    (void)state;
    const int kinds[15][2] = {{0, 1}, {0, 2}, {0, 4}, {0, 8}, {0, 16}, {2, 8}, {2, 16}, {3, 1},
                              {3, 2}, {3, 4}, {3, 8}, {4, 8}, {4, 16}, {6, 8}, {6, 16}};
    const int sizes[5][2] = {{13, 9}, {1, 1}, {2, 3}, {5, 1}, {33, 40}};
    for (int i = 0; i < 15 * 5 * 4; i++) {
        const int *size = sizes[i / 4 % 5], *kind = kinds[i / 20];
        Spec s = {size[0], size[1], kind[0], kind[1], i & 1, (i & 2) && kind[0] < 4, 0, 1 + (unsigned)i};
        Bytes b = make_png(s);
        if (is_visible(&s)) {
            Picture picture = decode_good(&b);
            check_pixels(&s, &picture);
            picture_free(&picture);
        } else
            refused(b.bytes, b.size, "transparent");
        free(b.bytes);
    }
}

/* sRGB, IEC 61966-2-1. */
static double encode(double light) {
    return light <= 0.0031308 ? light * 12.92 : 1.055 * pow(light, 1 / 2.4) - 0.055;
}

static void check_gamma(double gamma, bool srgb, bool profile, int depth) {
    Spec s = {32, 8, PNG_COLOR_TYPE_GRAY, depth, false, false, gamma, 9};
    Bytes b = make_png(s);
    if (srgb) insert_chunk(&b, "sRGB", "", 1);
    if (profile) insert_chunk(&b, "iCCP", "harbour\0\0 not a real profile", 28);
    bool kept = srgb || profile || fabs(gamma * 2.2 - 1) < 0.05;
    Picture p = decode_good(&b);
    for (int y = 0; y < 8; y++)
        for (int x = 0; x < 32; x++) {
            double v = sample_of(&s, x, y, 0) / (double)((1 << depth) - 1);
            double want = 255 * (kept ? v : encode(pow(v, 1 / gamma)));
            double got = pixel_at(&p, x, y) >> 24;
            if (fabs(got - want) > 0.56)
                fail_msg("gamma %g: %g becomes %g, not %g", gamma, 255 * v, got, want);
        }
    picture_free(&p);
    free(b.bytes);
}

static void gamma_becomes_srgb_unless_the_file_says_more(void **state) {
    (void)state;
    for (int depth = 8; depth <= 16; depth += 8) {
        check_gamma(1.0, false, false, depth);
        check_gamma(0.55, false, false, depth);
        check_gamma(0.35, false, false, depth);
        check_gamma(1 / 2.2, false, false, depth);
        check_gamma(1.0, true, false, depth);
        check_gamma(1.0, false, true, depth);
    }
}

static void what_is_no_pixel_is_skipped(void **state) {
    (void)state;
    Spec s = {20, 10, PNG_COLOR_TYPE_RGB, 8, false, false, 0, 4};
    Bytes b = make_png(s);
    size_t size = 3 << 20;
    char *text = calloc(size, 1);
    assert_non_null(text);
    memcpy(text, "Comment\0the night ferry", 23);
    insert_chunk(&b, "tEXt", text, size);
    insert_chunk(&b, "zTXt", text, 1000);
    insert_chunk(&b, "iTXt", text, 70000);
    insert_chunk(&b, "eXIf", text, 10);
    insert_chunk(&b, "faRe", text, 65536);
    put(&b, text, 500); /* after IEND */
    Picture p = decode_good(&b);
    check_pixels(&s, &p);
    picture_free(&p);
    insert_chunk(&b, "FaRe", text, 8);
    refused(b.bytes, b.size, "damaged");
    free(text);
    free(b.bytes);
}

static void every_beginning_is_refused(void **state) {
    (void)state;
    for (int i = 0; i < 4; i++) {
        Bytes b = make_png(
            (Spec){9, 7, i < 2 ? PNG_COLOR_TYPE_RGB : PNG_COLOR_TYPE_PALETTE, 8, i & 1, i > 1, 1, 6});
        beginnings_are_refused(&b, b.size);
        free(b.bytes);
    }
}

static void every_changed_byte_is_refused(void **state) {
    (void)state;
    Bytes b = make_png((Spec){9, 7, PNG_COLOR_TYPE_RGB, 8, false, false, 0, 6});
    insert_chunk(&b, "tEXt", "Title\0bicycle repairer", 22);
    for (size_t i = 0; i < b.size; i++) {
        b.bytes[i] ^= 0x10;
        refused(b.bytes, b.size, "");
        b.bytes[i] ^= 0x10;
    }
    Picture p = decode_good(&b);
    picture_free(&p);
    free(b.bytes);
}

/* The PNG says it is width x height. */
static void claim(Bytes *b, uint32_t width, uint32_t height) {
    for (int i = 0; i < 4; i++) {
        b->bytes[16 + i] = (uint8_t)(width >> (24 - 8 * i));
        b->bytes[20 + i] = (uint8_t)(height >> (24 - 8 * i));
    }
    uint32_t crc = png_crc(b->bytes + 12, 17);
    for (int i = 0; i < 4; i++) b->bytes[29 + i] = (uint8_t)(crc >> (24 - 8 * i));
}

static void a_wrong_size_is_refused(void **state) {
    (void)state;
    Bytes b = make_png((Spec){8, 8, PNG_COLOR_TYPE_GRAY, 1, false, false, 0, 2});
    claim(&b, 30000, 30000), refused(b.bytes, b.size, "100 megapixels");
    claim(&b, 10001, 10000), refused(b.bytes, b.size, "100 megapixels");
    claim(&b, 100000, 1), refused(b.bytes, b.size, "100 megapixels");
    claim(&b, 0xffffffff, 0xffffffff), refused(b.bytes, b.size, "100 megapixels");
    claim(&b, 0, 8), refused(b.bytes, b.size, "0 x 8 px");
    claim(&b, 8, 0), refused(b.bytes, b.size, "8 x 0 px");
    claim(&b, 8, 9), refused(b.bytes, b.size, "rows are missing");
    claim(&b, 10000, 10000), refused(b.bytes, b.size, "damaged");
    free(b.bytes);
}

static void data_beyond_the_last_row_is_refused(void **state) {
    (void)state;
    Bytes b = make_png((Spec){8, 900, PNG_COLOR_TYPE_GRAY, 8, false, false, 0, 2});
    claim(&b, 8, 899), refused(b.bytes, b.size, "more data");
    claim(&b, 8, 3), refused(b.bytes, b.size, "more data");
    free(b.bytes);
    Spec s = {8, 9, PNG_COLOR_TYPE_GRAY, 8, true, false, 0, 2};
    b = make_png(s);
    uint8_t *surplus = calloc(1, 70000);
    Bytes chunk = {0};
    assert_non_null(surplus);
    put_chunk(&chunk, "IDAT", surplus, 1), insert(&b, b.size - 12, chunk.bytes, chunk.size);
    Picture p = decode_good(&b); /* a byte behind the end of the packed data */
    check_pixels(&s, &p);
    picture_free(&p);
    free(chunk.bytes), chunk = (Bytes){0};
    put_chunk(&chunk, "IDAT", surplus, 70000), insert(&b, b.size - 12, chunk.bytes, chunk.size);
    refused(b.bytes, b.size, "more data");
    free(chunk.bytes), free(surplus), free(b.bytes);
}

/* The most memory this process has held, kB. */
static long peak_memory(void) {
    char line[128];
    long peak = -1;
    FILE *status = fopen("/proc/self/status", "r");
    while (status && fgets(line, sizeof line, status))
        if (strncmp(line, "VmHWM:", 6) == 0) peak = strtol(line + 6, NULL, 10);
    if (status) fclose(status);
    return peak;
}

/* What this program does as a process of its own, whose heap is fresh: the MB that decoding takes as its
 * status. */
static int decode_and_tell(const char *path) {
    Picture p = {0};
    Err err = {0};
    long before = peak_memory();
    bool good = decode(path, "logo", &p, &err);
    long taken = (peak_memory() - before) / 1024;
    picture_free(&p);
    return !good || before < 0 ? 255 : taken > 254 ? 254 : (int)taken;
}

/* Set for a child that only decodes: the file. */
#define CHILD "LOGOCANE_TEST_DECODE"

static int megabytes_for(const Bytes *b) {
    char path[32];
    int fd = file_of(b->bytes, b->size, path), status = 0;
    pid_t child = fork();
    if (child == 0) {
        if (setenv(CHILD, path, 1) == 0) execl("/proc/self/exe", "runner", "decode_png", (char *)NULL);
        _exit(255);
    }
    assert_int_equal(waitpid(child, &status, 0), child);
    close(fd);
    assert_true(WIFEXITED(status) && WEXITSTATUS(status) < 255);
    return WEXITSTATUS(status);
}

static void memory_stays_small(void **state) {
    (void)state;
    for (int interlaced = 0; interlaced < 2; interlaced++) {
        Bytes b = make_png((Spec){4000, 4000, PNG_COLOR_TYPE_RGBA, 8, interlaced, false, 0, 0});
        assert_in_range(megabytes_for(&b), 1, interlaced ? 40 : 12); /* the picture itself takes 2 */
        free(b.bytes);
    }
}

static void an_interlaced_picture_shrinks_to_the_same(void **state) {
    (void)state;
    Spec s = {1700, 1601, PNG_COLOR_TYPE_RGBA, 8, false, false, 0, 8};
    Bytes plain = make_png(s), laced;
    s.interlaced = true, laced = make_png(s);
    Picture a = decode_good(&plain), b = decode_good(&laced);
    assert_int_equal(a.shrink, 2);
    assert_int_equal(a.width, 850);
    assert_int_equal(a.height, 801);
    assert_memory_equal(a.rgba, b.rgba, (size_t)a.width * (size_t)a.height * 4);
    picture_free(&a), picture_free(&b);
    free(plain.bytes), free(laced.bytes);
}

int main(void) {
    const char *path = getenv(CHILD);
    if (path) return decode_and_tell(path);
    const struct CMUnitTest tests[] = {cmocka_unit_test(every_type_and_depth_is_read_exactly),
                                       cmocka_unit_test(gamma_becomes_srgb_unless_the_file_says_more),
                                       cmocka_unit_test(what_is_no_pixel_is_skipped),
                                       cmocka_unit_test(every_beginning_is_refused),
                                       cmocka_unit_test(every_changed_byte_is_refused),
                                       cmocka_unit_test(a_wrong_size_is_refused),
                                       cmocka_unit_test(data_beyond_the_last_row_is_refused),
                                       cmocka_unit_test(memory_stays_small),
                                       cmocka_unit_test(an_interlaced_picture_shrinks_to_the_same)};
    return cmocka_run_group_tests_name("decode_png", tests, NULL, NULL);
}
