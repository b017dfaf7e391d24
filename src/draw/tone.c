/* Linear light to sRGB bytes. SPDX-License-Identifier: MIT */
#include "draw/tone.h"

#include "model/colour.h"

void tone_fill(Tone *tone) {
    for (int i = 0; i <= TONES; i++) tone->byte[i] = (float)(255 * linear_to_srgb((double)i / TONES));
}

uint8_t tone_byte(const Tone *tone, float light, float bias) {
    float at = light > 0 ? light < 1 ? light * TONES : TONES : 0;
    float byte = tone->byte[(int)(at + 0.5F)] + bias + 0.5F;
    return (uint8_t)(byte < 0 ? 0 : byte > 255 ? 255 : byte);
}
