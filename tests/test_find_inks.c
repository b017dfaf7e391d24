/* Tests of src/inks/find_inks.c and what it is made of (the rest of src/inks).
 * SPDX-License-Identifier: MIT */
#include "inks/inks.h"

#define Box LeptonicaBox /* geom.h has its own */
#include <leptonica/allheaders.h>
#undef Box
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

/* --- pictures drawn by a function: the colour at a place, 0..1 across and down --- */

typedef struct Rgba {
    uint8_t r, g, b, a;
} Rgba;

typedef Rgba Scene(double x, double y);

static const Rgba black = {0, 0, 0, 255}, white = {255, 255, 255, 255}, red = {214, 30, 38, 255},
                  yellow = {252, 210, 30, 255}, blue = {24, 60, 160, 255}, clear = {0, 0, 0, 0};

typedef enum Mixing { LINEAR, ENCODED } Mixing;

static void fill_light(double light[256], Mixing mixing) {
    for (int v = 0; v < 256; v++) light[v] = mixing == LINEAR ? srgb_to_linear(v / 255.0) : v / 255.0;
}

static uint8_t to_value(double v, Mixing mixing) {
    return (uint8_t)(fmin(1, fmax(0, mixing == LINEAR ? linear_to_srgb(v) : v)) * 255 + 0.5);
}

/* The scene along a line of pixels' corners (row even) or middles, every half pixel from edge to edge. */
static void draw_halves(Scene *scene, int width, int height, int row, Rgba *out) {
    for (int x = 0; x <= 2 * width; x++) out[x] = scene(x / 2.0 / width, row / 2.0 / height);
}

/* Is the pixel of one colour, as far as the three lines across it tell? */
static bool is_flat(Rgba *const line[3], int x) {
    for (int k = 0; k < 9; k++)
        if (memcmp(&line[k / 3][2 * x + k % 3], &line[1][2 * x + 1], sizeof(Rgba)) != 0) return false;
    return true;
}

static void mix_pixel(Scene *scene, double x, double y, const Picture *p, int fine, const double light[256],
                      uint8_t out[4]) {
    double sum[4] = {0};
    Mixing mixing = p->shrink > 1 ? LINEAR : ENCODED;
    for (int k = 0; k < fine * fine; k++) {
        Rgba c = scene((x + (k % fine + 0.5) / fine) / p->width, (y + (k / fine + 0.5) / fine) / p->height);
        double alpha = c.a / 255.0;
        sum[0] += alpha * light[c.r];
        sum[1] += alpha * light[c.g];
        sum[2] += alpha * light[c.b];
        sum[3] += alpha;
    }
    for (int i = 0; i < 3 && sum[3] > 0; i++) out[i] = to_value(sum[i] / sum[3], mixing);
    out[3] = (uint8_t)(sum[3] / (fine * fine) * 255 + 0.5);
}

/* Each pixel the mean of fine x fine places; transparent places count by their alpha. Of many places, they
 * are only gone through where a few differ. */
static Picture draw(Scene *scene, int width, int height, int fine, Mixing mixing) {
    Picture p = {width, height, mixing == LINEAR ? 2 : 1, width, height, calloc((size_t)(width * height), 4)};
    double light[256];
    size_t halves = 2 * (size_t)width + 1;
    Rgba *room = calloc(3 * halves, sizeof *room), *line[3] = {room, room + halves, room + 2 * halves};
    assert_true(p.rgba && room);
    fill_light(light, mixing);
    if (fine >= 4) draw_halves(scene, width, height, 0, line[2]);
    for (int y = 0; y < height; y++) {
        if (fine >= 4) {
            memcpy(line[0], line[2], halves * sizeof *room);
            draw_halves(scene, width, height, 2 * y + 1, line[1]);
            draw_halves(scene, width, height, 2 * y + 2, line[2]);
        }
        for (int x = 0; x < width; x++) {
            uint8_t *out = p.rgba + 4 * (y * width + x);
            if (fine >= 4 && is_flat(line, x))
                memcpy(out, &line[1][2 * x + 1], 4);
            else
                mix_pixel(scene, x, y, &p, fine, light, out);
        }
    }
    free(room);
    return p;
}

static InkMap found(const Picture *picture) {
    Err err = {0};
    InkMap map = {0};
    if (!find_inks(picture, &map, &err)) fail_msg("%s", err.msg);
    return map;
}

static double distance_to(const Ink *ink, Rgba c) {
    if (ink->transparent || c.a == 0) return ink->transparent && c.a == 0 ? 0 : 100;
    return delta_e00(rgb8_lab(ink->srgb), rgb8_lab((Rgb8){c.r, c.g, c.b}));
}

static int index_of(const InkMap *map, Rgba c, double limit) {
    for (int i = 0; i < map->count; i++)
        if (distance_to(&map->ink[i], c) <= limit) return i;
    return -1;
}

