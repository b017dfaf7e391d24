/* Tests of src/folder.c. SPDX-License-Identifier: MIT */
#include "folder.h"

#include <dirent.h>
#include <fcntl.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include <cmocka.h>

static const char *const ours[] = {"a.txt", "b.txt", NULL};

/* Each test runs in an empty folder of its own. */
static int enter(void **state) {
    char name[] = "/tmp/folder-test-XXXXXX";
    if (!mkdtemp(name) || chdir(name) != 0) return -1;
    *state = strdup(name);
    return *state ? 0 : -1;
}

static int leave(void **state) {
    char command[128];
    (void)snprintf(command, sizeof command, "chmod -R u+rwx %s; rm -rf %s", (char *)*state, (char *)*state);
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
    if (!folder_check(dir, ours, force, err) || !folder_begin(dir, &folder, err)) return false;
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
    holds("file", "mine");
    assert_int_equal(count("."), 4);
    assert_int_equal(count("real"), 0);
}

static void an_abandoned_job_leaves_nothing_and_the_old_one_stays(void **state) {
    (void)state;
    Err err;
    Folder folder;
    assert_true(write_both("job", "one", false, &err));
    assert_true(folder_begin("job", &folder, &err));
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
    assert_true(folder_begin("job", &folder, &err));
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
    assert_true(folder_begin("job", &folder, &err));
    assert_int_equal(symlinkat("../victim", folder.at, "a.txt"), 0);
    assert_null(folder_open(&folder, "a.txt", &err));
    assert_int_equal(err.code, ERR_SYSTEM);
    folder_abandon(&folder, ours);
    holds("victim", "mine");
    assert_int_equal(count("."), 1);
}

static void leftovers_of_a_killed_run_are_in_nobodys_way(void **state) {
    (void)state;
    Err err;
    char name[64];
    (void)snprintf(name, sizeof name, "job.new-%ld-0", (long)getpid());
    assert_int_equal(mkdir(name, 0755), 0);
    assert_true(write_both("job", "one", false, &err));
    holds("job/a.txt", "one");
    assert_int_equal(count("."), 2);
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
        cmocka_unit_test_setup_teardown(leftovers_of_a_killed_run_are_in_nobodys_way, enter, leave),
        cmocka_unit_test_setup_teardown(a_full_disk_is_told, enter, leave)};
    return cmocka_run_group_tests_name("folder", tests, NULL, NULL);
}
