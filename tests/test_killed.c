/* The job folder while runs are killed, meet, or find the disk full. SPDX-License-Identifier: MIT
 *
 * Children write one of two whole jobs again and again; after each the folder must hold one of them, to the
 * byte. Functions linked in place of those that draw make tiny pictures, and a sheet of noise: nearly all of
 * the time is writing. LOGOCANE_FAULTS=many in the environment kills ten times as often. */
#include "draw/draw.h"
#include "write/write.h"

#include "small_job.h"

#include <errno.h>
#include <signal.h>
#include <stdlib.h>
#include <sys/mount.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

bool __wrap_draw_bench(const Job *job, FILE *file, Err *err);
bool __wrap_draw_face(const Job *job, int side, Image *out, Err *err);
bool __wrap_draw_mockup(const Job *job, int width, Image *out, Err *err);
bool __wrap_draw_size(const Job *job, Image *out, Err *err);
bool __wrap_draw_check(const Job *job, Image *out, Err *err);

/* Something that differs from job to job and hardly compresses. */
static bool draw_noise(const Job *job, Image *out, Err *err) {
    enum { SIDE = 100 };
    uint32_t state = (uint32_t)job->order.name[0];
    if (!image_new(SIDE, SIDE, 0, out, err)) return false;
    for (int i = 0; i < SIDE * SIDE * 4; i++) {
        state = state * 1664525 + 1013904223; /* Numerical Recipes */
        out->rgba[i] = i % 4 == 3 ? 255 : (uint8_t)(state >> 24);
    }
    return true;
}

bool __wrap_draw_face(const Job *job, int side, Image *out, Err *err) {
    (void)side;
    return draw_noise(job, out, err);
}
bool __wrap_draw_mockup(const Job *job, int width, Image *out, Err *err) {
    (void)width;
    return draw_noise(job, out, err);
}
bool __wrap_draw_size(const Job *job, Image *out, Err *err) {
    return draw_noise(job, out, err);
}
bool __wrap_draw_check(const Job *job, Image *out, Err *err) {
    return draw_noise(job, out, err);
}

bool __wrap_draw_bench(const Job *job, FILE *file, Err *err) {
    Image image;
    if (!draw_noise(job, &image, err)) return false;
    for (int i = 0; i < 3; i++) fwrite(image.rgba, 4, (size_t)image.width * (size_t)image.height, file);
    image_free(&image);
    return true;
}

static char place[] = P_tmpdir "/killed-test-XXXXXX";
static Whole whole[2];
static const char *const reference[2] = {"reference/a", "reference/b"};

static int enter(void **state) {
    (void)state;
    Err err = {0};
    if (!mkdtemp(place) || chdir(place) != 0 || mkdir("reference", 0755) != 0) return -1;
    put("shop.ini", "[limits]\nleast_strip = 20 mm\n");
    put_logo("logo.png", LOGO_EASY);
    for (int i = 0; i < 2; i++) {
        whole_fill("logo.png", &whole[i]);
        (void)snprintf(whole[i].job.order.name, sizeof whole[i].job.order.name, "%s", i ? "second" : "first");
        assert_true(write_job(&whole[i].job, reference[i], false, &err));
    }
    return 0;
}

static int leave(void **state) {
    (void)state;
    char command[128];
    for (int i = 0; i < 2; i++) whole_free(&whole[i]);
    (void)snprintf(command, sizeof command, "rm -rf %s", place);
    return chdir("/") == 0 && system(command) == 0 ? 0 : -1;
}

static bool same_file(const char *folder, const char *other, const char *name) {
    char path[2][300];
    FILE *file[2];
    const char *const in[2] = {folder, other};
    for (int i = 0; i < 2; i++) {
        (void)snprintf(path[i], sizeof path[i], "%s/%s", in[i], name);
        file[i] = fopen(path[i], "rb");
    }
    int a = 0, b = file[0] && file[1] ? 0 : 1;
    while (a == b && a != EOF) a = getc_unlocked(file[0]), b = getc_unlocked(file[1]);
    for (int i = 0; i < 2; i++)
        if (file[i]) (void)fclose(file[i]);
    return a == b;
}

static bool same_files(const char *folder, const char *other) {
    DIR *stream = opendir(other);
    assert_non_null(stream);
    bool same = count(folder) == count(other);
    for (struct dirent *entry; same && (entry = readdir(stream));)
        same = entry->d_name[0] == '.' || same_file(folder, other, entry->d_name);
    closedir(stream);
    return same;
}

/* Which of the two whole jobs is in the folder: 0, 1; -1 = neither. */
static int which(const char *dir) {
    return same_files(dir, reference[0]) ? 0 : same_files(dir, reference[1]) ? 1 : -1;
}

static pid_t start(int job, const char *dir) {
    pid_t child = fork();
    if (child != 0) return child;
    Err err = {0};
    bool good = write_job(&whole[job].job, dir, true, &err);
    end_child(good ? 0 : err.code == ERR_USAGE && strstr(err.msg, "another run") ? 2 : 1);
}

static int end_of(pid_t child) {
    int status;
    assert_int_equal(waitpid(child, &status, 0), child);
    return status;
}