/* The inks are these and no other, each within `limit`. */
static void expect_inks(const InkMap *map, const Rgba *want, int count, double limit, const char *what) {
    char list[400] = "";
    for (int i = 0; i < map->count; i++) {
        Ink k = map->ink[i];
        size_t used = strlen(list);
        (void)snprintf(list + used, sizeof list - used, " %s#%02x%02x%02x %.4f",
                       k.transparent ? "clear " : "", k.srgb.r, k.srgb.g, k.srgb.b, k.share);
    }
    bool good = map->count == count;
    for (int i = 0; i < count; i++) good = good && index_of(map, want[i], limit) >= 0;
    if (!good) fail_msg("%s: %d inks wanted, found%s", what, count, list);
}

/* The scene at the middle of each pixel, and `away` pixels beyond the picture's edges. */
static Rgba *draw_middles(Scene *scene, int w, int h, int away) {
    int wide = w + 2 * away;
    Rgba *middle = calloc((size_t)wide * (h + 2 * away), sizeof *middle);
    assert_non_null(middle);
    for (int y = -away; y < h + away; y++)
        for (int x = -away; x < w + away; x++)
            middle[(size_t)(y + away) * wide + x + away] = scene((x + 0.5) / w, (y + 0.5) / h);
    return middle;
}

/* Are all of them within `away` of the one in the middle like it? */
static bool is_alone(const Rgba *middle, int wide, int away) {
    for (int v = -away; v <= away; v++)
        for (int u = -away; u <= away; u++)
            if (memcmp(middle, middle + (ptrdiff_t)v * wide + u, sizeof *middle) != 0) return false;
    return true;
}

/* The share of pixels labelled as the scene is at their middle, of those `away` px or more from any other
 * colour. */
static double right_share(const InkMap *map, Scene *scene, int away, double limit) {
    int right = 0, all = 0, w = map->width, h = map->height, wide = w + 2 * away, index = -1;
    Rgba last = {1, 2, 3, 4}, *middle = draw_middles(scene, w, h, away);
    for (int y = 0; y < h; y++)
        for (int x = 0; x < w; x++) {
            const Rgba *c = middle + (size_t)(y + away) * wide + x + away;
            if (!is_alone(c, wide, away)) continue;
            all++;
            if (memcmp(c, &last, sizeof last) != 0) index = index_of(map, *c, limit);
            last = *c;
            right += map->label[y * w + x] == index;
        }
    free(middle);
    assert_true(all > 0);
    return right / (double)all;
}

/* --- scenes --- */

static bool in_disc(double x, double y, double cx, double cy, double r) {
    return (x - cx) * (x - cx) + (y - cy) * (y - cy) < r * r;
}

/* A ladle: a bowl with a hole, and a handle, so that it is no roundel. */
static Rgba ladle(Rgba ink, Rgba ground, double x, double y) {
    bool handle = fabs(y - 0.45 - 0.2 * (x - 0.6)) < 0.06 && x > 0.5 && x < 0.93;
    return handle || (in_disc(x, y, 0.38, 0.5, 0.27) && !in_disc(x, y, 0.33, 0.54, 0.12)) ? ink : ground;
}
static Rgba black_on_white(double x, double y) {
    return ladle(black, white, x, y);
}
static Rgba red_on_white(double x, double y) {
    return ladle(red, white, x, y);
}
static Rgba blue_on_yellow(double x, double y) {
    return ladle(blue, yellow, x, y);
}
static Rgba white_on_clear(double x, double y) {
    return ladle(white, clear, x, y);
}
static Rgba cream_on_clear(double x, double y) {
    return ladle((Rgba){250, 244, 226, 255}, clear, x, y);
}

/* Three sectors of a square that meet in its middle, and the ground as a fourth. */
static Rgba three_meeting(double x, double y) {
    if (fabs(x - 0.5) > 0.36 || fabs(y - 0.5) > 0.36) return white;
    double angle = atan2(y - 0.51, x - 0.49);
    return angle < -1 ? red : angle < 1.1 ? yellow : blue;
}

/* The sign of a night ferry: hull, sail, lamp and water. */
static Rgba ferry(double x, double y) {
    if (in_disc(x, y, 0.72, 0.22, 0.09)) return yellow;
    if (y > 0.62 && y < 0.8 && x > 0.14 + (y - 0.62) * 0.8 && x < 0.86 - (y - 0.62) * 0.8) return red;
    if (y < 0.58 && y > 0.16 && x < 0.5 && x > 0.5 - (y - 0.16) * 0.8) return blue;
    if (y > 0.84 && y < 0.93 && x > 0.1 && x < 0.9) return blue;
    return white;
}

/* --- halos --- */

