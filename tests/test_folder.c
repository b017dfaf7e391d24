/* Tests of src/base/folder.c. SPDX-License-Identifier: MIT */
#include "base/folder.h"

#include "scratch.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <setjmp.h>
#include <signal.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>
#include <cmocka.h>

static const char *const ours[] = {"a.txt", "b.txt", NULL};

#define LEFT "job.unfinished-logocane"
#define ASIDE "job.replaced-logocane"

/* A file system that cannot exchange names (EINVAL), or fails otherwise, for the tests that ask for one:
 * linked in place of renameat2. */
static int no_exchange;

int __real_renameat2(int from_at, const char *from, int to_at, const char *to, unsigned how);
int __wrap_renameat2(int from_at, const char *from, int to_at, const char *to, unsigned how);
int __wrap_renameat2(int from_at, const char *from, int to_at, const char *to, unsigned how) {
    if (!no_exchange) return __real_renameat2(from_at, from, to_at, to, how);
    errno = no_exchange;
    return -1;
}

/* Each test runs in an empty folder of its own. */
static int enter(void **state) {
    char name[SCRATCH];
    scratch_name(name, "folder-test");
    if (!mkdtemp(name) || chdir(name) != 0) return -1;
    *state = strdup(name);
    return *state ? 0 : -1;
}

static int leave(void **state) {
    char command[3 * SCRATCH];
    (void)snprintf(command, sizeof command, "chmod -R u+rwx '%s'; rm -rf '%s'", (char *)*state,
                   (char *)*state);
    free(*state);
    return chdir("/") == 0 && system(command) == 0 ? 0 : -1;
}

static void put(const char *path, const char *text) {
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    fputs(text, file);
    assert_int_equal(fclose(file), 0);
}

static void holds(const char *path, const char *want) {
    char got[64] = "";
    FILE *file = fopen(path, "rb");
    if (!file) fail_msg("%s is missing", path);
    got[fread(got, 1, sizeof got - 1, file)] = 0;
    fclose(file);
    assert_string_equal(got, want);
}

/* How many names are in the folder. */
static int count(const char *path) {
    DIR *stream = opendir(path);
    if (!stream) return -1;
    int names = -2;
    while (readdir(stream)) names++;
    closedir(stream);
    return names;
}

/* Writes a job whose files hold `text`. */
static bool write_both(const char *dir, const char *text, bool force, Err *err) {
    Folder folder;
    *err = (Err){0};
    if (!folder_check(dir, ours, force, err) || !folder_begin(dir, ours, &folder, err)) return false;
    for (int i = 0; ours[i]; i++) {
        FILE *file = folder_open(&folder, ours[i], err);
        assert_non_null(file);
        fputs(text, file);
        assert_true(folder_close(&folder, file, ours[i], err));
    }
    return folder_commit(&folder, ours, force, err);
}

static void refuses(const char *dir, bool force, const char *says) {
    Err err = {0};
    assert_false(write_both(dir, "new", force, &err));
    assert_int_equal(err.code, ERR_USAGE);
    if (!strstr(err.msg, says)) fail_msg("\"%s\" does not say \"%s\"", err.msg, says);
    assert_non_null(strstr(err.msg, "; "));
}

static void a_new_folder_appears_whole(void **state) {
    (void)state;
    Err err;
    assert_true(write_both("job", "one", false, &err));
    holds("job/a.txt", "one");
    holds("job/b.txt", "one");
    assert_int_equal(count("."), 1);
    assert_int_equal(mkdir("empty", 0755), 0);
    assert_true(write_both("./empty//", "two", false, &err));
    holds("empty/b.txt", "two");
    assert_int_equal(count("."), 2);
}

static void an_earlier_job_gives_way_to_force_only(void **state) {
    (void)state;
    Err err;
    assert_true(write_both("job", "one", false, &err));
    refuses("job", false, "--force");
    holds("job/a.txt", "one");
    assert_true(write_both("job", "two", true, &err));
    holds("job/a.txt", "two");
    assert_int_equal(count("."), 1);
    assert_int_equal(count("job"), 2);
}

