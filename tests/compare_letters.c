/* Word marks as they are and with their letters made even, side by side. SPDX-License-Identifier: MIT
 *
 *     compare_letters FOLDER "16,500 20,1000 ..." PICTURE...    piece in mm, pieces
 *
 * A line each to standard output, contact sheets FOLDER/quality-1.png ...: the logo, the lay-up, the piece.
 */
#include "inks/inks.h"
#include "quality_sheet.h"
#include "read/read.h"
#include "run/even.h"
#include "run/run.h"
#include "say/verdict_words.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool show(Sheet *sheet, const Job *job, const char *name, const char *what, Err *err) {
    char figures[256];
    const Features *f = &job->measures.features;
    (void)snprintf(figures, sizeof figures, "%g mm %ld %s: features %d/%d %.2f like %.3f ropes %d %s",
                   job->order.piece_diameter_mm, job->order.pieces, what, f->kept, f->count, f->kept_share,
                   job->judgement.likeness, job->layup.laid, verdict_name(job->judgement.verdict));
    printf("%-14s %s\n", name, figures);
    (void)fflush(stdout);
    return sheet_add(sheet, job, name, figures, err);
}

static void tell(const EvenLetters *letters, const LetterGain *gain) {
    printf("%14s letters %.2f -> %.2f, least %+.2f", "", gain->was, gain->is, gain->least);
    for (int i = 0; i < letters->rows; i++) {
        const EvenRow *row = &letters->row[i];
        printf("; %d letters, stems %.1f -> %.0f samples, %.2f as wide, %.2f as high", row->letters,
               row->stem_was, row->stem, row->times_wide, row->times_high);
    }
    printf("\n");
}

static bool compare(Sheet *sheet, Job *job, const char *name, Err *err) {
    Job even;
    EvenLetters letters;
    LetterGain gain;
    if (!job_run(job, err) || !show(sheet, job, name, "as is", err) ||
        !even_best(job, &even, &letters, &gain, err))
        return false;
    bool good = !gain.better || show(sheet, &even, name, "even", err);
    if (gain.better) tell(&letters, &gain);
    job_free(&even);
    return good;
}

static bool compare_sizes(Sheet *sheet, const char *path, const char *sizes, Err *err) {
    Picture picture = {0};
    InkMap inks = {0};
    const Shop shop = shop_default();
    const char *slash = strrchr(path, '/'), *name = slash ? slash + 1 : path;
    bool good = decode(path, name, &picture, err) && find_inks(&picture, &inks, err);
    for (char *end; good && *sizes; sizes = end + strspn(end, " ")) {
        Job job = {.picture = &picture, .inks = &inks, .shop = &shop, .order = order_default()};
        job.order.piece_diameter_mm = strtod(sizes, &end);
        job.order.pieces = *end ? strtol(end + 1, &end, 10) : job.order.pieces;
        good = compare(sheet, &job, name, err);
        job_free(&job);
    }
    inkmap_free(&inks);
    picture_free(&picture);
    return good;
}

int main(int argc, char *argv[]) {
    Err err = {0};
    Sheet sheet = {.folder = argc > 3 ? argv[1] : ""};
    for (int i = 3; i < argc; i++)
        if (!compare_sizes(&sheet, argv[i], argv[2], &err)) {
            fprintf(stderr, "compare_letters: %s\n", err.msg);
            return 1;
        }
    if (argc > 3 && sheet_end(&sheet, &err)) return 0;
    fprintf(stderr, "usage: compare_letters FOLDER SIZES PICTURE...\n");
    return 2;
}
