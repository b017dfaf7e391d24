/* Draws the sample logos. SPDX-License-Identifier: MIT
 *
 * All of them are invented for this program; nobody's marks. `make samples` draws them anew, the same bytes
 * each time on one Debian release. Every logo is drawn 1000 units wide. */
#include <cairo.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define STB_IMAGE_WRITE_STATIC
#define STB_IMAGE_WRITE_IMPLEMENTATION
#include <stb_image_write.h>

static const double TURN = 6.28318530717958647692;

static void ink(cairo_t *cr, unsigned rgb) {
    cairo_set_source_rgb(cr, (rgb >> 16) / 255.0, (rgb >> 8 & 255) / 255.0, (rgb & 255) / 255.0);
}

static void ground(cairo_t *cr, unsigned rgb) {
    ink(cr, rgb);
    cairo_paint(cr);
}

static void disc(cairo_t *cr, double x, double y, double r) {
    cairo_new_sub_path(cr);
    cairo_arc(cr, x, y, r, 0, TURN);
    cairo_fill(cr);
}

static void ellipse(cairo_t *cr, double x, double y, double rx, double ry) {
    cairo_save(cr);
    cairo_translate(cr, x, y);
    cairo_scale(cr, rx, ry);
    cairo_arc(cr, 0, 0, 1, 0, TURN);
    cairo_restore(cr);
    cairo_fill(cr);
}

static void bar(cairo_t *cr, double x, double y, double w, double h) {
    cairo_rectangle(cr, x, y, w, h);
    cairo_fill(cr);
}

static void round_bar(cairo_t *cr, double x, double y, double w, double h, double r) {
    cairo_new_sub_path(cr);
    cairo_arc(cr, x + r, y + r, r, TURN / 2, 3 * TURN / 4);
    cairo_arc(cr, x + w - r, y + r, r, 3 * TURN / 4, TURN);
    cairo_arc(cr, x + w - r, y + h - r, r, 0, TURN / 4);
    cairo_arc(cr, x + r, y + h - r, r, TURN / 4, TURN / 2);
    cairo_close_path(cr);
    cairo_fill(cr);
}

/* A closed line through count points, x and y in turn. */
static void outline(cairo_t *cr, const double *xy, int count) {
    for (int i = 0; i < count; i++) cairo_line_to(cr, xy[2 * i], xy[2 * i + 1]);
    cairo_close_path(cr);
}

static void polygon(cairo_t *cr, const double *xy, int count) {
    outline(cr, xy, count);
    cairo_fill(cr);
}

static void line(cairo_t *cr, double width, double x0, double y0, double x1, double y1) {
    cairo_set_line_width(cr, width);
    cairo_move_to(cr, x0, y0);
    cairo_line_to(cr, x1, y1);
    cairo_stroke(cr);
}

/* A wave of `periods` from x0 to x1 about y. */
static void wave(cairo_t *cr, double width, double x0, double x1, double y, double height, int periods) {
    cairo_set_line_width(cr, width);
    cairo_move_to(cr, x0, y);
    double step = (x1 - x0) / (2 * periods);
    for (int i = 0; i < 2 * periods; i++) {
        double x = x0 + i * step, tip = y + (i % 2 ? height : -height);
        cairo_curve_to(cr, x + 0.37 * step, tip, x + 0.63 * step, tip, x + step, y);
    }
    cairo_stroke(cr);
}

/* A regular star, first tip up. */
static void star(cairo_t *cr, double x, double y, double r, double inner, int tips) {
    for (int i = 0; i < 2 * tips; i++) {
        double a = TURN * i / (2 * tips) - TURN / 4, d = i % 2 ? inner : r;
        cairo_line_to(cr, x + d * cos(a), y + d * sin(a));
    }
    cairo_close_path(cr);
    cairo_fill(cr);
}

/* --- the harbour cafe: a cup and its steam --- */

static void steam(cairo_t *cr, double x) {
    cairo_set_line_width(cr, 74);
    cairo_move_to(cr, x, 326);
    cairo_curve_to(cr, x - 95, 250, x + 95, 170, x, 94);
    cairo_stroke(cr);
}