static void what_is_not_of_a_job_is_never_touched(void **state) {
    (void)state;
    assert_int_equal(mkdir("job", 0755), 0);
    put("job/a.txt", "old");
    put("job/letter.odt", "mine");
    refuses("job", true, "letter.odt");
    holds("job/a.txt", "old");
    assert_int_equal(unlink("job/letter.odt"), 0);
    assert_int_equal(mkdir("job/b.txt", 0755), 0); /* our name, but a folder */
    refuses("job", true, "b.txt");
    assert_int_equal(rmdir("job/b.txt"), 0);
    assert_int_equal(symlink("/etc/hostname", "job/b.txt"), 0); /* our name, but a link */
    refuses("job", true, "b.txt");
    assert_int_equal(count("."), 1);
}

static void places_that_are_no_folder_are_refused(void **state) {
    (void)state;
    put("file", "mine");
    assert_int_equal(mkdir("real", 0755), 0);
    assert_int_equal(symlink("real", "link"), 0);
    assert_int_equal(symlink("nowhere", "dangling"), 0);
    refuses("file", true, "is a file");
    refuses("link", true, "symbolic link");
    refuses("link/", true, "symbolic link");
    refuses("dangling", true, "symbolic link");
    refuses("none/job", true, "make it first");
    refuses("file/job", true, "make it first");
    refuses(".", true, "name of its own");
    refuses("real/..", true, "name of its own");
    refuses("/", true, "name of its own");
    char longest[300];
    memset(longest, 'x', sizeof longest);
    longest[256] = 0;
    refuses(longest, true, "too long");
    longest[240] = 0; /* with what is added to it too long for a file system's 255 bytes */
    refuses(longest, true, "too long");
    refuses(LEFT, true, "kept for jobs half written");
    holds("file", "mine");
    assert_int_equal(count("."), 4);
    assert_int_equal(count("real"), 0);
}

static void an_abandoned_job_leaves_nothing_and_the_old_one_stays(void **state) {
    (void)state;
    Err err;
    Folder folder;
    assert_true(write_both("job", "one", false, &err));
    assert_true(folder_begin("job", ours, &folder, &err));
    FILE *file = folder_open(&folder, "a.txt", &err);
    assert_non_null(file);
    fputs("half", file);
    assert_true(folder_close(&folder, file, "a.txt", &err));
    folder_abandon(&folder, ours);
    holds("job/a.txt", "one");
    assert_int_equal(count("."), 1);
}

static void what_comes_in_between_is_seen_at_the_end(void **state) {
    (void)state;
    Err err = {0};
    Folder folder;
    assert_true(folder_begin("job", ours, &folder, &err));
    put("job", "came in between");
    assert_false(folder_commit(&folder, ours, true, &err));
    assert_int_equal(err.code, ERR_USAGE);
    holds("job", "came in between");
    assert_int_equal(count("."), 1);
}

static void links_are_not_followed_when_writing(void **state) {
    (void)state;
    Err err = {0};
    Folder folder;
    put("victim", "mine");
    assert_true(folder_begin("job", ours, &folder, &err));
    assert_int_equal(symlinkat("../victim", folder.at, "a.txt"), 0);
    assert_null(folder_open(&folder, "a.txt", &err));
    assert_int_equal(err.code, ERR_SYSTEM);
    folder_abandon(&folder, ours);
    holds("victim", "mine");
    assert_int_equal(count("."), 1);
}

static void make_left(const char *folder, const char *text) {
    char path[64];
    assert_int_equal(mkdir(folder, 0755), 0);
    (void)snprintf(path, sizeof path, "%s/a.txt", folder);
    put(path, text);
}

static void the_next_run_removes_what_a_killed_one_left(void **state) {
    (void)state;
    Err err;
    make_left(LEFT, "half");
    assert_true(write_both("job", "one", false, &err));
    holds("job/a.txt", "one");
    assert_int_equal(count("."), 1);
    make_left(LEFT, "half"); /* the next run is one that fails */
    Folder folder;
    assert_true(folder_begin("job", ours, &folder, &err));
    folder_abandon(&folder, ours);
    holds("job/a.txt", "one");
    assert_int_equal(count("."), 1);
}

