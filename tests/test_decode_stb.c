/* Tests of src/read/decode_stb.c and of the walks over GIF, BMP and PSD. SPDX-License-Identifier: MIT */
#include "picture_files.h"

static const char *const DRAWING[] = {"RGBY", "KWWK", "YBGR"};
enum { WIDE = 4, HIGH = 3 };

/* --- GIF --- */

static const char LETTERS[] = "RGBYKW.";

/* Codes of 4 bits from an alphabet of 8: a clear code before every fifth pixel keeps them from growing. */
static void put_codes(Bytes *b, const char *const *rows, int wide, int high, bool interlaced) {
    static const int lanes[4][2] = {{0, 8}, {4, 8}, {2, 4}, {1, 2}};
    uint8_t codes[256];
    int count = 0, pixels = 0;
    for (int lane = 0; lane < (interlaced ? 4 : 1); lane++)
        for (int y = interlaced ? lanes[lane][0] : 0; y < high; y += interlaced ? lanes[lane][1] : 1)
            for (int x = 0; x < wide; x++) {
                if (pixels++ % 5 == 0) codes[count++] = 8;
                codes[count++] = (uint8_t)(strchr(LETTERS, rows[y][x]) - LETTERS);
            }
    codes[count++] = 9;
    put_8(b, 3);
    for (int i = 0; i < count; i += 14) { /* sub-blocks of 7 bytes */
        int left = count - i < 14 ? count - i : 14;
        put_8(b, (unsigned)(left + 1) / 2);
        for (int k = i; k < i + left; k += 2) put_8(b, codes[k] | (k + 1 < count ? codes[k + 1] << 4 : 0));
    }
    put_8(b, 0);
}

typedef struct GifSpec {
    int wide, high;          /* of the frame */
    int x, y, width, height; /* its place, and the screen's size */
    bool interlaced, local;  /* rows in four lanes; a table of the frame's own */
} GifSpec;

static void put_table(Bytes *b) {
    for (int i = 0; i < 8; i++) {
        uint32_t colour = i < 6 ? letter_colour(LETTERS[i]) : 0x55555500;
        put_be16(b, colour >> 16), put_8(b, colour >> 8 & 255);
    }
}

static Bytes make_gif(const char *const *rows, GifSpec s) {
    Bytes b = {0};
    put_text(&b, "GIF89a"), put_le16(&b, (unsigned)s.width), put_le16(&b, (unsigned)s.height);
    put_8(&b, s.local ? 0x70 : 0xf2), put_8(&b, 2), put_8(&b, 0); /* background 2: blue, not to be seen */
    if (!s.local) put_table(&b);
    put(&b, "\x21\xfe\x05hello\0", 9);
    put(&b, "\x21\xf9\x04\x01\0\0\x06\0", 8); /* 6 is transparent */
    put_8(&b, 0x2c), put_le16(&b, (unsigned)s.x), put_le16(&b, (unsigned)s.y);
    put_le16(&b, (unsigned)s.wide), put_le16(&b, (unsigned)s.high);
    put_8(&b, (s.local ? 0x82u : 0) | (s.interlaced ? 0x40u : 0));
    if (s.local) put_table(&b);
    put_codes(&b, rows, s.wide, s.high, s.interlaced);
    put_8(&b, 0x3b);
    return b;
}

static void a_gif_is_read_with_its_holes(void **state) {
    (void)state;
    static const char *const rows[] = {"RG.Y", "KWWK", "Y..R", "BBBB", "GGGG",
                                       "RKRK", "YYYY", "W.W.", "KKKK"};
    for (int i = 0; i < 4; i++) {
        Bytes b = make_gif(rows, (GifSpec){4, 9, 0, 0, 4, 9, i & 1, i & 2});
        beginnings_are_refused(&b, b.size);
        Picture p = decode_good(&b);
        assert_int_equal(p.height, 9);
        picture_is(&p, rows, 1, 0);
        picture_free(&p);
        free(b.bytes);
    }
}