static void draw_cafe(cairo_t *cr) {
    ground(cr, 0xFFFFFF);
    cairo_set_line_cap(cr, CAIRO_LINE_CAP_ROUND);
    ink(cr, 0xD9442F);
    steam(cr, 350);
    steam(cr, 550);
    ink(cr, 0x1B2A5A);
    cairo_move_to(cr, 160, 430);
    cairo_line_to(cr, 740, 430);
    cairo_curve_to(cr, 740, 690, 650, 780, 450, 780);
    cairo_curve_to(cr, 250, 780, 160, 690, 160, 430);
    cairo_fill(cr);
    cairo_set_line_width(cr, 76);
    cairo_move_to(cr, 690, 494);
    cairo_curve_to(cr, 790, 468, 862, 492, 862, 570);
    cairo_curve_to(cr, 862, 650, 780, 690, 640, 690);
    cairo_stroke(cr);
    round_bar(cr, 110, 825, 680, 84, 42);
}

/* --- OAK, a bicycle repairer --- */

static void draw_oak(cairo_t *cr) {
    ground(cr, 0xFFFFFF);
    ink(cr, 0x1F5B3B);
    cairo_set_line_width(cr, 82); /* O: a wheel */
    cairo_arc(cr, 183, 480, 129, 0, TURN);
    cairo_stroke(cr);
    static const double a[] = {490, 310, 580, 310, 692, 650, 596, 650,
                               578, 590, 492, 590, 474, 650, 378, 650};
    static const double hole[] = {535, 388, 572, 512, 498, 512};
    outline(cr, a, 8);
    cairo_new_sub_path(cr);
    outline(cr, hole, 3);
    cairo_set_fill_rule(cr, CAIRO_FILL_RULE_EVEN_ODD);
    cairo_fill(cr);
    cairo_set_fill_rule(cr, CAIRO_FILL_RULE_WINDING);
    static const double arms[] = {795, 470, 880, 310, 985, 310, 886, 478, 990, 650, 884, 650};
    bar(cr, 718, 310, 88, 340);
    polygon(cr, arms, 6);
    ink(cr, 0xEE7A1E);
    disc(cr, 183, 480, 46);
    round_bar(cr, 20, 720, 960, 76, 38);
}

/* --- the night ferry: a roundel --- */

static void draw_ferry(cairo_t *cr) {
    ink(cr, 0x16224D);
    disc(cr, 500, 500, 494);
    ink(cr, 0xF6CF4A);
    disc(cr, 645, 290, 88);
    static const double hull[] = {196, 538, 806, 538, 716, 668, 272, 668};
    ink(cr, 0xFBFAF6);
    polygon(cr, hull, 4);
    round_bar(cr, 318, 420, 370, 160, 24);
    ink(cr, 0xC9303A);
    bar(cr, 395, 305, 97, 127);
    cairo_save(cr);
    cairo_arc(cr, 500, 500, 405, 0, TURN);
    cairo_clip(cr);
    ink(cr, 0x58A9DC);
    wave(cr, 66, 60, 940, 752, 38, 4);
    cairo_restore(cr);
    ink(cr, 0xFBFAF6);
    cairo_set_line_width(cr, 62);
    cairo_arc(cr, 500, 500, 405, 0, TURN);
    cairo_stroke(cr);
}

/* --- the clockmakers' crest: too fine to build --- */

static void leaf(cairo_t *cr, double x, double y, double angle) {
    cairo_save(cr);
    cairo_translate(cr, x, y);
    cairo_rotate(cr, angle);
    cairo_move_to(cr, 0, 0);
    cairo_curve_to(cr, 14, -17, 40, -17, 58, 0);
    cairo_curve_to(cr, 40, 17, 14, 17, 0, 0);
    cairo_fill(cr);
    cairo_restore(cr);
}

