/* What is at the place of a job folder (folder.h): its name, and whether what is there may give way.
 * SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_PLACE_H
#define LOGOCANE_PLACE_H

#include "base/err.h"

/* The new folder's name is DIR's with this behind it: always the same one, so that two runs meet there. */
#define FOLDER_UNFINISHED ".unfinished-logocane"
/* Where the old job is for a moment on file systems that cannot exchange two names at once. */
#define FOLDER_ASIDE ".replaced-logocane"

/* Opens the folder that holds `dir` and copies dir's last name; slashes at its end do not count. -1 and
 * ERR_USAGE if it cannot be opened, or if the name is none, too long or kept for the two above. */
int place_open_parent(const char *dir, char base[256], Err *err) MUST_CHECK;

/* Counts the files in the folder at `at`; ERR_USAGE on the first that is not ours. */
bool place_count_ours(int at, const char *dir, const char *const ours[], int *count, Err *err) MUST_CHECK;

/* Is the place `base` in `parent` free for a job? *there says whether a folder has to give way; then all that
 * is in it is ours and can be removed. Else ERR_USAGE. */
bool place_check(int parent, const char *base, const char *dir, const char *const ours[], bool force,
                 bool *there, Err *err) MUST_CHECK;

#endif