static void of_a_film_the_first_frame_is_read_if_all_are_there(void **state) {
    (void)state;
    static const char *const second[] = {"KKKK", "KKKK", "KKKK"};
    for (int local = 0; local < 2; local++) {
        GifSpec spec = {WIDE, HIGH, 0, 0, WIDE, HIGH, false, local};
        Bytes b = make_gif(DRAWING, spec), more = make_gif(second, spec);
        size_t head = 13 + (local ? 0 : 24); /* up to the first extension */
        b.size--;
        put_8(&b, 0); /* padding */
        put(&b, more.bytes + head, more.size - head);
        beginnings_are_refused(&b, b.size);
        put_text(&b, "what follows the trailer");
        Picture p = decode_good(&b);
        picture_is(&p, DRAWING, 1, 0);
        picture_free(&p);
        b.bytes[b.size - 25] = 7, refused(b.bytes, b.size, "damaged"); /* no trailer, no block */
        free(b.bytes), free(more.bytes);
    }
}

static void a_frame_lost_on_a_huge_screen_is_refused(void **state) {
    (void)state;
    Bytes b = make_gif(DRAWING, (GifSpec){WIDE, HIGH, 0, 0, 1024, 1024, false, false});
    Picture p = decode_good(&b);
    picture_free(&p);
    memcpy(b.bytes + 6, "\x88\x13\x88\x13", 4), refused(b.bytes, b.size, "variety"); /* 5000 each way */
    free(b.bytes);
}

static void what_a_gif_frame_leaves_is_transparent(void **state) {
    (void)state;
    static const char *const rows[] = {"RG", "BY"};
    static const char *const whole[] = {".....", "..RG.", "..BY.", "....."};
    Bytes b = make_gif(rows, (GifSpec){2, 2, 2, 1, 5, 4, false, false});
    Picture p = decode_good(&b);
    assert_int_equal(p.width * p.height, 20);
    picture_is(&p, whole, 1, 0);
    picture_free(&p);
    free(b.bytes);
}

static void a_gif_that_lies_is_refused(void **state) {
    (void)state;
    Bytes b = make_gif(DRAWING, (GifSpec){WIDE, HIGH, 0, 0, WIDE, HIGH, false, false});
    size_t frame = 13 + 24 + 9 + 8;
    assert_int_equal(b.bytes[frame], 0x2c);
    b.bytes[frame + 7]++, refused(b.bytes, b.size, "damaged"); /* a row more than the screen */
    b.bytes[8]++, refused(b.bytes, b.size, "damaged");         /* screen too: pixels are missing */
    b.bytes[frame + 7]--, b.bytes[8]--;
    b.bytes[frame + 10] = 9, refused(b.bytes, b.size, "damaged"); /* codes of 9 bits */
    b.bytes[frame + 10] = 3;
    b.bytes[frame + 12] |= 0xf0, refused(b.bytes, b.size, "damaged"); /* a code that was not made yet */
    memset(b.bytes + 6, 0xff, 4), refused(b.bytes, b.size, "100 megapixels");
    memset(b.bytes + 6, 0, 4), refused(b.bytes, b.size, "0 x 0 px");
    free(b.bytes);
}

/* --- BMP --- */

typedef struct BmpSpec {
    uint32_t header;  /* bytes: 12, 40, 56, 108, 124 */
    unsigned bits;    /* a pixel */
    bool masks, down; /* bit fields; rows from the top */
} BmpSpec;

static uint32_t bmp_start(const BmpSpec *s) {
    uint32_t entry = s->header == 12 ? 3 : 4, table = s->bits > 8 ? 0 : (1u << s->bits) * entry;
    return 14 + s->header + (s->header == 40 && s->masks ? 12 : table);
}

static void put_bmp_header(Bytes *b, const BmpSpec *s) {
    uint32_t high = s->down ? -(uint32_t)HIGH : HIGH;
    put_text(b, "BM"), put_le32(b, 0), put_le32(b, 0), put_le32(b, bmp_start(s));
    put_le32(b, s->header);
    if (s->header == 12) {
        put_le16(b, WIDE), put_le16(b, HIGH), put_le16(b, 1), put_le16(b, s->bits);
        return;
    }
    put_le32(b, WIDE), put_le32(b, high), put_le16(b, 1), put_le16(b, s->bits), put_le32(b, s->masks ? 3 : 0);
    for (int i = 0; i < 5; i++) put_le32(b, 0);
    if (s->header > 40 || s->masks) { /* a 5-6-5 pixel, or A, R, G, B in 32 bits */
        bool wide = s->bits == 32;
        put_le32(b, wide ? 0xff0000 : 0xf800), put_le32(b, wide ? 0xff00 : 0x7e0),
            put_le32(b, wide ? 0xff : 0x1f);
    }
    if (s->header > 52) put_le32(b, s->bits == 32 && s->header > 56 ? 0xff000000 : 0);
    while (b->size < 14 + s->header) put_8(b, 0);
}

