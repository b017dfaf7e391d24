/* Public. The job folder: written beside its place, then exchanged with it. SPDX-License-Identifier: MIT
 *
 *     if (!folder_check("job", ours, force, err)) return false;        (early: nothing is written)
 *     if (!folder_begin("job", ours, &folder, err)) return false;
 *     FILE *f = folder_open(&folder, "ropes.csv", err);
 *     ... folder_close(&folder, f, "ropes.csv", err) ...
 *     folder_commit(&folder, ours, force, err)   or, if anything failed,   folder_abandon(&folder, ours)
 *
 * `ours` names the files a job writes, NULL after the last. All or nothing: whatever fails, the folder that
 * was there stays as it was. No symbolic link is followed, but in the folders that lead to DIR. */
#ifndef LOGOCANE_FOLDER_H
#define LOGOCANE_FOLDER_H

#include "base/err.h"

#include <signal.h>
#include <stdio.h>
#include <sys/types.h>

/* Flushes and closes a file that was written, whatever happens. Writers ignore what each call says: all that
 * went wrong shows here. Fails with ERR_SYSTEM, naming `name` and the cause (a full disk). That the reader of
 * a pipe has left (`| head`) is no failure. */
bool file_close(FILE *f, const char *name, Err *err) MUST_CHECK;

/* Did a write to `f` fail since it is a pipe whose reader has left? For what would otherwise be written in
 * vain. */
bool file_reader_left(FILE *f);

typedef struct Folder {
    const char *dir;  /* as typed, for messages; the caller's */
    char base[256];   /* its last name */
    char fresh[300];  /* the new folder's, beside it */
    int parent;       /* descriptor of the folder that holds both */
    int at;           /* descriptor of the new folder, which it holds locked */
    mode_t mode;      /* that the new folder gets in the end */
    sigset_t signals; /* that were held back before; the mask to go back to */
} Folder;

/* May a job be written to `dir`? Yes if nothing is there but its parent, if it is an empty folder, or, with
 * force, a folder that holds no more than plain files named in `ours`, all of which can be removed. Else
 * ERR_USAGE, which says why not. */
bool folder_check(const char *dir, const char *const ours[], bool force, Err *err) MUST_CHECK;

/* Makes the new folder beside `dir`, DIR.unfinished-logocane, and locks it: while a run has it, others are
 * told so (ERR_USAGE). What a killed run left there is removed, if it holds no more than files named in
 * `ours`; else ERR_USAGE, as with no parent or no such name. ERR_SYSTEM if it cannot be made. SIGINT, SIGTERM
 * and SIGHUP wait from here on until the folder is committed or abandoned. */
bool folder_begin(const char *dir, const char *const ours[], Folder *out, Err *err) MUST_CHECK;

/* Opens a new file in it for writing; NULL and ERR_SYSTEM if that fails or a signal waits. */
FILE *folder_open(const Folder *folder, const char *name, Err *err) MUST_CHECK;

/* Brings the file to the disk and closes it, whatever happens. ERR_SYSTEM as file_close. */
bool folder_close(const Folder *folder, FILE *file, const char *name, Err *err) MUST_CHECK;

/* Checks once more, gives the new folder the rights of the one at DIR, exchanges the new folder with what is
 * at DIR and removes that. On failure, and if a signal waits, the new folder is removed and DIR is as before.
 * Frees the folder either way; a signal that waited then ends the process. */
bool folder_commit(Folder *folder, const char *const ours[], bool force, Err *err) MUST_CHECK;

/* Removes the new folder and frees. */
void folder_abandon(Folder *folder, const char *const ours[]);

#endif