static void wreath(cairo_t *cr, int side) {
    ink(cr, 0x2F6A4B);
    cairo_set_line_width(cr, 5);
    cairo_new_path(cr);
    for (int i = 0; i <= 30; i++) {
        double a = 0.22 * TURN - i * 0.40 * TURN / 30;
        cairo_line_to(cr, 500 + side * 425 * cos(a), 490 + 425 * sin(a));
    }
    cairo_stroke(cr);
    for (int i = 0; i < 19; i++) {
        double a = 0.21 * TURN - i * 0.0208 * TURN, x = 500 + side * 425 * cos(a), y = 490 + 425 * sin(a);
        double along = side > 0 ? a - TURN / 4 : TURN * 3 / 4 - a;
        leaf(cr, x, y, along + 0.5);
        leaf(cr, x, y, along - 0.5);
    }
}

static void shield(cairo_t *cr, double grow) {
    cairo_new_path(cr);
    cairo_move_to(cr, 270 - grow, 270 - grow);
    cairo_line_to(cr, 730 + grow, 270 - grow);
    cairo_line_to(cr, 730 + grow, 500);
    cairo_curve_to(cr, 730 + grow, 660, 610, 760 + grow / 2, 500, 810 + grow);
    cairo_curve_to(cr, 390, 760 + grow / 2, 270 - grow, 660, 270 - grow, 500);
    cairo_close_path(cr);
}

static void clock_face(cairo_t *cr, double x, double y, double r) {
    cairo_set_line_width(cr, 4);
    cairo_arc(cr, x, y, r, 0, TURN);
    cairo_stroke(cr);
    for (int i = 0; i < 12; i++) {
        double a = TURN * i / 12, from = i % 3 ? 0.86 : 0.74;
        line(cr, 4, x + from * r * cos(a), y + from * r * sin(a), x + 0.94 * r * cos(a),
             y + 0.94 * r * sin(a));
    }
    line(cr, 5, x, y, x, y - 0.66 * r);
    line(cr, 5, x, y, x + 0.42 * r, y + 0.2 * r);
    disc(cr, x, y, 8);
}

static void crown(cairo_t *cr) {
    static const double band[] = {390, 222, 376, 130, 438, 186, 500, 112, 562, 186, 624, 130, 610, 222};
    ink(cr, 0xB98A2E);
    cairo_set_line_width(cr, 5);
    outline(cr, band, 7);
    cairo_stroke(cr);
    disc(cr, 376, 122, 11);
    disc(cr, 500, 102, 13);
    disc(cr, 624, 122, 11);
    line(cr, 4, 393, 206, 607, 206);
    for (int i = 0; i < 9; i++) disc(cr, 412 + 22 * i, 214, 4);
}

static void quarters(cairo_t *cr) {
    cairo_save(cr);
    shield(cr, -14);
    cairo_clip(cr);
    ink(cr, 0x7A1F33);
    for (int i = 0; i < 40; i++) line(cr, 3, 250 + 14 * i, 250, -40 + 14 * i, 540); /* fine hatching */
    ink(cr, 0xFFFFFF);
    bar(cr, 500, 250, 260, 600);
    bar(cr, 240, 520, 520, 320);
    ink(cr, 0x7A1F33);
    line(cr, 6, 500, 250, 500, 830);
    line(cr, 6, 250, 520, 750, 520);
    clock_face(cr, 614, 396, 88);
    for (int i = 0; i < 15; i++)
        if (i != 4 && i != 8 && i != 12 && i != 13)
            star(cr, 322 + 46 * (i % 4), 568 + 54 * (i / 4), 15, 6, 5);
    ink(cr, 0xB98A2E);
    for (int i = 0; i < 4; i++) wave(cr, 5, 500, 748, 570 + 48 * i, 16, 5);
    cairo_restore(cr);
}

