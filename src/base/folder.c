/* The job folder. SPDX-License-Identifier: MIT */
#include "base/folder.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <pthread.h>
#include <signal.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

static const char *what_to_do(int cause) {
    return cause == EBADF ? "it is closed; open it, or add -q" : "check the disk's free space";
}

bool file_reader_left(FILE *f) {
    struct pollfd end = {.fd = fileno(f), .events = POLLOUT};
    return ferror(f) && poll(&end, 1, 0) == 1 && (end.revents & POLLERR);
}

bool file_close(FILE *f, const char *name, Err *err) {
    errno = 0;
    bool written = fflush(f) == 0 && !ferror(f);
    int cause = errno;
    if (!written && file_reader_left(f)) { /* what it has read was all it wanted */
        (void)fclose(f);
        return true;
    }
    if (fclose(f) != 0 && written) {
        written = false;
        cause = errno;
    }
    if (written) return true;
    return err_set(err, ERR_SYSTEM, "%s: could not be written (%s); %s", name,
                   cause ? strerror(cause) : "a write failed", what_to_do(cause));
}

/* The new folder's name is DIR's with this behind it: always the same one, so that two runs meet there. */
static const char unfinished[] = ".unfinished-logocane";
/* Where the old job is for a moment on file systems that cannot exchange two names at once. */
static const char aside[] = ".replaced-logocane";

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
    size_t tail = sizeof unfinished - 1;
    bool dots = (length == 1 && name[0] == '.') || (length == 2 && name[0] == '.' && name[1] == '.');
    if (length == 0 || dots) {
        (void)err_set(err, ERR_USAGE, "%s: a job needs a folder with a name of its own; write -o NAME", dir);
        return -1;
    }
    if (length + sizeof unfinished > 256 || start >= sizeof parent) {
        (void)err_set(err, ERR_USAGE, "%.80s...: the name is too long; choose a shorter one", dir);
        return -1;
    }
    if (length >= tail && memcmp(name + length - tail, unfinished, tail) == 0) {
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
        bool known = fstatat(at, entry->d_name, &status, AT_SYMLINK_NOFOLLOW) == 0;
        if (!known && errno == ENOENT) continue; /* another run just removes its old job */
        (*count)++;
        if (!known || !among(entry->d_name, ours) || !S_ISREG(status.st_mode))
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

/* Removes our files from the folder at `at`. */
static void remove_ours(int at, const char *const ours[]) {
    for (int i = 0; ours[i]; i++) (void)unlinkat(at, ours[i], 0);
}

static int open_in(int parent, const char *name) {
    return openat(parent, name, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
}

/* Removes our files from the folder of that name, and the folder. */
static bool remove_folder(int parent, const char *name, const char *const ours[]) {
    int at = open_in(parent, name);
    if (at < 0) return false;
    remove_ours(at, ours);
    (void)close(at);
    return unlinkat(parent, name, AT_REMOVEDIR) == 0;
}

/* --- the new folder ---
 *
 * Whoever holds the lock of the folder that bears the new one's name is writing. The kernel drops it with the
 * process, however that ends; so an unlocked one was left by a killed run, and is removed. */

typedef enum Lock { LOCKED, TAKEN, NO_LOCKS } Lock;

static Lock lock_folder(int at) {
    if (flock(at, LOCK_EX | LOCK_NB) == 0) return LOCKED;
    return errno == EWOULDBLOCK ? TAKEN : NO_LOCKS; /* some network file systems have none */
}

/* Is the folder at `at` still the one of that name? */
static bool same_folder(int at, int parent, const char *name) {
    struct stat here, there;
    return fstat(at, &here) == 0 && fstatat(parent, name, &there, AT_SYMLINK_NOFOLLOW) == 0 &&
           here.st_dev == there.st_dev && here.st_ino == there.st_ino;
}

static bool in_the_way(const Folder *folder, const char *why, Err *err) {
    return err_set(err, ERR_USAGE, "%s: %s, beside it, is in the way (%s); move it away", folder->dir,
                   folder->fresh, why);
}

/* Removes what a killed run left; its lock is ours. */
static bool remove_leftover(const Folder *folder, const char *const ours[], Err *err) {
    int count, inside = open_in(folder->at, ".");
    Err foreign = {0};
    if (inside < 0 || !count_ours(inside, folder->fresh, ours, &count, &foreign))
        return in_the_way(folder, "holds more than a job", err);
    remove_ours(folder->at, ours);
    return unlinkat(folder->parent, folder->fresh, AT_REMOVEDIR) == 0 ||
           in_the_way(folder, strerror(errno), err);
}

/* One try to make the new folder and lock it. True with folder->at < 0: something changed meanwhile, try
 * again. */
static bool try_fresh(Folder *folder, const char *const ours[], Err *err) {
    bool made = mkdirat(folder->parent, folder->fresh, 0777) == 0;
    if (!made && errno != EEXIST)
        return err_set(err, ERR_SYSTEM, "%s: cannot be made (%s); check the rights and the disk's free space",
                       folder->dir, strerror(errno));
    folder->at = open_in(folder->parent, folder->fresh);
    if (folder->at < 0) return errno == ENOENT || in_the_way(folder, strerror(errno), err);
    Lock lock = lock_folder(folder->at);
    if (lock == TAKEN)
        return err_set(err, ERR_USAGE, "%s: another run is writing it; try again when it has ended",
                       folder->dir);
    if (lock == NO_LOCKS && !made) return in_the_way(folder, "another run writes, or was killed", err);
    bool same = same_folder(folder->at, folder->parent, folder->fresh);
    if (same && made) return true;
    bool good = !same || remove_leftover(folder, ours, err);
    (void)close(folder->at);
    folder->at = -1;
    return good;
}

static void name_aside(const Folder *folder, char out[300]) {
    (void)snprintf(out, 300, "%s%s", folder->base, aside);
}

/* After a run that was killed between the two steps of exchange_in_two: the old job goes back to its place.
 */
static void mend(const Folder *folder, const char *const ours[]) {
    char name[300];
    struct stat status;
    name_aside(folder, name);
    if (fstatat(folder->parent, folder->base, &status, AT_SYMLINK_NOFOLLOW) != 0)
        (void)renameat(folder->parent, name, folder->parent, folder->base);
    else
        (void)remove_folder(folder->parent, name, ours);
}

/* --- signals that would end the run wait ---
 *
 * The kernel keeps what is pending: there is no handler and no flag. Threads that are started meanwhile, to
 * draw, have the mask of the one that started them; those that work on other logos at the time hold the same
 * signals back as long as they live (parallel_in_order). */

static const int ending[] = {SIGINT, SIGTERM, SIGHUP};

enum { ENDING = sizeof ending / sizeof *ending };

/* Those that are ignored or have a handler are left alone. */
static void hold_signals(sigset_t *before) {
    sigset_t set;
    (void)sigemptyset(&set);
    for (int i = 0; i < ENDING; i++) {
        struct sigaction now;
        /* one that is ignored (nohup) would be pending for ever */
        if (sigaction(ending[i], NULL, &now) == 0 && !(now.sa_flags & SA_SIGINFO) &&
            now.sa_handler == SIG_DFL)
            (void)sigaddset(&set, ending[i]);
    }
    (void)sigemptyset(before);
    (void)pthread_sigmask(SIG_BLOCK, &set, before);
}

/* Has one of them come? */
static bool signal_waits(const sigset_t *before) {
    sigset_t now, pending;
    if (pthread_sigmask(SIG_SETMASK, NULL, &now) != 0 || sigpending(&pending) != 0) return false;
    for (int i = 0; i < ENDING; i++) /* held by us, not by whoever started the program */
        if (sigismember(&pending, ending[i]) && sigismember(&now, ending[i]) &&
            !sigismember(before, ending[i]))
            return true;
    return false;
}

/* --- from begin to commit --- */

/* A signal that waited ends the process here, as it would have at once. */
static void folder_free(Folder *folder) {
    sigset_t before = folder->signals;
    if (folder->at >= 0) (void)close(folder->at);
    (void)close(folder->parent);
    *folder = (Folder){0};
    (void)pthread_sigmask(SIG_SETMASK, &before, NULL);
}

bool folder_begin(const char *dir, const char *const ours[], Folder *out, Err *err) {
    Folder folder = {.dir = dir, .at = -1};
    folder.parent = open_parent(dir, folder.base, err);
    if (folder.parent < 0) return false;
    (void)snprintf(folder.fresh, sizeof folder.fresh, "%s%s", folder.base, unfinished);
    hold_signals(&folder.signals);
    bool good = true;
    for (int attempt = 0; good && folder.at < 0 && attempt < 100; attempt++)
        good = try_fresh(&folder, ours, err);
    if (good && folder.at < 0)
        good = err_set(err, ERR_SYSTEM, "%s: other runs keep writing it; try again later", dir);
    if (good) {
        mend(&folder, ours);
        *out = folder;
    } else {
        folder_free(&folder);
    }
    return good;
}

static bool stopped(const Folder *folder, Err *err) {
    return signal_waits(&folder->signals) &&
           !err_set(err, ERR_SYSTEM, "%s: stopped by a signal; nothing was written", folder->dir);
}

FILE *folder_open(const Folder *folder, const char *name, Err *err) {
    if (stopped(folder, err)) return NULL;
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
    if (fflush(file) != 0 || fsync(fileno(file)) != 0)
        (void)err_set(err, ERR_SYSTEM, "%s: could not be written (%s); check the disk's free space", whole,
                      strerror(errno));
    return file_close(file, whole, err) && err->code == ERR_NONE;
}

/* Where two names cannot be exchanged at once: the old one aside, the new one in, and back if that fails. */
static bool exchange_in_two(const Folder *folder, const char *old_name) {
    if (renameat(folder->parent, folder->base, folder->parent, old_name) != 0) return false;
    if (renameat(folder->parent, folder->fresh, folder->parent, folder->base) == 0) return true;
    int cause = errno;
    (void)renameat(folder->parent, old_name, folder->parent, folder->base);
    errno = cause;
    return false;
}

/* Puts the new folder at its place; old_name is what that which was there is called then. */
static bool exchange(const Folder *folder, bool there, char old_name[300]) {
    unsigned how = there ? RENAME_EXCHANGE : RENAME_NOREPLACE;
    memcpy(old_name, folder->fresh, sizeof folder->fresh);
    if (renameat2(folder->parent, folder->fresh, folder->parent, folder->base, how) == 0) return true;
    if (errno != EINVAL && errno != ENOSYS && errno != ENOTSUP) return false;
    name_aside(folder, old_name);
    return there ? exchange_in_two(folder, old_name)
                 : renameat(folder->parent, folder->fresh, folder->parent, folder->base) == 0;
}

/* The old job, locked before it gets the new folder's name: no other run shall take it for a leftover while
 * it is removed, nor its own new folder be removed in its place. -1 and an error if that fails. */
static int lock_old(const Folder *folder, Err *err) {
    int old = open_in(folder->parent, folder->base);
    if (old >= 0 && lock_folder(old) != TAKEN) return old;
    (void)err_set(err, ERR_USAGE, "%s: is in use by another program; try again when it has ended",
                  folder->dir);
    if (old >= 0) (void)close(old);
    return -1;
}

static bool remove_old(const Folder *folder, int old, const char *name, const char *const ours[], Err *err) {
    (void)flock(folder->at, LOCK_UN); /* the next run may lock it as its own old one */
    remove_ours(old, ours);
    return unlinkat(folder->parent, name, AT_REMOVEDIR) == 0 || errno == ENOENT ||
           err_set(err, ERR_SYSTEM,
                   "%s: is written, but the job it replaced is still in %s; remove that by hand", folder->dir,
                   name);
}

bool folder_commit(Folder *folder, const char *const ours[], bool force, Err *err) {
    bool there = false;
    int old = -1;
    char old_name[300];
    bool good = !stopped(folder, err) &&
                check_place(folder->parent, folder->base, folder->dir, ours, force, &there, err);
    if (good && there) good = (old = lock_old(folder, err)) >= 0;
    if (good && (fsync(folder->at) != 0 || !exchange(folder, there, old_name)))
        good = err_set(err, ERR_SYSTEM, "%s: could not be put in place (%s)", folder->dir, strerror(errno));
    if (!good) {
        if (old >= 0) (void)close(old);
        folder_abandon(folder, ours);
        return false;
    }
    if (old >= 0) {
        good = remove_old(folder, old, old_name, ours, err);
        (void)close(old);
    }
    (void)fsync(folder->parent);
    folder_free(folder);
    return good;
}

void folder_abandon(Folder *folder, const char *const ours[]) {
    remove_ours(folder->at, ours);
    (void)unlinkat(folder->parent, folder->fresh, AT_REMOVEDIR);
    folder_free(folder);
}
