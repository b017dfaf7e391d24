/* Each ink becomes a candy. SPDX-License-Identifier: MIT
 *
 * 1. The choices (dyes.c): the stock; a candy dyed to each ink that none of the stock is near; those wished
 * for, blends among them. The cost of a choice is how far it lies from the ink (colour_cost). A batch that is
 * dyed costs DYED_BATCH besides, so that a candy of the stock is preferred, and tiny inks take a neighbour's.
 * Clear candy is taken where it is asked for: a logo is opaque.
 * 2. Wishes and the field fix the choice of some inks. A blend is no candy of its own: the two it is made of
 * count for -k, whether an ink takes them or not. Of a disc cropped from a full-bleed picture
 * the wished field is no ink's candy but what lies beyond the picture.
 * 3. cheapest_candies.c: the exact optimum, with the order's cap for the palette, and with the largest cap
 * there is for the count of candies wanted.
 * 4. The palette: the field's candy first, then by falling area. 5. The jacket.
 *
 * Inks that meet across a line too thin to be built will meet without it, or with what is left of it: that
 * counts for half a border.
 * The field is white where the logo stands on transparency or white (choose_field.c). Else a transparent ink
 * should look APART_MOST from whatever it touches, and is rather dark or neutral than loud. */
#include "plan/plan_parts.h"

#include "model/blend.h"
#include "model/far_colour.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#define APART_MOST 25.0    /* CIEDE2000; candies so far apart are apart enough */
#define LOUD 0.1           /* of CIELAB chroma: what a coloured background costs; chosen by eye */
#define ACROSS 0.5         /* of a border: where two inks meet across a thin line; chosen */
#define LINE 0.125         /* of its borders: what a line counts for at least; chosen */
#define WANTED_SHARE 0.005 /* smaller inks do not count as candies wanted */
#define DYED_BATCH 0.2     /* CIEDE2000 over the whole area: an ink that weighs 1 % and gains 20; chosen */
#define UNASKED 100.0      /* CIEDE2000; a clear candy that nobody asked for: the last resort */
#define STRIPES_USUAL 12   /* with several jacket candies; common practice */

typedef struct Matching {
    const InkMap *inks;
    const Order *order;
    const Shop *shop;
    Choices choices;
    bool on_white;      /* the field is white as the logo's paper is */
    int barred;         /* what a transparent field must not be: something would be lost on it; -1: any */
    Assignment problem; /* what is asked of cheapest_candies */
} Matching;

/* --- messages --- */

/* The index of the candy `name` of the stock, or of one dyed to order, -1 with an error that lists the stock
 * (or those the name fits). */
static int find_candy(const Choices *choices, const Stock *stock, const char *name, const char *option,
                      Err *err) {
    if (stock_find(stock, name) < 0)
        for (int c = choices->stock; c < choices->count; c++)
            if (strcasecmp(choices->candy[c].name, name) == 0) return c;
    return stock_named(stock, name, option, err);
}

/* The blend that is named; false with an error. */
static bool find_blend(const Choices *choices, const Stock *stock, const char *text, const char *option,
                       Candy *out, Err *err) {
    BlendWish wish;
    const Candy *of[BLEND];
    if (!blend_read(text, option, &wish, err)) return false;
    for (int i = 0; i < BLEND; i++) {
        int at = find_candy(choices, stock, wish.name[i], option, err);
        if (at < 0) return false;
        of[i] = &choices->candy[at];
        if (at >= choices->stock)
            return err_set(err, ERR_USAGE, "%s '%s': %s is dyed to order; a blend is of the shop's candies",
                           option, text, of[i]->name);
    }
    if (!blend_make(of, wish.parts, text, option, out, err)) return false;
    for (int c = choices->stock; c < choices->count; c++) /* the first of them names it */
        if (blend_same(&choices->candy[c], out)) *out = choices->candy[c];
    return true;
}

/* --- step 1 and 2: choices and wishes --- */

/* The index of the choice that is named, a blend maybe, which is put behind the others. -1 with an error. */
static int choice_named(Matching *m, const char *name, const char *option, Err *err) {
    Candy blend;
    if (!blend_asked(name)) return find_candy(&m->choices, &m->shop->stock, name, option, err);
    if (!find_blend(&m->choices, &m->shop->stock, name, option, &blend, err)) return -1;
    for (int c = m->choices.stock; c < m->choices.count; c++)
        if (blend_same(&m->choices.candy[c], &blend)) return c;
    for (int i = 0; i < BLEND; i++)
        m->problem.cooked[stock_find(&m->shop->stock, blend.blend[i].name)] = true;
    m->choices.candy[m->choices.count] = blend;
    return m->choices.count++;
}

