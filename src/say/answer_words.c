/* The answer at a glance, as rows. SPDX-License-Identifier: MIT */
#include "say/answer.h"

#include "base/text.h"

#include <stdio.h>
#include <string.h>

const char *logo_name(const Job *job) {
    return strcmp(job->file, "-") == 0 ? job->order.name : job->file;
}

void headline_words(const Job *job, int columns, char out[LOG_LINE]) {
    char name[TEXT_COLUMNS * 4];
    const char *word = verdict_headline(job->judgement.verdict);
    const char *meaning = verdict_meaning(job, FORM_TEXT);
    int used = text_width(word) + 3 + text_width(meaning);
    text_fit(name, sizeof name, logo_name(job), columns > 0 ? columns - used : JOB_NAME);
    (void)snprintf(out, LOG_LINE, "%s: %s %s", word, name, meaning);
}

/* --- why --- */

/* Does it decide the verdict, or, where all is go, is it something for the shop to put right? */
static bool decides(const Judgement *judgement, const Check *check) {
    return judgement->verdict == VERDICT_GO ? check->own
                                            : check->verdict == judgement->verdict && !check->own;
}

/* The first check that decides; NULL if all is go. */
static const Check *first_cause(const Judgement *judgement) {
    for (int i = 0; i < judgement->checks; i++)
        if (decides(judgement, &judgement->check[i])) return &judgement->check[i];
    return NULL;
}

/* The check whose own way is told; -1 if none, or if there is a way that makes the whole better. */
static int way_check(const Judgement *judgement) {
    if (judgement->advised && judgement->best.whole < judgement->verdict) return -1;
    for (int i = 0; i < judgement->checks; i++)
        if (decides(judgement, &judgement->check[i]) && judgement->check[i].ways > 0) return i;
    return -1;
}

const Way *answer_way(const Job *job) {
    const Judgement *judgement = &job->judgement;
    if (judgement->advised && judgement->best.whole < judgement->verdict) return &judgement->best;
    const int check = way_check(judgement);
    return check < 0 ? NULL : &judgement->check[check].way[0];
}

/* The next row, of a kind; its text is to be filled. */
static char *add_row(Answer *answer, AnswerKind kind, const char *label) {
    AnswerRow *row = &answer->row[answer->rows++];
    row->kind = kind;
    row->label = label;
    row->text[0] = 0;
    return row->text;
}

/* The check whose way is told comes first: it is what the way mends. */
static void add_why(const Job *job, int most, Answer *answer) {
    const Judgement *judgement = &job->judgement;
    const char *label = judgement->verdict == VERDICT_GO ? "Shop" : "Why";
    int count = 0, told = 0;
    for (int i = 0; i < judgement->checks; i++) count += decides(judgement, &judgement->check[i]);
    if (most == 0) most = count;
    const int mended = way_check(judgement);
    for (int k = -1; k < judgement->checks && told < most; k++) {
        const int i = k < 0 ? mended : k;
        if (i < 0 || (k >= 0 && i == mended) || !decides(judgement, &judgement->check[i])) continue;
        char *text = add_row(answer, ANSWER_WHY, told++ == 0 ? label : "");
        cause_words(&judgement->check[i], job->order.units, text);
        if (told == most && count > most) text_append(text, LOG_LINE, "; and %d more", count - most);
    }
}

/* --- what to do --- */

/* `kind`: of the check that it is listed with. */
static void print_way(const Job *job, const Way *way, CheckKind kind, char out[LOG_LINE]) {
    bool shop = way->change.people > 0 || way->change.joining_c > 0; /* what a client is not told */
    change_print(out, LOG_LINE, job, way, !shop);
    if (way->whole == VERDICT_GO)
        text_append(out, LOG_LINE, ": then all is go");
    else if (way->whole < job->judgement.verdict)
        text_append(out, LOG_LINE, ": then it is a change");
    else
        text_append(out, LOG_LINE, ": then \"%s\" is go", check_name(kind, job->order.units));
}

/* What was tried and helps; or what it would take of the drawing. */
static void add_do(const Job *job, Answer *answer) {
    char advice[ADVICE_TEXT];
    const Check *cause = first_cause(&job->judgement);
    const Way *way = answer_way(job);
    const int check = way_check(&job->judgement);
    if (way) {
        print_way(job, way, job->judgement.check[check < 0 ? 0 : check].kind,
                  add_row(answer, ANSWER_WAY, "Do"));
    } else if (cause) {
        advice_print(job, cause, advice);
        if (advice[0]) (void)snprintf(add_row(answer, ANSWER_DO, "Do"), LOG_LINE, "%s", advice);
    }
}

/* --- what it takes --- */

