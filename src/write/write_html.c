/* job.html: all of a job that people look at, as one file. SPDX-License-Identifier: MIT
 *
 * Opened by double click, printed, sent on: no script, and nothing that is fetched. Its pictures are in it;
 * what it links to lies beside it. What is said are the words of say/. */
#include "write/write.h"

#include "base/text.h"
#include "say/answer.h"
#include "write/html_out.h"

#include <stdio.h>
#include <string.h>

/* --- head --- */

static void print_head(const Job *job, FILE *file) {
    fputs("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n"
          "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; "
          "style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'\"/>\n"
          "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n"
          "<meta name=\"referrer\" content=\"no-referrer\"/>\n<title>",
          file);
    html_text(verdict_headline(job->judgement.verdict), file);
    fputs(": ", file);
    html_text(job->order.name, file);
    fputs("</title>\n<style>\n", file);
    html_style(file);
    fputs("</style>\n</head>\n<body>\n", file);
}

static void print_verdict(const Job *job, FILE *file) {
    char line[LOG_LINE];
    const Verdict verdict = job->judgement.verdict;
    fprintf(file, "<header class=\"%s\">\n<h1 dir=\"auto\">", verdict_name(verdict));
    html_text(job->order.name, file);
    fprintf(file, "</h1>\n<p class=\"verdict\"><span class=\"word\">%s</span> <span>",
            verdict_headline(verdict));
    (void)snprintf(line, sizeof line, "%s %s", logo_name(job), verdict_meaning(job, FORM_TEXT));
    html_text(line, file);
    fputs("</span></p>\n", file);
    edits_words(job, line);
    html_note("p", line, file);
    html_note("p", job->order.date, file);
    fputs("</header>\n<main>\n", file);
}

/* --- the answer, what helps, the checks --- */

static void print_rows(const Job *job, FILE *file) {
    Answer answer;
    answer_fill(job, 0, 0, &answer);
    html_section("In short", file);
    fputs("<dl class=\"rows\">\n", file);
    for (int i = 0; i < answer.rows; i++) {
        if (answer.row[i].label[0]) html_element("dt", answer.row[i].label, file);
        html_element("dd", answer.row[i].text, file);
    }
    fputs("</dl>\n", file);
    html_section_end(file);
}

/* The whole command where it is known; else what is to be added to it. */
static void print_command(const Job *job, const Way *way, FILE *file) {
    char logo[2 * sizeof job->file] = "", options[OPTIONS_TEXT], command[COMMAND_TEXT];
    if (!command_words(job, &way->change, options, sizeof options)) return;
    if (job->file[0] == '-') text_append(logo, sizeof logo, "-- ");
    text_append_word(logo, sizeof logo, job->file);
    const bool can = strcmp(job->file, "-") != 0 && strlen(logo) + 1 < sizeof logo &&
                     command_whole(job, options, NULL, logo, command);
    if (!can) (void)snprintf(command, sizeof command, "add %s", options);
    fputs("<br/>", file);
    html_element("code", command, file);
}

static void print_advice(const Job *job, FILE *file) {
    AnswerWay way[ANSWER_WAYS];
    const int count = answer_ways(job, way);
    if (count == 0) return;
    html_section("What helps", file);
    fputs("<ul class=\"list\">\n", file);
    for (int i = 0; i < count; i++) {
        fputs("<li>", file);
        html_text(way[i].text, file);
        print_command(job, way[i].way, file);
        fputs("</li>\n", file);
    }
    fputs("</ul>\n", file);
    html_section_end(file);
}

/* "go: finest stroke 0.9 mm, at least 0.58 mm wanted (habit)", and what is advised. */
static void print_check(const Job *job, const Check *check, Said *said, FILE *file) {
    char words[CHECK_TEXT], advice[ADVICE_TEXT];
    const char *name = verdict_name(check->verdict);
    check_words(check, job->order.units, words);
    fprintf(file, "<li class=\"%s\"><span class=\"tag\">%s</span><b>", name, check->own ? "shop" : name);
    html_text(check_name(check->kind, job->order.units), file);
    fputs("</b> ", file);
    html_text(words, file);
    if (check->standing != STANDING_OURS) fprintf(file, " (%s)", standing_name(check->standing));
    advice_print_short(job, check, said, advice);
    if (advice[0]) fputs("<br/><span class=\"quiet\">", file);
    html_text(advice, file);
    fprintf(file, "%s</li>\n", advice[0] ? "</span>" : "");
}