static void draw_crest(cairo_t *cr) {
    ground(cr, 0xFFFFFF);
    wreath(cr, 1);
    wreath(cr, -1);
    ink(cr, 0xFFFFFF);
    shield(cr, 0);
    cairo_fill(cr);
    quarters(cr);
    ink(cr, 0x7A1F33);
    shield(cr, 0);
    cairo_set_line_width(cr, 9);
    cairo_stroke(cr);
    shield(cr, -14);
    cairo_set_line_width(cr, 3);
    cairo_stroke(cr);
    crown(cr);
    cairo_set_line_width(cr, 4);
    static const double ribbon[] = {250, 862, 750, 862, 724, 893, 750, 924, 250, 924, 276, 893};
    outline(cr, ribbon, 6);
    ink(cr, 0xFFFFFF);
    cairo_fill_preserve(cr);
    ink(cr, 0x7A1F33);
    cairo_stroke(cr);
    for (int i = 0; i < 16; i++) star(cr, 312 + 25 * i, 893, 10, 4, 4);
}

/* --- the kite shop: light colours, meant for a dark ground --- */

static void draw_kite(cairo_t *cr) {
    static const double whole[] = {560, 40, 830, 330, 500, 700, 260, 300};
    static const double left[] = {560, 40, 527, 315, 260, 300}, right[] = {527, 315, 830, 330, 500, 700};
    static const double bow[] = {-96, -62, 0, -32, 96, -62, 96, 62, 0, 32, -96, 62};
    cairo_set_line_cap(cr, CAIRO_LINE_CAP_ROUND);
    cairo_set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
    ink(cr, 0xFFFDF6);
    cairo_set_line_width(cr, 62);
    cairo_move_to(cr, 500, 690);
    cairo_curve_to(cr, 470, 800, 560, 870, 470, 905);
    cairo_curve_to(cr, 380, 940, 330, 860, 220, 925);
    cairo_stroke(cr);
    polygon(cr, whole, 4);
    ink(cr, 0xFBE58F);
    polygon(cr, left, 3);
    polygon(cr, right, 3);
    cairo_translate(cr, 478, 880);
    cairo_rotate(cr, -0.3);
    polygon(cr, bow, 6);
}

/* --- valley cider: a picture to the edge --- */

static void draw_valley(cairo_t *cr) {
    ground(cr, 0xF7E3B0);
    ink(cr, 0xE4572E);
    disc(cr, 650, 265, 128);
    ink(cr, 0x6FA8B5);
    cairo_move_to(cr, -10, 390);
    cairo_curve_to(cr, 180, 248, 330, 255, 520, 390);
    cairo_curve_to(cr, 700, 300, 860, 285, 1010, 352);
    cairo_line_to(cr, 1010, 758);
    cairo_line_to(cr, -10, 758);
    cairo_fill(cr);
    ink(cr, 0x2D6148);
    cairo_move_to(cr, -10, 480);
    cairo_curve_to(cr, 250, 420, 420, 480, 560, 570);
    cairo_curve_to(cr, 700, 480, 860, 450, 1010, 465);
    cairo_line_to(cr, 1010, 758);
    cairo_line_to(cr, -10, 758);
    cairo_fill(cr);
    ink(cr, 0xF7E3B0); /* the road */
    cairo_move_to(cr, 545, 561);
    cairo_curve_to(cr, 640, 615, 360, 660, 330, 758);
    cairo_line_to(cr, 560, 758);
    cairo_curve_to(cr, 560, 675, 720, 622, 560, 570);
    cairo_fill(cr);
}

/* --- balloon rides: seven colours --- */

static void envelope(cairo_t *cr) {
    cairo_new_path(cr);
    cairo_arc(cr, 500, 385, 345, 0.3644 * TURN, 1.1356 * TURN); /* the sides leave it as tangents */
    cairo_line_to(cr, 590, 765);
    cairo_line_to(cr, 410, 765);
    cairo_close_path(cr);
}

