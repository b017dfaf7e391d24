/* The job folder: one row of the table a file. SPDX-License-Identifier: MIT
 *
 * Drawings and lists do not know of each other, so threads share them out (parallel.h), the dearest first.
 * What goes wrong is told as if they had been written one after the other. */
#include "write/write.h"

#include "base/parallel.h"
#include "draw/draw.h"
#include "base/folder.h"
#include "write/files.h"

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

static bool write_file(const Job *job, const Folder *folder, const Format *format, const Image *image,
                       Err *err) {
    FILE *file = folder_open(folder, format->file, err);
    if (!file) return false;
    bool good = format->write ? format->write(job, file, err) : format->encode(image, file, err);
    return folder_close(folder, file, format->file, err) && good;
}

/* One writing of all files. */
typedef struct Writing {
    const Job *job;       /* not owned */
    const Folder *folder; /* not owned */
} Writing;

/* Row i, and those of the same drawing after it. */
static bool write_row(void *context, int i, Err *err) {
    const Writing *w = context;
    const Format *format = &table[i];
    Image image = {0};
    if (same_drawing(i)) return true;
    bool good = !format->draw || format->draw(w->job, &image, err);
    for (int k = i; good && (k == i || same_drawing(k)); k++)
        good = write_file(w->job, w->folder, &table[k], &image, err);
    image_free(&image);
    return good;
}

bool write_job_check(const char *dir, bool force, Err *err) {
    const char *ours[FORMATS + 1];
    list_ours(ours);
    return folder_check(dir, ours, force, err);
}

bool write_job(const Job *job, const char *dir, bool force, Err *err) {
    const char *ours[FORMATS + 1];
    Folder folder;
    list_ours(ours);
    if (!folder_check(dir, ours, force, err) || !folder_begin(dir, ours, &folder, err)) return false;
    Writing w = {.job = job, .folder = &folder};
    if (parallel_tasks(FORMATS, 0, write_row, &w, err)) return folder_commit(&folder, ours, force, err);
    folder_abandon(&folder, ours);
    return false;
}
