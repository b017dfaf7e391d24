/* The whole command while memory runs out. SPDX-License-Identifier: MIT
 *
 * The command runs in children, so that each begins alike and may die. Pango may keep a thread to its end,
 * and a child would wait for what its parent's thread never does: so what draws in this process comes last.
 * Pictures are drawn at a tenth and laid up coarsely, by functions linked in place of those that draw: what
 * can fail is the same, and it is quick.
 *
 * malloc, calloc and realloc as our files call them, and cJSON's, count down to the one that fails. Each is
 * failed in each output by itself; through the whole command the first from each place in our files, by its
 * callers, every so many-th of them, more with LOGOCANE_FAULTS=many in the environment, most with =most. */
#include "draw/canvas.h"
#include "judge/judge.h"
#include "plan/plan.h"
#include "wanted.h"
#include "draw/draw.h"
#include "app/command.h"
#include "draw/scene.h"
#include "draw/sheet.h"
#include "read/read.h"
#include "run/run.h"
#include "write/files.h"
#include "write/write.h"

#include "sanitized.h"
#include "small_job.h"

#include <cJSON.h>
#include <dirent.h>
#include <execinfo.h>
#include <fcntl.h>
#include <fontconfig/fontconfig.h>
#include <glob.h>
#include <limits.h>
#include <setjmp.h>
#include <signal.h>
#include <stdarg.h>
#include <stdatomic.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>
#include <cmocka.h>

/* --- allocations that fail --- */

#ifdef SANITIZED
enum { SLOWER = 2 }; /* than without */
#else
enum { SLOWER = 1 };
#endif
enum { NEVER = 1 << 30 };

static atomic_int left = NEVER; /* allocations until one fails */
static atomic_int calls;        /* that were asked for */
static atomic_int live;         /* blocks not freed */

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *block, size_t size);
void __real_free(void *block);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *block, size_t size);
void __wrap_free(void *block);

/* Places that ask for memory, told apart by their callers, and the first call from each. Children fill it. */
enum { PLACES = 1 << 13, CALLERS = 3, OURS = 3 }; /* `OURS`: callers in this file; then mem_alloc's */

typedef struct Places {
    atomic_int count;
    int first[PLACES];
    _Atomic uint64_t known[PLACES]; /* hashes; 0: free */
} Places;

static Places *places; /* shared with children */
static bool marks_places;

static __attribute__((noinline)) void mark_place(int call) {
    void *caller[OURS + CALLERS];
    const int count = backtrace(caller, OURS + CALLERS);
    uint64_t hash = 0xcbf29ce484222325;
    for (int i = OURS; i < count; i++) hash = (hash ^ (uint64_t)(uintptr_t)caller[i]) * 0x100000001b3;
    hash |= 1;
    for (uint64_t at = hash >> 32; atomic_load(&places->count) < PLACES; at++) {
        uint64_t was = 0;
        if (atomic_compare_exchange_strong(&places->known[at % PLACES], &was, hash)) break;
        if (was == hash) return;
    }
    places->first[atomic_fetch_add(&places->count, 1) % PLACES] = call;
}

static __attribute__((noinline)) bool fails(void) {
    const int call = atomic_fetch_add(&calls, 1);
    if (marks_places) mark_place(call);
    return atomic_fetch_sub(&left, 1) == 0;
}

static void *counted(void *block) {
    if (block) atomic_fetch_add(&live, 1);
    return block;
}

void *__wrap_malloc(size_t size) {
    return fails() ? NULL : counted(__real_malloc(size));
}

void *__wrap_calloc(size_t count, size_t size) {
    return fails() ? NULL : counted(__real_calloc(count, size));
}

void *__wrap_realloc(void *block, size_t size) {
    if (!block) return __wrap_malloc(size);
    return fails() ? NULL : __real_realloc(block, size);
}

void __wrap_free(void *block) {
    if (block) atomic_fetch_sub(&live, 1);
    __real_free(block);
}

/* --- pictures at a tenth --- */

bool __real_draw_face(const Job *job, int side, Image *out, Err *err);
bool __wrap_draw_face(const Job *job, int side, Image *out, Err *err);
bool __real_piece_surface_new(const Job *job, int side, PieceSurface *out, Err *err);
bool __wrap_piece_surface_new(const Job *job, int side, PieceSurface *out, Err *err);
bool __real_scene_render(const Scatter *scatter, const PieceSurface *surface, const SceneFrame *frame,
                         Image *out, Err *err);
