/* Sizes of cards that fill the fewest pages. SPDX-License-Identifier: MIT */
#include "draw/fill_pages.h"
#include "draw/sheet.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

enum { CARDS = 7, FIRST = 300, TOP = 44, BOTTOM = 800 };

static const PageRoom room = {FIRST, TOP, BOTTOM};

/* Pages that lie behind, with the filled part of the last, when the cards are placed one after the other: by
 * Columns of sheet.c, with a sheet that is drawn to nowhere. */
static double pages_of(const CardSizes *cards, int count, const int *size) {
    Err err = {0};
    Sheet sheet;
    sheet_open(&sheet, "cards", UNITS_MM, 0, NULL);
    sheet_page(&sheet, "Cards");
    sheet.y = FIRST;
    Columns columns = columns_begin(&sheet);
    double worse = 0;
    for (int i = 0; i < count; i++) {
        const CardSize *s = &cards[i].size[size[i]];
        (void)columns_place(&columns, s->height, s->wide);
        worse += s->worse;
    }
    double filled = ((columns.y[0] + columns.y[1]) / 2 - sheet_top()) / (sheet_bottom(&sheet) - sheet_top());
    double pages = sheet.page - 1 + filled;
    assert_true(sheet_close(&sheet, &err));
    return pages + worse;
}

static PageRoom real_room(void) {
    Err err = {0};
    Sheet sheet;
    sheet_open(&sheet, "cards", UNITS_MM, 0, NULL);
    PageRoom real = {FIRST, sheet_top(), sheet_bottom(&sheet)};
    assert_true(sheet_close(&sheet, &err));
    return real;
}

static unsigned next(unsigned *seed) {
    *seed = *seed * 1103515245u + 12345u;
    return *seed >> 16 & 0x7fff;
}

static void make_cards(unsigned *seed, CardSizes cards[CARDS]) {
    for (int i = 0; i < CARDS; i++) {
        const double high = 120 + next(seed) % 300;
        cards[i] = (CardSizes){2, {{false, high, 0, 0, false}, {false, high * 0.7, 0, 0.14, false}}};
        if (next(seed) % 2) cards[i].size[cards[i].count++] = (CardSize){true, high * 0.6, 0, 0.02, false};
    }
}

/* The cheapest of all choices, tried one by one. */
static double cheapest(const CardSizes cards[CARDS]) {
    int size[CARDS] = {0};
    double least = HUGE_VAL;
    for (int at = 0; at < CARDS;) {
        least = fmin(least, pages_of(cards, CARDS, size));
        for (at = 0; at < CARDS && ++size[at] == cards[at].count; at++) size[at] = 0;
    }
    return least;
}

static void no_choice_of_all_fills_fewer_pages(void **state) {
    (void)state;
    const PageRoom real = real_room();
    unsigned seed = 7;
    for (int trial = 0; trial < 6; trial++) {
        CardSizes cards[CARDS];
        int chosen[CARDS];
        Err err = {0};
        make_cards(&seed, cards);
        assert_true(fill_pages(cards, CARDS, real, chosen, &err));
        assert_float_equal(pages_of(cards, CARDS, chosen), cheapest(cards), 1e-9);
    }
}

static void a_card_is_made_smaller_only_where_that_saves_paper(void **state) {
    (void)state;
    CardSizes cards[3];
    int chosen[3];
    Err err = {0};
    for (int i = 0; i < 3; i++)
        cards[i] = (CardSizes){2, {{true, 250, 0, 0, false}, {true, 170, 0, 0.14, false}}};
    assert_true(fill_pages(cards, 2, room, chosen, &err)); /* 300 + 250 + 12 + 250 is beyond 800 */
    assert_int_equal(chosen[0] + chosen[1], 1);
    cards[0].size[0].height = cards[1].size[0].height = 230;
    assert_true(fill_pages(cards, 2, room, chosen, &err));
    assert_int_equal(chosen[0] + chosen[1], 0);
}

static void a_card_higher_than_a_page_is_placed_all_the_same(void **state) {
    (void)state;
    const CardSizes cards[2] = {{1, {{true, 2000, 0, 0, false}}}, {1, {{false, 100, 0, 0, false}}}};
    int chosen[2] = {-1, -1};
    Err err = {0};
    assert_true(fill_pages(cards, 2, room, chosen, &err));
    assert_int_equal(chosen[0], 0);
    assert_int_equal(chosen[1], 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_choice_of_all_fills_fewer_pages),
        cmocka_unit_test(a_card_is_made_smaller_only_where_that_saves_paper),
        cmocka_unit_test(a_card_higher_than_a_page_is_placed_all_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
