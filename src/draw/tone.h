/* Linear light to sRGB bytes, fast. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_TONE_H
#define LOGOCANE_TONE_H

#include <stdint.h>

enum { TONES = 16384 };

/* The sRGB transfer function by table: never a tenth of a byte off before rounding. */
typedef struct Tone {
    float byte[TONES + 1];
} Tone;

void tone_fill(Tone *tone);

/* The byte of a light, which is clamped to 0..1; plus `bias`, in bytes, before rounding: 0, or for a grain
 * that hides steps. */
uint8_t tone_byte(const Tone *tone, float light, float bias);

#endif