static void print_go(const Job *job, FILE *file) {
    const Judgement *judgement = &job->judgement;
    char words[CHECK_TEXT], line[CHECK_TEXT + 80];
    html_element("h3", "Go", file);
    fputs("<ul class=\"fine\">\n", file);
    for (int i = 0; i < judgement->checks; i++) {
        if (judgement->check[i].verdict != VERDICT_GO) continue;
        check_words(&judgement->check[i], job->order.units, words);
        (void)snprintf(line, sizeof line, "%s %s", check_name(judgement->check[i].kind, job->order.units),
                       words);
        html_element("li", line, file);
    }
    fputs("</ul>\n", file);
}

static void print_checks(const Job *job, FILE *file) {
    const Judgement *judgement = &job->judgement;
    Said said = {.lines = 0};
    int count[VERDICT_NO + 1] = {0};
    for (int i = 0; i < judgement->checks; i++) count[judgement->check[i].verdict]++;
    html_section("Checks", file);
    if (count[VERDICT_NO] + count[VERDICT_CHANGE] > 0) fputs("<ul class=\"list\">\n", file);
    for (int v = VERDICT_NO; v > VERDICT_GO; v--)
        for (int i = 0; i < judgement->checks; i++)
            if (judgement->check[i].verdict == (Verdict)v)
                print_check(job, &judgement->check[i], &said, file);
    if (count[VERDICT_NO] + count[VERDICT_CHANGE] > 0) fputs("</ul>\n", file);
    if (count[VERDICT_GO] > 0) print_go(job, file);
    html_section_end(file);
}

/* --- colours and candy --- */

static void print_swatch(int x, const char *fill, FILE *file) {
    fprintf(file,
            "<rect class=\"swatch\" x=\"%d.5\" y=\".5\" width=\"27\" height=\"27\" rx=\"5\" fill=\"%s\"/>", x,
            fill);
}

static void print_swatches(const char *ink, const char *candy, FILE *file) {
    fputs("<svg width=\"80\" height=\"28\" aria-hidden=\"true\">", file);
    print_swatch(0, ink, file);
    fputs("<path class=\"arrow\" d=\"M33 14h12m-4-4l4 4l-4 4\"/>", file);
    print_swatch(51, candy, file);
    fputs("</svg>", file);
}

static void print_ink(const Job *job, int i, FILE *file) {
    const InkMap *inks = job->inks;
    const Candy *candy = &job->palette.candy[job->palette.of_ink[i]];
    char code[RGB8_CODE] = "none", of[RGB8_CODE], words[INK_TEXT], line[LOG_LINE];
    if (!inks->ink[i].transparent) rgb8_code(inks->ink[i].srgb, code);
    rgb8_code(candy->srgb, of);
    fputs("<li class=\"ink\">", file);
    print_swatches(code, of, file);
    ink_candy_words(job, i, words);
    fputs("<div>", file);
    html_element("b", words, file);
    (void)snprintf(line, sizeof line, "%s, %.1f %% of the picture",
                   !inks->ink[i].transparent          ? code
                   : inks->beyond && i == inks->field ? "round it"
                                                      : "transparent",
                   inks->ink[i].share * 100);
    if (!inks->ink[i].transparent)
        text_append(line, sizeof line, ", difference %.1f (2 is hardly seen)", job->palette.delta_e[i]);
    if (i == inks->field) text_append(line, sizeof line, "; background");
    fputs("<br/><span class=\"quiet\">", file);
    html_text(line, file);
    fputs("</span></div></li>\n", file);
}

static void print_inks(const Job *job, FILE *file) {
    char line[ROPE_LINE];
    html_section("Colours", file);
    fputs("<ul class=\"list pairs\">\n", file);
    for (int i = 0; i < job->inks->count; i++) print_ink(job, i, file);
    fputs("</ul>\n<h3>Jacket</h3>\n", file);
    jacket_words(job, line);
    html_element("p", line, file);
    runner_up_words(job, line);
    html_note("p", line, file);
    html_section_end(file);
}

static void print_material(const Job *job, const MaterialRow *row, FILE *file) {
    char mass[32], name[CANDY_NAME + 32];
    (void)snprintf(name, sizeof name, "%s%s", row->candy.name, row->candy.dyed ? " (dyed to order)" : "");
    fputs("<tr><th scope=\"row\">", file);
    html_text(name, file);
    fprintf(file, "</th><td>%s</td>", finish_name(row->candy.finish));
    mass_print(mass, sizeof mass, row->mass_g, job->order.units);
    fprintf(file, "<td class=\"number\">%s</td>", mass);
    mass_print(mass, sizeof mass, row->with_spare_g, job->order.units);
    fprintf(file, "<td class=\"number\">%s</td></tr>\n", mass);
}

