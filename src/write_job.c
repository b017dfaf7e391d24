/* The job folder: one row of the table a file. SPDX-License-Identifier: MIT */
#include "write_job.h"

#include "draw_bench.h"
#include "draw_check.h"
#include "draw_face.h"
#include "draw_mockup.h"
#include "draw_size.h"
#include "folder.h"
#include "write_csv.h"
#include "write_jpeg.h"
#include "write_json.h"
#include "write_png.h"
#include "write_text.h"

enum { FACE_SIDE = 1200 }; /* px of face.png: 75 px a mm of the usual piece */

static bool draw_large_face(const Job *job, Image *out, Err *err) {
    return draw_face(job, FACE_SIDE, out, err);
}

/* A file is written from the job, or encoded from a drawing; files of one drawing follow each other. */
typedef struct Format {
    const char *file;
    bool (*write)(const Job *job, FILE *file, Err *err);
    bool (*draw)(const Job *job, Image *out, Err *err);
    bool (*encode)(const Image *image, FILE *file, Err *err);
} Format;

static const Format table[] = {
    {"face.png", NULL, draw_large_face, write_png}, {"actual-size.png", NULL, draw_size, write_png},
    {"mockup.png", NULL, draw_mockup, write_png},   {"mockup.jpg", NULL, draw_mockup, write_jpeg},
    {"check.png", NULL, draw_check, write_png},     {"bench.pdf", draw_bench, NULL, NULL},
    {"ropes.csv", write_ropes, NULL, NULL},         {"wraps.csv", write_wraps, NULL, NULL},
    {"materials.csv", write_materials, NULL, NULL}, {"job.txt", write_text, NULL, NULL},
    {"job.json", write_json, NULL, NULL},
};

enum { FORMATS = sizeof table / sizeof *table };

/* The names of the files that are ours, NULL after the last. */
static void list_ours(const char *out[FORMATS + 1]) {
    for (int i = 0; i < FORMATS; i++) out[i] = table[i].file;
    out[FORMATS] = NULL;
}

/* The image of row i; `image` holds that of the row before. */
static bool draw_format(const Job *job, int i, Image *image, Err *err) {
    if (i > 0 && table[i].draw == table[i - 1].draw) return true;
    image_free(image);
    return !table[i].draw || table[i].draw(job, image, err);
}

static bool write_files(const Job *job, const Folder *folder, Err *err) {
    Image image = {0};
    bool good = true;
    for (int i = 0; good && i < FORMATS; i++) {
        const Format *format = &table[i];
        FILE *file = draw_format(job, i, &image, err) ? folder_open(folder, format->file, err) : NULL;
        good = file && (format->write ? format->write(job, file, err) : format->encode(&image, file, err));
        if (file) good = folder_close(folder, file, format->file, err) && good;
    }
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
    if (write_files(job, &folder, err)) return folder_commit(&folder, ours, force, err);
    folder_abandon(&folder, ours);
    return false;
}
