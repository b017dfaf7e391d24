/* Public. Judged parts -> numbered places. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_MARK_PLACES_H
#define LOGOCANE_MARK_PLACES_H

#include "model/job.h"

/* Lists the parts and holes that are not kept or finer than hands lay; specks are left out. Never fails. */
void mark_places(const Job *job, Places *out);

#endif
