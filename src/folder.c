/* The job folder. SPDX-License-Identifier: MIT */
#include "folder.h"

#include "file.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Opens the folder that holds `dir` and copies dir's last name; slashes at its end do not count. -1 and
 * ERR_USAGE. */
static int open_parent(const char *dir, char base[256], Err *err) {
    char parent[4096];
    size_t end = strlen(dir);
    while (end > 0 && dir[end - 1] == '/') end--;
    size_t start = end;
    while (start > 0 && dir[start - 1] != '/') start--;
    const char *name = dir + start;
    size_t length = end - start;
    bool dots = (length == 1 && name[0] == '.') || (length == 2 && name[0] == '.' && name[1] == '.');
    if (length == 0 || dots) {
        (void)err_set(err, ERR_USAGE, "%s: a job needs a folder with a name of its own; write -o NAME", dir);
        return -1;
    }
    if (length > 255 || start >= sizeof parent) {
        (void)err_set(err, ERR_USAGE, "%.80s...: the name is too long; choose a shorter one", dir);
        return -1;
    }
    memcpy(base, name, length);
    base[length] = 0;
    memcpy(parent, start ? dir : ".", start ? start : 1);
    parent[start ? start : 1] = 0;
    int at = open(parent, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (at < 0)
        (void)err_set(err, ERR_USAGE, "%s: the folder it would be in cannot be opened (%s); make it first",
                      dir, strerror(errno));
    return at;
}

static bool among(const char *name, const char *const list[]) {
    while (*list && strcmp(*list, name) != 0) list++;
    return *list != NULL;
}

/* Counts the files in the folder at `at`; ERR_USAGE on the first that is not ours. */
static bool count_ours(int at, const char *dir, const char *const ours[], int *count, Err *err) {
    DIR *stream = fdopendir(at);
    if (!stream) {
        (void)close(at);
        return err_set(err, ERR_SYSTEM, "%s: cannot be read (%s)", dir, strerror(errno));
    }
    bool good = true;
    *count = 0;
    for (struct dirent *entry; good && (entry = readdir(stream));) {
        if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0) continue;
        struct stat status;
        (*count)++;
        if (!among(entry->d_name, ours) || fstatat(at, entry->d_name, &status, AT_SYMLINK_NOFOLLOW) != 0 ||
            !S_ISREG(status.st_mode))
            good = err_set(err, ERR_USAGE, "%s: holds %.80s, which is not of a job; choose another folder",
                           dir, entry->d_name);
    }
    (void)closedir(stream);
    return good;
}

/* Is the place `base` in `parent` free for a job? *there says whether a folder has to give way. */
static bool check_place(int parent, const char *base, const char *dir, const char *const ours[], bool force,
                        bool *there, Err *err) {
    struct stat status;
    *there = fstatat(parent, base, &status, AT_SYMLINK_NOFOLLOW) == 0;
    if (!*there && errno == ENOENT) return true;
    if (!*there)
        return err_set(err, ERR_USAGE, "%s: cannot be used (%s); choose another name", dir, strerror(errno));
    if (S_ISLNK(status.st_mode))
        return err_set(err, ERR_USAGE, "%s: is a symbolic link; name the folder itself", dir);
    if (!S_ISDIR(status.st_mode))
        return err_set(err, ERR_USAGE, "%s: is a file, not a folder; choose another name", dir);
    int at = openat(parent, base, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC), count = 0;
    if (at < 0)
        return err_set(err, ERR_USAGE, "%s: cannot be read (%s); choose another name", dir, strerror(errno));
    if (!count_ours(at, dir, ours, &count, err)) return false;
    if (count > 0 && !force)
        return err_set(err, ERR_USAGE,
                       "%s: holds an earlier job; add --force to replace it, or choose another folder", dir);
    return true;
}

bool folder_check(const char *dir, const char *const ours[], bool force, Err *err) {
    char base[256];
    bool there;
    int parent = open_parent(dir, base, err);
    if (parent < 0) return false;
    bool good = check_place(parent, base, dir, ours, force, &there, err);
    (void)close(parent);
    return good;
}