bool __wrap_scene_render(const Scatter *scatter, const PieceSurface *surface, const SceneFrame *frame,
                         Image *out, Err *err);
void __real_canvas_open(Canvas *canvas, int width, int height, double px_per_mm, Rgb8 ground);
void __wrap_canvas_open(Canvas *canvas, int width, int height, double px_per_mm, Rgb8 ground);

static int tenth(int px) {
    return (px + 9) / 10;
}

/* Each pixel becomes ten by ten: the size asked for, since callers count on it. */
static bool blow_up(const Image *small, int width, int height, Image *out, Err *err) {
    Image image;
    if (!image_new(width, height, 0, &image, err)) return false;
    for (int y = 0; y < height; y++)
        for (int x = 0; x < width; x++)
            memcpy(image.rgba + 4 * ((size_t)y * (size_t)width + (size_t)x),
                   small->rgba + 4 * ((size_t)(y / 10) * (size_t)small->width + (size_t)(x / 10)), 4);
    *out = image;
    return true;
}

bool __wrap_draw_face(const Job *job, int side, Image *out, Err *err) {
    Image small = {0};
    bool good = __real_draw_face(job, tenth(side), &small, err) && blow_up(&small, side, side, out, err);
    image_free(&small);
    return good;
}

bool __wrap_piece_surface_new(const Job *job, int side, PieceSurface *out, Err *err) {
    return __real_piece_surface_new(job, tenth(side), out, err);
}

bool __wrap_scene_render(const Scatter *scatter, const PieceSurface *surface, const SceneFrame *frame,
                         Image *out, Err *err) {
    const SceneFrame small = {tenth(frame->width), tenth(frame->height), frame->left / 10, frame->top / 10,
                              frame->right / 10,   frame->bottom / 10,   frame->threads};
    Image image = {0};
    bool good = __real_scene_render(scatter, surface, &small, &image, err) &&
                blow_up(&image, frame->width, frame->height, out, err);
    image_free(&image);
    return good;
}

void __wrap_canvas_open(Canvas *canvas, int width, int height, double px_per_mm, Rgb8 ground) {
    __real_canvas_open(canvas, tenth(width), tenth(height), px_per_mm, ground);
}

/* --- a place to work in --- */

static char place[] = P_tmpdir "/memory-test-XXXXXX", start[PATH_MAX]; /* where it started */

static int enter(void **state) {
    (void)state;
    if (!getcwd(start, sizeof start) || !mkdtemp(place) || chdir(place) != 0) return -1;
    put_logo("logo.png", LOGO_EASY);
    put_logo("hard.png", LOGO_HARD);
    put_logo("small.png", LOGO_SMALL);
    put_logo("word.png", LOGO_WORD);
    put("shop.ini", "[limits]\nleast_strip = 20 mm\n");
    if (!FcInit()) return -1; /* once here, not in every child */
    cJSON_InitHooks(&(cJSON_Hooks){__wrap_malloc, __wrap_free});
    return 0;
}

static int leave(void **state) {
    (void)state;
    char command[128];
    (void)snprintf(command, sizeof command, "rm -rf %s", place);
    return chdir("/") == 0 && system(command) == 0 ? 0 : -1;
}

/* --- runs in children --- */

enum { ARGUMENTS = 12 };

/* What a child tells of its run. */
typedef struct Told {
    int status, calls, live;
    Err err;
} Told;

/* Runs the command with the arguments in a child, its output to `out`; the n-th allocation fails. */
static Told run_child(const char *const arguments[], int n, const char *out) {
    int ends[2], count = 0;
    Told told = {.status = -1};
    assert_int_equal(pipe(ends), 0);
    pid_t child = fork();
    if (child == 0) {
        char *argv[ARGUMENTS + 1];
        (void)signal(SIGSEGV, SIG_DFL); /* cmocka's would go on with the tests, in the child */
        (void)signal(SIGABRT, SIG_DFL);
        int to = open(out, O_WRONLY | O_CLOEXEC);
        for (; arguments[count]; count++) argv[count] = strdup(arguments[count]);
        argv[count] = NULL;
        if (to < 0 || dup2(to, STDOUT_FILENO) < 0) end_child(1);
        live = 0;
        calls = 0;
        left = n;
        told.status = command_run(count, argv, &told.err);
        told.calls = calls, told.live = live;
        left = NEVER;
        marks_places = false; /* a build that counts lines asks for memory yet */
        end_child(write(ends[1], &told, sizeof told) != (ssize_t)sizeof told);
    }
    close(ends[1]);
    ssize_t got = read(ends[0], &told, sizeof told);
    close(ends[0]);
    int status;
    assert_int_equal(waitpid(child, &status, 0), child);
    if (status != 0 || got != (ssize_t)sizeof told)
        fail_msg("allocation %d: the child ended with %x", n, status);
    return told;
}