static void put_bmp_pixel(Bytes *b, const BmpSpec *s, char letter) {
    uint32_t c = letter_colour(letter), red = c >> 24, green = c >> 16 & 255, blue = c >> 8 & 255;
    if (s->bits == 8) put_8(b, (unsigned)(strchr(LETTERS, letter) - LETTERS));
    if (s->bits == 16) put_le16(b, red >> 3 << 11 | green >> 2 << 5 | blue >> 3);
    if (s->bits >= 24) put_le16(b, green << 8 | blue), put_8(b, red);
    if (s->bits == 32) put_8(b, 255);
}

static Bytes make_bmp(BmpSpec s) {
    Bytes b = {0};
    put_bmp_header(&b, &s);
    for (int i = 0; s.bits <= 8 && i < 1 << s.bits; i++) {
        uint32_t c = i < 6 ? letter_colour(LETTERS[i]) : 0;
        put_8(&b, c >> 8 & 255), put_8(&b, c >> 16 & 255), put_8(&b, c >> 24);
        if (s.header > 12) put_8(&b, 0);
    }
    for (int i = 0; i < HIGH; i++) {
        const char *row = DRAWING[s.down ? i : HIGH - 1 - i];
        for (int x = 0; x < WIDE; x++) put_bmp_pixel(&b, &s, row[x]);
        while ((b.size - bmp_start(&s)) % 4) put_8(&b, 0);
    }
    return b;
}

static void a_bmp_is_read_or_refused_if_cut_off(void **state) {
    (void)state;
    static const BmpSpec rows[] = {{40, 24, false, false}, {40, 24, false, true},  {40, 8, false, false},
                                   {12, 24, false, false}, {40, 32, false, false}, {108, 32, true, false},
                                   {124, 32, true, true},  {40, 16, true, false},  {108, 24, false, false},
                                   {56, 32, true, false},  {52, 16, true, true},   {56, 24, false, true}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        Bytes b = make_bmp(rows[i]);
        beginnings_are_refused(&b, b.size);
        Picture p = decode_good(&b);
        assert_int_equal(p.width, WIDE);
        assert_int_equal(p.height, HIGH);
        picture_is(&p, DRAWING, 1, rows[i].bits == 16 ? 8 : 0);
        picture_free(&p);
        if (rows[i].bits > 8) { /* a gap before the pixels */
            insert(&b, bmp_start(&rows[i]), "gap", 3), b.bytes[10] += 3;
            p = decode_good(&b);
            picture_is(&p, DRAWING, 1, rows[i].bits == 16 ? 8 : 0);
            picture_free(&p);
        }
        free(b.bytes);
    }
}

static void a_bmp_without_its_last_padding_is_cut_off(void **state) {
    (void)state;
    Bytes b = {0};
    put_text(&b, "BM"), put_le32(&b, 0), put_le32(&b, 0), put_le32(&b, 54), put_le32(&b, 40);
    put_le32(&b, 3), put_le32(&b, 1), put_le16(&b, 1), put_le16(&b, 24);
    for (int i = 0; i < 6; i++) put_le32(&b, 0);
    put(&b, "one two 3\0\0\0", 12);
    beginnings_are_refused(&b, b.size);
    free(b.bytes);
}

static void a_bmp_that_lies_is_refused(void **state) {
    (void)state;
    Bytes b = make_bmp((BmpSpec){40, 24, false, false});
    memcpy(b.bytes + 18, "\0\x75\0\0\0\x75\0\0", 8), refused(b.bytes, b.size, "100 megapixels");
    memcpy(b.bytes + 18, "\x14\x1e\0\0\x14\x1e\0\0", 8),
        refused(b.bytes, b.size, "cut off"); /* 7700 each way */
    memcpy(b.bytes + 18, "\0\0\0\0\3\0\0\0", 8), refused(b.bytes, b.size, "0 x 3 px");
    memcpy(b.bytes + 18, "\4\0\0\0\0\0\0\0", 8), refused(b.bytes, b.size, "4 x 0 px");
    memcpy(b.bytes + 18, "\4\0\0\0\0\0\0\x80", 8), refused(b.bytes, b.size, "100 megapixels");
    memcpy(b.bytes + 18, "\xff\xff\xff\xff\3\0\0\0", 8), refused(b.bytes, b.size, "100 megapixels");
    memcpy(b.bytes + 18, "\4\0\0\0\3\0\0\0", 8);
    b.bytes[30] = 1, refused(b.bytes, b.size, "variety"); /* run lengths */
    b.bytes[30] = 0, b.bytes[28] = 2, refused(b.bytes, b.size, "variety");
    b.bytes[28] = 24, b.bytes[10] = 20, refused(b.bytes, b.size, "damaged"); /* pixels inside the header */
    free(b.bytes);
    b = make_bmp((BmpSpec){56, 32, true, false});
    b.bytes[69] = 255, refused(b.bytes, b.size, "variety"); /* its alpha would be lost */
    free(b.bytes);
    b = make_bmp((BmpSpec){40, 8, false, false});
    b.bytes[b.size - 1] = 200; /* the table has 256 colours; now, of 100: */
    memmove(b.bytes + 54 + 400, b.bytes + 54 + 1024, b.size - 54 - 1024), b.size -= 624;
    b.bytes[10] = 454 & 255, b.bytes[11] = 454 >> 8, refused(b.bytes, b.size, "damaged");
    free(b.bytes);
}