/* The ink nearest to the wished colour, -1 with an error that lists the inks. */
static int find_ink(const InkMap *inks, const InkWish *wish, Err *err) {
    char list[160] = "", hex[8];
    int nearest = ink_nearest(inks, wish->ink);
    if (nearest >= 0) return nearest;
    for (int i = 0; i < inks->count; i++) {
        if (inks->ink[i].transparent) continue;
        rgb8_code(inks->ink[i].srgb, hex);
        names_add(list, sizeof list, hex);
    }
    rgb8_code(wish->ink, hex);
    err_set(err, ERR_USAGE, "-m '%s=%s': the logo has no ink like that; its inks are %s", hex, wish->candy,
            *list ? list : "none, all is transparent");
    return -1;
}

static bool fix_ink(Matching *m, int ink, int choice, Err *err) {
    int *fixed = &m->problem.fixed[ink];
    if (*fixed >= 0 && *fixed != choice) {
        char hex[8];
        rgb8_code(m->inks->ink[ink].srgb, hex);
        return err_set(err, ERR_USAGE, "ink %s: wished for as %s and as %s; wish once",
                       m->inks->ink[ink].transparent ? "of the background" : hex,
                       m->choices.candy[*fixed].name, m->choices.candy[choice].name);
    }
    *fixed = choice;
    return true;
}

static bool take_wishes(Matching *m, Err *err) {
    for (int w = 0; w < m->order->wishes; w++) {
        const InkWish *wish = &m->order->wish[w];
        int ink = find_ink(m->inks, wish, err);
        if (ink < 0) return false;
        int choice = strcasecmp(wish->candy, "dye") == 0
                         ? dye_choice(&m->choices, m->shop, m->inks->ink[ink].srgb)
                         : choice_named(m, wish->candy, "-m", err);
        if (choice < 0 || !fix_ink(m, ink, choice, err)) return false;
    }
    if (!*m->order->field) return true;
    int choice = choice_named(m, m->order->field, "-f", err);
    if (choice < 0) return false;
    if (!m->inks->full_bleed || !m->inks->cropped) return fix_ink(m, m->inks->field, choice, err);
    m->problem.beyond = choice; /* a disc of a picture without a background: only its jacket is of it */
    return true;
}

static int count_blends(const Choices *choices) {
    int count = 0;
    for (int c = choices->stock; c < choices->count; c++) count += candy_is_blend(&choices->candy[c]);
    return count;
}

/* How many batches are taken by the inks of at least this share (-1 = none), beyond the picture and by the
 * blends, which are none themselves. */
static int count_batches(const Matching *m, const int of_ink[INKS_MAX], double share) {
    bool used[CHOICES_MAX];
    int count = 0;
    memcpy(used, m->problem.cooked, sizeof used);
    for (int c = 0; c < m->choices.count; c++) count += used[c];
    for (int i = -1; i < m->inks->count; i++) {
        int c = i < 0 ? m->problem.beyond : of_ink[i];
        if (c < 0 || used[c] || (i >= 0 && m->inks->ink[i].share < share)) continue;
        used[c] = true;
        count += !candy_is_blend(&m->choices.candy[c]);
    }
    return count;
}

/* --- step 3: the problem --- */

/* On a white field transparency is white paper: what is white itself is not to be told from it. */
static double ink_distance(const Ink *p, const Ink *q, bool on_white) {
    const Rgb8 white = {255, 255, 255};
    if (!on_white && (p->transparent || q->transparent)) return APART_MOST;
    return fmin(
        delta_e00(rgb8_lab(p->transparent ? white : p->srgb), rgb8_lab(q->transparent ? white : q->srgb)),
        APART_MOST);
}

/* A line is seen by its sides, however thin it is. */
static double weight_of(const InkMap *inks, int ink) {
    double sides = 0;
    for (int j = 0; j < inks->count; j++) sides += inks->border[ink][j];
    double share = inks->ink[ink].share;
    return inks->ink[ink].transparent ? share : fmax(share, LINE * sides);
}

static double choice_cost(const Matching *m, int ink, int choice) {
    const Ink *of = &m->inks->ink[ink];
    const Candy *candy = &m->choices.candy[choice];
    bool unasked = candy->finish == FINISH_CLEAR || candy_is_blend(candy) ||
                   (of->transparent && (candy->dyed || choice == m->barred));
    double cost = of->transparent ? LOUD * rgb8_chroma(candy->srgb) : colour_cost(of->srgb, candy->srgb);
    return cost + (unasked && m->problem.fixed[ink] != choice ? UNASKED : 0);
}