static void two_soft_edged_inks_are_exactly_two(void **state) {
    (void)state;
    static const struct {
        Scene *scene;
        Rgba a, b;
        const char *what;
    } row[] = {{black_on_white, {0, 0, 0, 255}, {255, 255, 255, 255}, "black on white"},
               {red_on_white, {214, 30, 38, 255}, {255, 255, 255, 255}, "red on white"},
               {blue_on_yellow, {24, 60, 160, 255}, {252, 210, 30, 255}, "blue on yellow"},
               {white_on_clear, {255, 255, 255, 255}, {0, 0, 0, 0}, "white on transparency"},
               {cream_on_clear, {250, 244, 226, 255}, {0, 0, 0, 0}, "cream on transparency"}};
    static const int size[] = {24, 60, 200, 701};
    for (size_t i = 0; i < sizeof row / sizeof *row; i++)
        for (int s = 0; s < 4; s++)
            for (int mixing = LINEAR; mixing <= ENCODED; mixing++) {
                Picture p = draw(row[i].scene, size[s], size[s], 4, (Mixing)mixing);
                InkMap map = found(&p);
                char what[80];
                (void)snprintf(what, sizeof what, "%s, %d px, mixing %d", row[i].what, size[s], mixing);
                expect_inks(&map, (Rgba[]){row[i].a, row[i].b}, 2, 0.5, what);
                if (right_share(&map, row[i].scene, 1, 0.5) < 1) fail_msg("%s: wrong labels", what);
                assert_int_equal(map.field, index_of(&map, row[i].b, 0.5));
                inkmap_free(&map);
                picture_free(&p);
            }
}

static void three_inks_that_meet_make_no_fourth(void **state) {
    (void)state;
    for (int mixing = LINEAR; mixing <= ENCODED; mixing++)
        for (int size = 40; size <= 400; size += 90) {
            Picture p = draw(three_meeting, size, size, 4, (Mixing)mixing);
            InkMap map = found(&p);
            expect_inks(&map, (Rgba[]){white, red, yellow, blue}, 4, 0.5, "three meeting");
            assert_true(right_share(&map, three_meeting, 1, 0.5) == 1);
            inkmap_free(&map);
            picture_free(&p);
        }
}

/* --- thin and small --- */

static Rgba line_upright(double x, double y) {
    (void)y;
    return x < 0.5 ? red : x < 0.505 ? black : yellow; /* one pixel of 200 */
}

/* A line 1.4 pixels of 200 wide, at a slant: no pixel row has it alike. */
static Rgba line_slanting(double x, double y) {
    double from = x * 0.94 + y * 0.34 - 0.64;
    return from < 0 ? red : from < 0.007 ? black : yellow;
}

static void a_black_line_between_red_and_yellow_is_kept(void **state) {
    (void)state;
    Scene *const scene[] = {line_upright, line_slanting};
    for (int s = 0; s < 2; s++)
        for (int mixing = LINEAR; mixing <= ENCODED; mixing++) {
            Picture p = draw(scene[s], 200, 200, s == 0 ? 1 : 6, (Mixing)mixing);
            InkMap map = found(&p);
            expect_inks(&map, (Rgba[]){red, yellow, black}, 3, s == 0 ? 0.5 : 8,
                        s ? "slanting line" : "upright line");
            int ink = index_of(&map, black, 8), rows = 0;
            for (int y = 0; y < 200; y++) {
                bool seen = false;
                for (int x = 0; x < 200; x++) seen = seen || map.label[y * 200 + x] == ink;
                rows += seen;
            }
            if (rows < 200) fail_msg("the line is broken: in %d of 200 rows", rows);
            inkmap_free(&map);
            picture_free(&p);
        }
}

static Rgba with_dot(double x, double y, double area) {
    if (in_disc(x, y, 0.37, 0.62, sqrt(area / 3.14159265))) return yellow;
    return x < 0.3 ? blue : white;
}
static Rgba with_dot_of_half_percent(double x, double y) {
    return with_dot(x, y, 0.005);
}
static Rgba with_dot_of_a_thousandth(double x, double y) {
    return with_dot(x, y, 0.001);
}

static void a_compact_ink_of_half_a_percent_is_found_a_smaller_one_not(void **state) {
    (void)state;
    for (int size = 100; size <= 400; size += 100) {
        Picture p = draw(with_dot_of_half_percent, size, size, 4, ENCODED);
        InkMap map = found(&p);
        expect_inks(&map, (Rgba[]){white, blue, yellow}, 3, 0.5, "a dot of 0.5 %");
        inkmap_free(&map);
        picture_free(&p);
        p = draw(with_dot_of_a_thousandth, size, size, 4, ENCODED);
        map = found(&p);
        expect_inks(&map, (Rgba[]){white, blue}, 2, 0.5, "a dot of 0.1 %");
        inkmap_free(&map);
        picture_free(&p);
    }
}

/* A letterhead: the picture with the dot, a sixth as large, in a corner. The dot is 1/7000 of the sheet. */
static Rgba on_a_sheet(double x, double y) {
    double u = (x - 0.1) * 6, v = (y - 0.7) * 6;
    return u >= 0 && v >= 0 && u < 1 && v < 1 ? with_dot_of_half_percent(u, v) : white;
}
static Rgba hairline(double x, double y) {
    (void)x;
    return y >= 0.5 && y < 0.5 + 1.0 / 400 ? black : white;
}

