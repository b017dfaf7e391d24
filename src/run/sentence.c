/* What to tell the client. SPDX-License-Identifier: MIT */
#include "run/sentence.h"

#include "run/phrase.h"
#include "base/units.h"

#include <stdio.h>
#include <string.h>

static const char *const fine[] = {"finest stroke",        "finest gap", "reading at 350 mm",
                                   "parts and holes kept", "likeness",   "weakest main part"};
static const char *const colour[] = {"touching inks kept apart", "worst colour match",
                                     "candies it would take"};
static const char *const shaded[] = {"shaded area"};

static Verdict worst_of(const Judgement *j, const char *const *name, int names) {
    Verdict worst = VERDICT_GO;
    for (int i = 0; i < j->checks; i++)
        for (int n = 0; n < names; n++)
            if (strcmp(j->check[i].name, name[n]) == 0 && j->check[i].verdict > worst)
                worst = j->check[i].verdict;
    return worst;
}

static void append(char *out, size_t size, const char *words) {
    size_t used = strlen(out);
    (void)snprintf(out + used, size - used, "%s%s", used > 0 ? " " : "", words);
}

/* "Without the thin navy outline it comes out well." What only the shop does is not told. */
static void append_mending(char *out, size_t size, const Job *job, const Mending *mending) {
    char phrase[280], line[340];
    phrase_change(phrase, sizeof phrase, job, &mending->change, mending->orders, true);
    if (!phrase[0]) return;
    if (phrase[0] >= 'a' && phrase[0] <= 'z') phrase[0] = (char)(phrase[0] - 'a' + 'A');
    (void)snprintf(line, sizeof line, "%s %s.", phrase,
                   mending->verdict == VERDICT_GO ? "it comes out well"
                                                  : "we can make it, a little simpler than drawn");
    append(out, size, line);
}

void write_sentence(const Job *job, const Mending *mending, char *out, size_t size) {
    const Judgement *j = &job->judgement;
    char line[200], piece[40];
    bool no = j->verdict == VERDICT_NO;
    Verdict of_fine = worst_of(j, fine, 6), of_shaded = worst_of(j, shaded, 1);
    length_print(piece, sizeof piece, job->order.piece_diameter_mm, job->order.units);
    out[0] = 0;
    (void)snprintf(line, sizeof line,
                   no ? "At %s across, hand-pulled candy cannot show your logo quite as it is drawn."
                      : "We can make your logo as picture candy, %s across.",
                   piece);
    append(out, size, line);
    if (of_shaded) append(out, size, "Candy comes in flat colours, so shading is left out.");
    if (!no && of_fine) append(out, size, "Its finest details come out a little simpler than drawn.");
    if (!no && worst_of(j, colour, 3)) append(out, size, "The colours are the nearest that we make.");
    if (mending->verdict < j->verdict) {
        append_mending(out, size, job, mending);
    } else if (no && of_shaded == VERDICT_NO) {
        append(out, size, "A version in a few flat colours would be a good start.");
    } else if (no && of_fine) {
        (void)snprintf(
            line, sizeof line,
            "A simpler version, with no line or gap thinner than %.0f %% of its width, would work better.",
            mending->least_percent);
        append(out, size, line);
    } else if (no) {
        append(out, size, "A version in fewer colours that differ more from each other would work better.");
    }
}