/* A gore: what lies between two meridians, at -1..1 of the balloon's half width at each height. */
static void gore(cairo_t *cr, unsigned rgb, double from, double to) {
    ink(cr, rgb);
    cairo_new_path(cr);
    for (int i = 0; i <= 60; i++) {
        double t = i / 60.0;
        cairo_line_to(cr, 500 + from * 350 * sin(TURN / 2 * (0.02 + 0.88 * t)), 35 + 740 * t);
    }
    for (int i = 60; i >= 0; i--) {
        double t = i / 60.0;
        cairo_line_to(cr, 500 + to * 350 * sin(TURN / 2 * (0.02 + 0.88 * t)), 35 + 740 * t);
    }
    cairo_close_path(cr);
    cairo_fill(cr);
}

static void draw_balloon(cairo_t *cr) {
    ground(cr, 0xFFFFFF);
    cairo_save(cr);
    envelope(cr);
    cairo_clip(cr);
    ink(cr, 0xD2322D);
    bar(cr, 0, 0, 500, 800);
    ink(cr, 0x2A5CAA);
    bar(cr, 500, 0, 500, 800);
    gore(cr, 0xF08A24, -0.6, 0);
    gore(cr, 0x3F9C4B, 0, 0.6);
    gore(cr, 0xFAD23C, -0.2, 0.2);
    cairo_restore(cr);
    ink(cr, 0x6B4129);
    static const double basket[] = {395, 830, 605, 830, 575, 985, 425, 985};
    polygon(cr, basket, 4);
}

/* --- the fox bookshop: its own mirror image --- */

static void fox_half(cairo_t *cr) {
    static const double ear[] = {500, 330, 500, 600, 40, 520, 90, 70, 330, 290};
    static const double ear_in[] = {150, 205, 140, 420, 285, 322};
    static const double head[] = {500, 280, 330, 290, 40, 520, 500, 960};
    static const double cheek[] = {40, 520, 290, 560, 500, 820, 500, 965};
    ink(cr, 0xE8702A);
    polygon(cr, ear, 5);
    polygon(cr, head, 4);
    ink(cr, 0x2A2320);
    polygon(cr, ear_in, 3);
    ink(cr, 0xFFFFFF);
    polygon(cr, cheek, 4);
    ink(cr, 0x2A2320);
    ellipse(cr, 330, 505, 52, 46);
    static const double nose[] = {500, 795, 405, 795, 500, 905};
    polygon(cr, nose, 3);
}

static void draw_fox(cairo_t *cr) {
    ground(cr, 0x2F8A86);
    for (int side = 0; side < 2; side++) {
        cairo_save(cr);
        if (side) {
            cairo_translate(cr, 1000, 0);
            cairo_scale(cr, -1, 1);
        }
        cairo_rectangle(cr, 0, 0, 500, 1000);
        cairo_clip(cr);
        cairo_translate(cr, 60, 50);
        cairo_scale(cr, 0.88, 0.88);
        fox_half(cr);
        cairo_restore(cr);
    }
}

/* --- the beach hut hire: a photograph, or as near as we get --- */

static double mix(double a, double b, double t) {
    return a + (b - a) * t;
}

static double lattice(int x, int y) {
    uint32_t h = (uint32_t)x * 374761393u + (uint32_t)y * 668265263u;
    h = (h ^ (h >> 13)) * 1274126177u;
    return (double)(h ^ (h >> 16)) / 4294967295.0;
}

/* Smooth noise, 0..1, one lump a unit. */
static double noise(double x, double y) {
    double fx = floor(x), fy = floor(y), u = x - fx, v = y - fy;
    int i = (int)fx, j = (int)fy;
    u = u * u * (3 - 2 * u);
    v = v * v * (3 - 2 * v);
    return mix(mix(lattice(i, j), lattice(i + 1, j), u), mix(lattice(i, j + 1), lattice(i + 1, j + 1), u), v);
}

static double cloud(double x, double y) {
    return 0.5 * noise(x, y) + 0.3 * noise(2.1 * x, 2.3 * y) + 0.2 * noise(4.3 * x, 4.7 * y);
}

