/* The logo as a picture by itself, and where on it and on the face the places lie. SPDX-License-Identifier:
 * MIT
 */
#include "draw/draw.h"

#include "draw/canvas.h"

#include <math.h>

/* In shares of a picture of the whole log. As on check.png, where that picture is 720 px wide and a ring is
 * 9 px off what it is about and 44 px wide at least. */
static const double ring_off = 9 / 720.0, ring_least = 44 / 720.0;

bool draw_logo(const Job *job, int most, Image *out, Err *err) {
    const Picture *picture = job->picture;
    const int longer = picture->width > picture->height ? picture->width : picture->height;
    const double scale = longer > most ? (double)most / longer : 1;
    const int width = (int)fmax(1, round(picture->width * scale)),
              height = (int)fmax(1, round(picture->height * scale));
    Canvas canvas;
    canvas_open(&canvas, width, height, 0, (Rgb8){255, 255, 255});
    bool good = canvas_lay(&canvas, picture->rgba, picture->width, picture->height, 0, 0, width, height, err);
    return canvas_close(&canvas, good, out, err);
}

FlawRing flaw_ring(const Job *job, int flaw) {
    const Box box = job->flaws.flaw[flaw].box;
    const double side = job->grid.wanted.side, core = job->cane.core_diameter_mm / job->cane.log_diameter_mm,
                 share = core / side; /* of a sample */
    return (FlawRing){
        {0.5 + (box.x + box.w / 2.0 - side / 2) * share, 0.5 + (box.y + box.h / 2.0 - side / 2) * share},
        fmax(box.w * share + 2 * ring_off, ring_least),
        fmax(box.h * share + 2 * ring_off, ring_least)};
}

Circle log_on_logo(const Job *job) {
    const Frame *frame = &job->grid.frame;
    const double core_px = job->cane.key.steps * frame->px_per_step;
    return (Circle){frame->centre_px.x, frame->centre_px.y,
                    core_px * job->cane.log_diameter_mm / job->cane.core_diameter_mm / 2};
}
