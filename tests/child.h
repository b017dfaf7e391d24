/* The program run as a child, for tests of what only the whole command shows. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_TESTS_CHILD_H
#define LOGOCANE_TESTS_CHILD_H

#include "picture_files.h"

#include <libgen.h>
#include <sys/resource.h>
#include <sys/wait.h>

enum { PATH_ROOM = 4096 };

typedef struct Ran {
    int status;     /* of the exit; -1: ended by a signal */
    double seconds; /* user and system */
    double mb;      /* most that was resident */
    char *out;      /* standard output and */
    char *said;     /* standard error; for ran_free */
} Ran;

static inline void ran_free(Ran *ran) {
    free(ran->out), free(ran->said);
    *ran = (Ran){0};
}

/* The path of a file beside this test: the program, or a scratch file. */
static inline void path_here(char out[PATH_ROOM], const char *file) {
    char self[PATH_ROOM] = "";
    assert_true(readlink("/proc/self/exe", self, sizeof self - 1) > 0);
    assert_true(snprintf(out, PATH_ROOM, "%s/%s", dirname(self), file) < PATH_ROOM);
}

/* All that was written to the unnamed file. */
static inline char *all_of(int fd) {
    off_t size = lseek(fd, 0, SEEK_END);
    char *text = malloc((size_t)size + 1);
    assert_true(size >= 0 && text);
    assert_int_equal(pread(fd, text, (size_t)size, 0), size);
    text[size] = 0;
    close(fd);
    return text;
}

/* Runs argv (argv[0]: a path, or a name looked for in PATH) in `folder`, NULL: this one. */
static inline Ran run_child(const char *folder, const char *const argv[]) {
    struct rusage use;
    Ran ran = {0};
    int out = memfd_create("out", MFD_CLOEXEC), said = memfd_create("said", MFD_CLOEXEC);
    assert_true(out >= 0 && said >= 0);
    pid_t child = fork();
    if (child == 0) {
        dup2(out, STDOUT_FILENO), dup2(said, STDERR_FILENO);
        if (!folder || chdir(folder) == 0) execvp(argv[0], (char **)(uintptr_t)argv);
        _exit(127);
    }
    assert_int_equal(wait4(child, &ran.status, 0, &use), child);
    ran.status = WIFEXITED(ran.status) ? WEXITSTATUS(ran.status) : -1;
    ran.seconds = (double)(use.ru_utime.tv_sec + use.ru_stime.tv_sec) +
                  (double)(use.ru_utime.tv_usec + use.ru_stime.tv_usec) / 1e6;
    ran.mb = (double)use.ru_maxrss / 1024;
    ran.out = all_of(out), ran.said = all_of(said);
    return ran;
}

#endif
