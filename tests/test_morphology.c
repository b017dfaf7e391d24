/* Tests of src/base/morphology.c. SPDX-License-Identifier: MIT */
#include "base/morphology.h"

#include <allheaders.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <string.h>
#include <cmocka.h>

enum { SIDE = 48, AREA = SIDE * SIDE, ROOM = 20 };

static uint32_t random_bits(uint64_t *state) {
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return (uint32_t)(*state >> 33);
}

/* Discs of no site in a plane of sites; some are cut by the picture's edge. */
static void draw_blots(uint8_t *site, uint64_t *seed) {
    memset(site, 1, AREA);
    for (int k = 0; k < 9; k++) {
        int x = (int)(random_bits(seed) % SIDE), y = (int)(random_bits(seed) % SIDE);
        int r = 1 + (int)(random_bits(seed) % 9);
        for (int i = 0; i < AREA; i++)
            if ((i % SIDE - x) * (i % SIDE - x) + (i / SIDE - y) * (i / SIDE - y) <= r * r) site[i] = 0;
    }
}

/* The pixels about one that are nearer to it than a free disc so large reaches: leptonica's hits. */
static SEL *disc_of(double across) {
    const double reach = (across + 0.5) / 2;
    int room = (int)ceil(reach), side = 2 * room + 1;
    SEL *sel = selCreate(side, side, "disc");
    selSetOrigin(sel, room, room);
    for (int y = -room; y <= room; y++)
        for (int x = -room; x <= room; x++)
            if (x * x + y * y < reach * reach) selSetElement(sel, y + room, x + room, SEL_HIT);
    return sel;
}

static void an_opening_equals_that_of_leptonica(void **state) {
    (void)state;
    uint64_t seed = 4;
    for (int round = 0; round < 60; round++) {
        uint8_t site[AREA], opened[AREA];
        double across = 1 + round % 12 * 0.7;
        Err err = {0};
        draw_blots(site, &seed);
        assert_true(open_by_disc(site, SIDE, SIDE, across, opened, &err));
        PIX *pix = pixCreate(SIDE + 2 * ROOM, SIDE + 2 * ROOM, 1); /* with room beyond the edge, free too */
        pixSetAll(pix);
        for (int i = 0; i < AREA; i++)
            if (site[i]) pixSetPixel(pix, ROOM + i % SIDE, ROOM + i / SIDE, 0);
        SEL *sel = disc_of(across);
        PIX *want = pixErode(NULL, pix, sel), *wide = pixCreate(SIDE, SIDE, 1);
        BOX *window = boxCreate(ROOM, ROOM, SIDE, SIDE);
        PIX *centres = pixClipRectangle(want, window, NULL); /* discs are centred in the picture */
        pixDilate(wide, centres, sel);
        for (int i = 0; i < AREA; i++) {
            l_uint32 bit;
            pixGetPixel(wide, i % SIDE, i / SIDE, &bit);
            if (opened[i] != bit) fail_msg("round %d, pixel %d: %d, want %u", round, i, opened[i], bit);
        }
        boxDestroy(&window);
        selDestroy(&sel);
        pixDestroy(&pix);
        pixDestroy(&want);
        pixDestroy(&wide);
        pixDestroy(&centres);
    }
}

static void an_opening_twice_is_an_opening_once_and_none_adds(void **state) {
    (void)state;
    uint64_t seed = 8;
    for (int round = 0; round < 40; round++) {
        uint8_t site[AREA], once[AREA], rest[AREA], twice[AREA];
        Err err = {0};
        draw_blots(site, &seed);
        assert_true(open_by_disc(site, SIDE, SIDE, 5, once, &err));
        for (int i = 0; i < AREA; i++) {
            assert_false(site[i] && once[i]);
            rest[i] = !once[i];
        }
        assert_true(open_by_disc(rest, SIDE, SIDE, 5, twice, &err));
        assert_memory_equal(once, twice, AREA);
    }
}

static void a_stroke_stays_up_to_its_own_thickness(void **state) {
    (void)state;
    for (int across = 1; across <= 12; across++) {
        uint8_t site[AREA], opened[AREA];
        Err err = {0};
        for (int i = 0; i < AREA; i++) site[i] = i % SIDE != 20 && i % SIDE != 21 && i % SIDE != 22;
        assert_true(open_by_disc(site, SIDE, SIDE, across, opened, &err));
        assert_int_equal(opened[5 * SIDE + 21], across <= 3);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_opening_equals_that_of_leptonica),
        cmocka_unit_test(an_opening_twice_is_an_opening_once_and_none_adds),
        cmocka_unit_test(a_stroke_stays_up_to_its_own_thickness),
    };
    return cmocka_run_group_tests_name("morphology", tests, NULL, NULL);
}
