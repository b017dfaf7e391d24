/* The pictures of job.html. SPDX-License-Identifier: MIT
 *
 * Each is drawn in its own pixels, the marks over it as shapes, so that they come and go with a box that is
 * ticked. The face is in the file once; at true size the same picture is shown again. */
#include "write/html_out.h"

#include "base/text.h"
#include "base/units.h"
#include "draw/draw.h"
#include "say/answer.h"
#include "write/files.h"
#include "write/in_memory.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
    FACE_SIDE = 720,         /* px */
    LOGO_SIDE = 640,         /* px, the longer side at most */
    LOGO_BYTES = 600 * 1000, /* a PNG of more is a photograph: written as JPEG */
    BADGE = 22               /* px of a picture that is FACE_SIDE large */
};

/* A picture on which places are marked. */
typedef struct Marked {
    int width, height; /* px */
    Circle log;        /* px: of the whole log on it */
} Marked;

/* --- marks --- */

static void print_place(const char *before, double value, FILE *file) {
    fputs(before, file);
    html_number(value, file);
    fputc('"', file);
}

static void print_box(const char *kind, double x, double y, double w, double h, FILE *file) {
    fprintf(file, "<rect class=\"%s\"", kind);
    print_place(" x=\"", x, file);
    print_place(" y=\"", y, file);
    print_place(" width=\"", w, file);
    print_place(" height=\"", h, file);
    print_place(" rx=\"", fmin(fmin(w, h) / 2, 40), file);
    fputs("/>", file);
}

/* Of the corners of a ring the one where a number is farthest from those before it, and inside the picture.
 */
static Point place_badge(const Marked *on, Point middle, double w, double h, const Point *before, int count,
                         double size) {
    Point best = middle;
    double most = -HUGE_VAL;
    for (int i = 0; i < 4; i++) {
        Point p = {middle.x + (i < 2 ? w : -w) / 2, middle.y + (i % 3 ? h : -h) / 2};
        p.x = within(p.x, size, on->width - size);
        p.y = within(p.y, size, on->height - size);
        double room = 3 * size - 0.1 * size * i;
        for (int k = 0; k < count; k++) room = fmin(room, hypot(p.x - before[k].x, p.y - before[k].y));
        if (room <= most) continue;
        most = room;
        best = p;
    }
    return best;
}

static void print_marks(const Job *job, const Marked *on, FILE *file) {
    Point badge[FLAWS_MAX];
    const double size = BADGE * fmax(on->width, on->height) / FACE_SIDE, side = 2 * on->log.r;
    fputs("<g class=\"marks\" aria-hidden=\"true\">\n", file);
    for (int i = 0; i < job->flaws.count; i++) {
        const FlawRing ring = flaw_ring(job, i);
        const double w = ring.w * side, h = ring.h * side;
        const Point middle = {on->log.x + (ring.middle.x - 0.5) * side,
                              on->log.y + (ring.middle.y - 0.5) * side};
        print_box("halo", middle.x - w / 2, middle.y - h / 2, w, h, file);
        print_box("ring", middle.x - w / 2, middle.y - h / 2, w, h, file);
        fputc('\n', file);
        badge[i] = place_badge(on, middle, w, h, badge, i, size);
    }
    for (int i = 0; i < job->flaws.count; i++) {
        fputs("<g class=\"badge\" transform=\"translate(", file);
        html_number(badge[i].x, file);
        fputc(' ', file);
        html_number(badge[i].y, file);
        fputs(") scale(", file);
        html_number(size / BADGE, file);
        fprintf(file, ")\"><circle r=\"%d\"/><text y=\"11\">%d</text></g>\n", BADGE, i + 1);
    }
    fputs("</g>\n", file);
}

/* --- the two pictures --- */

/* Opens the picture, with what it is called for those who do not see it. */
static void print_svg(const Marked *picture, const char *what, const Job *job, FILE *file) {
    fprintf(file, "<figure><div class=\"paper\"><svg viewBox=\"0 0 %d %d\" role=\"img\" aria-label=\"",
            picture->width, picture->height);
    html_text(what, file);
    html_text(job->order.name, file);
    fputs("\">\n", file);
}

/* The picture itself, in base64; frees the text. */
static void print_image(const Marked *picture, const char *kind, const char *id, char *text, FILE *file) {
    fprintf(file, "<image id=\"%s\" width=\"%d\" height=\"%d\" href=\"data:image/%s;base64,%s\"/>\n", id,
            picture->width, picture->height, kind, text);
    free(text);
}

static void end_svg(const char *caption, LogoGround ground, FILE *file) {
    fprintf(file, "</svg></div><figcaption>%s", caption);
    if (ground.candy) fputs(", laid on ", file);
    if (ground.candy) html_text(ground.candy->name, file);
    if (ground.clear) fprintf(file, "%s where it is transparent", ground.candy ? "" : ", chequered");
    fputs("</figcaption></figure>\n", file);
}

static bool print_logo(const Job *job, FILE *file, Err *err) {
    Image image = {0};
    if (!draw_logo(job, LOGO_SIDE, &image, err)) return false;
    const double scale = (double)image.width / job->picture->width;
    const Circle log = log_on_logo(job);
    const Marked on = {image.width, image.height, {log.x * scale, log.y * scale, log.r * scale}};
    const char *kind = "png";
    char *text = png_base64(&image, err);
    if (text && strlen(text) > LOGO_BYTES) {
        free(text);
        kind = "jpeg";
        text = image_base64(&image, write_jpeg, err);
    }
    image_free(&image);
    if (!text) return false;
    print_svg(&on, "The logo as sent: ", job, file);
    print_image(&on, kind, "logo", text, file);
    print_marks(job, &on, file);
    end_svg("The logo as sent", logo_ground(job), file);
    return true;
}