static void a_small_logo_in_a_wide_margin_keeps_its_inks(void **state) {
    (void)state;
    Picture p = draw(on_a_sheet, 900, 900, 4, ENCODED);
    InkMap map = found(&p);
    expect_inks(&map, (Rgba[]){white, blue, yellow}, 3, 0.5, "a letterhead");
    assert_int_equal(map.width, 900);
    for (int i = 0; i < 900 * 900; i++)
        if (map.label[i] >= map.count) fail_msg("no ink at %d", i);
    int dot = map.label[(630 + 93) * 900 + 90 + 55], left = map.label[700 * 900 + 100];
    assert_int_equal(dot, index_of(&map, yellow, 8));
    assert_int_equal(left, index_of(&map, blue, 8));
    assert_int_equal(map.label[899 * 900 + 899], map.field);
    double far = hypot(map.circle.x - 112.5, map.circle.y - 705); /* the blue bar's, 45 x 150 px */
    if (far > 1 || fabs(map.circle.r - hypot(22.5, 75)) > 1)
        fail_msg("circle %g px off, radius %g", far, map.circle.r);
    inkmap_free(&map);
    picture_free(&p);
}

static void a_hairline_alone_on_a_sheet_is_an_ink(void **state) {
    (void)state;
    Picture p = draw(hairline, 400, 400, 1, ENCODED);
    InkMap map = found(&p);
    expect_inks(&map, (Rgba[]){white, black}, 2, 0.5, "a hairline");
    assert_true(map.shaded == 0);
    inkmap_free(&map);
    picture_free(&p);
}

static Rgba faint_ring(double x, double y) {
    double r = hypot(x - 0.5, y - 0.5);
    return r >= 0.37 && r < 0.38 ? (Rgba){60, 60, 60, 80} : (Rgba){0, 0, 0, 0};
}

static void what_is_too_faint_for_any_ink_is_shaded(void **state) {
    (void)state;
    Picture p = draw(faint_ring, 100, 100, 1, ENCODED);
    InkMap map = found(&p);
    assert_int_equal(map.count, 1);
    assert_true(map.shaded == 1 && map.deep == 1);
    inkmap_free(&map);
    picture_free(&p);
}

/* --- JPEG --- */

/* Through libjpeg and back, hue at half the resolution. */
static Picture through_jpeg(const Picture *p, int quality) {
    PIX *pix = pixCreate(p->width, p->height, 32), *back;
    for (int i = 0; i < p->width * p->height; i++) {
        const uint8_t *c = p->rgba + 4 * i;
        pixSetRGBPixel(pix, i % p->width, i / p->width, c[0], c[1], c[2]);
    }
    l_uint8 *data;
    size_t size;
    assert_int_equal(pixWriteMemJpeg(&data, &size, pix, quality, 0), 0);
    back = pixReadMemJpeg(data, size, 0, 1, NULL, 0);
    assert_non_null(back);
    Picture out = *p;
    out.shrink = 1;
    out.rgba = calloc((size_t)(p->width * p->height), 4);
    for (int i = 0; i < p->width * p->height; i++) {
        l_int32 r, g, b;
        pixGetRGBPixel(back, i % p->width, i / p->width, &r, &g, &b);
        memcpy(out.rgba + 4 * i, (uint8_t[4]){(uint8_t)r, (uint8_t)g, (uint8_t)b, 255}, 4);
    }
    lept_free(data);
    pixDestroy(&pix);
    pixDestroy(&back);
    return out;
}

static void jpeg_at_quality_40_changes_neither_inks_nor_labels(void **state) {
    (void)state;
    Scene *const scene[] = {black_on_white, red_on_white, blue_on_yellow, three_meeting, ferry};
    static const int inks[] = {2, 2, 2, 4, 4};
    static const int sizes[] = {160, 420, 900};
    for (int s = 0; s < 5; s++)
        for (int k = 0; k < 3; k++) {
            Picture p = draw(scene[s], sizes[k], sizes[k], 4, ENCODED), jpeg = through_jpeg(&p, 40);
            InkMap plain = found(&p), map = found(&jpeg);
            Rgba want[INKS_MAX];
            char what[40];
            (void)snprintf(what, sizeof what, "scene %d at %d px", s, sizes[k]);
            for (int i = 0; i < plain.count; i++)
                want[i] = (Rgba){plain.ink[i].srgb.r, plain.ink[i].srgb.g, plain.ink[i].srgb.b, 255};
            assert_int_equal(plain.count, inks[s]);
            expect_inks(&map, want, plain.count, 3, what);
            double right = right_share(&map, scene[s], 3, 3);
            if (right < 0.99) fail_msg("%s: %.4f of the labels are right", what, right);
            inkmap_free(&plain);
            inkmap_free(&map);
            picture_free(&p);
            picture_free(&jpeg);
        }
}

/* --- shading --- */

static double soft_disc(double x, double y, double cx, double cy, double r, double blur) {
    double d = (hypot(x - cx, y - cy) - r) / blur;
    return d < -1 ? 1 : d > 1 ? 0 : 0.5 - 0.75 * d + 0.25 * d * d * d;
}

