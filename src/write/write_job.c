/* The job folder: one row of the table a file. SPDX-License-Identifier: MIT
 *
 * Drawings and lists do not know of each other, so threads share them out (parallel.h), the dearest first.
 * What goes wrong is told as if they had been written one after the other. */
#include "write/write.h"

#include "base/parallel.h"
#include "draw/draw.h"
#include "base/folder.h"
#include "write/files.h"
#include "write/last_words.h"

#include <stdlib.h>
#include <string.h>

enum {
    FACE_SIDE = 1200, /* px of face.png: 75 px a mm of the usual piece */
    MOCKUP_WIDTH = 1600
};

static bool draw_large_face(const Job *job, Image *out, Err *err) {
    return draw_face(job, FACE_SIDE, out, err);
}

static bool draw_large_mockup(const Job *job, Image *out, Err *err) {
    return draw_mockup(job, MOCKUP_WIDTH, out, err);
}

/* A file is written from the job, or encoded from a drawing; files of one drawing follow each other. */
typedef struct Format {
    const char *file; /* its name in the folder */
    bool (*write)(const Job *job, FILE *file, Err *err);
    bool (*draw)(const Job *job, Image *out, Err *err);
    bool (*encode)(const Image *image, FILE *file, Err *err);
} Format;

static const Format table[] = {
    {"mockup.png", NULL, draw_large_mockup, write_png},
    {"mockup.jpg", NULL, draw_large_mockup, write_jpeg},
    {"face.png", NULL, draw_large_face, write_png},
    {"check.png", NULL, draw_check, write_png},
    {"bench.pdf", draw_bench, NULL, NULL},
    {"actual-size.png", NULL, draw_size, write_png},
    {"job.html", write_html, NULL, NULL},
    {"ropes.csv", write_ropes, NULL, NULL},
    {"wraps.csv", write_wraps, NULL, NULL},
    {"materials.csv", write_materials, NULL, NULL},
    {"plan.csv", write_plan, NULL, NULL},
    {"letter.txt", write_letter, NULL, NULL},
    {"job.txt", write_text, NULL, NULL},
    {"job.json", write_json, NULL, NULL},
};

enum { FORMATS = sizeof table / sizeof *table };

/* The names of the files that are ours, NULL after the last. */
static void list_ours(const char *out[FORMATS + 1]) {
    for (int i = 0; i < FORMATS; i++) out[i] = table[i].file;
    out[FORMATS] = NULL;
}

/* Is row i encoded from the drawing of the row before? */
static bool same_drawing(int i) {
    return i > 0 && i < FORMATS && table[i].draw && table[i].draw == table[i - 1].draw;
}

/* One writing of all files, or of one, to a folder or, where `folder` is NULL, to memory. */
typedef struct Writing {
    const Job *job;       /* not owned */
    const Folder *folder; /* not owned */
    const char *only;     /* the one file that is wanted; NULL = all */
    char *bytes[FORMATS]; /* of each file that was written to memory; owned */
    size_t size[FORMATS]; /* of bytes */
} Writing;

static bool wanted(const Writing *w, int i) {
    return !w->only || strcmp(w->only, table[i].file) == 0;
}

static FILE *open_file(Writing *w, int i, Err *err) {
    if (w->folder) return folder_open(w->folder, table[i].file, err);
    FILE *file = open_memstream(&w->bytes[i], &w->size[i]);
    if (!file) (void)err_set(err, ERR_MEMORY, "out of memory (for %s); close other programs", table[i].file);
    return file;
}

/* What memory could not take shows as a failed write. */
static bool close_file(const Writing *w, FILE *file, int i, Err *err) {
    if (w->folder) return folder_close(w->folder, file, table[i].file, err);
    bool whole = fflush(file) == 0 && !ferror(file);
    return (fclose(file) == 0 && whole) ||
           err_set(err, ERR_MEMORY, "out of memory (for %s); close other programs", table[i].file);
}

static bool write_file(Writing *w, int i, const Image *image, Err *err) {
    const Format *format = &table[i];
    FILE *file = open_file(w, i, err);
    if (!file) return false;
    bool good = format->write ? format->write(w->job, file, err) : format->encode(image, file, err);
    return close_file(w, file, i, err) && good;
}

/* Row i, and those of the same drawing after it. */
static bool write_row(void *context, int i, Err *err) {
    Writing *w = context;
    Image image = {0};
    bool any = wanted(w, i);
    if (same_drawing(i)) return true;
    for (int k = i + 1; same_drawing(k); k++) any = any || wanted(w, k);
    if (!any) return true;
    bool good = !table[i].draw || table[i].draw(w->job, &image, err);
    for (int k = i; good && (k == i || same_drawing(k)); k++)
        if (wanted(w, k)) good = write_file(w, k, &image, err);
    image_free(&image);
    return good;
}

bool write_job_check(const char *dir, bool force, Err *err) {
    const char *ours[FORMATS + 1];
    list_ours(ours);
    return folder_check(dir, ours, force, err) && draw_fonts(err);
}

bool write_job(const Job *job, const char *dir, bool force, Err *err) {
    const char *ours[FORMATS + 1];
    Folder folder;
    list_ours(ours);
    if (!folder_check(dir, ours, force, err) || !folder_begin(dir, ours, &folder, err)) return false;
    Writing w = {.job = job, .folder = &folder};
    LastWords last;
    last_words_begin(&last, &folder, ours);
    bool good = parallel_tasks(FORMATS, 0, write_row, &w, err);
    last_words_end();
    if (good) return folder_commit(&folder, ours, force, err);
    folder_abandon(&folder, ours);
    return false;
}

const char *write_job_file(int i) {
    return i >= 0 && i < FORMATS ? table[i].file : NULL;
}

bool write_job_files(const Job *job, const char *only, JobFileTake *take, void *user, Err *err) {
    Writing w = {.job = job, .only = only};
    bool good = draw_fonts(err) && parallel_tasks(FORMATS, 0, write_row, &w, err);
    for (int i = 0; i < FORMATS; i++) {
        if (good && wanted(&w, i)) good = take(user, table[i].file, w.bytes[i], w.size[i], err);
        free(w.bytes[i]);
    }
    return good;
}
