/* What is still done where a library ends the run. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_LAST_WORDS_H
#define LOGOCANE_LAST_WORDS_H

#include "base/folder.h"
#include "draw/draw.h"

#include <stdatomic.h>

typedef struct LastWords {
    Folder *folder;          /* that is being written; not owned */
    const char *const *ours; /* as for folder_abandon; not owned */
    LastCall call;           /* by last_words_begin */
    atomic_flag said;        /* another thread is about it */
} LastWords;

/* From here to last_words_end, where GLib ends the program since no memory or no thread is to be had, the
 * folder is abandoned, one line is printed, and the status is 3. One at a time; it must not be moved. */
void last_words_begin(LastWords *last, Folder *folder, const char *const ours[]);
void last_words_end(void);

#endif
