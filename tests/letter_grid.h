/* Words of plain letters on a core, drawn by code. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_TESTS_LETTER_GRID_H
#define LOGOCANE_TESTS_LETTER_GRID_H

#include "base/mem.h"
#include "model/grid.h"

#include <math.h>
#include <string.h>

/* A core of 64 steps, a least strip of four. Candy 0 is the field, 1 the letters', 2 any other's. */
enum { WORD_STEPS = 64, WORD_SIDE = WORD_STEPS * SAMPLES, GLYPH_WIDE = 5, GLYPH_HIGH = 7 };

typedef struct WordGrid {
    Grid grid;
    uint8_t candy[WORD_SIDE * WORD_SIDE];
} WordGrid;

static inline const char *glyph(char letter) {
    switch (letter) {
    case 'B':
        return "####.#...##...#####.#...##...#####.";
    case 'R':
        return "####.#...##...#####.#.#..#..#.#...#";
    case 'E':
        return "######....#....####.#....#....#####";
    case 'H':
        return "#...##...##...#######...##...##...#";
    case 'I':
        return "..#....#....#....#....#....#....#..";
    case 'O':
        return "######...##...##...##...##...######";
    default:
        return "###################################";
    }
}

static inline void word_field(WordGrid *w) {
    memset(w, 0, sizeof *w);
    for (int i = 0; i < WORD_SIDE * WORD_SIDE; i++) {
        double x = i % WORD_SIDE + 0.5 - WORD_SIDE / 2.0, y = i / WORD_SIDE + 0.5 - WORD_SIDE / 2.0;
        w->candy[i] = x * x + y * y < WORD_SIDE * WORD_SIDE / 4.0 ? 0 : OUTSIDE;
    }
    w->grid = (Grid){.steps = WORD_STEPS, .least_steps = 4, .candies = 3, .wanted = {WORD_SIDE, w->candy}};
    w->grid.core = (Circle){WORD_STEPS / 2.0, WORD_STEPS / 2.0, WORD_STEPS / 2.0};
}

/* One letter, its middle at (x, y) samples, each of its dots `across` wide and `down` high, turned clockwise.
 */
static inline void word_letter(WordGrid *w, char letter, double x, double y, double across, double down,
                               double turn) {
    for (int i = 0; i < WORD_SIDE * WORD_SIDE; i++) {
        double u = i % WORD_SIDE + 0.5 - x, v = i / WORD_SIDE + 0.5 - y;
        int column = (int)floor((u * cos(turn) + v * sin(turn)) / across + GLYPH_WIDE / 2.0);
        int row = (int)floor((v * cos(turn) - u * sin(turn)) / down + GLYPH_HIGH / 2.0);
        if (column < 0 || row < 0 || column >= GLYPH_WIDE || row >= GLYPH_HIGH || w->candy[i] == OUTSIDE)
            continue;
        if (glyph(letter)[row * GLYPH_WIDE + column] == '#') w->candy[i] = 1;
    }
}

/* A word in the middle, its letters two dots apart. */
static inline void word_draw(WordGrid *w, const char *word, double across, double down) {
    int letters = (int)strlen(word);
    for (int i = 0; i < letters; i++)
        word_letter(w, word[i], WORD_SIDE / 2.0 + (i - (letters - 1) / 2.0) * (GLYPH_WIDE + 2) * across,
                    WORD_SIDE / 2.0, across, down, 0);
}

/* A word along the circle of that radius, from so far round to as far the other way. */
static inline void word_bend(WordGrid *w, const char *word, double size, double radius, double from) {
    int letters = (int)strlen(word);
    for (int i = 0; i < letters; i++) {
        double turn = letters > 1 ? -from + 2 * from * i / (letters - 1) : 0;
        word_letter(w, word[i], WORD_SIDE / 2.0 + radius * sin(turn), WORD_SIDE / 2.0 - radius * cos(turn),
                    size, size, turn);
    }
}

static inline void word_box(WordGrid *w, int x, int y, int wide, int high, int candy) {
    for (int v = y; v < y + high; v++)
        for (int u = x; u < x + wide; u++)
            if (w->candy[v * WORD_SIDE + u] != OUTSIDE) w->candy[v * WORD_SIDE + u] = (uint8_t)candy;
}

/* A ring of the letters' candy along the rim, so many samples wide. */
static inline void word_ring(WordGrid *w, double wide) {
    double half = WORD_SIDE / 2.0, in = half - wide;
    for (int i = 0; i < WORD_SIDE * WORD_SIDE; i++) {
        double x = i % WORD_SIDE + 0.5 - half, y = i / WORD_SIDE + 0.5 - half;
        if (w->candy[i] != OUTSIDE && x * x + y * y > in * in) w->candy[i] = 1;
    }
}

#endif
