/* A photograph of scattered pieces. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_SCENE_H
#define LOGOCANE_SCENE_H

#include "model/image.h"
#include "draw/scatter.h"
#include "draw/piece_surface.h"

/* Where the pieces are to be in the image, px. */
typedef struct SceneFrame {
    int width, height;               /* of the image: the table fills it */
    double left, top, right, bottom; /* where the pieces lie */
    int threads;                     /* 0: as many as there are processors */
} SceneFrame;

/* Depth over width of the part of the table that fills the frame: for `scatter`. */
double scene_aspect(const SceneFrame *frame);

/* Renders; opaque. Pixels do not depend on the number of threads. Fails with ERR_MEMORY only; *out is then
 * untouched. */
bool scene_render(const Scatter *scatter, const PieceSurface *surface, const SceneFrame *frame, Image *out,
                  Err *err) MUST_CHECK;

#endif