static void what_no_run_left_is_not_removed(void **state) {
    (void)state;
    Err err;
    make_left(LEFT, "half");
    put(LEFT "/letter.odt", "mine");
    refuses("job", false, LEFT ", beside it, is in the way");
    holds(LEFT "/letter.odt", "mine");
    holds(LEFT "/a.txt", "half");
    assert_int_equal(unlink(LEFT "/letter.odt"), 0);
    assert_true(write_both("job", "one", false, &err));
    put(LEFT, "a file");
    refuses("job", true, "in the way");
    holds(LEFT, "a file");
    assert_int_equal(unlink(LEFT), 0);
    make_left("elsewhere", "mine");
    assert_int_equal(symlink("elsewhere", LEFT), 0);
    refuses("job", true, "in the way");
    holds("elsewhere/a.txt", "mine");
    assert_int_equal(count("elsewhere"), 1);
}

static void of_two_runs_the_second_is_told(void **state) {
    (void)state;
    Err err = {0};
    Folder first;
    assert_true(write_both("job", "old", false, &err));
    assert_true(folder_begin("job", ours, &first, &err));
    refuses("job", true, "another run is writing");
    holds("job/a.txt", "old");
    FILE *file = folder_open(&first, "a.txt", &err);
    assert_non_null(file);
    fputs("first", file);
    assert_true(folder_close(&first, file, "a.txt", &err));
    assert_true(folder_commit(&first, ours, true, &err));
    holds("job/a.txt", "first");
    assert_true(write_both("job", "second", true, &err));
    assert_int_equal(count("."), 1);
}

/* Eight processes at once: each either writes whole or is told; the folder is that of one of them. */
static void of_many_runs_at_once_the_folder_is_of_one(void **state) {
    (void)state;
    enum { RUNS = 8, ROUNDS = 10 };
    for (int round = 0; round < ROUNDS; round++) {
        int wrote = 0;
        for (int i = 0; i < RUNS; i++) {
            if (fork() != 0) continue;
            char text[8] = {(char)('a' + i), 0};
            Err err;
            if (write_both("job", text, true, &err)) _exit(0);
            if (strstr(err.msg, "another run") || strstr(err.msg, "in use")) _exit(1);
            fprintf(stderr, "%s\n", err.msg);
            _exit(2);
        }
        for (int i = 0; i < RUNS; i++) {
            int status;
            assert_true(wait(&status) > 0 && WIFEXITED(status) && WEXITSTATUS(status) < 2);
            wrote += WEXITSTATUS(status) == 0;
        }
        assert_in_range(wrote, 1, RUNS);
        char got[8] = "";
        FILE *file = fopen("job/a.txt", "rb");
        assert_non_null(file);
        got[fread(got, 1, 2, file)] = 0;
        fclose(file);
        assert_in_range(got[0], 'a', 'a' + RUNS - 1);
        holds("job/b.txt", got);
        assert_int_equal(count("."), 1);
    }
}

