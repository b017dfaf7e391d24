/* The answer of the page, in its first form: to be replaced by all there is to tell. SPDX-License-Identifier:
 * MIT
 */
#include "write/write.h"

#include "draw/draw.h"
#include "say/verdict_words.h"
#include "write/files.h"
#include "write/in_memory.h"
#include "write/json_out.h"

#include <stdlib.h>

/* Prints the object in one line and frees it. */
static bool print_line(Out *out, cJSON *object, FILE *file, Err *err) {
    char *text = out->failed ? NULL : cJSON_PrintUnformatted(object);
    cJSON_Delete(object);
    if (!text) return err_set(err, ERR_MEMORY, "out of memory (for the answer); close other programs");
    fprintf(file, "%s\n", text);
    cJSON_free(text);
    return true;
}

bool write_answer_drawn(const Job *job, FILE *file, Err *err) {
    Out out = {.job = job};
    Image image = {0};
    char *png = draw_face(job, 640, &image, err) ? png_base64(&image, err) : NULL;
    image_free(&image);
    if (!png) return false;
    cJSON *object = cJSON_CreateObject();
    put_text(&out, object, "stage", "drawn");
    put_text(&out, object, "verdict", verdict_name(job->judgement.verdict));
    put_text(&out, object, "name", job->order.name);
    cJSON *face = put_object(&out, object, "face");
    if (!cJSON_AddStringToObject(face, "png", png)) out.failed = true;
    put_number(&out, face, "side", 640);
    put_number(&out, face, "span_mm", job->order.piece_diameter_mm);
    free(png);
    return print_line(&out, object, file, err);
}

bool write_answer_advised(const Job *job, FILE *file, Err *err) {
    Out out = {.job = job};
    cJSON *object = cJSON_CreateObject();
    put_text(&out, object, "stage", "advised");
    char *letter = written(job, write_letter, err);
    if (!letter || !cJSON_AddStringToObject(object, "letter", letter)) out.failed = true;
    free(letter);
    return print_line(&out, object, file, err);
}