static bool print_face(const Job *job, FILE *file, Err *err) {
    const Marked on = {FACE_SIDE, FACE_SIDE, {FACE_SIDE / 2.0, FACE_SIDE / 2.0, FACE_SIDE / 2.0}};
    Image image = {0};
    if (!draw_face(job, FACE_SIDE, &image, err)) return false;
    char *text = png_base64(&image, err);
    image_free(&image);
    if (!text) return false;
    print_svg(&on, "The finished piece, as hands can lay it: ", job, file);
    print_image(&on, "png", "face", text, file);
    print_marks(job, &on, file);
    end_svg("The finished piece, as hands can lay it", (LogoGround){0}, file);
    return true;
}

/* --- places in words --- */

static void print_places(const Job *job, FILE *file) {
    char words[FLAW_TEXT + LETTERS_TEXT];
    const int count = job->flaws.count;
    html_element("h3", "What does not come out as drawn", file);
    if (count == 0) html_element("p", "no place is marked", file);
    if (count > 0) fputs("<ol class=\"places\">\n", file);
    for (int i = 0; i < count; i++) {
        flaw_print(job, &job->flaws.flaw[i], words);
        html_element("li", words, file);
    }
    if (count > 0) fputs("</ol>\n", file);
    (void)snprintf(words, sizeof words, "and %d more place%s", job->flaws.more,
                   job->flaws.more == 1 ? "" : "s");
    if (job->flaws.more > 0) html_element("p", words, file);
    for (int i = 0; i < job->grid.redrawn.even.rows; i++) {
        letters_print(job, i, words);
        html_element("p", words, file);
    }
}

/* --- true size --- */

static void print_end(double mm, bool mirrored, const char *label, FILE *file) {
    fputs("<svg width=\"", file);
    html_number(mm, file);
    fputs("mm\" height=\"", file);
    html_number(mm, file);
    fprintf(file, "mm\" viewBox=\"0 0 %d %d\" role=\"img\" aria-label=\"%s\"><use href=\"#face\"%s/></svg>\n",
            FACE_SIDE, FACE_SIDE, label, mirrored ? " transform=\"translate(720 0) scale(-1 1)\"" : "");
}
_Static_assert(FACE_SIDE == 720, "the mirror image lies elsewhere");

/* A rule of `parts` parts, every `long_part` longer; in mm. */
static void print_rule(double length, int parts, int long_part, const char *name, FILE *file) {
    fputs("<svg class=\"rule\" width=\"", file);
    html_number(length + 14, file);
    fputs("mm\" height=\"5mm\" viewBox=\"-.5 0 ", file);
    html_number(length + 14, file);
    fprintf(file, " 5\" role=\"img\" aria-label=\"A rule of %s\"><path d=\"M0 4.5H", name);
    html_number(length, file);
    for (int i = 0; i <= parts; i++) {
        fputs("M", file);
        html_number(length * i / parts, file);
        fprintf(file, " 4.5V%s", i % parts == 0 ? "1.5" : i % long_part == 0 ? "2" : "3");
    }
    fputs("\"/><text y=\"4.5\" x=\"", file);
    html_number(length + 1.2, file);
    fprintf(file, "\">%s</text></svg>\n", name);
}

static void print_true_size(const Job *job, FILE *file) {
    char piece[96], line[200];
    const double mm = job->order.piece_diameter_mm;
    html_element("h3", "True size", file);
    fputs("<div class=\"true\"><div class=\"ends\">\n", file);
    print_end(mm, false, "One end of the piece, at true size", file);
    print_end(mm, true, "The other end: the mirror image, at true size", file);
    fputs("</div><div>\n", file);
    print_rule(20, 20, 5, "20 mm", file);
    if (job->order.units == UNITS_IN) print_rule(MM_PER_IN / 2, 8, 2, "1/2 in", file);
    fputs("</div></div>\n", file);
    piece_size_print(job, piece);
    (void)snprintf(line, sizeof line,
                   "Both ends of a piece of %s, where the rule measures true: printed at 100 %%.", piece);
    fputs("<p class=\"quiet\">", file);
    html_text(line, file);
    fputs("</p>\n", file);
}

bool html_pictures(const Job *job, FILE *file, Err *err) {
    char line[LOG_LINE];
    const bool marks = job->flaws.count > 0;
    html_section("Logo and finished piece", file);
    if (marks)
        fputs("<input type=\"checkbox\" id=\"show\" checked=\"checked\"/> "
              "<label class=\"switch\" for=\"show\">Mark what does not come out</label>\n",
              file);
    fputs("<div class=\"look\"><div><div class=\"both\">\n", file);
    if (!print_logo(job, file, err) || !print_face(job, file, err)) return false;
    fputs("</div>\n", file);
    fit_words(job, line);
    html_note("p", line, file);
    fputs("</div><div class=\"words\">\n<div>", file);
    print_places(job, file);
    fputs("</div><div>\n", file);
    print_true_size(job, file);
    fputs("</div></div></div>\n", file);
    html_section_end(file);
    return true;
}