static void a_folder_that_is_in_use_is_left_alone(void **state) {
    (void)state;
    Err err;
    assert_true(write_both("job", "one", false, &err));
    int at = open("job", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    assert_int_equal(flock(at, LOCK_EX), 0);
    refuses("job", true, "in use by another program");
    close(at);
    holds("job/a.txt", "one");
    assert_int_equal(count("."), 1);
}

static void without_an_exchange_of_names_it_goes_in_two_steps(void **state) {
    (void)state;
    Err err;
    no_exchange = EINVAL;
    bool new_one = write_both("job", "one", false, &err), instead = write_both("job", "two", true, &err);
    no_exchange = 0;
    assert_true(new_one && instead);
    holds("job/a.txt", "two");
    assert_int_equal(count("."), 1);
}

static void an_exchange_that_fails_leaves_the_old_job(void **state) {
    (void)state;
    Err err;
    assert_true(write_both("job", "one", false, &err));
    no_exchange = EIO;
    bool wrote = write_both("job", "two", true, &err);
    no_exchange = 0;
    assert_false(wrote);
    assert_int_equal(err.code, ERR_SYSTEM);
    holds("job/a.txt", "one");
    assert_int_equal(count("."), 1);
}

static void an_old_job_left_aside_is_put_back(void **state) {
    (void)state;
    Err err = {0};
    Folder folder;
    make_left(ASIDE, "old"); /* killed between the two steps */
    make_left(LEFT, "new");
    put(LEFT "/b.txt", "new");
    assert_true(folder_begin("job", ours, &folder, &err));
    folder_abandon(&folder, ours);
    holds("job/a.txt", "old");
    assert_int_equal(count("."), 1);
}

/* A folder of that name that no run made is neither moved nor emptied, whatever it holds. */
static void what_is_called_replaced_and_is_no_runs_is_left_alone(void **state) {
    (void)state;
    Err err = {0};
    make_left(ASIDE, "mine");
    assert_true(write_both("job", "one", false, &err)); /* nothing at DIR: it is not put there */
    assert_true(write_both("job", "two", true, &err));
    holds(ASIDE "/a.txt", "mine");
    put(ASIDE "/letter.odt", "mine");
    assert_int_equal(mkdir(LEFT, 0755), 0); /* a killed run that did not write all */
    put(LEFT "/a.txt", "half");
    assert_true(write_both("job", "three", true, &err));
    holds("job/a.txt", "three");
    no_exchange = EINVAL;
    refuses("job", true, ASIDE ", beside it, is in the way");
    no_exchange = 0;
    holds("job/a.txt", "three");
    holds(ASIDE "/letter.odt", "mine");
    holds(ASIDE "/a.txt", "mine");
    refuses(ASIDE, true, "kept for jobs half written");
    assert_int_equal(count("."), 2);
}

/* --- rights --- */

static mode_t mode_of(const char *path) {
    struct stat about;
    assert_int_equal(lstat(path, &about), 0);
    return about.st_mode & 07777;
}

static void the_new_folder_is_as_open_as_the_old_one(void **state) {
    (void)state;
    static const mode_t modes[] = {0700, 0755, 0750, 02770, 0777};
    Err err = {0};
    assert_true(write_both("job", "one", false, &err));
    for (size_t i = 0; i < sizeof modes / sizeof *modes; i++) {
        Folder folder;
        assert_int_equal(chmod("job", modes[i]), 0);
        assert_true(folder_begin("job", ours, &folder, &err));
        assert_int_equal(mode_of(LEFT), modes[i]); /* no wider while it is written */
        folder_abandon(&folder, ours);
        assert_true(write_both("job", "two", true, &err));
        assert_int_equal(mode_of("job"), modes[i]);
    }
    assert_int_equal(mkdir("empty", 0555), 0);
    assert_true(write_both("empty", "one", false, &err));
    assert_int_equal(mode_of("empty"), 0555);
}

static void a_mask_that_takes_all_rights_leaves_nothing_behind(void **state) {
    (void)state;
    Err err = {0};
    Folder folder;
    mode_t before = umask(0777);
    bool began = folder_begin("job", ours, &folder, &err);
    if (began) folder_abandon(&folder, ours);
    int names = count(".");
    bool wrote = write_both("job", "one", false, &err);
    (void)umask(before);
    assert_true(began && wrote);
    assert_int_equal(names, 0);
    assert_int_equal(count("."), 1);
    assert_int_equal(mode_of("job"), 0);
    assert_int_equal(mkdir(LEFT, 0), 0); /* a run under such a mask, killed at once */
    assert_true(write_both("other", "one", false, &err));
    assert_int_equal(chmod("job", 0755), 0);
    assert_true(write_both("job", "two", true, &err));
    holds("job/a.txt", "two");
    assert_int_equal(count("."), 2);
}

/* With so few descriptors that the new folder can be made but not opened. */
static void a_folder_that_cannot_be_opened_is_not_left(void **state) {
    (void)state;
    struct rlimit before, few;
    Err err = {0};
    Folder folder;
    assert_int_equal(getrlimit(RLIMIT_NOFILE, &before), 0);
    int next = open("/dev/null", O_RDONLY | O_CLOEXEC);
    close(next);
    few = (struct rlimit){(rlim_t)next + 1, before.rlim_max};
    assert_int_equal(setrlimit(RLIMIT_NOFILE, &few), 0);
    bool began = folder_begin("job", ours, &folder, &err);
    assert_int_equal(setrlimit(RLIMIT_NOFILE, &before), 0);
    assert_false(began);
    assert_int_equal(err.code, ERR_SYSTEM);
    assert_non_null(strstr(err.msg, "ulimit -n"));
    assert_int_equal(count("."), 0);
}

/* As another user, where the test runs as root: root may remove whatever it likes. */
static void an_old_job_that_cannot_be_removed_is_found_before(void **state) {
    (void)state;
    enum { NOBODY = 65534 };
    Err err = {0};
    assert_true(write_both("job", "one", false, &err) && write_both("theirs", "one", false, &err));
    assert_int_equal(chmod("job", 0555), 0);
    assert_int_equal(chmod("theirs", 01777), 0); /* sticky: only a file's owner may remove it */
    bool root = geteuid() == 0;
    if (root) assert_true(chmod(".", 0777) == 0 && chown("job", NOBODY, NOBODY) == 0);
    pid_t child = fork();
    if (child == 0) {
        if (root && setresuid(NOBODY, NOBODY, NOBODY) != 0) _exit(1);
        if (folder_check("job", ours, true, &err) || err.code != ERR_USAGE) _exit(2);
        if (!strstr(err.msg, "job: a.txt in it cannot be removed (Permission denied); ")) _exit(3);
        err = (Err){0};
        if (root && folder_check("theirs", ours, true, &err)) _exit(4);
        if (root && !strstr(err.msg, "theirs: a.txt in it cannot be removed (Operation not permitted); "))
            _exit(5);
        _exit(0);
    }
    int status;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(status, 0);
    holds("job/a.txt", "one");
}

/* The limit on the size of files; the program ignores the signal that comes with it. */
static void a_file_that_may_not_grow_is_told(void **state) {
    (void)state;
    Err err = {0};
    Folder folder;
    struct rlimit before, small;
    assert_int_equal(getrlimit(RLIMIT_FSIZE, &before), 0);
    small = (struct rlimit){3, before.rlim_max};
    assert_true(folder_begin("job", ours, &folder, &err));
    FILE *file = folder_open(&folder, "a.txt", &err);
    assert_non_null(file);
    fputs("four", file);
    void (*usual)(int) = signal(SIGXFSZ, SIG_IGN);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &small), 0);
    bool whole = folder_close(&folder, file, "a.txt", &err);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &before), 0);
    (void)signal(SIGXFSZ, usual);
    folder_abandon(&folder, ours);
    assert_false(whole);
    assert_int_equal(err.code, ERR_SYSTEM);
    assert_non_null(strstr(err.msg, "ulimit -f"));
    assert_int_equal(count("."), 0);
}