static void add_log(const Job *job, Answer *answer) {
    char across[64], along[64], mass[32], *text = add_row(answer, ANSWER_LOG, "Log");
    length_print(across, sizeof across, job->cane.log_diameter_mm, job->order.units);
    length_print(along, sizeof along, job->cane.log_length_mm, job->order.units);
    mass_print(mass, sizeof mass, job->bill.log_mass_g, job->order.units);
    if (job->cane.logs > 1)
        (void)snprintf(text, LOG_LINE, "%d logs, each", job->cane.logs);
    else
        (void)snprintf(text, LOG_LINE, "one log");
    const bool wide = job->cane.logs > 1 && job->order.units == UNITS_IN;
    text_append(text, LOG_LINE, " %s across%s, %s long, %s", across, wide ? "" : " with its jacket", along,
                mass);
}

/* What of each candy to cook, as many as there is room for. */
static void add_candies(const Job *job, int columns, Answer *answer) {
    char one[CANDY_NAME + 64], mass[32], *text = add_row(answer, ANSWER_CANDIES, "Candies");
    const Bill *bill = &job->bill;
    int left = 0;
    for (int i = 0; i < bill->materials; i++) left += bill->material[i].mass_g >= MATERIAL_LEAST_G;
    for (int i = 0; i < bill->materials; i++) {
        const MaterialRow *row = &bill->material[i];
        if (row->mass_g < MATERIAL_LEAST_G) continue;
        mass_print(mass, sizeof mass, row->with_spare_g, job->order.units);
        (void)snprintf(one, sizeof one, "%s%s %s%s", text[0] ? ", " : "", row->candy.name, mass,
                       row->candy.dyed ? " (dyed)" : "");
        const int width = text_width(text) + text_width(one), more = left > 1 ? 10 : 0;
        const bool full = columns > 0 ? width > columns - more : strlen(text) + sizeof one + 32 > LOG_LINE;
        if (text[0] && full) break;
        text_append(text, LOG_LINE, "%s", one);
        left--;
    }
    if (left > 0) text_append(text, LOG_LINE, ", %d more", left);
}

static void add_ropes(const Job *job, Answer *answer) {
    char minutes[LOG_LINE], *text = add_row(answer, ANSWER_ROPES, "Ropes");
    minutes_words(job, FORM_PICTURE, minutes);
    (void)snprintf(text, LOG_LINE, "%d to make; ", job->bill.ropes_made);
    text_append(text, LOG_LINE, "%s", minutes);
}

/* A row of words, unless there are none. */
static void add_words(AnswerKind kind, const char *label, const char *words, Answer *answer) {
    if (words[0]) (void)snprintf(add_row(answer, kind, label), LOG_LINE, "%s", words);
}

void answer_fill(const Job *job, int why, int columns, Answer *out) {
    char words[LOG_LINE];
    out->rows = 0;
    order_words(job, FORM_TEXT, words);
    add_words(ANSWER_ORDER, "Order", words, out);
    advised_words(job, FORM_TEXT, words);
    add_words(ANSWER_ADDED, "", words, out);
    add_why(job, why, out);
    add_do(job, out);
    if (job->judgement.verdict == VERDICT_NO) return;
    add_log(job, out);
    add_candies(job, columns, out);
    add_ropes(job, out);
    cost_words(job, words);
    add_words(ANSWER_COST, "Cost", words, out);
}

/* --- ways out --- */

/* How early a way is told: what makes all go first. */
static int rank_of(const Job *job, const Way *way) {
    return way->whole < job->judgement.verdict ? (int)way->whole : VERDICT_NO;
}

static int add_way(const Job *job, const Way *way, CheckKind kind, int count, AnswerWay out[ANSWER_WAYS]) {
    for (int i = 0; i < count; i++)
        if (change_same(&out[i].way->change, &way->change)) return count;
    if (count == ANSWER_WAYS) return count;
    out[count].way = way;
    print_way(job, way, kind, out[count].text);
    return count + 1;
}

int answer_ways(const Job *job, AnswerWay out[ANSWER_WAYS]) {
    const Judgement *judgement = &job->judgement;
    int count = 0;
    if (judgement->advised && judgement->best.whole < judgement->verdict)
        count = add_way(job, &judgement->best, CHECK_SHADED, count, out);
    for (int rank = VERDICT_GO; rank <= VERDICT_NO; rank++)
        for (int i = 0; i < judgement->checks; i++)
            for (int k = 0; k < judgement->check[i].ways; k++) {
                const Way *way = &judgement->check[i].way[k];
                if (rank_of(job, way) == rank)
                    count = add_way(job, way, judgement->check[i].kind, count, out);
            }
    return count;
}

/* --- inks --- */

const char *made_name(const Candy *candy) {
    return candy_is_blend(candy) ? "blend" : candy->dyed ? "dyed" : "stock";
}

void ink_candy_words(const Job *job, int ink, char out[INK_TEXT]) {
    const Candy *candy = &job->palette.candy[job->palette.of_ink[ink]];
    const char *made = candy_is_blend(candy) ? "a blend" : candy->dyed ? "dyed to order" : "from stock";
    (void)snprintf(out, INK_TEXT, "%s, %s", candy->name, made);
}
