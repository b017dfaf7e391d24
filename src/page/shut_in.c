/* What is left to a child: computing, and the answer. SPDX-License-Identifier: MIT
 *
 * The picture comes from a stranger, and what reads it may have a mistake. So before the first byte is read:
 * 1. Limits that every kernel has: memory, processor time, no file may grow, no core.
 * 2. Landlock, where the kernel has it: no file can be opened but fonts and their settings for reading, and
 *    these only where the answer needs fonts; no TCP, no signal to others. It holds for threads that are
 *    started later, so it comes before the fonts' library starts any.
 * 3. Fonts are loaded, by drawing a word.
 * 4. seccomp: of the system's calls those that computing needs, by name; all others fail with EPERM: no
 *    socket, no program, no process, nothing opened for writing, and nothing opened at all without fonts.
 * Where landlock is not there, 4 still holds, but an answer with fonts may open any file for reading that the
 * user may. Where the program was built with a sanitizer, memory is not limited: it reserves terabytes. */
#include "page/server.h"

#include <errno.h>
#include <fcntl.h>
#include <fontconfig/fontconfig.h>
#include <linux/landlock.h>
#include <pango/pangocairo.h>
#include <sched.h>
#include <seccomp.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/syscall.h>
#include <unistd.h>

enum { MEMORY_MOST_MB = 2048, FILES_MOST = 64 };

/* Where lines are counted, the counts must be written at the end: see child.c. */
#ifdef COUNT_LINES
enum { COUNTING = 1 };
#else
enum { COUNTING = 0 };
#endif

/* --- 1. limits --- */

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
enum { MEMORY_LIMITED = 0 };
#elif defined(__has_feature)
#if __has_feature(address_sanitizer) || __has_feature(thread_sanitizer)
enum { MEMORY_LIMITED = 0 };
#else
enum { MEMORY_LIMITED = 1 };
#endif
#else
enum { MEMORY_LIMITED = 1 };
#endif

/* `more`: between the signal that can be told from others and the end. */
static bool limit(int what, rlim_t most, rlim_t more) {
    struct rlimit now;
    if (getrlimit((__rlimit_resource_t)what, &now) == 0 && now.rlim_max < most + more)
        most = now.rlim_max, more = 0;
    return setrlimit((__rlimit_resource_t)what, &(struct rlimit){most, most + more}) == 0;
}

/* Threads share the processor time: so many processors', at most, but no more than four's. */
static bool set_limits(int seconds) {
    return limit(RLIMIT_CORE, 0, 0) && limit(RLIMIT_FSIZE, 0, 0) && limit(RLIMIT_NOFILE, FILES_MOST, 0) &&
           limit(RLIMIT_CPU, (rlim_t)seconds * 4, 1) &&
           (!MEMORY_LIMITED || limit(RLIMIT_AS, (rlim_t)MEMORY_MOST_MB << 20, 0));
}

/* --- 2. landlock --- */

/* As the kernel has it since ABI 6; those before take the beginning. */
typedef struct Rules {
    uint64_t files, net, scoped;
} Rules;

static const uint64_t FILES_OF_ABI[] = {0, 0x1fff, 0x3fff, 0x7fff, 0x7fff, 0xffff}; /* what can be denied */

static bool allow_reading(int rules, const char *path) {
    struct landlock_path_beneath_attr beneath = {.allowed_access = LANDLOCK_ACCESS_FS_READ_FILE |
                                                                   LANDLOCK_ACCESS_FS_READ_DIR,
                                                 .parent_fd = open(path, O_PATH | O_CLOEXEC)};
    if (beneath.parent_fd < 0) return true; /* nothing is there to be read */
    bool good = syscall(SYS_landlock_add_rule, rules, LANDLOCK_RULE_PATH_BENEATH, &beneath, 0) == 0;
    if (!good && errno == EINVAL) { /* a file: it has no entries to list */
        beneath.allowed_access = LANDLOCK_ACCESS_FS_READ_FILE;
        good = syscall(SYS_landlock_add_rule, rules, LANDLOCK_RULE_PATH_BENEATH, &beneath, 0) == 0;
    }
    (void)close(beneath.parent_fd);
    return good;
}

