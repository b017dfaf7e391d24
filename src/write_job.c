/* The job folder: one row of the table a file. SPDX-License-Identifier: MIT */
#include "write_job.h"

#include "draw_bench.h"
#include "draw_face.h"
#include "folder.h"
#include "write_csv.h"
#include "write_json.h"
#include "write_png.h"
#include "write_text.h"

enum { FACE_SIDE = 1200 }; /* px of face.png: 75 px a mm of the usual piece */

static bool write_face(const Job *job, FILE *file, Err *err) {
    Image image = {0};
    bool good = draw_face(job, FACE_SIDE, &image, err) && write_png(&image, file, err);
    image_free(&image);
    return good;
}

typedef struct Format {
    const char *file;
    bool (*write)(const Job *job, FILE *file, Err *err);
} Format;

static const Format table[] = {
    {"face.png", write_face},           {"bench.pdf", draw_bench},
             {"ropes.csv", write_ropes}, {"wraps.csv", write_wraps},
    {"materials.csv", write_materials}, {"job.txt", write_text},    {"job.json", write_json},
};

enum { FORMATS = sizeof table / sizeof *table };

/* The names of the files that are ours, NULL after the last. */
static void list_ours(const char *out[FORMATS + 1]) {
    for (int i = 0; i < FORMATS; i++) out[i] = table[i].file;
    out[FORMATS] = NULL;
}

static bool write_files(const Job *job, const Folder *folder, Err *err) {
    for (int i = 0; i < FORMATS; i++) {
        FILE *file = folder_open(folder, table[i].file, err);
        if (!file) return false;
        bool good = table[i].write(job, file, err);
        if (!folder_close(folder, file, table[i].file, err) || !good) return false;
    }
    return true;
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
    if (!folder_check(dir, ours, force, err) || !folder_begin(dir, &folder, err)) return false;
    if (write_files(job, &folder, err)) return folder_commit(&folder, ours, force, err);
    folder_abandon(&folder, ours);
    return false;
}
