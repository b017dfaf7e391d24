/* How fast the program is, and how much memory it takes. SPDX-License-Identifier: MIT
 *
 *     bench_all BUILD ROUNDS
 *
 * Runs bench_decode, logocane and bench_lay_up of the folder BUILD on the pictures in BUILD/bench-pictures,
 * all in turn, ROUNDS times, each (but those run once) once untimed before, so that none pays for what ran
 * before it; prints medians by the clock and of processors, the most memory, and the aims as ratios: what one
 * machine does in a millisecond another does in three, but the decoders of libpng and stb_image do so too.
 * Times of the lay-up are scaled to a machine where libpng decodes the 4000 x 4000 PNG in DECODE_MS. */
#include <fcntl.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum { ROUNDS_MAX = 99, PATHS = 256, WORDS = 8 };

static const double decode_ms = 80;

typedef struct Run {
    const char *what;
    const char *word[WORDS]; /* the command; its files are in BUILD */
    bool once;               /* for memory: one round */
    double wall[ROUNDS_MAX], cpu[ROUNDS_MAX], wall_ms, cpu_ms, peak_mb;
} Run;

enum {
    PNG_1000,
    PNG_4000,
    PNG_INTERLACED,
    STB_4000,
    STB_JPEG,
    ONE_1000,
    ONE_4000,
    ONE_INTERLACED,
    ONE_JPEG,
    ONE_9000,
    FOLDER,
    RUNS
};

static Run run[RUNS] = {
    [PNG_1000] = {.what = "libpng, 1000 x 1000",
                  .word = {"bench_decode", "png", "bench-pictures/logo-1000.png"}},
    [PNG_4000] = {.what = "libpng, 4000 x 4000",
                  .word = {"bench_decode", "png", "bench-pictures/logo-4000.png"}},
    [PNG_INTERLACED] = {.what = "libpng, 4000 x 4000 interlaced",
                        .word = {"bench_decode", "png", "bench-pictures/interlaced-4000.png"}},
    [STB_4000] = {.what = "stb_image, 4000 x 4000 PNG",
                  .word = {"bench_decode", "stb", "bench-pictures/logo-4000.png"}},
    [STB_JPEG] = {.what = "stb_image, 4000 x 4000 JPEG",
                  .word = {"bench_decode", "stb", "bench-pictures/logo-4000.jpg"}},
    [ONE_1000] = {.what = "verdict, 1000 x 1000", .word = {"logocane", "bench-pictures/logo-1000.png"}},
    [ONE_4000] = {.what = "verdict, 4000 x 4000", .word = {"logocane", "bench-pictures/logo-4000.png"}},
    [ONE_INTERLACED] = {.what = "verdict, 4000 x 4000 interlaced",
                        .word = {"logocane", "bench-pictures/interlaced-4000.png"}},
    [ONE_JPEG] = {.what = "verdict, 4000 x 4000 JPEG", .word = {"logocane", "bench-pictures/logo-4000.jpg"}},
    [ONE_9000] = {.what = "verdict, 9000 x 9000 (once)",
                  .word = {"logocane", "bench-pictures/logo-9000.png"},
                  .once = true},
    [FOLDER] = {.what = "job folder, 4000 x 4000",
                .word = {"logocane", "--force", "-o", "bench-pictures/job", "bench-pictures/logo-4000.png"}},
};

static const int steps[] = {24, 36, 52, 69, 84};
enum { STEPS = sizeof steps / sizeof *steps };

typedef struct LayUpTime {
    double wall_ms, cpu_ms, peak_mb;
} LayUpTime;

static _Noreturn void fail(const char *what) {
    fprintf(stderr, "bench_all: %s\n", what);
    exit(1);
}

static double seconds_of(struct timeval t) {
    return (double)t.tv_sec + (double)t.tv_usec * 1e-6;
}

/* Runs the command with its output going to `out`; true if it ends with 0. The child is made without a copy
 * of this process, which is small: what counts as its memory is its own. */
static bool run_command(const char *build, const char *const *word, int out, struct rusage *used) {
    char path[WORDS][PATHS], *argv[WORDS + 1] = {0};
    for (int i = 0; i < WORDS && word[i]; i++) {
        bool file = i == 0 || strchr(word[i], '/');
        (void)snprintf(path[i], PATHS, "%s%s%s", file ? build : "", file ? "/" : "", word[i]);
        argv[i] = path[i];
    }
    pid_t child = fork();
    if (child == 0) {
        (void)dup2(out, STDOUT_FILENO);
        execv(argv[0], argv);
        _exit(127);
    }
    int status = 0;
    return child > 0 && wait4(child, &status, 0, used) == child && WIFEXITED(status) &&
           WEXITSTATUS(status) == 0;
}

static double now_ms(void) {
    struct timespec t;
    (void)clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec * 1e3 + (double)t.tv_nsec * 1e-6;
}

static void run_once(const char *build, Run *r, int round, int null) {
    struct rusage used;
    if (!r->once && !run_command(build, r->word, null, &used)) fail(r->what);
    double start = now_ms();
    if (!run_command(build, r->word, null, &used)) fail(r->what); /* all verdicts are go */
    r->wall[round] = now_ms() - start;
    r->cpu[round] = 1e3 * (seconds_of(used.ru_utime) + seconds_of(used.ru_stime));
    r->peak_mb = fmax(r->peak_mb, (double)used.ru_maxrss / 1024);
}

