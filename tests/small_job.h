/* Small logos, and a small job in memory, for the tests of what fails. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_SMALL_JOB_H
#define LOGOCANE_SMALL_JOB_H

#include "read/read.h"
#include "inks/inks.h"
#include "model/image.h"
#include "run/run.h"
#include "write/files.h"

#include <dirent.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>
#include <cmocka.h>

static inline void put(const char *path, const char *text) {
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    fputs(text, file);
    assert_int_equal(fclose(file), 0);
}

typedef enum LogoKind { LOGO_EASY, LOGO_HARD, LOGO_SMALL, LOGO_WORD } LogoKind;

/* Is the pixel of a word of four letters, strokes of 5 px? Drawn here: H, I, L, T. */
static inline bool in_word(int x, int y) {
    static const char *const rows[] = {"#..#.###.#...####", "#..#..#..#....#..", "####..#..#....#..",
                                       "#..#..#..#....#..", "#..#.###.###..#.."};
    return x >= 5 && x < 90 && y >= 35 && y < 60 && rows[(y - 35) / 5][(x - 5) / 5] == '#';
}

/* A red square on a navy disc, which can be built; hard: with thin lines about it, which cannot, so that
 * there is much to advise; small: in a wide margin; word: navy letters and nothing else. */
static inline void put_logo(const char *path, LogoKind kind) {
    const int side = kind == LOGO_SMALL || kind == LOGO_WORD ? 96 : 48;
    const bool hard = kind == LOGO_HARD;
    static const uint8_t white[] = {250, 250, 250, 255}, navy[] = {26, 36, 84, 255},
                         red[] = {200, 32, 44, 255};
    Err err = {0};
    Image image = {0};
    assert_true(image_new(side, side, 0, &image, &err));
    for (int i = 0; i < side * side; i++) {
        double x = i % side - 23.5, y = i / side - 23.5;
        bool square = fmax(fabs(x), fabs(y)) < 7, disc = hypot(x, y) < (hard ? 12 : 20);
        bool line = hard && hypot(x, y) > 14 && hypot(x, y) < 22 && i % side % 5 == 0;
        if (kind == LOGO_WORD) square = line = false, disc = in_word(i % side, i / side);
        memcpy(image.rgba + 4 * (size_t)i, square ? red : disc || line ? navy : white, 4);
    }
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    assert_true(write_png(&image, file, &err));
    assert_int_equal(fclose(file), 0);
    image_free(&image);
}

typedef struct Whole {
    Picture picture;
    InkMap inks;
    Shop shop;
    Job job;
} Whole;

/* The job of that logo file in the shop of shop.ini. w must stay where it is. */
static inline void whole_fill(const char *logo, Whole *w) {
    Err err = {0};
    memset(w, 0, sizeof *w);
    assert_true(shop_file_open("shop.ini", &w->shop, &err));
    assert_true(decode(logo, logo, &w->picture, &err));
    assert_true(find_inks(&w->picture, &w->inks, &err));
    w->job = (Job){.picture = &w->picture, .inks = &w->inks, .shop = &w->shop, .order = order_default()};
    (void)snprintf(w->job.file, sizeof w->job.file, "%s", logo);
    assert_true(job_run(&w->job, &err));
}

static inline void whole_free(Whole *w) {
    job_free(&w->job);
    inkmap_free(&w->inks);
    picture_free(&w->picture);
}

/* How many names are in the folder. */
static inline int count(const char *path) {
    DIR *stream = opendir(path);
    if (!stream) return -1;
    int names = -2;
    while (readdir(stream)) names++;
    closedir(stream);
    return names;
}

#ifdef COUNT_LINES
void __gcov_dump(void);
#endif

/* Ends a child without what the parent would do at its end; the lines it reached count, where they are
 * counted. */
static inline _Noreturn void end_child(int status) {
#ifdef COUNT_LINES
    __gcov_dump();
#endif
    _exit(status);
}

#endif
