/* Face -> image: the softened cut in its jacket. SPDX-License-Identifier: MIT
 *
 * The cut is painted as light (cut_end.h); here it becomes bytes with straight alpha. */
#include "draw/draw.h"

#include "draw/cut_end.h"
#include "draw/tone.h"

bool draw_face(const Job *job, int side, Image *out, Err *err) {
    Image image = {0};
    CutEnd cut;
    if (!cut_end_paint(job, side, CUT_LIT, &cut, err)) return false;
    bool good = image_new(side, side, side / job->order.piece_diameter_mm, &image, err);
    Tone tone;
    tone_fill(&tone);
    size_t count = good ? (size_t)side * (size_t)side : 0;
    for (size_t i = 0; i < count; i++) {
        const float *from = cut.rgba + 4 * i;
        uint8_t *to = image.rgba + 4 * i;
        if (from[3] <= 0) continue;
        for (int c = 0; c < 3; c++) to[c] = tone_byte(&tone, from[c] / from[3], 0);
        to[3] = (uint8_t)(255 * from[3] + 0.5F);
    }
    cut_end_free(&cut);
    if (good) *out = image;
    return good;
}