/* --- PSD --- */

typedef struct PsdSpec {
    unsigned channels, depth;
    bool packed;
    int layers; /* the count in the layer section; 0: no section */
} PsdSpec;

/* Rows of one channel; the fourth is 255 but at R: 0. */
static unsigned psd_value(unsigned channel, char letter) {
    if (channel == 3) return letter == 'R' ? 0 : 255;
    return channel > 3 ? 99 : letter_colour(letter) >> (24 - 8 * channel) & 255;
}

static void put_psd_row(Bytes *b, const PsdSpec *s, unsigned channel, const char *row) {
    if (s->packed) put_8(b, 128), put_8(b, 1); /* nothing; two as they are */
    for (int x = 0; x < WIDE; x++) {
        unsigned value = psd_value(channel, row[x]);
        if (s->packed && x == 2) put_8(b, row[2] == row[3] ? 255 : 1); /* a pair; or two as they are */
        if (s->packed && x == 3 && row[2] == row[3]) continue;
        put_8(b, value);
        if (s->depth == 16) put_8(b, value);
    }
}

static Bytes make_psd(PsdSpec s) {
    Bytes b = {0};
    put_text(&b, "8BPS"), put_be16(&b, 1), put(&b, "\0\0\0\0\0\0", 6);
    put_be16(&b, s.channels), put_be32(&b, HIGH), put_be32(&b, WIDE), put_be16(&b, s.depth), put_be16(&b, 3);
    put_be32(&b, 0);
    put_be32(&b, 7), put_text(&b, "8BIMxyz");
    put_be32(&b, s.layers ? 10 : 0);
    if (s.layers) put_be32(&b, 6), put_be16(&b, (unsigned)s.layers & 0xffff), put_be32(&b, 0);
    put_be16(&b, s.packed);
    for (unsigned i = 0; s.packed && i < s.channels * HIGH; i++) {
        const char *row = DRAWING[i % HIGH];
        put_be16(&b, row[2] == row[3] ? 6 : 7);
    }
    for (unsigned i = 0; i < s.channels * HIGH; i++) put_psd_row(&b, &s, i / HIGH, DRAWING[i % HIGH]);
    return b;
}

static void a_psd_is_read_or_refused_if_cut_off(void **state) {
    (void)state;
    static const char *const holed[] = {".GBY", "KWWK", "YBG."};
    static const PsdSpec rows[] = {{3, 8, false, 0}, {3, 8, true, 0},   {3, 16, false, 0}, {4, 8, false, -1},
                                   {4, 8, true, -2}, {4, 8, false, 2},  {4, 8, true, 1},   {5, 8, true, -1},
                                   {4, 8, true, 0},  {5, 16, false, 1}, {3, 8, true, 3}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        Bytes b = make_psd(rows[i]);
        beginnings_are_refused(&b, b.size);
        Picture p = decode_good(&b);
        picture_is(&p, rows[i].channels > 3 && rows[i].layers <= 0 ? holed : DRAWING, 1, 0);
        picture_free(&p);
        free(b.bytes);
    }
}

