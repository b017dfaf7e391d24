/* Checks in a table's column. SPDX-License-Identifier: MIT */
#include "say/verdict_words.h"

const char *check_short_name(CheckKind kind) {
    static const char *const name[CHECKS_MAX] = {
        [CHECK_SHADED] = "shading",        [CHECK_CUT] = "cut at an edge",   [CHECK_OWN] = "alike colours",
        [CHECK_DRAWN] = "drawing lost",    [CHECK_STROKE] = "fine strokes",  [CHECK_GAP] = "fine gaps",
        [CHECK_LINES] = "thin lines",      [CHECK_READING] = "hard to see",  [CHECK_APART] = "alike candies",
        [CHECK_MATCH] = "colour match",    [CHECK_CANDIES] = "many candies", [CHECK_PARTS] = "parts lost",
        [CHECK_SHAPES] = "shapes lost",    [CHECK_LETTERS] = "letters lost", [CHECK_BLOTCH] = "wrong spot",
        [CHECK_LIKENESS] = "likeness",     [CHECK_WEAKEST] = "a weak part",  [CHECK_ROPES] = "many ropes",
        [CHECK_MINUTES] = "long work",     [CHECK_MASS] = "heavy log",       [CHECK_DIAMETER] = "thick log",
        [CHECK_WARMTH] = "cools too soon",
    };
    return name[kind];
}
