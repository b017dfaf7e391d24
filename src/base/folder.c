/* The job folder. SPDX-License-Identifier: MIT */
#include "base/folder.h"

#include "base/place.h"

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
    if (cause == EFBIG) return "raise the limit on the size of files (ulimit -f)";
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

bool folder_check(const char *dir, const char *const ours[], bool force, Err *err) {
    char base[256];
    bool there;
    int parent = place_open_parent(dir, base, err);
    if (parent < 0) return false;
    bool good = place_check(parent, base, dir, ours, force, &there, err);
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

static void name_aside(const Folder *folder, char out[300]) {
    (void)snprintf(out, 300, "%s%s", folder->base, FOLDER_ASIDE);
}

/* A run that was killed between the two steps of exchange_in_two has left the new job, whole, and the old one
 * aside, and nothing at its place: the old one goes back there. In all other cases what is called like that
 * is no run's. `files` are in the new one. */
static void put_back(const Folder *folder, const char *const ours[], int files) {
    char name[300];
    struct stat status;
    Err foreign = {0};
    int all = 0, count = 0;
    while (ours[all]) all++;
    if (files < all || fstatat(folder->parent, folder->base, &status, AT_SYMLINK_NOFOLLOW) == 0) return;
    name_aside(folder, name);
    int at = open_in(folder->parent, name);
    if (at < 0) return;
    if (place_count_ours(at, name, ours, &count, &foreign) && count > 0)
        (void)renameat(folder->parent, name, folder->parent, folder->base);
    (void)close(at);
}

/* Removes what a killed run left; its lock is ours. */
static bool remove_leftover(const Folder *folder, const char *const ours[], Err *err) {
    int count;
    Err foreign = {0};
    if (!place_count_ours(folder->at, folder->fresh, ours, &count, &foreign))
        return in_the_way(folder, "holds more than a job", err);
    put_back(folder, ours, count);
    remove_ours(folder->at, ours);
    return unlinkat(folder->parent, folder->fresh, AT_REMOVEDIR) == 0 ||
           in_the_way(folder, strerror(errno), err);
}

static bool not_made(const Folder *folder, int cause, Err *err) {
    const bool many = cause == EMFILE || cause == ENFILE;
    return err_set(err, ERR_SYSTEM, "%s: cannot be made (%s); %s", folder->dir, strerror(cause),
                   many ? "raise the limit on open files (ulimit -n)"
                        : "check the rights and the disk's free space");
}

/* The new folder's name could not be opened: one that this run made is removed, for else it would be in the
 * way of the next; so is one without rights that holds nothing (a mask of 777, and killed at once). */
static bool not_opened(const Folder *folder, bool made, int cause, Err *err) {
    if (cause == ENOENT) return true;
    bool removed = (made || cause == EACCES) && unlinkat(folder->parent, folder->fresh, AT_REMOVEDIR) == 0;
    if (made || cause == EMFILE || cause == ENFILE || cause == ENOMEM) return not_made(folder, cause, err);
    return removed || in_the_way(folder, strerror(cause), err);
}

/* What the mask for new files allows others to do stays for the end: until then its owner may do all. */
static void note_mode(Folder *folder) {
    struct stat made;
    if (fstatat(folder->parent, folder->fresh, &made, AT_SYMLINK_NOFOLLOW) != 0) return;
    folder->mode = made.st_mode & 07777;
    if ((folder->mode & S_IRWXU) != S_IRWXU &&
        fchmodat(folder->parent, folder->fresh, folder->mode | S_IRWXU, 0) != 0)
        return; /* then it cannot be opened either */
}

/* One try to make the new folder and lock it. True with folder->at < 0: something changed meanwhile, try
 * again. */
static bool try_fresh(Folder *folder, const char *const ours[], Err *err) {
    bool made = mkdirat(folder->parent, folder->fresh, 0777) == 0;
    if (!made && errno != EEXIST) return not_made(folder, errno, err);
    if (made) note_mode(folder);
    folder->at = open_in(folder->parent, folder->fresh);
    if (folder->at < 0) return not_opened(folder, made, errno, err);
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

/* The new folder is as open to others as the one that it replaces, and no more: also while it is written. */
static void take_rights(Folder *folder) {
    struct stat old, now;
    if (fstatat(folder->parent, folder->base, &old, AT_SYMLINK_NOFOLLOW) == 0 && S_ISDIR(old.st_mode)) {
        folder->mode = old.st_mode & 07777;
        bool taken =
            fchown(folder->at, old.st_uid, old.st_gid) == 0 || fchown(folder->at, (uid_t)-1, old.st_gid) == 0;
        if (!taken && fstat(folder->at, &now) == 0 && now.st_gid != old.st_gid)
            folder->mode &= ~(mode_t)S_IRWXG; /* they were another group's */
    }
    (void)fchmod(folder->at, folder->mode | S_IRWXU);
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
    folder.parent = place_open_parent(dir, folder.base, err);
    if (folder.parent < 0) return false;
    (void)snprintf(folder.fresh, sizeof folder.fresh, "%s%s", folder.base, FOLDER_UNFINISHED);
    hold_signals(&folder.signals);
    bool good = true;
    for (int attempt = 0; good && folder.at < 0 && attempt < 100; attempt++)
        good = try_fresh(&folder, ours, err);
    if (good && folder.at < 0)
        good = err_set(err, ERR_SYSTEM, "%s: other runs keep writing it; try again later", dir);
    if (good) {
        take_rights(&folder);
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
    if (fflush(file) != 0 || fsync(fileno(file)) != 0) {
        int cause = errno;
        (void)err_set(err, ERR_SYSTEM, "%s: could not be written (%s); %s", whole, strerror(cause),
                      what_to_do(cause));
    }
    return file_close(file, whole, err) && err->code == ERR_NONE;
}

/* Where two names cannot be exchanged at once: the old one aside, the new one in, and back if that fails;
 * then the old one gets the name that the new one had, under which the next run would know it. */
static bool exchange_in_two(const Folder *folder, char old_name[300]) {
    struct stat status;
    char name[300];
    name_aside(folder, name);
    errno = EEXIST; /* no run's: left alone */
    if (fstatat(folder->parent, name, &status, AT_SYMLINK_NOFOLLOW) == 0) return false;
    if (renameat(folder->parent, folder->base, folder->parent, name) != 0) return false;
    if (renameat(folder->parent, folder->fresh, folder->parent, folder->base) != 0) {
        int cause = errno;
        (void)renameat(folder->parent, name, folder->parent, folder->base);
        errno = cause;
        return false;
    }
    if (renameat(folder->parent, name, folder->parent, folder->fresh) != 0)
        memcpy(old_name, name, sizeof name);
    return true;
}

/* Puts the new folder at its place; old_name is what that which was there is called then. */
static bool exchange(const Folder *folder, bool there, char old_name[300]) {
    unsigned how = there ? RENAME_EXCHANGE : RENAME_NOREPLACE;
    memcpy(old_name, folder->fresh, sizeof folder->fresh);
    if (renameat2(folder->parent, folder->fresh, folder->parent, folder->base, how) == 0) return true;
    if (errno != EINVAL && errno != ENOSYS && errno != ENOTSUP) return false;
    return there ? exchange_in_two(folder, old_name)
                 : renameat(folder->parent, folder->fresh, folder->parent, folder->base) == 0;
}

static bool not_placed(const Folder *folder, int cause, Err *err) {
    if (cause == EEXIST)
        return err_set(err, ERR_USAGE, "%s: %.80s%s, beside it, is in the way; move it away", folder->dir,
                       folder->base, FOLDER_ASIDE);
    return err_set(err, ERR_SYSTEM, "%s: could not be put in place (%s)", folder->dir, strerror(cause));
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
                place_check(folder->parent, folder->base, folder->dir, ours, force, &there, err);
    if (good && there) good = (old = lock_old(folder, err)) >= 0;
    if (good) take_rights(folder);
    if (good && (fsync(folder->at) != 0 || !exchange(folder, there, old_name)))
        good = not_placed(folder, errno, err);
    if (!good) {
        if (old >= 0) (void)close(old);
        folder_abandon(folder, ours);
        return false;
    }
    if ((folder->mode & S_IRWXU) != S_IRWXU) (void)fchmod(folder->at, folder->mode);
    if (old >= 0) {
        good = remove_old(folder, old, old_name, ours, err);
        (void)close(old);
    }
    (void)fsync(folder->parent);
    folder_free(folder);
    return good;
}

void folder_abandon(Folder *folder, const char *const ours[]) {
    bool gone = false;
    for (int attempt = 0; !gone && attempt < 100; attempt++) { /* a thread may still be opening files */
        remove_ours(folder->at, ours);
        gone = unlinkat(folder->parent, folder->fresh, AT_REMOVEDIR) == 0 || errno != ENOTEMPTY;
    }
    folder_free(folder);
}