static bool allow_list(int rules, FcStrList *list) {
    bool good = list != NULL;
    for (FcChar8 *path; good && (path = FcStrListNext(list));)
        good = allow_reading(rules, (const char *)path);
    if (list) FcStrListDone(list);
    return good;
}

/* fontconfig's lists are of its settings as they are loaded here. */
static bool allow_fonts(int rules) {
    FcConfig *config = FcConfigGetCurrent();
    return config && allow_reading(rules, "/etc/fonts") &&
           allow_list(rules, FcConfigGetConfigFiles(config)) &&
           allow_list(rules, FcConfigGetFontDirs(config)) && allow_list(rules, FcConfigGetCacheDirs(config));
}

static bool lock_files(bool fonts) {
    const int known = sizeof FILES_OF_ABI / sizeof *FILES_OF_ABI - 1;
    long abi = syscall(SYS_landlock_create_ruleset, NULL, 0, LANDLOCK_CREATE_RULESET_VERSION);
    if (abi < 1) return true; /* the kernel has none */
    Rules want = {.files = FILES_OF_ABI[abi < known ? abi : known], .net = 3, .scoped = 3};
    size_t size = abi < 4 ? 8 : abi < 6 ? 16 : sizeof want;
    int rules = (int)syscall(SYS_landlock_create_ruleset, &want, size, 0);
    if (rules < 0) return false;
    bool good =
        (!fonts || allow_fonts(rules)) && (COUNTING || syscall(SYS_landlock_restrict_self, rules, 0) == 0);
    (void)close(rules);
    return good;
}

/* --- 3. fonts --- */

static void load_fonts(void) {
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_A8, 32, 32);
    cairo_t *cr = cairo_create(surface);
    PangoLayout *layout = pango_cairo_create_layout(cr);
    pango_layout_set_text(layout, "Aa1", -1);
    pango_cairo_show_layout(cr, layout);
    g_object_unref(layout);
    cairo_destroy(cr);
    cairo_surface_destroy(surface);
}

/* --- 4. system calls --- */

/* What computing takes: memory, threads, reading and writing what is open, the time. */
static const char *const calls[] = {"read",
                                    "pread64",
                                    "readv",
                                    "write",
                                    "writev",
                                    "lseek",
                                    "_llseek",
                                    "close",
                                    "fstat",
                                    "fstat64",
                                    "munmap",
                                    "mremap",
                                    "madvise",
                                    "brk",
                                    "futex",
                                    "futex_time64",
                                    "rt_sigaction",
                                    "rt_sigprocmask",
                                    "rt_sigreturn",
                                    "sigreturn",
                                    "sigaltstack",
                                    "sched_yield",
                                    "sched_getaffinity",
                                    "getpid",
                                    "gettid",
                                    "getuid",
                                    "geteuid",
                                    "getgid",
                                    "getegid",
                                    "getrlimit",
                                    "ugetrlimit",
                                    "clock_gettime",
                                    "clock_gettime64",
                                    "clock_getres",
                                    "gettimeofday",
                                    "time",
                                    "nanosleep",
                                    "clock_nanosleep",
                                    "exit",
                                    "exit_group",
                                    "set_robust_list",
                                    "rseq",
                                    "set_tid_address",
                                    "restart_syscall",
                                    "getrandom",
                                    "uname",
                                    "sysinfo",
                                    "membarrier",
                                    "poll",
                                    "ppoll",
                                    "eventfd2",
                                    "getrusage"};

/* Beside them, to look for fonts and read them. */
static const char *const font_calls[] = {"newfstatat", "fstatat64",  "stat",       "stat64",    "lstat",
                                         "lstat64",    "statx",      "access",     "faccessat", "faccessat2",
                                         "readlink",   "readlinkat", "getdents64", "getdents",  "fstatfs",
                                         "fstatfs64",  "statfs",     "statfs64",   "getcwd"};