static double now_s(void) {
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

static void sleep_s(double s) {
    const struct timespec time = {(time_t)s, (long)((s - floor(s)) * 1e9)};
    (void)nanosleep(&time, NULL);
}

static void killed_at_any_moment_the_folder_holds_a_whole_job(void **state) {
    (void)state;
    static const int ending[] = {SIGKILL, SIGINT, SIGTERM};
    const char *faults = getenv("LOGOCANE_FAULTS");
    int moments = faults ? 500 : 50, left = 0, changed = 0;
    double start_s = now_s();
    assert_int_equal(end_of(start(0, "job")), 0);
    double takes = now_s() - start_s;
    int names = count("."), before = 0;
    uint32_t random = 20;
    for (int i = 0; i < moments; i++) {
        random = random * 1664525 + 1013904223;
        int signal_sent = ending[i % 3];
        bool clean = count(".") == names; /* else a run may end before it has tidied up after the last */
        pid_t child = start(1 - before, "job");
        sleep_s(takes * 1.1 * (random >> 8) / (1 << 24));
        (void)kill(child, signal_sent);
        int status = end_of(child), after = which("job");
        if (status != 0 && (!WIFSIGNALED(status) || WTERMSIG(status) != signal_sent))
            fail_msg("moment %d: ended with %x", i, status);
        if (after < 0 || (status == 0 && after == before))
            fail_msg("moment %d: %d, was %d", i, after, before);
        if (clean && count(".") != names && signal_sent != SIGKILL) fail_msg("moment %d: something stays", i);
        left += count(".") != names;
        changed += after != before;
        before = after;
        if (count(".") != names && i % 2 == 0) assert_int_equal(end_of(start(before, "job")), 0);
    }
    print_message("%d moments: %d wrote before, %d left a folder behind\n", moments, changed, left);
    assert_int_equal(end_of(start(0, "job")), 0);
    assert_int_equal(which("job"), 0);
    assert_int_equal(count("."), names);
}

static void of_two_whole_runs_at_once_the_folder_is_of_one(void **state) {
    (void)state;
    int told = 0;
    for (int i = 0; i < 8; i++) {
        pid_t first = start(0, "both"), second = start(1, "both");
        int a = end_of(first), b = end_of(second);
        if (!WIFEXITED(a) || !WIFEXITED(b) || WEXITSTATUS(a) == 1 || WEXITSTATUS(b) == 1 ||
            (a != 0 && b != 0))
            fail_msg("they ended with %x and %x", a, b);
        if (a != 0 || b != 0) assert_int_equal(which("both"), a != 0);
        assert_true(which("both") >= 0);
        told += a != 0 || b != 0;
    }
    print_message("%d of 8 times one was told of the other\n", told);
}

/* On a file system with that limit: the first write fails and nothing is there, or the second and the old job
 * is. Which it was, 1 or 2; 3 if both went well, 0 if neither, -1 if something is wrong. */
static int fill_disk(const char *limit) {
    if (mount("tmpfs", "disk", "tmpfs", 0, limit) != 0) return 0;
    int end = 3;
    for (int i = 0; i < 2 && end == 3; i++) {
        Err err = {0};
        if (write_job(&whole[i].job, "disk/job", true, &err)) continue;
        bool good = err.code == ERR_SYSTEM && strstr(err.msg, "space") &&
                    (i == 0 ? count("disk") == 0 : count("disk") == 1 && which("disk/job") == 0);
        if (!good) print_message("%s: %s\n", limit, err.msg);
        end = good ? i + 1 : -1;
    }
    (void)umount("disk");
    return end;
}

/* Mounting asks for rights that not every machine gives. */
static void a_disk_that_is_full_keeps_the_old_job(void **state) {
    (void)state;
    static const char *const limits[] = {"size=4k",      "size=32k",     "size=64k",     "size=128k",
                                         "size=192k",    "size=224k",    "size=256k",    "nr_inodes=3",
                                         "nr_inodes=8",  "nr_inodes=16", "nr_inodes=20", "nr_inodes=24",
                                         "nr_inodes=26", "size=4m"};
    int ends[4] = {0};
    assert_int_equal(mkdir("disk", 0755), 0);
    if (mount("tmpfs", "disk", "tmpfs", 0, NULL) != 0) {
        print_message("a small file system cannot be mounted here (%s)\n", strerror(errno));
        skip();
    }
    assert_int_equal(umount("disk"), 0);
    for (size_t i = 0; i < sizeof limits / sizeof *limits; i++) {
        int end = fill_disk(limits[i]);
        if (end < 1) fail_msg("%s: %d", limits[i], end);
        ends[end]++;
    }
    print_message("%d disks full at the first job, %d at the second\n", ends[1], ends[2]);
    assert_true(ends[1] > 2 && ends[2] > 2 && ends[3] > 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(killed_at_any_moment_the_folder_holds_a_whole_job),
                                       cmocka_unit_test(of_two_whole_runs_at_once_the_folder_is_of_one),
                                       cmocka_unit_test(a_disk_that_is_full_keeps_the_old_job)};
    return cmocka_run_group_tests_name("killed", tests, enter, leave);
}