static Rgba shadow_on_clear(double x, double y) {
    if (ladle(red, clear, x, y).a) return red;
    return (Rgba){0, 0, 0, (uint8_t)(150 * soft_disc(x, y, 0.43, 0.55, 0.27, 0.04))};
}
static Rgba glow_on_clear(double x, double y) {
    if (ladle(blue, clear, x, y).a) return blue;
    if (in_disc(x, y, 0.33, 0.54, 0.13)) return clear; /* the hole */
    return (Rgba){255, 255, 180, (uint8_t)(230 * soft_disc(x, y, 0.38, 0.5, 0.31, 0.1))};
}
static Rgba shadow_on_white(double x, double y) {
    if (ladle(red, clear, x, y).a) return red;
    uint8_t v = (uint8_t)(255 - 150 * soft_disc(x, y, 0.43, 0.55, 0.27, 0.04));
    return (Rgba){v, v, v, 255};
}

static void shadow_and_glow_are_shaded_and_no_inks(void **state) {
    (void)state;
    static const struct {
        Scene *scene;
        Rgba ink, ground;
        const char *what;
    } row[] = {{shadow_on_clear, {214, 30, 38, 255}, {0, 0, 0, 0}, "shadow on transparency"},
               {glow_on_clear, {24, 60, 160, 255}, {0, 0, 0, 0}, "glow on transparency"},
               {shadow_on_white, {214, 30, 38, 255}, {255, 255, 255, 255}, "shadow on white"}};
    for (size_t i = 0; i < 3; i++)
        for (int size = 150; size <= 600; size += 225) {
            Picture p = draw(row[i].scene, size, size, 3, ENCODED);
            InkMap map = found(&p);
            expect_inks(&map, (Rgba[]){row[i].ink, row[i].ground}, 2, 1, row[i].what);
            if (map.shaded < 0.02 || map.shaded > 0.6)
                fail_msg("%s, %d px: shaded %.3f", row[i].what, size, map.shaded);
            inkmap_free(&map);
            picture_free(&p);
        }
}

/* Grain without a generator's state: a hash of the place. */
static double grain(double x, double y) {
    uint64_t h = (uint64_t)(x * 1e6) * 0x9E3779B97F4A7C15u ^ (uint64_t)(y * 1e6) * 0xD1B54A32D192ED03u;
    h = (h ^ h >> 31) * 0xBF58476D1CE4E5B9u;
    return (double)(h >> 40) / (1 << 23) - 1; /* -1..1 */
}

static Rgba scan(double x, double y) {
    double light = 1 - 0.16 * x - 0.08 * y * y;
    bool mark = ladle(black, white, x, y).r == 0;
    double noise = 3 * grain(x, y);
    uint8_t v[3];
    const double paper[3] = {246, 241, 228}, ink[3] = {38, 36, 42};
    for (int i = 0; i < 3; i++) v[i] = (uint8_t)((mark ? ink[i] : paper[i]) * light + noise + 0.5);
    return (Rgba){v[0], v[1], v[2], 255};
}

static void scanned_paper_in_uneven_light_is_one_ink(void **state) {
    (void)state;
    for (int size = 200; size <= 600; size += 200) {
        Picture p = draw(scan, size, size, 1, ENCODED);
        InkMap map = found(&p);
        assert_int_equal(map.count, 2);
        assert_int_equal(map.field, 0);
        if (map.shaded > 0.05) fail_msg("%d px: shaded %.3f", size, map.shaded);
        int right = 0;
        for (int i = 0; i < size * size; i++) {
            Rgba c = black_on_white((i % size + 0.5) / size, (i / size + 0.5) / size);
            right += map.label[i] == (c.r == 0 ? 1 : 0);
        }
        assert_true(right > 0.995 * size * size);
        inkmap_free(&map);
        picture_free(&p);
    }
}

/* How much of a soft edge lies inside, `depth` px from it: blurred by about 1.6 px. */
static double inside(double depth) {
    return 0.5 + 0.5 * erf(depth / 2.3);
}

/* A stamp of two colours: a ring and a bar in it, on tinted paper, darker at its left edge; 1000 px. */
static Rgba stamp(double x, double y) {
    double r = hypot(x - 0.5, y - 0.5) * 1000, noise = 1.03 * grain(x, y) + 1.03 * grain(y, x);
    double ring = inside(320 - r) * inside(r - 270);
    double bar = inside(100 - fabs(x - 0.5) * 1000) * inside(180 - fabs(y - 0.5) * 1000);
    double light = (0.93 + 0.07 * fmin(1, x / 0.16)) * (1 + 0.018 * noise);
    const double paper[3] = {243, 238, 226}, red_ink[3] = {162, 44, 38}, green[3] = {38, 70, 60};
    uint8_t v[3];
    for (int i = 0; i < 3; i++) {
        double colour = paper[i] + ring * (red_ink[i] - paper[i]) + bar * (green[i] - paper[i]);
        v[i] = (uint8_t)fmin(255, colour * light);
    }
    return (Rgba){v[0], v[1], v[2], 255};
}

