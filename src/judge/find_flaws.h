/* Public. Judged parts become numbered flaws. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_FIND_FLAWS_H
#define LOGOCANE_FIND_FLAWS_H

#include "model/job.h"

/* Lists the parts and holes that are not kept or finer than hands lay; specks are left out. Never fails. */
void find_flaws(const Job *job, Flaws *out);

#endif