static void print_candy(const Job *job, FILE *file) {
    char line[ROPE_LINE + COOK_LINE];
    html_section(job->cane.logs > 1 ? "Candy to cook, all logs" : "Candy to cook", file);
    fprintf(
        file,
        "<table>\n<thead><tr><th scope=\"col\">candy</th><th scope=\"col\">finish</th>"
        "<th scope=\"col\" class=\"number\">mass</th><th scope=\"col\" class=\"number\">with %.3g %% spare "
        "(habit)</th></tr></thead>\n<tbody>\n",
        job->shop->spare_share * 100);
    for (int i = 0; i < job->bill.materials; i++)
        if (job->bill.material[i].mass_g >= MATERIAL_LEAST_G)
            print_material(job, &job->bill.material[i], file);
    fputs("</tbody>\n</table>\n", file);
    for (int i = 0; i < job->bill.blends; i++) {
        if (!blend_told(&job->bill.blend[i])) continue;
        blend_words(job, &job->bill.blend[i], FORM_TEXT, line);
        html_note("p", line, file);
    }
    block_ends_words(job, FORM_TEXT, line);
    html_note("p", line, file);
    batches_words(job, FORM_TEXT, line);
    html_note("p", line, file);
    dyed_words(job, FORM_TEXT, line);
    html_note("p", line, file);
    html_section_end(file);
}

/* --- the letter, the folder's files, cautions --- */

/* A part of the letter is a paragraph. */
static void print_letter(const Job *job, FILE *file) {
    char words[LETTER_TEXT];
    LetterPart part, before = LETTER_HEAD;
    html_section("Letter to the client", file);
    fputs("<div class=\"letter\">\n<p>", file);
    for (int row = 0, first = 0; letter_next(job, &row, &part, words); before = part) {
        fputs(first++ == 0 ? "" : part != before ? "</p>\n<p>" : "<br/>", file);
        html_text(words, file);
    }
    fputs("</p>\n</div>\n", file);
    html_section_end(file);
}

static const char *const told_file[][2] = {
    {"letter.txt", "the letter to the client, for an e-mail"},
    {"mockup.jpg", "the picture for the client, for an e-mail"},
    {"mockup.png", "the same as it was drawn, for print"},
    {"face.png", "the finished cut, large"},
    {"actual-size.png", "both ends, to be printed at true size"},
    {"check.png", "what cannot be built, beside what can"},
    {"bench.pdf", "the sheets to build from"},
    {"ropes.csv", "the ropes"},
    {"wraps.csv", "sheets, trims and rests"},
    {"materials.csv", "the candy to cook"},
    {"plan.csv", "who does what, and when"},
    {"job.txt", "all of it in words"},
    {"job.json", "all of it for programs"},
};

static void print_files(FILE *file) {
    html_section("Files beside this one", file);
    fputs("<ul class=\"list pairs\">\n", file);
    for (size_t i = 0; i < sizeof told_file / sizeof *told_file; i++)
        fprintf(file, "<li><a href=\"%s\">%s</a> %s</li>\n", told_file[i][0], told_file[i][0],
                told_file[i][1]);
    fputs("</ul>\n", file);
    html_section_end(file);
}

static void print_cautions(FILE *file) {
    fputs("</main>\n<footer>\n<h2>Cautions</h2>\n", file);
    for (int i = 0; i < CAUTION_PARAGRAPHS; i++) html_element("p", caution_paragraph(FORM_TEXT, i), file);
    fputs("</footer>\n</body>\n</html>\n", file);
}

bool write_html(const Job *job, FILE *file, Err *err) {
    print_head(job, file);
    print_verdict(job, file);
    if (!html_pictures(job, file, err)) return false;
    fputs("<div class=\"cards\">\n", file);
    print_rows(job, file);
    print_advice(job, file);
    print_letter(job, file);
    print_checks(job, file);
    print_inks(job, file);
    if (job->judgement.verdict != VERDICT_NO) print_candy(job, file); /* else nobody cooks */
    print_files(file);
    fputs("</div>\n", file);
    print_cautions(file);
    return true;
}