/* A number that changes with whatever happens to the folder: itself and each file in it. */
static uint64_t mark_of(const char *path) {
    struct stat about;
    if (lstat(path, &about) != 0) return 0;
    uint64_t mark = about.st_ino;
    DIR *stream = opendir(path);
    assert_non_null(stream);
    for (struct dirent *entry; (entry = readdir(stream));) {
        if (entry->d_name[0] == '.' ||
            fstatat(dirfd(stream), entry->d_name, &about, AT_SYMLINK_NOFOLLOW) != 0)
            continue;
        mark += (about.st_ino * 31 + (uint64_t)about.st_size) * 31 + (uint64_t)about.st_mtim.tv_nsec;
    }
    closedir(stream);
    return mark;
}

/* Every so many-th place is tried: usually, with many faults, with most. */
typedef struct Strides {
    int usual, many, most;
} Strides;

/* Fails the first allocation from each of these places: it must be told, with nothing leaked and nothing
 * changed. */
static void fail_each(const char *const arguments[], Strides strides) {
    const char *faults = getenv("LOGOCANE_FAULTS");
    int stride = strides.usual * SLOWER;
    if (faults) stride = strcmp(faults, "most") == 0 ? strides.most : strides.many;
    places = mmap(NULL, sizeof *places, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
    assert_ptr_not_equal(places, MAP_FAILED);
    marks_places = true;
    Told whole = run_child(arguments, NEVER, "/dev/null");
    marks_places = false;
    if (whole.err.code != ERR_NONE || whole.live != 0 || whole.calls < 100)
        fail_msg("whole: %d blocks left of %d; %s", whole.live, whole.calls, whole.err.msg);
    uint64_t before = mark_of("job");
    int names = count("."), tried = 0;
    for (int i = 0; i < places->count; i += stride, tried++) {
        const int n = places->first[i];
        Told told = run_child(arguments, n, "/dev/null");
        if (told.status != 3 || told.err.code != ERR_MEMORY || !told.err.msg[0] || told.live != 0)
            fail_msg("allocation %d of %d: status %d, %d blocks left, \"%s\"", n, whole.calls, told.status,
                     told.live, told.err.msg);
        if (mark_of("job") != before || count(".") != names)
            fail_msg("allocation %d of %d changed the folder", n, whole.calls);
    }
    print_message("%d of %d allocations failed, from %d places\n", tried, whole.calls, places->count);
    assert_true(places->count > 100 && places->count < PLACES / 2);
    assert_int_equal(munmap(places, sizeof *places), 0);
}

static void memory_that_runs_out_while_judging_is_told(void **state) {
    (void)state;
    fail_each((const char *[]){"logocane", "--shop", "shop.ini", "logo.png", NULL}, (Strides){13, 5, 5});
    fail_each((const char *[]){"logocane", "--json", "--shop", "shop.ini", "hard.png", NULL},
              (Strides){31, 20, 9});
    fail_each((const char *[]){"logocane", "--shop", "shop.ini", "small.png", NULL}, (Strides){13, 5, 5});
}

/* Letters made even, a part left out, and all of it once more with the first proposal taken. */
static void memory_that_runs_out_while_letters_are_made_even_is_told(void **state) {
    (void)state;
    fail_each((const char *[]){"logocane", "--advised", "--leave-out", "81:50", "--shop", "shop.ini",
                               "word.png", NULL},
              (Strides){13, 4, 1});
}

/* A job that is kept is ordered anew: with the candies that it has, and chosen again. What failed is gone. */
static void memory_that_runs_out_when_a_job_is_ordered_again_is_told(void **state) {
    (void)state;
    Whole whole;
    whole_fill("logo.png", &whole);
    Job named = {.picture = &whole.picture, .inks = &whole.inks, .shop = &whole.shop};
    int tried = 0;
    for (int colours = 4; colours >= 2; colours -= 2) {
        bool good = false;
        for (int before = live, n = 0; !good; n += 29 * SLOWER) {
            Ordered ordered;
            Err err = {0};
            named.order = whole.job.order;
            assert_true(ordered_new(&named, &ordered, &err) && job_run(&ordered.job, &err));
            named.order.piece_diameter_mm += 4;
            named.order.colours = colours;
            left = n;
            good = ordered_again(&named, &ordered, &err);
            left = NEVER;
            assert_int_equal(err.code, good ? ERR_NONE : ERR_MEMORY);
            if (good) ordered_free(&ordered);
            assert_int_equal(live, before);
            tried += !good;
        }
    }
    print_message("%d allocations failed\n", tried);
    assert_true(tried > 20 / SLOWER);
    whole_free(&whole);
}

/* --- files read one by one, so that each allocation for each can be failed --- */

/* A library may go on without what it asked for: the file is refused all the same, or taken without an error.
 */
static int fail_each_of_file(const char *path) {
    Err whole = {0}, err = {0};
    Picture picture = {0};
    bool readable = decode(path, "logo", &picture, &whole), failed = true;
    picture_free(&picture);
    int before = live, n = 0;
    for (; failed; n++, err = (Err){0}) {
        left = n;
        bool good = decode(path, "logo", &picture, &err);
        failed = left < 0;
        left = NEVER;
        picture_free(&picture);
        if (live != before) fail_msg("%s, allocation %d: %d blocks more", path, n, live - before);
        if (good != (err.code == ERR_NONE) || (failed && good))
            fail_msg("%s, allocation %d: %s, \"%s\"", path, n, good ? "taken" : "refused", err.msg);
        if (failed && err.code != ERR_MEMORY && readable)
            fail_msg("%s, allocation %d: \"%s\"", path, n, err.msg);
    }
    return n - 1;
}

static void memory_that_runs_out_while_reading_is_told(void **state) {
    (void)state;
    static const char *const kinds[] = {"png", "jpeg", "stb"};
    for (int i = 0; i < 3; i++) {
        char pattern[PATH_MAX + 32];
        glob_t found;
        int tried = 0;
        (void)snprintf(pattern, sizeof pattern, "%s/tests/seeds/%s/*", start, kinds[i]);
        assert_int_equal(glob(pattern, 0, NULL, &found), 0);
        for (size_t k = 0; k < found.gl_pathc; k++) tried += fail_each_of_file(found.gl_pathv[k]);
        print_message("%s: %d allocations failed\n", kinds[i], tried);
        globfree(&found);
    }
}

/* 8 steps, two candies in squares of two steps each; or their left half and its mirror image. */
static Grid chequered_grid(bool mirrored) {
    enum { SIDE = 8 };
    Grid grid = {.steps = SIDE, .least_steps = 2, .candies = 2, .core = {SIDE / 2.0, SIDE / 2.0, SIDE / 2.0}};
    grid.cost = calloc(2 * SIDE * SIDE, sizeof *grid.cost);
    assert_non_null(grid.cost);
    for (int i = 0; i < SIDE * SIDE; i++) {
        int x = mirrored && i % SIDE >= SIDE / 2 ? SIDE - 1 - i % SIDE : i % SIDE;
        grid.cost[(x / 2 + i / SIDE / 2) % 2 * SIDE * SIDE + i] = COST_ONE;
    }
    want_the_cheapest(&grid);
    return grid;
}

/* Each allocation of the lay-up in turn. */
static void fail_each_of_lay_up(const Grid *grid, int cap) {
    const LayKey key = lay_key(DETAIL_FINE, cap);
    bool good = false;
    int n = 0;
    for (int before = live; !good; n++) {
        LayUp layup = {.nodes = 777};
        Err err = {0};
        left = n;
        good = lay_up(grid, &key, &layup, &err);
        left = NEVER;
        assert_int_equal(err.code, good ? ERR_NONE : ERR_MEMORY);
        if (!good) assert_int_equal(layup.nodes, 777);
        if (good) assert_true(n > 7 && (cap == 0 || layup.laid <= cap));
        if (good) layup_free(&layup);
        assert_int_equal(live, before);
    }
    print_message("%d allocations failed\n", n - 1);
}

/* Of a half that is its own mirror image, of the whole, and where a lay-up with a cap of ropes comes after
 * others. */
static void memory_that_runs_out_leaves_the_lay_up_alone(void **state) {
    (void)state;
    for (int mirrored = 0; mirrored < 2; mirrored++)
        for (int cap = 0; cap <= 5; cap += 5) {
            Grid grid = chequered_grid(mirrored);
            fail_each_of_lay_up(&grid, cap);
            grid_free(&grid);
        }
}

/* The word of put_logo under a navy square, on white. */
static InkMap square_and_word(void) {
    enum { WIDE = 96, HIGH = 160 };
    InkMap map = {.width = WIDE, .height = HIGH, .count = 2, .circle = {48, 80, 93}};
    Err err = {0};
    map.ink[0].srgb = (Rgb8){250, 250, 250};
    map.ink[1].srgb = (Rgb8){26, 36, 84};
    map.label = calloc(WIDE * HIGH, 1);
    assert_non_null(map.label);
    for (int i = 0; i < WIDE * HIGH; i++) {
        const int x = i % WIDE, y = i / WIDE;
        map.label[i] = (x >= 13 && x < 83 && y < 70) || in_word(x, y - 70);
    }
    assert_true(count_inks(&map, &err) && find_edges(&map, &err));
    return map;
}

/* Each allocation in turn of leaving the lettering out. */
static void memory_that_runs_out_leaves_the_lettering_alone(void **state) {
    (void)state;
    const Edit lettering = {.kind = EDIT_LETTERING};
    InkMap map = square_and_word();
    bool good = false;
    int n = 0;
    for (int before = live; !good; n++) {
        InkMap out = {.count = 777};
        Err err = {0};
        left = n;
        good = leave_out(&map, &lettering, 1, &out, &err);
        left = NEVER;
        assert_int_equal(err.code, good ? ERR_NONE : ERR_MEMORY);
        assert_int_equal(out.count, good ? 2 : 777);
        if (good) assert_true(fabs(out.circle.r - 35 * sqrt(2)) < 0.1);
        if (good) inkmap_free(&out);
        assert_int_equal(live, before);
    }
    assert_true(n > 10);
    print_message("%d allocations failed\n", n - 1);
    inkmap_free(&map);
}

/* Each allocation of the measures in turn; of what depends on what was found, too. */
static void memory_that_runs_out_leaves_the_measures_alone(void **state) {
    (void)state;
    Whole whole;
    whole_fill("hard.png", &whole);
    bool good = false;
    int n = 0;
    for (int before = live; !good; n++) {
        Measures measures = {.features = {.count = 777}};
        Err err = {0};
        left = n;
        good = measure(&whole.job, &measures, &err);
        left = NEVER;
        assert_int_equal(err.code, good ? ERR_NONE : ERR_MEMORY);
        if (!good) assert_int_equal(measures.features.count, 777);
        if (good) assert_true(measures.features.count != 777);
        if (good) measures_free(&measures);
        assert_int_equal(live, before);
    }
    print_message("%d allocations failed\n", n - 1);
    assert_true(n > 20);
    whole_free(&whole);
}

/* --- the outputs one by one, so that each allocation of each can be failed --- */

static bool draw_small_face(const Job *job, Image *out, Err *err) {
    return draw_face(job, 300, out, err);
}

static bool draw_small_mockup(const Job *job, Image *out, Err *err) {
    return draw_mockup(job, 400, out, err);
}

typedef struct Output {
    const char *name;
    bool (*draw)(const Job *job, Image *out, Err *err);
    bool (*encode)(const Image *image, FILE *file, Err *err);
    bool (*write)(const Job *job, FILE *file, Err *err);
} Output;

static bool print_output(const Output *output, const Job *job, Err *err) {
    FILE *file = fopen("/dev/null", "wb");
    assert_non_null(file);
    Image image = {0};
    bool good = output->write ? output->write(job, file, err)
                              : output->draw(job, &image, err) && output->encode(&image, file, err);
    image_free(&image);
    assert_int_equal(fclose(file), 0);
    return good;
}

static void memory_that_runs_out_in_any_output_is_told(void **state) {
    (void)state;
    static const Output outputs[] = {
        {"face.png", draw_small_face, write_png, NULL},
        {"actual-size.png", draw_size, write_png, NULL},
        {"mockup.jpg", draw_small_mockup, write_jpeg, NULL},
        {"check.png", draw_check, write_png, NULL},
        {"bench.pdf", NULL, NULL, draw_bench},
        {"ropes.csv", NULL, NULL, write_ropes},
        {"wraps.csv", NULL, NULL, write_wraps},
        {"materials.csv", NULL, NULL, write_materials},
        {"job.txt", NULL, NULL, write_text},
        {"job.json", NULL, NULL, write_json},
        {"job.html", NULL, NULL, write_html},
        {"the first answer", NULL, NULL, write_answer_drawn},
        {"the second answer", NULL, NULL, write_answer_advised},
    };
    Whole whole;
    whole_fill("hard.png", &whole);
    for (size_t i = 0; i < sizeof outputs / sizeof *outputs; i++) {
        int before = live, n = 0;
        for (bool good = false; !good; n += n > 500 ? 3 * SLOWER : 1) { /* job.json asks thousands of times */
            Err err = {0};
            left = n;
            good = print_output(&outputs[i], &whole.job, &err);
            bool failed = left < 0;
            left = NEVER;
            if (good && failed) fail_msg("%s, allocation %d: went on without it", outputs[i].name, n);
            if (live != before)
                fail_msg("%s, allocation %d: %d blocks more", outputs[i].name, n, live - before);
            if (!good && (err.code != ERR_MEMORY || !err.msg[0]))
                fail_msg("%s, allocation %d: code %d, \"%s\"", outputs[i].name, n, err.code, err.msg);
            if (good && (err.code != ERR_NONE)) fail_msg("%s: %s", outputs[i].name, err.msg);
        }
        print_message("%s: up to %d allocations failed\n", outputs[i].name, n - 1);
    }
    whole_free(&whole);
}

/* --- the whole command with outputs --- */

static void memory_that_runs_out_while_writing_leaves_the_old_job(void **state) {
    (void)state;
    fail_each(
        (const char *[]){"logocane", "-q", "--force", "-o", "job", "--shop", "shop.ini", "logo.png", NULL},
        (Strides){31, 16, 9});
}

static void memory_that_runs_out_in_a_sweep_is_told(void **state) {
    (void)state;
    fail_each((const char *[]){"logocane", "--sweep=16,18:500", "-o", "table", "--force", "--shop",
                               "shop.ini", "logo.png", NULL},
              (Strides){13, 9, 3});
}

/* Of several logos what fails in one of them is told in its row, and ends nothing else. */
static int fail_some(const char *const arguments[], int from, int stride) {
    const Told whole = run_child(arguments, NEVER, "/dev/null");
    const int names = count(".");
    int tried = 0;
    if (whole.err.code != ERR_NONE || whole.live != 0)
        fail_msg("whole: %d blocks left; %s", whole.live, whole.err.msg);
    for (int n = from; n < whole.calls; n += stride, tried++) {
        Told told = run_child(arguments, n, "/dev/null");
        bool row = told.status == 2 && told.err.code == ERR_NONE;
        if ((!row && (told.status != 3 || told.err.code != ERR_MEMORY)) || told.live != 0)
            fail_msg("allocation %d of %d: status %d, %d blocks left, \"%s\"", n, whole.calls, told.status,
                     told.live, told.err.msg);
        if (count(".") != names) fail_msg("allocation %d of %d left a folder", n, whole.calls);
    }
    return tried;
}

static void memory_that_runs_out_in_one_of_several_costs_its_row_at_most(void **state) {
    (void)state;
    assert_int_equal(mkdir("logos", 0755), 0);
    put("logos/empty.png", "");
    put("logos/notes.txt", "no picture");
    const char *const lists[][9] = {{"logocane", "--json", "logos", "missing.png", NULL},
                                    {"logocane", "-q", "-o", "jobs", "logos", "missing.png", NULL}};
    int tried = 0;
    for (size_t i = 0; i < sizeof lists / sizeof *lists; i++) tried += fail_some(lists[i], 0, 1);
    assert_in_range(tried, 20, 400);
    tried +=
        fail_some((const char *[]){"logocane", "--csv", "--shop", "shop.ini", "logo.png", NULL}, 7, 1201);
    print_message("%d allocations failed\n", tried);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(memory_that_runs_out_while_reading_is_told),
        cmocka_unit_test(memory_that_runs_out_while_judging_is_told),
        cmocka_unit_test(memory_that_runs_out_while_letters_are_made_even_is_told),
        cmocka_unit_test(memory_that_runs_out_when_a_job_is_ordered_again_is_told),
        cmocka_unit_test(memory_that_runs_out_leaves_the_lay_up_alone),
        cmocka_unit_test(memory_that_runs_out_leaves_the_lettering_alone),
        cmocka_unit_test(memory_that_runs_out_leaves_the_measures_alone),
        cmocka_unit_test(memory_that_runs_out_while_writing_leaves_the_old_job),
        cmocka_unit_test(memory_that_runs_out_in_a_sweep_is_told),
        cmocka_unit_test(memory_that_runs_out_in_one_of_several_costs_its_row_at_most),
        cmocka_unit_test(memory_that_runs_out_in_any_output_is_told),
    };
    return cmocka_run_group_tests_name("out of memory", tests, enter, leave);
}
