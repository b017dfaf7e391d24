/* A picture cropped to its logo, where that is small in a wide margin. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_CROP_TO_LOGO_H
#define LOGOCANE_CROP_TO_LOGO_H

#include "base/err.h"
#include "model/ink.h"
#include "model/picture.h"

/* The smallest box round all that is not plain field, px; w = 0 if there is nothing. */
Box crop_box(const Picture *picture, const InkMap *map);

/* The part of the picture that holds all that is not plain field, with a margin of field round it; px. True
 * if it is at most half of the picture: there an ink can be small in the picture and not in the logo. False
 * for pictures that are full-bleed or of one colour. */
bool crop_find(const Picture *picture, const InkMap *map, Box *part);

/* A copy of the part. Fails with ERR_MEMORY; free it with picture_free. */
bool crop_take(const Picture *picture, Box part, Picture *out, Err *err) MUST_CHECK;

/* Brings the inks of a part back to the picture it was cut from: the rest is field. Fails with ERR_MEMORY. */
bool crop_undo(const Picture *picture, Box part, InkMap *map, Err *err) MUST_CHECK;

#endif
