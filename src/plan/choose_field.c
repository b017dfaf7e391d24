/* Which candy the background has. SPDX-License-Identifier: MIT
 *
 * A logo on transparency or on white is expected on white: then the field is the shop's whitest pulled candy.
 * But for a transparent one of which a main part would be lost: an ink that is nearly white itself and meets
 * the background, or a line between them that is too thin to be built, with most of its border. One that goes
 * round other inks, the edge of a badge, is not missed. A picture that fills its rectangle and lies whole is
 * treated alike. */
#include "plan/plan_parts.h"

#define PAPER_NEAR 5.0 /* CIEDE2000 from white: an opaque background so near is paper; chosen */
#define WHITE_FAR 12.0 /* CIEDE2000 from white: a candy farther off is no white; chosen */
#define LOST_NEAR                                                                                            \
    12.0 /* CIEDE2000 from the white candy: an ink so near is lost on it: white, cream; chosen */
#define MAIN_SHARE 0.03 /* of all but the background: as judge has it, a main part */

static const Rgb8 paper = {255, 255, 255};

static int whitest(const Choices *choices) {
    double least = WHITE_FAR;
    int best = -1;
    for (int c = 0; c < choices->stock; c++) {
        double far = delta_e00(rgb8_lab(paper), rgb8_lab(choices->candy[c].srgb));
        if (choices->candy[c].finish != FINISH_PULLED || far >= least) continue;
        least = far;
        best = c;
    }
    return best;
}

/* Would the ink be lost on the candy? */
static bool is_lost(const InkMap *inks, int ink, Rgb8 candy) {
    const double drawn = 1 - inks->ink[inks->field].share;
    return inks->ink[ink].share >= MAIN_SHARE * drawn && ink_on_field(inks, ink) == ON_FIELD_MISSED &&
           delta_e00(rgb8_lab(inks->ink[ink].srgb), rgb8_lab(candy)) < LOST_NEAR;
}

int white_field(const InkMap *inks, const Choices *choices, int *barred) {
    const Ink *field = &inks->ink[inks->field];
    const int white = whitest(choices);
    *barred = -1;
    if (white < 0 || (inks->full_bleed && !inks->beyond)) return -1;
    if (!field->transparent)
        return delta_e00(rgb8_lab(field->srgb), rgb8_lab(paper)) < PAPER_NEAR ? white : -1;
    for (int i = 0; i < inks->count; i++)
        if (i != inks->field && is_lost(inks, i, choices->candy[white].srgb)) *barred = white;
    return *barred < 0 ? white : -1;
}