/* The colour at x, y, both 0..1: sky, sun, sea. */
static void sunset_at(double x, double y, double rgb[3]) {
    static const double top[3] = {52, 40, 96}, low[3] = {250, 158, 84}, deep[3] = {24, 30, 62},
                        sun[3] = {255, 238, 190};
    double d = hypot(x - 0.56, y - 0.52), glow = exp(-d * d * 18), disc_part = 1 / (1 + exp((d - 0.1) * 160));
    double down = (y - 0.62) / 0.38, path = exp(-pow((x - 0.56) / (0.06 + 0.16 * down), 2));
    for (int c = 0; c < 3; c++) {
        double sky = mix(top[c], low[c], pow(fmin(y / 0.62, 1), 1.4));
        sky = mix(sky, top[c] + 70, 0.55 * fmax(0, cloud(4 * x, 14 * y) - 0.45) * 2);
        sky = mix(mix(sky, sun[c], 0.6 * glow), sun[c], disc_part);
        double sea = mix(low[c] * 0.55, deep[c], pow(fmax(down, 0), 0.6));
        double glitter = path * (0.25 + 0.75 * noise(24 * x, 140 * y)) * (1 - 0.5 * down);
        sea = mix(sea, sun[c], 0.8 * fmax(glitter, 0));
        rgb[c] = y < 0.62 ? sky : sea;
    }
}

static int write_sunset(const char *path) {
    enum { SIDE = 1000 };
    uint8_t *px = calloc((size_t)SIDE * SIDE, 3);
    if (!px) return 0;
    for (int i = 0; i < SIDE * SIDE; i++) {
        double rgb[3], x = i % SIDE, y = i / SIDE; /* NOLINT(bugprone-integer-division) */
        sunset_at(x / SIDE, y / SIDE, rgb);
        double grain = 5 * (noise(x / 2.5, y / 2.5) - 0.5);
        for (int c = 0; c < 3; c++) px[3 * i + c] = (uint8_t)fmin(fmax(rgb[c] + grain, 0), 255);
    }
    int good = stbi_write_jpg(path, SIDE, SIDE, 3, px, 82);
    free(px);
    return good;
}

/* --- the list --- */

typedef struct Sample {
    const char *file;
    int width, height; /* px */
    int clear;         /* drawn on transparency */
    void (*draw)(cairo_t *cr);
} Sample;

static const Sample samples[] = {
    {"harbour-cafe.png", 1000, 1000, 0, draw_cafe},     {"oak-bicycles.png", 1000, 1000, 0, draw_oak},
    {"night-ferry.png", 1000, 1000, 1, draw_ferry},     {"clockmakers-crest.png", 760, 760, 0, draw_crest},
    {"kite-shop.png", 1000, 1000, 1, draw_kite},        {"valley-cider.png", 1200, 900, 0, draw_valley},
    {"balloon-rides.png", 1000, 1000, 0, draw_balloon}, {"fox-books.png", 1000, 1000, 0, draw_fox},
};

static int write_sample(const char *folder, const Sample *sample) {
    char path[1024];
    (void)snprintf(path, sizeof path, "%s/%s", folder, sample->file);
    cairo_format_t format = sample->clear ? CAIRO_FORMAT_ARGB32 : CAIRO_FORMAT_RGB24;
    cairo_surface_t *surface = cairo_image_surface_create(format, sample->width, sample->height);
    cairo_t *cr = cairo_create(surface);
    cairo_set_antialias(cr, CAIRO_ANTIALIAS_BEST);
    cairo_scale(cr, sample->width / 1000.0, sample->width / 1000.0);
    sample->draw(cr);
    cairo_destroy(cr);
    int good = cairo_surface_write_to_png(surface, path) == CAIRO_STATUS_SUCCESS;
    cairo_surface_destroy(surface);
    return good;
}

int main(int argc, char **argv) {
    const char *folder = argc > 1 ? argv[1] : ".";
    int good = 1;
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++)
        good = write_sample(folder, &samples[i]) && good;
    char path[1024];
    (void)snprintf(path, sizeof path, "%s/beach-huts.jpg", folder);
    good = write_sunset(path) && good;
    if (!good) fprintf(stderr, "could not write the samples to %s\n", folder);
    return good ? EXIT_SUCCESS : EXIT_FAILURE;
}