/* The child gets the signal in the middle of its work; the next file is not opened, nothing stays, and it
 * ends by the signal. */
static void a_signal_waits_until_all_is_tidy(void **state) {
    (void)state;
    static const int ending[] = {SIGINT, SIGTERM, SIGHUP};
    Err err;
    assert_true(write_both("job", "old", false, &err));
    for (int i = 0; i < 6; i++) {
        pid_t child = fork();
        if (child == 0) {
            Folder folder;
            (void)signal(ending[i / 2], SIG_DFL);
            if (!folder_begin("job", ours, &folder, &err) || raise(ending[i / 2]) != 0) _exit(1);
            if (i % 2 == 0 && (folder_open(&folder, "a.txt", &err) || err.code != ERR_SYSTEM)) _exit(2);
            if (i % 2 == 0)
                folder_abandon(&folder, ours);
            else if (folder_commit(&folder, ours, true, &err))
                _exit(3);
            _exit(4); /* the signal should have come by now */
        }
        int status;
        assert_int_equal(waitpid(child, &status, 0), child);
        if (!WIFSIGNALED(status) || WTERMSIG(status) != ending[i / 2]) fail_msg("%d: status %x", i, status);
        holds("job/a.txt", "old");
        assert_int_equal(count("."), 1);
    }
}