/* A call that this machine's kind of processor does not have is left out. */
static bool allow(scmp_filter_ctx filter, const char *name, unsigned count, struct scmp_arg_cmp compare) {
    int call = seccomp_syscall_resolve_name(name);
    if (call == __NR_SCMP_ERROR) return true;
    int wrong = seccomp_rule_add_array(filter, SCMP_ACT_ALLOW, call, count, &compare);
    return wrong == 0 || wrong == -EDOM || wrong == -EINVAL;
}

static bool allow_all(scmp_filter_ctx filter, const char *const name[], size_t count) {
    bool good = true;
    for (size_t i = 0; i < count; i++) good = good && allow(filter, name[i], 0, SCMP_A0(SCMP_CMP_EQ, 0, 0));
    return good;
}

/* Calls that are good or bad by what is asked of them: memory that is no code, threads and no processes,
 * limits read and not set, signals to itself, reading only. */
static bool allow_some(scmp_filter_ctx filter, bool fonts) {
    const scmp_datum_t changing = O_ACCMODE | O_CREAT | O_TRUNC | O_APPEND;
    const struct scmp_arg_cmp no_code = SCMP_A2(SCMP_CMP_MASKED_EQ, 4 /* PROT_EXEC */, 0);
    bool good = allow(filter, "mmap", 1, no_code) && allow(filter, "mmap2", 1, no_code) &&
                allow(filter, "mprotect", 1, no_code) &&
                allow(filter, "clone", 1, SCMP_A0(SCMP_CMP_MASKED_EQ, CLONE_THREAD, CLONE_THREAD)) &&
                allow(filter, "prlimit64", 1, SCMP_A2(SCMP_CMP_EQ, 0, 0)) &&
                allow(filter, "prctl", 1, SCMP_A0(SCMP_CMP_EQ, PR_SET_NAME, 0)) &&
                allow(filter, "tgkill", 1, SCMP_A0(SCMP_CMP_EQ, (scmp_datum_t)getpid(), 0)) &&
                allow(filter, "fcntl", 1, SCMP_A1(SCMP_CMP_LE, F_GETFL, 0)) &&
                allow(filter, "fcntl64", 1, SCMP_A1(SCMP_CMP_LE, F_GETFL, 0));
    if (!fonts) /* of what is open already, by the form that newer libraries use for fstat */
        return good && allow(filter, "newfstatat", 1,
                             SCMP_A3(SCMP_CMP_MASKED_EQ, 0x1000 /* AT_EMPTY_PATH */, 0x1000));
    return good && allow_all(filter, font_calls, sizeof font_calls / sizeof *font_calls) &&
           allow(filter, "open", 1, SCMP_A1(SCMP_CMP_MASKED_EQ, changing, O_RDONLY)) &&
           allow(filter, "openat", 1, SCMP_A2(SCMP_CMP_MASKED_EQ, changing, O_RDONLY));
}

/* clone3 has its flags where a filter cannot look: libraries that are told it is not there take clone. */
static bool lock_calls(bool fonts) {
    scmp_filter_ctx filter = seccomp_init(SCMP_ACT_ERRNO(EPERM));
    if (!filter) return false;
    int clone3 = seccomp_syscall_resolve_name("clone3");
    bool good =
        seccomp_attr_set(filter, SCMP_FLTATR_CTL_TSYNC, 1) == 0 &&
        (clone3 == __NR_SCMP_ERROR || seccomp_rule_add(filter, SCMP_ACT_ERRNO(ENOSYS), clone3, 0) == 0) &&
        allow_all(filter, calls, sizeof calls / sizeof *calls) && allow_some(filter, fonts);
    int loaded = good ? seccomp_load(filter) : -1;
    seccomp_release(filter);
    /* a kernel without seccomp, or one that a container does not let at it */
    return good && (loaded == 0 || prctl(PR_GET_SECCOMP) < 0);
}

/* --- the whole --- */

bool shut_in(bool fonts, int seconds) {
    if (prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) != 0) return false;
    if (fonts && !FcInit()) return false;
    if (!lock_files(fonts)) return false;
    if (fonts) load_fonts();
    if (COUNTING) return true;
    return set_limits(seconds) && lock_calls(fonts);
}
