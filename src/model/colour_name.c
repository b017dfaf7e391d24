/* Plain English names of colours. SPDX-License-Identifier: MIT
 *
 * The eleven basic terms of English (Berlin & Kay, "Basic Color Terms", 1969), light, dark, pale and bright
 * ones, those between two, and a few everyday words more (teal, turquoise, olive, tan, beige, gold, maroon,
 * navy). What each looks like is the middle of what some 200 000 people called so in a survey on their own
 * screens: Randall Munroe, "Color Survey Results", 2010; public domain (CC0). The values are as Debian 12
 * packages them (python3-matplotlib 3.6.3); which of the survey's 949 names are here is our choice. */
#include "model/colour_name.h"

#include "model/far_colour.h"

#include <string.h>

static const struct {
    const char *name;
    unsigned code; /* 0xRRGGBB */
} known[COLOUR_NAMES] = {
    {"white", 0xFFFFFF},
    {"light grey", 0xD8DCD6},
    {"grey", 0x929591},
    {"medium grey", 0x7D7F7C},
    {"dark grey", 0x363737},
    {"black", 0x000000},
    {"blue grey", 0x607C8E},
    {"light blue grey", 0xB7C9E2},
    {"dark blue grey", 0x1F3B4D},
    {"greenish grey", 0x96AE8D},
    {"brownish grey", 0x86775F},
    {"purplish grey", 0x7A687F},
    {"pinkish grey", 0xC8ACA9},
    {"red", 0xE50000},
    {"light red", 0xFF474C},
    {"bright red", 0xFF000D},
    {"dark red", 0x840000},
    {"reddish orange", 0xF8481C},
    {"reddish brown", 0x7F2B0A},
    {"purplish red", 0xB0054B},
    {"pinkish red", 0xF10C45},
    {"brownish red", 0x9E3623},
    {"maroon", 0x650021},
    {"pink", 0xFF81C0},
    {"light pink", 0xFFD1DF},
    {"bright pink", 0xFE01B1},
    {"dark pink", 0xCB416B},
    {"pale pink", 0xFFCFDC},
    {"purplish pink", 0xCE5DAE},
    {"orange pink", 0xFF6F52},
    {"brownish pink", 0xC27E79},
    {"greyish pink", 0xC88D94},
    {"reddish pink", 0xFE2C54},
    {"orange", 0xF97306},
    {"light orange", 0xFDAA48},
    {"bright orange", 0xFF5B00},
    {"dark orange", 0xC65102},
    {"yellowish orange", 0xFFAB0F},
    {"brownish orange", 0xCB7723},
    {"orangish brown", 0xB25F03},
    {"yellow", 0xFFFF14},
    {"light yellow", 0xFFFE7A},
    {"bright yellow", 0xFFFD01},
    {"dark yellow", 0xD5B60A},
    {"pale yellow", 0xFFFF84},
    {"greenish yellow", 0xCDFD02},
    {"gold", 0xDBB40C},
    {"beige", 0xE6DAA6},
    {"tan", 0xD1B26F},
    {"dark tan", 0xAF884A},
    {"green", 0x15B01A},
    {"light green", 0x96F97B},
    {"bright green", 0x01FF07},
    {"dark green", 0x033500},
    {"pale green", 0xC7FDB5},
    {"yellowish green", 0xB0DD16},
    {"light yellow green", 0xCCFD7F},
    {"greyish green", 0x82A67D},
    {"bluish green", 0x10A674},
    {"light blue green", 0x7EFBB3},
    {"dark blue green", 0x005249},
    {"olive", 0x6E750E},
    {"light olive", 0xACBF69},
    {"dark olive", 0x373E02},
    {"teal", 0x029386},
    {"light teal", 0x90E4C1},
    {"dark teal", 0x014D4E},
    {"pale teal", 0x82CBB2},
    {"turquoise", 0x06C2AC},
    {"light turquoise", 0x7EF4CC},
    {"blue", 0x0343DF},
    {"light blue", 0x95D0FC},
    {"medium blue", 0x2C6FBB},
    {"dark blue", 0x00035B},
    {"pale blue", 0xD0FEFE},
    {"bright blue", 0x0165FC},
    {"greyish blue", 0x5E819D},
    {"light grey blue", 0x9DBCD4},
    {"dark grey blue", 0x29465B},
    {"purplish blue", 0x601EF9},
    {"navy", 0x01153E},
    {"purple", 0x7E1E9C},
    {"light purple", 0xBF77F6},
    {"bright purple", 0xBE03FD},
    {"dark purple", 0x35063E},
    {"pale purple", 0xB790D4},
    {"greyish purple", 0x887191},
    {"bluish purple", 0x703BE7},
    {"pinkish purple", 0xD648D7},
    {"reddish purple", 0x910951},
    {"brown", 0x653700},
    {"light brown", 0xAD8150},
    {"medium brown", 0x7F5112},
    {"dark brown", 0x341C02},
    {"pale brown", 0xB1916E},
    {"greyish brown", 0x7A6A4F},
    {"yellowish brown", 0x9B7A01},
    {"purplish brown", 0x6B4247},
    {"pinkish brown", 0xB17261},
};

static double distance(Rgb8 colour, int i) {
    unsigned code = known[i].code;
    return colour_cost(colour, (Rgb8){(uint8_t)(code >> 16), (uint8_t)(code >> 8), (uint8_t)code});
}

void colour_names(Rgb8 colour, const char *out[COLOUR_NAMES]) {
    double far[COLOUR_NAMES];
    for (int i = 0; i < COLOUR_NAMES; i++) {
        double here = distance(colour, i);
        int at = i;
        for (; at > 0 && far[at - 1] > here; at--) {
            far[at] = far[at - 1];
            out[at] = out[at - 1];
        }
        far[at] = here;
        out[at] = known[i].name;
    }
}

bool colour_name_known(const char *name) {
    for (int i = 0; i < COLOUR_NAMES; i++)
        if (strcmp(known[i].name, name) == 0) return true;
    return false;
}
