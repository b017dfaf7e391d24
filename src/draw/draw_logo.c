/* The logo as a picture by itself, and where on it and on the face the places lie. SPDX-License-Identifier:
 * MIT
 */
#include "draw/draw.h"

#include "draw/canvas.h"

#include <math.h>

/* In shares of a picture of the whole log. As on check.png, where that picture is 720 px wide and a ring is
 * 9 px off what it is about and 44 px wide at least. */
static const double ring_off = 9 / 720.0, ring_least = 44 / 720.0;

/* White and black are both seen on it. */
static const Rgb8 lighter = {214, 214, 214}, darker = {190, 190, 190};

enum { SQUARES = 24 }; /* along the longer side */

LogoGround logo_ground(const Job *job) {
    const Picture *picture = job->picture;
    const size_t count = (size_t)picture->width * (size_t)picture->height;
    size_t at = 0;
    int ink = 0;
    while (at < count && picture->rgba[4 * at + 3] == 255) at++;
    while (ink < job->inks->count && !job->inks->ink[ink].transparent) ink++;
    LogoGround ground = {.clear = at < count};
    if (ground.clear && ink < job->inks->count) ground.candy = &job->palette.candy[job->palette.of_ink[ink]];
    return ground;
}

static void lay_chequer(cairo_t *cr, int width, int height) {
    const double side = fmax(1, (width > height ? width : height) / (double)SQUARES);
    canvas_ink(cr, darker, 1);
    for (int row = 0; row * side < height; row++)
        for (int column = row % 2; column * side < width; column += 2)
            cairo_rectangle(cr, column * side, row * side, side, side);
    cairo_fill(cr);
}

bool draw_logo(const Job *job, int most, Image *out, Err *err) {
    const Picture *picture = job->picture;
    const int longer = picture->width > picture->height ? picture->width : picture->height;
    const double scale = longer > most ? (double)most / longer : 1;
    const int width = (int)fmax(1, round(picture->width * scale)),
              height = (int)fmax(1, round(picture->height * scale));
    const LogoGround ground = logo_ground(job);
    Canvas canvas;
    canvas_open(&canvas, width, height, 0, ground.candy ? ground.candy->srgb : lighter);
    if (ground.clear && !ground.candy) lay_chequer(canvas.cr, width, height);
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
