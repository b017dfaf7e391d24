/* What to tell the client. SPDX-License-Identifier: MIT */
#include "say/verdict_words.h"

#include "base/text.h"

#include <stdio.h>
#include <string.h>

static Verdict worst_of(const Judgement *j, CheckKind first, CheckKind last) {
    Verdict worst = VERDICT_GO;
    for (int i = 0; i < j->checks; i++) {
        const Check *check = &j->check[i];
        if (check->kind >= first && check->kind <= last && check->verdict > worst) worst = check->verdict;
    }
    return worst;
}

static Verdict worst_of_fine(const Judgement *j) {
    Verdict strokes = worst_of(j, CHECK_STROKE, CHECK_READING),
            parts = worst_of(j, CHECK_PARTS, CHECK_WEAKEST);
    return strokes > parts ? strokes : parts;
}

/* Appends a sentence. */
static void append(char out[SENTENCE_TEXT], const char *words) {
    text_append(out, SENTENCE_TEXT, "%s%s", out[0] ? " " : "", words);
}

/* "Without the red part at the left it comes out well." What only the shop does is not told. */
static void append_mending(char *out, const Job *job) {
    const Way *way = &job->judgement.best;
    char phrase[280];
    change_print(phrase, sizeof phrase, job, way, true);
    if (!phrase[0]) return;
    if (phrase[0] >= 'a' && phrase[0] <= 'z') phrase[0] = (char)(phrase[0] - 'a' + 'A');
    append(out, phrase);
    append(out,
           way->whole == VERDICT_GO ? "it comes out well." : "we can make it, a little simpler than drawn.");
}

/* What is wanted of the client where nothing of ours helps a no. */
static void append_wish(char *out, const Judgement *j) {
    char line[200];
    if (worst_of(j, CHECK_SHADED, CHECK_SHADED) == VERDICT_NO) {
        append(out, "A version in a few flat colours would be a good start.");
    } else if (worst_of_fine(j)) {
        (void)snprintf(
            line, sizeof line,
            "A simpler version, with no line or gap thinner than %.0f %% of its width, would work better.",
            j->least_percent);
        append(out, line);
    } else {
        append(out, "A version in fewer colours that differ more from each other would work better.");
    }
}

void client_print(const Job *job, char out[SENTENCE_TEXT]) {
    const Judgement *j = &job->judgement;
    char line[200], lines[SENTENCE_TEXT] = "", piece[40];
    bool no = j->verdict == VERDICT_NO;
    out[0] = 0;
    letters_tell(job, lines, sizeof lines);
    lines_print(job, lines, sizeof lines);
    if (!j->advised && !job->inks->cropped && !lines[0]) return;
    length_print(piece, sizeof piece, job->order.piece_diameter_mm, job->order.units);
    (void)snprintf(line, sizeof line,
                   no ? "At %s across, hand-pulled candy cannot show your logo quite as it is drawn."
                      : "We can make your logo as picture candy, %s across.",
                   piece);
    append(out, line);
    if (job->inks->cropped) append(out, "It is cropped to a disc, as the pieces are.");
    if (worst_of(j, CHECK_SHADED, CHECK_SHADED))
        append(out, "Candy comes in flat colours, so shading is left out.");
    if (!no && lines[0]) append(out, lines);
    if (!no && !lines[0] && worst_of_fine(j))
        append(out, "Its finest details come out a little simpler than drawn.");
    if (!no && worst_of(j, CHECK_APART, CHECK_CANDIES))
        append(out, job->order.wishes > 0 || job->order.field[0]
                        ? "The colours are those asked for."
                        : "The colours are the nearest that we make.");
    if (j->advised && j->best.whole < j->verdict)
        append_mending(out, job);
    else if (no)
        append_wish(out, j);
}