/* What the choices cost and how far apart they are. */
static void price_choices(const Choices *choices, Assignment *a) {
    Lab lab[CHOICES_MAX];
    a->choices = choices->count;
    for (int c = 0; c < choices->count; c++) {
        a->price[c] = choices->candy[c].dyed ? DYED_BATCH : 0;
        lab[c] = rgb8_lab(choices->candy[c].srgb);
        for (int d = 0; d < c; d++) a->between[c][d] = a->between[d][c] = delta_e00(lab[c], lab[d]);
    }
}

static void state_problem(Matching *m) {
    const InkMap *inks = m->inks;
    Assignment *a = &m->problem;
    price_choices(&m->choices, a);
    a->inks = inks->count;
    for (int i = 0; i < inks->count; i++) {
        double weight = weight_of(inks, i);
        for (int c = 0; c < a->choices; c++) a->colour[i][c] = weight * choice_cost(m, i, c);
        for (int j = 0; j < inks->count; j++) {
            a->border[i][j] = inks->border[i][j] + ACROSS * inks->across[i][j];
            a->apart[i][j] = ink_distance(&inks->ink[i], &inks->ink[j], m->on_white);
        }
    }
}

/* How many candies it would take with the largest -k there is. */
static int count_uncapped(Matching *m) {
    int of_ink[INKS_MAX];
    m->problem.limit = INKS_MAX;
    (void)cheapest_candies(&m->problem, of_ink);
    return count_batches(m, of_ink, WANTED_SHARE);
}

/* Where all inks have a candy that is near, one more batch to dye is no reason to ask for more candies: then
 * as many are wanted as of the stock alone, if those are fewer. */
static int count_wanted(Matching *m, const Palette *palette) {
    int wanted = count_uncapped(m);
    for (int i = 0; i < palette->inks; i++)
        if (palette->delta_e[i] > NEAR_COLOUR && m->inks->ink[i].share >= WANTED_SHARE) return wanted;
    for (int c = m->choices.stock; c < m->choices.count; c++) m->problem.price[c] = UNASKED;
    int of_stock = count_uncapped(m);
    return of_stock < wanted ? of_stock : wanted;
}

/* --- step 4 and 5: the palette --- */

/* Adds the choice to the palette unless it is there; returns its index. */
static int palette_index(const Matching *m, Palette *palette, int choice, int at[CHOICES_MAX]) {
    if (at[choice] < 0) {
        at[choice] = palette->count;
        palette->candy[palette->count++] = m->choices.candy[choice];
    }
    return at[choice];
}

static void fill_palette(const Matching *m, const int of_ink[INKS_MAX], Palette *palette) {
    int at[CHOICES_MAX], field = m->problem.beyond >= 0 ? m->problem.beyond : of_ink[m->inks->field];
    double area[CHOICES_MAX]; /* -1: not used */
    for (int c = 0; c < CHOICES_MAX; c++) area[c] = at[c] = -1;
    for (int i = 0; i < m->inks->count; i++)
        area[of_ink[i]] = fmax(area[of_ink[i]], 0) + m->inks->ink[i].share;
    palette->field = palette_index(m, palette, field, at);
    for (;;) {
        int largest = -1; /* of those used and not yet in */
        for (int c = 0; c < m->choices.count; c++)
            if (at[c] < 0 && area[c] >= 0 && (largest < 0 || area[c] > area[largest])) largest = c;
        if (largest < 0) break;
        (void)palette_index(m, palette, largest, at);
    }
    palette->inks = m->inks->count;
    for (int i = 0; i < m->inks->count; i++) {
        const Ink *ink = &m->inks->ink[i];
        palette->of_ink[i] = at[of_ink[i]];
        palette->delta_e[i] =
            ink->transparent ? 0 : delta_e00(rgb8_lab(ink->srgb), rgb8_lab(m->choices.candy[of_ink[i]].srgb));
    }
}

/* The field's candy, and with -j auto the largest of the others beside it. */
static void choose_jacket(const Order *order, Palette *palette) {
    palette->jackets = 1;
    palette->jacket[0] = palette->candy[palette->field];
    if (order->jackets == 0 || palette->count == 1) return;
    palette->jacket[palette->jackets++] = palette->candy[palette->field == 0 ? 1 : 0];
}

static bool jacket_candy(const Matching *m, const char *name, Candy *out, Err *err) {
    const Stock *stock = &m->shop->stock;
    if (blend_asked(name)) return find_blend(&m->choices, stock, name, "-j", out, err);
    int choice = find_candy(&m->choices, stock, name, "-j", err);
    if (choice >= 0) *out = m->choices.candy[choice];
    return choice >= 0;
}