static void a_grey_psd_of_16_bits_has_its_white_taken_out(void **state) {
    (void)state;
    Bytes b = {0};
    put_text(&b, "8BPS"), put_be16(&b, 1), put(&b, "\0\0\0\0\0\0", 6);
    put_be16(&b, 2), put_be32(&b, 1), put_be32(&b, 3), put_be16(&b, 16), put_be16(&b, 1);
    put_be32(&b, 0), put_be32(&b, 0), put_be32(&b, 0), put_be16(&b, 1);
    put_be16(&b, 6), put_be16(&b, 7);           /* bytes of each row */
    put(&b, "\xff\x64\xff\x7f\xff\x14", 6);     /* grey: two of 100, two of 127, two of 20 */
    put(&b, "\xff\xff\x03\x80\x80\x80\x80", 7); /* alpha: two of 255, four of 128 */
    Picture p = decode_good(&b);
    assert_int_equal(pixel_at(&p, 0, 0), 0x646464ff);
    assert_int_equal(pixel_at(&p, 1, 0), 0x00000080); /* black at a half over white is 127 */
    assert_int_equal(pixel_at(&p, 2, 0), 0x00000080); /* darker than black can make it: black */
    picture_free(&p);
    free(b.bytes);
}

static void a_psd_that_lies_is_refused(void **state) {
    (void)state;
    Bytes b = make_psd((PsdSpec){3, 8, true, 0});
    b.bytes[25] = 4, refused(b.bytes, b.size, "variety"); /* CMYK */
    b.bytes[25] = 3, b.bytes[5] = 2, refused(b.bytes, b.size, "variety");
    b.bytes[5] = 1, b.bytes[23] = 32, refused(b.bytes, b.size, "variety");
    b.bytes[23] = 16, refused(b.bytes, b.size, "damaged"); /* rows of half the length */
    b.bytes[23] = 8, b.bytes[13] = 2, refused(b.bytes, b.size, "damaged");
    b.bytes[13] = 3, b.bytes[17] = 4, refused(b.bytes, b.size, "damaged");
    b.bytes[17] = 3, b.bytes[21] = 5, refused(b.bytes, b.size, "damaged");
    memset(b.bytes + 18, 0, 4), refused(b.bytes, b.size, "0 x 3 px");
    memcpy(b.bytes + 14, "\0\0\x75\x30\0\0\x75\x30", 8), refused(b.bytes, b.size, "100 megapixels");
    free(b.bytes);
}

/* --- all --- */

static void changed_bytes_do_no_harm(void **state) {
    (void)state;
    Bytes files[4] = {make_gif(DRAWING, (GifSpec){WIDE, HIGH, 0, 0, WIDE, HIGH, false, false}),
                      make_bmp((BmpSpec){108, 32, true, false}), make_psd((PsdSpec){4, 8, true, 1}),
                      make_psd((PsdSpec){5, 16, false, 0})};
    uint32_t seed = 11;
    for (int i = 0; i < 4; i++)
        for (int round = 0; round < 1500; round++) {
            seed = seed * 1664525u + 1013904223u;
            size_t at = (seed >> 8) % files[i].size;
            uint8_t before = files[i].bytes[at];
            files[i].bytes[at] ^= (uint8_t)(1u << (seed >> 28 & 7));
            Picture p = {0};
            Err err = {0};
            bool good = decode_bytes(files[i].bytes, files[i].size, &p, &err);
            assert_true(good ? p.rgba && p.width > 0 : err.code == ERR_INPUT && !p.rgba);
            picture_free(&p);
            files[i].bytes[at] = before;
        }
    for (int i = 0; i < 4; i++) free(files[i].bytes);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_gif_is_read_with_its_holes),
                                       cmocka_unit_test(what_a_gif_frame_leaves_is_transparent),
                                       cmocka_unit_test(a_gif_that_lies_is_refused),
                                       cmocka_unit_test(of_a_film_the_first_frame_is_read_if_all_are_there),
                                       cmocka_unit_test(a_frame_lost_on_a_huge_screen_is_refused),
                                       cmocka_unit_test(a_bmp_is_read_or_refused_if_cut_off),
                                       cmocka_unit_test(a_bmp_without_its_last_padding_is_cut_off),
                                       cmocka_unit_test(a_bmp_that_lies_is_refused),
                                       cmocka_unit_test(a_psd_is_read_or_refused_if_cut_off),
                                       cmocka_unit_test(a_grey_psd_of_16_bits_has_its_white_taken_out),
                                       cmocka_unit_test(a_psd_that_lies_is_refused),
                                       cmocka_unit_test(changed_bytes_do_no_harm)};
    return cmocka_run_group_tests_name("decode_stb", tests, NULL, NULL);
}