static void the_scan_of_a_stamp_keeps_its_inks_through_jpeg(void **state) {
    (void)state;
    Picture p = draw(stamp, 1000, 1000, 1, ENCODED);
    for (int quality = 60; quality <= 90; quality += 15) {
        Picture jpeg = through_jpeg(&p, quality);
        InkMap map = found(&jpeg);
        if (map.count != 3) fail_msg("at %d: %d inks", quality, map.count);
        if (map.shaded > 0.05) fail_msg("at %d: shaded %.3f", quality, map.shaded);
        inkmap_free(&map);
        picture_free(&jpeg);
    }
    picture_free(&p);
}

/* Two lamps on black that both shade into the same pale light. */
static Rgba lamps(double x, double y) {
    for (int i = 0; i < 2; i++) {
        double d = hypot(x - 0.5, y - (i ? 0.73 : 0.27)) / 0.2, light = d < 0.6 ? 1 - d / 0.6 : 0;
        if (d > 1) continue;
        const double lamp[3] = {i ? 10 : 214, i ? 150 : 20, i ? 60 : 30};
        return (Rgba){(uint8_t)(lamp[0] + light * (240 - lamp[0])),
                      (uint8_t)(lamp[1] + light * (240 - lamp[1])),
                      (uint8_t)(lamp[2] + light * (220 - lamp[2])), 255};
    }
    return x > 0.2 && x < 0.8 && y > 0.03 && y < 0.97 ? black : white;
}

static void shadings_that_share_a_colour_but_do_not_meet_stay_apart(void **state) {
    (void)state;
    for (int size = 200; size <= 500; size += 150) {
        Picture p = draw(lamps, size, size, 2, ENCODED);
        InkMap map = found(&p);
        expect_inks(&map, (Rgba[]){white, black, {214, 20, 30, 255}, {10, 150, 60, 255}}, 4, 2, "lamps");
        if (map.shaded < 0.05 || map.shaded > 0.4) fail_msg("%d px: shaded %.3f", size, map.shaded);
        inkmap_free(&map);
        picture_free(&p);
    }
}

static Rgba gradient_in_square(double x, double y) {
    if (fabs(x - 0.5) > 0.36 || fabs(y - 0.5) > 0.36) return white;
    return (Rgba){(uint8_t)(230 * y), 40, (uint8_t)(230 * (1 - y)), 255};
}

static Rgba gradient(double x, double y) {
    return (Rgba){(uint8_t)(255 * x), (uint8_t)(255 * y), 128, 255};
}

/* Light and dark hills, in two hues, with grain: no area is flat. */
static Rgba photograph(double x, double y) {
    double v = sin(9 * x + 3 * sin(5 * y)) * cos(7 * y - 2 * sin(8 * x)),
           u = sin(23 * x * y + 4 * x) * cos(17 * y);
    double r = 128 + 80 * v + 25 * u + 8 * grain(x, y), g = 120 + 60 * v - 30 * u + 8 * grain(y, x);
    return (Rgba){(uint8_t)r, (uint8_t)g, (uint8_t)(110 + 90 * u + 8 * grain(x + 1, y)), 255};
}

static void a_gradient_and_a_photograph_are_reported_with_their_share(void **state) {
    (void)state;
    Picture p = draw(gradient_in_square, 400, 400, 2, ENCODED);
    InkMap map = found(&p);
    assert_int_equal(map.count, 2);
    if (map.shaded < 0.5 || map.shaded > 1) fail_msg("gradient: shaded %.3f", map.shaded);
    if (map.deep < 0.1 || map.deep > map.shaded) fail_msg("gradient: deep %.3f", map.deep);
    inkmap_free(&map);
    picture_free(&p);
    p = draw(gradient, 400, 400, 1, ENCODED);
    map = found(&p);
    if (map.shaded < 0.5 || map.deep < 0.5) fail_msg("gradient from edge to edge: %.3f", map.shaded);
    inkmap_free(&map);
    picture_free(&p);
    p = draw(photograph, 500, 400, 1, ENCODED);
    map = found(&p);
    if (map.shaded < 0.5 || map.shaded > 1) fail_msg("photograph: shaded %.3f", map.shaded);
    inkmap_free(&map);
    picture_free(&p);
    p = draw(ferry, 400, 400, 4, ENCODED);
    map = found(&p);
    if (map.shaded > 0.001 || map.deep > 0) fail_msg("flat logo: shaded %.3f", map.shaded);
    inkmap_free(&map);
    picture_free(&p);
}

/* --- turning, mirroring, tiling, size --- */

/* Pixel (x, y) of the turned picture; `way` 0..7: mirrored if odd, then way / 2 quarter turns. */
static Picture turned(const Picture *p, int way) {
    Picture out = *p;
    out.width = way / 2 % 2 ? p->height : p->width;
    out.height = way / 2 % 2 ? p->width : p->height;
    out.rgba = calloc((size_t)(p->width * p->height), 4);
    for (int y = 0; y < p->height; y++)
        for (int x = 0; x < p->width; x++) {
            int u = way % 2 ? p->width - 1 - x : x, v = y, w = p->width, h = p->height;
            for (int k = 0; k < way / 2; k++) {
                int keep = u;
                u = h - 1 - v;
                v = keep;
                keep = w;
                w = h;
                h = keep;
            }
            memcpy(out.rgba + 4 * (v * out.width + u), p->rgba + 4 * (y * p->width + x), 4);
        }
    return out;
}

