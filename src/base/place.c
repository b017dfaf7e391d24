/* What is at the place of a job folder. SPDX-License-Identifier: MIT */
#include "base/place.h"

#include "base/text.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdint.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static bool ends_with(const char *name, size_t length, const char *tail) {
    return length >= strlen(tail) && memcmp(name + length - strlen(tail), tail, strlen(tail)) == 0;
}

int place_open_parent(const char *dir, char base[256], Err *err) {
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
    if (length + sizeof FOLDER_UNFINISHED > 256 || start >= sizeof parent) {
        (void)err_set(err, ERR_USAGE, "%.80s...: the name is too long; choose a shorter one", dir);
        return -1;
    }
    if (ends_with(name, length, FOLDER_UNFINISHED) || ends_with(name, length, FOLDER_ASIDE)) {
        (void)err_set(err, ERR_USAGE, "%.255s: such a name is kept for jobs half written; choose another",
                      dir);
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

bool place_count_ours(int at, const char *dir, const char *const ours[], int *count, Err *err) {
    int again = openat(at, ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    DIR *stream = again < 0 ? NULL : fdopendir(again);
    if (!stream) {
        (void)err_set(err, ERR_SYSTEM, "%s: cannot be read (%s)", dir, strerror(errno));
        if (again >= 0) (void)close(again);
        return false;
    }
    bool good = true;
    *count = 0;
    for (struct dirent *entry; good && (entry = readdir(stream));) {
        if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0) continue;
        struct stat status;
        bool known = fstatat(at, entry->d_name, &status, AT_SYMLINK_NOFOLLOW) == 0;
        if (!known && errno == ENOENT) continue; /* another run just removes its old job */
        (*count)++;
        if (!known || !text_among(entry->d_name, ours) || !S_ISREG(status.st_mode))
            good = err_set(err, ERR_USAGE, "%s: holds %.80s, which is not of a job; choose another folder",
                           dir, entry->d_name);
    }
    (void)closedir(stream);
    return good;
}

/* --- can an old job be removed? --- */

/* In a folder with the sticky bit only its owner and a file's own may remove the file. */
static bool is_stuck(const struct stat *folder, const struct stat *file) {
    uid_t me = geteuid();
    return (folder->st_mode & S_ISVTX) && me != 0 && folder->st_uid != me && file->st_uid != me;
}

/* Is the file (of path "": what is open at `at`) marked as one that nobody may change? */
static bool is_fixed(int at, const char *path) {
    struct statx about;
    const uint64_t marks = STATX_ATTR_IMMUTABLE | STATX_ATTR_APPEND;
    return statx(at, path, AT_EMPTY_PATH | AT_SYMLINK_NOFOLLOW, 0, &about) == 0 &&
           (about.stx_attributes & marks);
}

/* The first of the files that could not be removed from the folder at `at`, "" the folder itself, NULL none;
 * *cause is what the system would say. */
static const char *find_kept(int parent, int at, const char *const ours[], int *cause) {
    struct stat above, here, file;
    *cause = EPERM;
    if (fstat(parent, &above) == 0 && fstat(at, &here) == 0 && (is_stuck(&above, &here) || is_fixed(at, "")))
        return "";
    for (int i = 0; ours[i]; i++) {
        if (fstatat(at, ours[i], &file, AT_SYMLINK_NOFOLLOW) != 0) continue;
        if (is_stuck(&here, &file) || is_fixed(at, ours[i])) return ours[i];
        if (faccessat(at, ".", W_OK | X_OK, AT_EACCESS) == 0) continue;
        *cause = errno;
        return ours[i];
    }
    return NULL;
}

static bool check_removable(int parent, int at, const char *dir, const char *const ours[], Err *err) {
    int cause;
    const char *kept = find_kept(parent, at, ours, &cause);
    return !kept || err_set(err, ERR_USAGE, "%s: %s in it cannot be removed (%s); choose another folder", dir,
                            kept[0] ? kept : "what is", strerror(cause));
}

bool place_check(int parent, const char *base, const char *dir, const char *const ours[], bool force,
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
    bool good = place_count_ours(at, dir, ours, &count, err);
    if (good && count > 0 && !force)
        good = err_set(err, ERR_USAGE,
                       "%s: holds an earlier job; add --force to replace it, or choose another folder", dir);
    good = good && check_removable(parent, at, dir, ours, err);
    (void)close(at);
    return good;
}
