/* Public. The flat colours of a logo. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_FIND_INKS_H
#define LOGOCANE_FIND_INKS_H

#include "base/err.h"
#include "model/ink.h"
#include "model/picture.h"

/* Finds the inks of the picture and the ink of each pixel, the field, the foreground's circle, the roundel
 * and the shaded share. Fails with ERR_MEMORY only; *out is then untouched. Free with inkmap_free. */
bool find_inks(const Picture *picture, InkMap *out, Err *err) MUST_CHECK;

#endif
