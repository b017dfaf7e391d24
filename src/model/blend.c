/* Blends: two pulled candies folded together, streaked. SPDX-License-Identifier: MIT */
#include "model/blend.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

static const double darkest = 1e-4; /* of light: well under the least step of a byte; so K/S is finite */

/* --- how it is written --- */

bool blend_asked(const char *text) {
    return strchr(text, '+') != NULL;
}

/* What a number may hold that is none of ours; a name behind a number that begins like that stands apart. */
static const char number_marks[] = "0123456789.,/-";

static bool begins_with_number(const char *text) {
    if (isdigit((unsigned char)*text)) return true;
    return *text && strchr(number_marks, *text) && isdigit((unsigned char)text[1]);
}

/* "3purple", the text's first `length` bytes; false with an error. */
static bool read_part(const char *text, size_t length, const char *whole, const char *option, char *name,
                      int *parts, Err *err) {
    while (length > 0 && *text == ' ') text++, length--;
    while (length > 0 && text[length - 1] == ' ') length--;
    size_t digits = begins_with_number(text) ? strspn(text, number_marks) : 0;
    if (digits > length) digits = length;
    if (digits > 1 || (digits == 1 && (*text < '1' || *text > '0' + BLEND_PARTS)))
        return err_set(err, ERR_USAGE, "%s '%s': the parts of a candy are a whole number from 1 to %d",
                       option, whole, BLEND_PARTS);
    *parts = digits > 0 ? *text - '0' : 1;
    for (text += digits, length -= digits; length > 0 && *text == ' ';) text++, length--;
    if (length == 0)
        return err_set(err, ERR_USAGE, "%s '%s': a candy is missing beside the +; write for example %s",
                       option, whole, "purple+2white");
    (void)snprintf(name, CANDY_NAME, "%.*s", (int)length, text);
    return true;
}

static int common_factor(int a, int b) {
    return b == 0 ? a : common_factor(b, a % b);
}

bool blend_read(const char *text, const char *option, BlendWish *out, Err *err) {
    const char *plus = strchr(text, '+');
    BlendWish wish;
    if (!plus || strchr(plus + 1, '+'))
        return err_set(err, ERR_USAGE, "%s '%s': a blend is of two candies; leave the others out", option,
                       text);
    if (!read_part(text, (size_t)(plus - text), text, option, wish.name[0], &wish.parts[0], err) ||
        !read_part(plus + 1, strlen(plus + 1), text, option, wish.name[1], &wish.parts[1], err))
        return false;
    int factor = common_factor(wish.parts[0], wish.parts[1]);
    for (int i = 0; i < BLEND; i++) wish.parts[i] /= factor;
    *out = wish;
    return true;
}

/* "2white", "white", "1 7 herbs". */
static void print_part(const char *name, int parts, char out[CANDY_NAME + 4]) {
    bool apart = strchr(number_marks, name[0]) != NULL;
    char number[4] = "";
    if (parts > 1 || apart) (void)snprintf(number, sizeof number, "%d%s", parts, apart ? " " : "");
    (void)snprintf(out, CANDY_NAME + 4, "%s%s", number, name);
}

/* --- what it is --- */

static double absorbed(double light) {
    double r = fmax(light, darkest);
    return (1 - r) * (1 - r) / (2 * r);
}

/* 1 + q - sqrt(q q + 2 q), without the difference of two large numbers. */
static double sent_back(double q) {
    return 1 / (1 + q + sqrt(q * q + 2 * q));
}

static double mixed(double first, double second, double share) {
    return sent_back((1 - share) * absorbed(first) + share * absorbed(second));
}

Linear blend_light(Linear first, Linear second, double share) {
    return (Linear){mixed(first.r, second.r, share), mixed(first.g, second.g, share),
                    mixed(first.b, second.b, share)};
}

double blend_mass_share(const Candy *blend, int which) {
    int all = blend->blend[0].parts + blend->blend[1].parts;
    return (double)blend->blend[which].parts / all;
}

/* Volumes add up. */
double blend_volume_share(const Candy *blend, int which) {
    return blend_mass_share(blend, which) * blend->density_g_ml / blend->blend[which].density_g_ml;
}

Candy blend_candy(const Candy *blend, int which) {
    const BlendPart *part = &blend->blend[which];
    Candy candy = {.finish = FINISH_PULLED,
                   .srgb = part->srgb,
                   .density_g_ml = part->density_g_ml,
                   .dye_share = part->dye_share};
    memcpy(candy.name, part->name, sizeof candy.name);
    return candy;
}

static bool same_part(const BlendPart *p, const BlendPart *q) {
    return p->parts == q->parts && strcmp(p->name, q->name) == 0;
}

bool blend_same(const Candy *a, const Candy *b) {
    if (!candy_is_blend(a) || !candy_is_blend(b)) return false;
    for (int i = 0; i < BLEND; i++)
        if (same_part(&a->blend[0], &b->blend[i]) && same_part(&a->blend[1], &b->blend[1 - i])) return true;
    return false;
}

static void fill_part(const Candy *of, int parts, BlendPart *out) {
    *out = (BlendPart){
        .srgb = of->srgb, .density_g_ml = of->density_g_ml, .dye_share = of->dye_share, .parts = parts};
    memcpy(out->name, of->name, sizeof out->name);
}

static bool fill_name(const char *text, const char *option, Candy *blend, Err *err) {
    char part[BLEND][CANDY_NAME + 4], name[2 * sizeof part[0]];
    for (int i = 0; i < BLEND; i++) print_part(blend->blend[i].name, blend->blend[i].parts, part[i]);
    (void)snprintf(name, sizeof name, "%s+%s", part[0], part[1]);
    if (strlen(name) >= sizeof blend->name)
        return err_set(err, ERR_USAGE,
                       "%s '%s': the names of both candies together are over %d bytes long; shorten them in "
                       "the shop file",
                       option, text, CANDY_NAME - 1);
    memcpy(blend->name, name, strlen(name) + 1);
    return true;
}

bool blend_make(const Candy *const of[BLEND], const int parts[BLEND], const char *text, const char *option,
                Candy *out, Err *err) {
    Candy blend = {.finish = FINISH_PULLED};
    for (int i = 0; i < BLEND; i++) {
        if (of[i]->finish == FINISH_CLEAR)
            return err_set(err, ERR_USAGE, "%s '%s': %s is clear; a blend is of two pulled candies", option,
                           text, of[i]->name);
        fill_part(of[i], parts[i], &blend.blend[i]);
    }
    if (strcmp(of[0]->name, of[1]->name) == 0)
        return err_set(err, ERR_USAGE, "%s '%s': that is %s twice; write %s, or name two candies", option,
                       text, of[0]->name, of[0]->name);
    double second = blend_mass_share(&blend, 1);
    blend.srgb = linear_rgb8(blend_light(rgb8_linear(of[0]->srgb), rgb8_linear(of[1]->srgb), second));
    blend.density_g_ml = 1 / ((1 - second) / of[0]->density_g_ml + second / of[1]->density_g_ml);
    if (!fill_name(text, option, &blend, err)) return false;
    *out = blend;
    return true;
}
