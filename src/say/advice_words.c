/* Advice in words. SPDX-License-Identifier: MIT */
#include "say/verdict_words.h"

#include "base/text.h"

#include <stdio.h>
#include <string.h>

enum { PHRASE = 280 };

/* What it takes where nothing else helps: a drawing that ... A check without a row: no thinner strokes. */
static const struct {
    const char *tried, *drawing;
} redraw[CHECKS_MAX] = {
    [CHECK_APART] = {"no candy helps; ", "it takes colours that differ more where they touch"},
    [CHECK_MATCH] = {"no candy helps; ", "it takes colours nearer to those of candy"},
    [CHECK_CANDIES] = {"more candies do not help; ", "it takes a drawing in fewer colours"},
    [CHECK_ROPES] = {"plainer detail does not help; ", "it takes a drawing with fewer and larger shapes"},
    [CHECK_MINUTES] = {"neither more people nor plainer detail help; ",
                       "it takes a drawing with fewer and larger shapes"},
    [CHECK_WARMTH] = {"no warmer box helps; ", "it takes a drawing without thin points and corners"},
};

static void print_outlook(const Job *job, const Check *check, char out[ADVICE_TEXT]) {
    bool tried = check->outlook == OUTLOOK_ONLY_REDRAW;
    char most[48];
    bool asked = job->order.wishes > 0 || job->order.field[0];
    out[0] = 0;
    if (asked && (check->kind == CHECK_APART || check->kind == CHECK_MATCH)) {
        (void)snprintf(out, ADVICE_TEXT, "the candies asked for (-m, -f) decide it; try it without them");
        return;
    }
    if (check->kind == CHECK_WARMTH && tried) {
        temperature_print(most, sizeof most, ADVISED_JOINING_C, job->order.units);
        (void)snprintf(out, ADVICE_TEXT, "no box up to %s helps; %s", most, redraw[check->kind].drawing);
    } else if (redraw[check->kind].drawing)
        (void)snprintf(out, ADVICE_TEXT, "%s%s", tried ? redraw[check->kind].tried : "",
                       redraw[check->kind].drawing);
    else {
        double largest = job->order.units == UNITS_IN ? ADVISED_PIECE_IN * MM_PER_IN : ADVISED_PIECE_MM;
        length_print(most, sizeof most, largest, job->order.units);
        text_append(out, ADVICE_TEXT, "%s%s%s", tried ? "no piece up to " : "", tried ? most : "",
                    tried ? " makes it go; " : "");
        text_append(out, ADVICE_TEXT, "it takes strokes and gaps of %.0f %% of the logo's width",
                    job->judgement.least_percent);
    }
}

/* What is said of shading, whatever was tried: no change of ours takes it out of a drawing. */
static const char *shaded_words(Verdict verdict) {
    static const char *const words[] = {
        [VERDICT_GO] = "",
        [VERDICT_CHANGE] = "left out here, in flat colours: ask whether the client minds",
        [VERDICT_NO] =
            "no size or order helps; it takes a drawing in flat colours, no gradients or photographs"};
    return words[verdict];
}

/* No candy takes apart what is alike already. */
static const char *own_words(Verdict verdict) {
    static const char *const words[] = {
        [VERDICT_GO] = "",
        [VERDICT_CHANGE] = "hardly seen on paper either: ask the client for colours that differ more",
        [VERDICT_NO] = "nothing of it is seen; it takes colours that differ more"};
    return words[verdict];
}

/* The advice of a check with no way out; "" if there is none. */
static void print_no_way(const Job *job, const Check *check, char out[ADVICE_TEXT]) {
    out[0] = 0;
    if (check->kind == CHECK_SHADED)
        (void)snprintf(out, ADVICE_TEXT, "%s", shaded_words(check->verdict));
    else if (check->kind == CHECK_OWN)
        (void)snprintf(out, ADVICE_TEXT, "%s", own_words(check->verdict));
    else if (check->outlook != OUTLOOK_UNKNOWN)
        print_outlook(job, check, out);
}

static const char *then_words(const Job *job, const Way *way) {
    static const char *const then[] = {"then all is go", "then this line is go, the whole a change",
                                       "then this line is go, the whole still no"};
    if (!way->mends) return "then the whole is a change";
    bool as_it_was = way->whole == VERDICT_CHANGE && job->judgement.verdict == VERDICT_CHANGE;
    return as_it_was ? "then this line is go" : then[way->whole];
}

static void print_way(const Job *job, const Way *way, char out[ADVICE_TEXT]) {
    char phrase[PHRASE];
    change_print(phrase, sizeof phrase, job, way, false);
    (void)snprintf(out, ADVICE_TEXT, "%s: %s", phrase, then_words(job, way));
}

/* Appends one more way, unless there is no room for all of it. */
static void append_way(char out[ADVICE_TEXT], const char *way) {
    const char *join = out[0] ? "; or " : "";
    if (strlen(out) + strlen(join) + strlen(way) < ADVICE_TEXT)
        text_append(out, ADVICE_TEXT, "%s%s", join, way);
}

void advice_print(const Job *job, const Check *check, char out[ADVICE_TEXT]) {
    char way[ADVICE_TEXT];
    print_no_way(job, check, out);
    if (check->ways > 0) out[0] = 0;
    for (int i = 0; i < check->ways; i++) {
        print_way(job, &check->way[i], way);
        append_way(out, way);
    }
}

/* --- what is worth a line --- */

/* What is but the end of a line was said with it. */
static bool was_said(const Said *said, const char *words) {
    size_t length = strlen(words);
    for (int i = 0; i < said->lines; i++) {
        size_t all = strlen(said->line[i]);
        if (all >= length && strcmp(said->line[i] + (all - length), words) == 0) return true;
    }
    return false;
}

static void say(Said *said, const char *line) {
    if (line[0]) (void)snprintf(said->line[said->lines++], ADVICE_TEXT, "%s", line);
}

/* Lists the ways worth telling: all that make all go, else the first. */
static int list_worth(const Check *check, const Way *worth[WAYS_MAX]) {
    int count = 0;
    for (int i = 0; i < check->ways; i++)
        if (check->way[i].whole == VERDICT_GO) worth[count++] = &check->way[i];
    if (count == 0 && check->ways > 0) worth[count++] = &check->way[0];
    return count;
}

/* Has a line before said a way that does as much as the best of this check? */
static bool is_said(const Job *job, const Check *check, const Said *said) {
    char line[ADVICE_TEXT];
    const Way *worth[WAYS_MAX];
    bool all_go = list_worth(check, worth) > 0 && worth[0]->whole == VERDICT_GO;
    for (int i = 0; i < check->ways; i++) {
        print_way(job, &check->way[i], line);
        if ((check->way[i].whole == VERDICT_GO) == all_go && was_said(said, line)) return true;
    }
    return false;
}

void advice_print_short(const Job *job, const Check *check, Said *said, char out[ADVICE_TEXT]) {
    const Way *worth[WAYS_MAX];
    char line[ADVICE_TEXT];
    int count = list_worth(check, worth);
    print_no_way(job, check, out);
    if (count == 0 && !was_said(said, out)) {
        say(said, out);
        return;
    }
    if (count == 0 || is_said(job, check, said)) {
        (void)snprintf(out, ADVICE_TEXT, "%s", out[0] || count > 0 ? "as above" : "");
        return;
    }
    out[0] = 0;
    for (int i = 0; i < count; i++) {
        print_way(job, worth[i], line);
        append_way(out, line);
        say(said, line);
    }
}