static void turning_and_mirroring_change_no_ink(void **state) {
    (void)state;
    Scene *const scene[] = {ferry, three_meeting, line_slanting, shadow_on_clear, white_on_clear, photograph};
    for (int s = 0; s < 6; s++) {
        Picture p = draw(scene[s], 150, 110, 3, ENCODED);
        InkMap map = found(&p);
        for (int way = 1; way < 8; way++) {
            Picture q = turned(&p, way);
            InkMap other = found(&q);
            assert_int_equal(other.count, map.count);
            for (int i = 0; i < map.count; i++) {
                if (memcmp(&map.ink[i].srgb, &other.ink[i].srgb, sizeof(Rgb8)) != 0)
                    fail_msg("scene %d, way %d: ink %d differs", s, way, i);
                if (fabs(map.ink[i].share - other.ink[i].share) > 1e-3)
                    fail_msg("scene %d, way %d: share %g, %g", s, way, map.ink[i].share, other.ink[i].share);
            }
            assert_true(fabs(map.shaded - other.shaded) < 1e-3);
            assert_true(fabs(map.circle.r - other.circle.r) < 1e-6);
            assert_int_equal(map.roundel, other.roundel);
            inkmap_free(&other);
            picture_free(&q);
        }
        inkmap_free(&map);
        picture_free(&p);
    }
}

static void tiling_changes_no_ink(void **state) {
    (void)state;
    Scene *const scene[] = {ferry, three_meeting, white_on_clear, blue_on_yellow};
    for (int s = 0; s < 4; s++) {
        Picture p = draw(scene[s], 120, 90, 3, ENCODED), tiled = p;
        tiled.width = 360;
        tiled.height = 180;
        tiled.rgba = calloc(360 * 180, 4);
        for (int i = 0; i < 360 * 180; i++)
            memcpy(tiled.rgba + 4 * i, p.rgba + 4 * (i / 360 % 90 * 120 + i % 360 % 120), 4);
        InkMap map = found(&p), other = found(&tiled);
        assert_int_equal(map.count, other.count);
        for (int i = 0; i < map.count; i++) {
            Rgb8 c = map.ink[i].srgb;
            assert_true(index_of(&other, (Rgba){c.r, c.g, c.b, map.ink[i].transparent ? 0 : 255}, 0.5) >= 0);
        }
        inkmap_free(&map);
        inkmap_free(&other);
        picture_free(&p);
        picture_free(&tiled);
    }
}

/* Of 8000 px decoding makes 800: each pixel the mean of 10 x 10 in linear light. */
static void a_logo_of_24_px_and_one_of_8000_px_have_the_same_inks(void **state) {
    (void)state;
    Picture small = draw(ferry, 24, 24, 4, ENCODED), large = draw(ferry, 800, 800, 10, LINEAR);
    InkMap map = found(&small), other = found(&large);
    expect_inks(&map, (Rgba[]){white, red, yellow, blue}, 4, 1, "24 px");
    expect_inks(&other, (Rgba[]){white, red, yellow, blue}, 4, 1, "8000 px");
    for (int i = 0; i < 4; i++) assert_true(fabs(map.ink[i].share - other.ink[i].share) < 0.04);
    inkmap_free(&map);
    inkmap_free(&other);
    picture_free(&small);
    picture_free(&large);
}

/* --- field, circle, roundel, shares --- */

static Rgba ring(double x, double y) {
    if (in_disc(x, y, 0.5, 0.45, 0.1)) return yellow;
    if (in_disc(x, y, 0.5, 0.45, 0.3)) return white;
    return in_disc(x, y, 0.5, 0.45, 0.4) ? blue : white;
}
static Rgba halves(double x, double y) {
    return y < 0.5 ? red : in_disc(x, y, 0.5, 0.7, 0.1) ? white : blue;
}
static Rgba plain_red(double x, double y) {
    (void)x, (void)y;
    return red;
}

static void a_roundel_takes_its_rim_for_the_field(void **state) {
    (void)state;
    Picture p = draw(ring, 300, 300, 4, ENCODED);
    InkMap map = found(&p);
    expect_inks(&map, (Rgba[]){blue, white, yellow}, 3, 0.5, "ring");
    assert_true(map.roundel && !map.full_bleed);
    assert_int_equal(map.field, index_of(&map, blue, 0.5));
    assert_true(fabs(map.circle.x - 150) < 1 && fabs(map.circle.y - 135) < 1 &&
                fabs(map.circle.r - 120) < 1.5);
    /* areas of the rings: 0.1^2, 0.3^2 - 0.1^2, 0.4^2 - 0.3^2 of 0.4^2 */
    assert_true(fabs(map.ink[index_of(&map, yellow, 0.5)].share - 0.0625) < 0.003);
    assert_true(fabs(map.ink[index_of(&map, white, 0.5)].share - 0.5) < 0.01);
    assert_true(fabs(map.ink[index_of(&map, blue, 0.5)].share - 0.4375) < 0.01);
    inkmap_free(&map);
    picture_free(&p);
}