static int compare(const void *a, const void *b) {
    double p = *(const double *)a, q = *(const double *)b;
    return (p > q) - (p < q);
}

static double median(double *value, int count) {
    qsort(value, (size_t)count, sizeof *value, compare);
    return value[count / 2];
}

static LayUpTime time_lay_up(const char *build, int n, int rounds) {
    char number[16], times[16], line[64] = "";
    (void)snprintf(number, sizeof number, "%d", n);
    (void)snprintf(times, sizeof times, "%d", rounds);
    const char *const word[WORDS] = {"bench_lay_up", "bench-pictures/logo-1000.png", number, times};
    struct rusage used;
    int ends[2];
    LayUpTime t = {0};
    if (pipe(ends) != 0 || !run_command(build, word, ends[1], &used)) fail("the lay-up failed");
    (void)close(ends[1]);
    if (read(ends[0], line, sizeof line - 1) <= 0) fail("the lay-up said nothing");
    (void)close(ends[0]);
    char *rest;
    t.wall_ms = strtod(line, &rest);
    t.cpu_ms = strtod(rest, NULL);
    t.peak_mb = (double)used.ru_maxrss / 1024;
    return t;
}

static void print_aim(const char *what, const char *unit, double floor_at, double aim, double wall,
                      double cpu) {
    const char *reached = wall <= aim ? "aim" : wall <= floor_at ? "floor" : "no";
    printf("%-58s %8.4g %8.4g %9.3g", what, floor_at, aim, wall);
    if (cpu > 0)
        printf(" %9.3g", cpu);
    else
        printf(" %9s", "");
    printf("  %-3s %s\n", unit, reached);
}

static void print_aims(const LayUpTime lay[STEPS]) {
    double wall = run[PNG_4000].wall_ms / decode_ms, cpu = run[PNG_4000].cpu_ms / decode_ms;
    double peak = fmax(run[ONE_4000].peak_mb, run[ONE_9000].peak_mb);
    printf("\n%-58s %8s %8s %9s %9s\n", "", "floor", "aim", "clock", "processor");
    print_aim("verdict, 4000 x 4000 PNG, against libpng's decode", "x", 4, 3,
              run[ONE_4000].wall_ms / run[PNG_4000].wall_ms, run[ONE_4000].cpu_ms / run[PNG_4000].cpu_ms);
    print_aim("verdict, 1000 x 1000 PNG", "x", 60, 30, run[ONE_1000].wall_ms / run[PNG_1000].wall_ms,
              run[ONE_1000].cpu_ms / run[PNG_1000].cpu_ms);
    print_aim("peak memory, 4000 x 4000 and 9000 x 9000 PNG", "MB", 160, 64, peak, 0);
    print_aim("lay-up, n = 69, four candies, with fine blocks, scaled", "ms", 250, 90, lay[3].wall_ms / wall,
              lay[3].cpu_ms / cpu);
    print_aim("lay-up, n = 84, with fine blocks, scaled", "ms", 500, 400, lay[4].wall_ms / wall,
              lay[4].cpu_ms / cpu);
    print_aim("its peak memory", "MB", 160, 90, lay[4].peak_mb, 0);
    print_aim("job folder with all pictures and PDF, scaled", "s", 2.5, 1.5, run[FOLDER].wall_ms / wall / 1e3,
              run[FOLDER].cpu_ms / cpu / 1e3);
    printf("scaled: to a machine where libpng decodes the 4000 x 4000 PNG in %.0f ms\n", decode_ms);
}

int main(int argc, char *argv[]) {
    int rounds = argc == 3 ? atoi(argv[2]) : 0, null = open("/dev/null", O_WRONLY);
    if (rounds < 1 || rounds > ROUNDS_MAX || null < 0) fail("BUILD ROUNDS");
    for (int round = 0; round < rounds; round++)
        for (int i = 0; i < RUNS; i++)
            if (round == 0 || !run[i].once) run_once(argv[1], &run[i], round, null);
    printf("medians of %d rounds                      clock ms  processor ms  peak MB\n", rounds);
    for (int i = 0; i < RUNS; i++) {
        Run *r = &run[i];
        r->wall_ms = median(r->wall, r->once ? 1 : rounds);
        r->cpu_ms = median(r->cpu, r->once ? 1 : rounds);
        printf("%-40s %9.1f %13.1f %8.1f\n", r->what, r->wall_ms, r->cpu_ms, r->peak_mb);
    }
    LayUpTime lay[STEPS];
    for (int i = 0; i < STEPS; i++) {
        lay[i] = time_lay_up(argv[1], steps[i], rounds);
        printf("lay-up alone, n = %-22d %9.1f %13.1f %8.1f", steps[i], lay[i].wall_ms, lay[i].cpu_ms,
               lay[i].peak_mb);
        if (i > 0)
            printf("  grows as n^%.1f",
                   log(lay[i].cpu_ms / lay[i - 1].cpu_ms) / log((double)steps[i] / steps[i - 1]));
        printf("\n");
    }
    print_aims(lay);
    return 0;
}