static bool fill_jacket(const Matching *m, Palette *palette, Err *err) {
    const Order *order = m->order;
    bool chosen = order->jackets == 0 || strcasecmp(order->jacket[0], "auto") == 0;
    palette->jackets = order->jackets;
    if (chosen) choose_jacket(order, palette);
    for (int j = 0; j < order->jackets && !chosen; j++) {
        if (!jacket_candy(m, order->jacket[j], &palette->jacket[j], err)) return false;
    }
    if (order->stripes > 1 && palette->jackets == 1)
        return err_set(err, ERR_USAGE, "--stripes %d: the jacket has one candy; write -j %s,CANDY",
                       order->stripes, palette->jacket[0].name);
    int stripes = order->stripes;
    if (stripes == 0) stripes = STRIPES_USUAL / palette->jackets * palette->jackets;
    if (stripes % palette->jackets != 0)
        return err_set(err, ERR_USAGE, "--stripes %d: not a multiple of the %d jacket candies; use %d",
                       stripes, palette->jackets, (stripes / palette->jackets + 1) * palette->jackets);
    palette->stripes = palette->jackets == 1 ? 1 : stripes; /* stripes of one candy are one sheet */
    return true;
}

/* What touching inks lack of being apart, by their borders. */
static double lacking_of(const Assignment *a, const int of_ink[INKS_MAX]) {
    double sum = 0;
    for (int i = 0; i < a->inks; i++)
        for (int j = 0; j < i; j++)
            sum += a->border[i][j] * fmax(0, a->apart[i][j] - a->between[of_ink[i]][of_ink[j]]);
    return sum;
}

/* 1, 2: and whether the wishes can be kept. */
static bool take_order(Matching *m, Err *err) {
    for (int i = 0; i < INKS_MAX; i++) m->problem.fixed[i] = -1;
    if (!take_wishes(m, err)) return false;
    int needed = count_batches(m, m->problem.fixed, 0), most = m->order->colours;
    int blends = count_blends(&m->choices);
    if (needed + blends > INKS_MAX)
        return err_set(err, ERR_USAGE, "the wishes take %d candies, a picture holds %d; wish for fewer",
                       needed + blends, INKS_MAX);
    if (needed > most)
        return err_set(err, ERR_USAGE,
                       "the wishes take %d candies, -k allows %d; use -k %d or wish for fewer", needed, most,
                       needed);
    int *field = &m->problem.fixed[m->inks->field], white = white_field(m->inks, &m->choices, &m->barred);
    if (*field < 0 && needed < most) *field = white;
    m->on_white = white >= 0 && *field == white;
    return true;
}

/* The cheapest palette, or with `several` others too. */
static bool match(const InkMap *inks, const Order *order, const Shop *shop, bool several, Palettes *out,
                  Err *err) {
    assert(inks->count >= 1 && inks->count <= INKS_MAX);
    assert(shop->stock.count >= 1 && shop->stock.count <= STOCK_MAX);
    Matching m = {.inks = inks, .order = order, .shop = shop, .problem.beyond = -1};
    choices_list(inks, shop, &m.choices);
    if (!take_order(&m, err)) return false;
    state_problem(&m);
    Answer answer[PALETTES_MAX];
    m.problem.limit = order->colours + count_blends(&m.choices);
    if (m.problem.limit > INKS_MAX) m.problem.limit = INKS_MAX;
    Palettes palettes = {.count = 1};
    if (several)
        palettes.count = cheapest_answers(&m.problem, answer);
    else
        (void)cheapest_candies(&m.problem, answer[0].of_ink);
    for (int i = 0; i < palettes.count; i++) {
        palettes.lacking[i] = lacking_of(&m.problem, answer[i].of_ink);
        fill_palette(&m, answer[i].of_ink, &palettes.palette[i]);
        if (!fill_jacket(&m, &palettes.palette[i], err)) return false;
    }
    const int wanted = count_wanted(&m, &palettes.palette[0]);
    for (int i = 0; i < palettes.count; i++) palettes.palette[i].wanted = wanted;
    *out = palettes;
    return true;
}

bool match_candies(const InkMap *inks, const Order *order, const Shop *shop, Palettes *out, Err *err) {
    return match(inks, order, shop, true, out, err);
}

bool match_candy(const InkMap *inks, const Order *order, const Shop *shop, Palette *out, Err *err) {
    Palettes palettes;
    if (!match(inks, order, shop, false, &palettes, err)) return false;
    *out = palettes.palette[0];
    return true;
}