static void a_logo_on_a_ground_is_no_roundel(void **state) {
    (void)state;
    Picture p = draw(ferry, 300, 300, 4, ENCODED);
    InkMap map = found(&p);
    assert_true(!map.roundel && !map.full_bleed);
    assert_int_equal(map.field, index_of(&map, white, 0.5));
    inkmap_free(&map);
    picture_free(&p);
}

static void a_picture_without_a_ground_is_full_bleed(void **state) {
    (void)state;
    Picture p = draw(halves, 200, 150, 4, ENCODED);
    InkMap map = found(&p);
    expect_inks(&map, (Rgba[]){red, blue, white}, 3, 0.5, "halves");
    assert_true(map.full_bleed && map.cropped && !map.roundel);
    assert_true(map.circle.x == 100 && map.circle.y == 75 && map.circle.r == 75);
    inkmap_free(&map);
    picture_free(&p);
}

static void one_colour_alone_is_one_ink(void **state) {
    (void)state;
    for (int size = 1; size < 50; size += 12) {
        Picture p = draw(plain_red, size, 2 * size, 1, ENCODED);
        InkMap map = found(&p);
        expect_inks(&map, &red, 1, 0.01, "plain red");
        assert_true(map.ink[0].share == 1 && map.field == 0 && !map.full_bleed && !map.roundel &&
                    map.shaded == 0);
        assert_true(map.circle.x == size / 2.0 && map.circle.y == size);
        inkmap_free(&map);
        picture_free(&p);
    }
}

static void shares_and_borders_add_up_inside_the_circle(void **state) {
    (void)state;
    Scene *const scene[] = {ferry, ring, halves, three_meeting, white_on_clear};
    for (int s = 0; s < 5; s++) {
        Picture p = draw(scene[s], 170, 140, 3, ENCODED);
        InkMap map = found(&p);
        double share = 0, border = 0, inside = 0, first = 0;
        for (int i = 0; i < map.count; i++) {
            share += map.ink[i].share;
            if (i > 0) assert_true(map.ink[i].share <= map.ink[i - 1].share);
            assert_true(map.border[i][i] == 0);
            for (int j = 0; j < i; j++) {
                border += map.border[i][j];
                assert_true(map.border[i][j] == map.border[j][i]);
            }
        }
        for (int i = 0; i < 170 * 140; i++) {
            if (hypot(i % 170 + 0.5 - map.circle.x, i / 170 + 0.5 - map.circle.y) > map.circle.r + 1e-9)
                continue;
            inside++;
            first += map.label[i] == 0;
        }
        assert_true(fabs(share - 1) < 1e-9 && fabs(border - 1) < 1e-9);
        assert_true(fabs(first / inside - map.ink[0].share) < 1e-9);
        inkmap_free(&map);
        picture_free(&p);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_soft_edged_inks_are_exactly_two),
        cmocka_unit_test(three_inks_that_meet_make_no_fourth),
        cmocka_unit_test(a_black_line_between_red_and_yellow_is_kept),
        cmocka_unit_test(a_compact_ink_of_half_a_percent_is_found_a_smaller_one_not),
        cmocka_unit_test(a_small_logo_in_a_wide_margin_keeps_its_inks),
        cmocka_unit_test(a_hairline_alone_on_a_sheet_is_an_ink),
        cmocka_unit_test(what_is_too_faint_for_any_ink_is_shaded),
        cmocka_unit_test(jpeg_at_quality_40_changes_neither_inks_nor_labels),
        cmocka_unit_test(shadow_and_glow_are_shaded_and_no_inks),
        cmocka_unit_test(shadings_that_share_a_colour_but_do_not_meet_stay_apart),
        cmocka_unit_test(scanned_paper_in_uneven_light_is_one_ink),
        cmocka_unit_test(the_scan_of_a_stamp_keeps_its_inks_through_jpeg),
        cmocka_unit_test(a_gradient_and_a_photograph_are_reported_with_their_share),
        cmocka_unit_test(turning_and_mirroring_change_no_ink),
        cmocka_unit_test(tiling_changes_no_ink),
        cmocka_unit_test(a_logo_of_24_px_and_one_of_8000_px_have_the_same_inks),
        cmocka_unit_test(a_roundel_takes_its_rim_for_the_field),
        cmocka_unit_test(a_logo_on_a_ground_is_no_roundel),
        cmocka_unit_test(a_picture_without_a_ground_is_full_bleed),
        cmocka_unit_test(one_colour_alone_is_one_ink),
        cmocka_unit_test(shares_and_borders_add_up_inside_the_circle)};
    return cmocka_run_group_tests_name("find_inks", tests, NULL, NULL);
}