bool folder_begin(const char *dir, Folder *out, Err *err) {
    Folder folder = {.dir = dir};
    folder.parent = open_parent(dir, folder.base, err);
    if (folder.parent < 0) return false;
    int made = -1;
    for (int attempt = 0; made != 0 && attempt < 100;
         attempt++) { /* an earlier run may have been killed half-way */
        (void)snprintf(folder.fresh, sizeof folder.fresh, "%s.new-%ld-%d", folder.base, (long)getpid(),
                       attempt);
        made = mkdirat(folder.parent, folder.fresh, 0777);
        if (made != 0 && errno != EEXIST) break;
    }
    folder.at =
        made != 0 ? -1 : openat(folder.parent, folder.fresh, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
    if (folder.at >= 0) {
        *out = folder;
        return true;
    }
    (void)err_set(err, ERR_SYSTEM, "%s: cannot be made (%s); check the rights and the disk's free space", dir,
                  strerror(errno));
    if (made == 0) (void)unlinkat(folder.parent, folder.fresh, AT_REMOVEDIR);
    (void)close(folder.parent);
    return false;
}

FILE *folder_open(const Folder *folder, const char *name, Err *err) {
    int at = openat(folder->at, name, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0666);
    FILE *file = at < 0 ? NULL : fdopen(at, "wb");
    if (file) return file;
    (void)err_set(err, ERR_SYSTEM, "%s/%s: cannot be made (%s)", folder->dir, name, strerror(errno));
    if (at >= 0) (void)close(at);
    return NULL;
}

bool folder_close(const Folder *folder, FILE *file, const char *name, Err *err) {
    char whole[360];
    (void)snprintf(whole, sizeof whole, "%.200s/%s", folder->dir, name);
    if (fflush(file) == 0 && fsync(fileno(file)) != 0)
        (void)err_set(err, ERR_SYSTEM, "%s: could not be written (%s); check the disk's free space", whole,
                      strerror(errno));
    return file_close(file, whole, err) && err->code == ERR_NONE;
}

/* Removes our files from the folder of that name, and the folder. */
static bool remove_folder(int parent, const char *name, const char *const ours[]) {
    int at = openat(parent, name, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
    if (at < 0) return false;
    for (int i = 0; ours[i]; i++) (void)unlinkat(at, ours[i], 0);
    (void)close(at);
    return unlinkat(parent, name, AT_REMOVEDIR) == 0;
}

/* Where two names cannot be exchanged at once: the old one aside, the new one in, and back if that fails. */
static bool exchange_in_two(Folder *folder) {
    char aside[sizeof folder->fresh + 8];
    (void)snprintf(aside, sizeof aside, "%s.old", folder->fresh);
    if (renameat(folder->parent, folder->base, folder->parent, aside) != 0) return false;
    if (renameat(folder->parent, folder->fresh, folder->parent, folder->base) == 0)
        return renameat(folder->parent, aside, folder->parent, folder->fresh) == 0;
    int cause = errno;
    (void)renameat(folder->parent, aside, folder->parent, folder->base);
    errno = cause;
    return false;
}

/* Puts the new folder at its place; what was there then bears the new one's name. */
static bool exchange(Folder *folder, bool there) {
    unsigned how = there ? RENAME_EXCHANGE : RENAME_NOREPLACE;
    if (renameat2(folder->parent, folder->fresh, folder->parent, folder->base, how) == 0) return true;
    if (errno != EINVAL && errno != ENOSYS && errno != ENOTSUP) return false;
    if (there) return exchange_in_two(folder);
    return renameat(folder->parent, folder->fresh, folder->parent, folder->base) == 0;
}

static void folder_free(Folder *folder) {
    (void)close(folder->at);
    (void)close(folder->parent);
    *folder = (Folder){0};
}

bool folder_commit(Folder *folder, const char *const ours[], bool force, Err *err) {
    bool there = false;
    bool good = check_place(folder->parent, folder->base, folder->dir, ours, force, &there, err);
    if (good && (fsync(folder->at) != 0 || !exchange(folder, there)))
        good = err_set(err, ERR_SYSTEM, "%s: could not be put in place (%s)", folder->dir, strerror(errno));
    if (!good) {
        folder_abandon(folder, ours);
        return false;
    }
    if (there && !remove_folder(folder->parent, folder->fresh, ours))
        good = err_set(err, ERR_SYSTEM,
                       "%s: is written, but the job it replaced is still in %s; remove that by hand",
                       folder->dir, folder->fresh);
    (void)fsync(folder->parent);
    folder_free(folder);
    return good;
}

void folder_abandon(Folder *folder, const char *const ours[]) {
    (void)remove_folder(folder->parent, folder->fresh, ours);
    folder_free(folder);
}
