/* Public. Blends: two pulled candies folded together, streaked. SPDX-License-Identifier: MIT
 *
 * A blend is a further colour without a batch of its own: so many parts by mass of each of two candies that
 * are cooked. Its name tells both, "purple+white", "purple+2white": the number before a candy's name is its
 * parts, 1 if left out, but written before a name that begins with a digit ("1 7 herbs+white"). */
#ifndef LOGOCANE_BLEND_H
#define LOGOCANE_BLEND_H

#include "base/err.h"
#include "model/candy.h"

/* A blend as it is asked for. Filled by blend_read. */
typedef struct BlendWish {
    char name[BLEND][CANDY_NAME]; /* as written, maybe only the start of a candy's name */
    int parts[BLEND];             /* 1..BLEND_PARTS, without a common factor */
} BlendWish;

/* Does the text, where a candy's name is expected, ask for a blend? No candy's name holds a plus sign. */
bool blend_asked(const char *text);

/* Reads "purple+2white". Fails with ERR_USAGE on more than two candies, a name that is missing, and parts
 * that are no whole number from 1 to BLEND_PARTS; `option` and the text are named. */
bool blend_read(const char *text, const char *option, BlendWish *out, Err *err) MUST_CHECK;

/* The blend of two candies of the stock: pulled, of their mean colour and density. Fails with ERR_USAGE if
 * one is clear, if both are the same, and if the name would be too long; `option` and the text are named. */
bool blend_make(const Candy *const of[BLEND], const int parts[BLEND], const char *text, const char *option,
                Candy *out, Err *err) MUST_CHECK;

static inline bool candy_is_blend(const Candy *candy) {
    return candy->blend[0].parts > 0;
}

/* Are both blends of the same candies and parts, in whatever order? */
bool blend_same(const Candy *a, const Candy *b);

/* One of the two candies of a blend, as the stock has it. */
Candy blend_candy(const Candy *blend, int which);

/* Its share of the blend's mass, and of its volume. */
double blend_mass_share(const Candy *blend, int which);
double blend_volume_share(const Candy *blend, int which);

/* The light that an even mixture of two candies sends back, `share` of the second by mass, 0..1: by the
 * theory of Kubelka & Munk (Z. techn. Physik 12 (1931) 593-601) with a single constant, channel by channel in
 * linear light. Of a thick layer that sends back R, absorption / scattering is K/S = (1 - R)^2 / 2R; the K/S
 * of a mixture is the mean of its parts' by their share, if both scatter alike, as air in pulled candy does.
 * R under 1/10000 counts as that. */
Linear blend_light(Linear first, Linear second, double share);

#endif
