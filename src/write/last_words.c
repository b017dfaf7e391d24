/* What is still done where a library ends the run. SPDX-License-Identifier: MIT
 *
 * Pango has threads made by GLib, and GLib aborts where it gets none. There is no way back from there, so
 * this is the one place beside main that prints and ends the program. Other threads may be drawing meanwhile:
 * once the folder is removed they can open no file in it. */
#include "write/last_words.h"

#include <stdio.h>
#include <unistd.h>

static void say(void *user) {
    LastWords *last = user;
    if (atomic_flag_test_and_set(&last->said))
        for (;;) (void)pause(); /* the first ends us all */
    folder_abandon(last->folder, last->ours);
    (void)fputs(
        "logocane: out of memory (for the libraries that draw text); close other programs, or raise the "
        "limit (ulimit -v)\n",
        stderr);
    _exit(err_status(ERR_MEMORY));
}

void last_words_begin(LastWords *last, Folder *folder, const char *const ours[]) {
    last->folder = folder;
    last->ours = ours;
    last->call = (LastCall){say, last};
    atomic_flag_clear(&last->said);
    draw_before_end(&last->call);
}

void last_words_end(void) {
    draw_before_end(NULL);
}
