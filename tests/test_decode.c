/* Tests of src/read/decode.c. SPDX-License-Identifier: MIT */
#include "picture_files.h"

#include <fcntl.h>
#include <glob.h>

static void other_kinds_get_advice(void **state) {
    (void)state;
    static const struct {
        const char *bytes;
        int size;
        const char *words;
    } rows[] = {
        {"<svg xmlns='http://www.w3.org/2000/svg'/>", 0, "SVG"},
        {"\xef\xbb\xbf<?xml version='1.0'?>\n<!-- harbour caf\xc3\xa9 -->\n<svg width='9'>", 0, "SVG"},
        {"<?xml version='1.0'?><!DOCTYPE svg PUBLIC", 0, "SVG"},
        {"%PDF-1.7\n%", 0, "PDF"},
        {"%!PS-Adobe-3.0 EPSF-3.0", 0, "EPS"},
        {"\xc5\xd0\xd3\xc6 and so on", 0, "EPS"},
        {"RIFF\x10\0\0\0WEBPVP8 ", 16, "WebP"},
        {"\0\0\0\x18"
         "ftypheic\0\0\0\0",
         16, "HEIC"},
        {"\0\0\0\x18"
         "ftypmif1\0\0\0\0",
         16, "HEIC"},
        {"\0\0\0\x18"
         "ftypavif\0\0\0\0",
         16, "AVIF"},
        {"II*\0\x08\0\0\0", 8, "TIFF"},
        {"MM\0*\0\0\0\x08", 8, "TIFF"},
        {"P6\n2 2\n255\n123456789012", 0, "PNM"},
        {"PK\3\4 and so on", 0, "ZIP"},
        {"\x1f\x8b\x08 and so on", 0, "SVGZ"},
        {"<!DOCTYPE html><html><body>not found", 0, "web page"},
        {"Dear maker, our logo is attached.", 0, "not a picture"},
        {"x", 0, "not a picture"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        size_t size = rows[i].size ? (size_t)rows[i].size : strlen(rows[i].bytes);
        Bytes b = {0};
        put(&b, rows[i].bytes, size);
        refused(b.bytes, b.size, rows[i].words);
        refused(b.bytes, b.size, "PNG, 1000 px or more");
        free(b.bytes);
    }
}

static void refuse_path(const char *path, ErrCode code, const char *words) {
    Picture picture = {0};
    Err err = {0};
    assert_false(decode(path, "logo", &picture, &err));
    assert_int_equal(err.code, code);
    if (!strstr(err.msg, words)) fail_msg("\"%s\" is not about \"%s\"", err.msg, words);
}

static void no_file_a_folder_and_an_empty_file_are_refused(void **state) {
    (void)state;
    refuse_path("tests/no-such-logo.png", ERR_INPUT, "no such file");
    refuse_path("tests/run.sh/logo.png", ERR_INPUT, "no such file");
    refuse_path("tests", ERR_INPUT, "folder");
    refuse_path("/dev/null", ERR_INPUT, "empty");
    refuse_path("/proc/self/mem", ERR_SYSTEM, "cannot be read");
}

/* A BMP of one row of 32-bit pixels, each 0xAARRGGBB. */
static Bytes row_bmp(const uint32_t *pixels, int count) {
    Bytes b = {0};
    put_text(&b, "BM");
    put_le32(&b, 54 + 4 * (uint32_t)count), put_le32(&b, 0), put_le32(&b, 54);
    put_le32(&b, 40), put_le32(&b, (uint32_t)count), put_le32(&b, 1), put_le16(&b, 1), put_le16(&b, 32);
    for (int i = 0; i < 6; i++) put_le32(&b, 0);
    for (int i = 0; i < count; i++) put_le32(&b, pixels[i]);
    return b;
}

static void a_picture_with_nothing_to_see_is_refused(void **state) {
    (void)state;
    Bytes faint = row_bmp((uint32_t[]){0x02ff0000, 0x0100ff00}, 2),
          enough = row_bmp((uint32_t[]){0x03ff0000, 0}, 2);
    refused(faint.bytes, faint.size, "transparent");
    Picture picture = decode_good(&enough);
    assert_int_equal(pixel_at(&picture, 0, 0), 0xff000003);
    assert_int_equal(pixel_at(&picture, 1, 0), 0);
    picture_free(&picture);
    free(faint.bytes);
    free(enough.bytes);
}

static void a_dash_reads_standard_input(void **state) {
    (void)state;
    Bytes b = row_bmp((uint32_t[]){0xff102030, 0xff405060}, 2);
    int ends[2], before = dup(STDIN_FILENO);
    assert_int_equal(pipe(ends), 0);
    assert_int_equal(write(ends[1], b.bytes, b.size), b.size);
    close(ends[1]);
    dup2(ends[0], STDIN_FILENO);
    Picture picture = {0};
    Err err = {0};
    assert_true(decode("-", "standard input", &picture, &err));
    assert_int_equal(pixel_at(&picture, 1, 0), 0x405060ff);
    dup2(before, STDIN_FILENO);
    close(before), close(ends[0]);
    picture_free(&picture);
    free(b.bytes);
}

static void a_refused_file_leaves_the_picture_as_it_was(void **state) {
    (void)state;
    uint8_t pixel[4] = {1, 2, 3, 4};
    Picture picture = {1, 1, 1, 1, 1, pixel};
    Err err = {0};
    assert_false(decode("/dev/null", "logo", &picture, &err));
    assert_ptr_equal(picture.rgba, pixel);
    assert_int_equal(picture.width, 1);
}

/* Beginnings of the file, if it is good as a whole: all of them, or of a large one 200. Returns how many. */
static int cut(const char *path) {
    Bytes b = file_holds(path);
    Picture whole = {0};
    Err err = {0};
    int tried = 0;
    bool good = decode_bytes(b.bytes, b.size, &whole, &err);
    picture_free(&whole);
    for (size_t left = b.size; good && left > 0; tried++) {
        left -= left < 1000 || b.size - left < 20 ? 1 : left / 150; /* the last bytes one by one */
        refused(b.bytes, left, left == 0 ? "empty" : left < 6 ? "" : "cut off");
    }
    free(b.bytes);
    return tried;
}

static void cut_off_files_of_every_kind_are_refused(void **state) {
    (void)state;
    static const char *const patterns[] = {"tests/seeds/jpeg/*.jpg", "tests/seeds/stb/*.gif",
                                           "tests/seeds/stb/*.bmp",  "tests/seeds/stb/*.psd",
                                           "tests/seeds/png/*.png",  "samples/*.jpg"};
    for (size_t i = 0; i < sizeof patterns / sizeof *patterns; i++) {
        glob_t found;
        int tried = 0;
        assert_int_equal(glob(patterns[i], 0, NULL, &found), 0);
        for (size_t k = 0; k < found.gl_pathc; k++) tried += cut(found.gl_pathv[k]);
        globfree(&found);
        if (tried < 200) fail_msg("%s: only %d beginnings", patterns[i], tried);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(other_kinds_get_advice),
                                       cmocka_unit_test(no_file_a_folder_and_an_empty_file_are_refused),
                                       cmocka_unit_test(a_picture_with_nothing_to_see_is_refused),
                                       cmocka_unit_test(a_dash_reads_standard_input),
                                       cmocka_unit_test(a_refused_file_leaves_the_picture_as_it_was),
                                       cmocka_unit_test(cut_off_files_of_every_kind_are_refused)};
    return cmocka_run_group_tests_name("decode", tests, NULL, NULL);
}