static void an_ignored_signal_stops_nothing(void **state) {
    (void)state;
    Err err = {0};
    pid_t child = fork();
    if (child == 0) {
        Folder folder;
        (void)signal(SIGHUP, SIG_IGN);
        if (!folder_begin("job", ours, &folder, &err) || raise(SIGHUP) != 0) _exit(1);
        FILE *file = folder_open(&folder, "a.txt", &err);
        if (!file || !folder_close(&folder, file, "a.txt", &err)) _exit(2);
        _exit(folder_commit(&folder, ours, false, &err) ? 0 : 3);
    }
    int status;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(status, 0);
    holds("job/a.txt", "");
}

/* /dev/full fails every write: Linux, full(4). */
static void a_full_disk_is_told(void **state) {
    (void)state;
    Err err = {0};
    Folder folder = {.dir = "job"};
    FILE *file = fopen("/dev/full", "wb");
    assert_non_null(file);
    fputs("lost", file);
    assert_false(folder_close(&folder, file, "a.txt", &err));
    assert_int_equal(err.code, ERR_SYSTEM);
    assert_non_null(strstr(err.msg, "job/a.txt"));
    assert_non_null(strstr(err.msg, "space"));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(a_new_folder_appears_whole, enter, leave),
        cmocka_unit_test_setup_teardown(an_earlier_job_gives_way_to_force_only, enter, leave),
        cmocka_unit_test_setup_teardown(what_is_not_of_a_job_is_never_touched, enter, leave),
        cmocka_unit_test_setup_teardown(places_that_are_no_folder_are_refused, enter, leave),
        cmocka_unit_test_setup_teardown(an_abandoned_job_leaves_nothing_and_the_old_one_stays, enter, leave),
        cmocka_unit_test_setup_teardown(what_comes_in_between_is_seen_at_the_end, enter, leave),
        cmocka_unit_test_setup_teardown(links_are_not_followed_when_writing, enter, leave),
        cmocka_unit_test_setup_teardown(the_next_run_removes_what_a_killed_one_left, enter, leave),
        cmocka_unit_test_setup_teardown(what_no_run_left_is_not_removed, enter, leave),
        cmocka_unit_test_setup_teardown(of_two_runs_the_second_is_told, enter, leave),
        cmocka_unit_test_setup_teardown(of_many_runs_at_once_the_folder_is_of_one, enter, leave),
        cmocka_unit_test_setup_teardown(a_folder_that_is_in_use_is_left_alone, enter, leave),
        cmocka_unit_test_setup_teardown(without_an_exchange_of_names_it_goes_in_two_steps, enter, leave),
        cmocka_unit_test_setup_teardown(an_exchange_that_fails_leaves_the_old_job, enter, leave),
        cmocka_unit_test_setup_teardown(an_old_job_left_aside_is_put_back, enter, leave),
        cmocka_unit_test_setup_teardown(a_signal_waits_until_all_is_tidy, enter, leave),
        cmocka_unit_test_setup_teardown(an_ignored_signal_stops_nothing, enter, leave),
        cmocka_unit_test_setup_teardown(what_is_called_replaced_and_is_no_runs_is_left_alone, enter, leave),
        cmocka_unit_test_setup_teardown(the_new_folder_is_as_open_as_the_old_one, enter, leave),
        cmocka_unit_test_setup_teardown(a_mask_that_takes_all_rights_leaves_nothing_behind, enter, leave),
        cmocka_unit_test_setup_teardown(a_folder_that_cannot_be_opened_is_not_left, enter, leave),
        cmocka_unit_test_setup_teardown(an_old_job_that_cannot_be_removed_is_found_before, enter, leave),
        cmocka_unit_test_setup_teardown(a_file_that_may_not_grow_is_told, enter, leave),
        cmocka_unit_test_setup_teardown(a_full_disk_is_told, enter, leave)};
    return cmocka_run_group_tests_name("folder", tests, NULL, NULL);
}
