/* The answer at a glance: the verdict, why, what to type, what it takes, what to open and to send.
 * SPDX-License-Identifier: MIT
 *
 * Input: a job that was judged and, unless all is go, advised on; what was typed. Output: SHORT_LINES lines
 * at most. What a line has no room for stands in the whole text (write_text). */
#include "write/files.h"
#include "write/write.h"

#include "base/text.h"
#include "say/bench_words.h"

#include <string.h>

enum {
    ROOM = TEXT_COLUMNS - TEXT_INDENT, /* columns beside a label */
    TWO_LINES = 2 * ROOM - 20,         /* words of so many columns break into two lines */
    WHY_MOST = 3,
    COMMAND = 1024
};

/* The line's label and its words, the middle cut out if they need more than one line. */
static void print_one(const char *label, const char *words, FILE *file) {
    char line[LOG_LINE];
    text_fit(line, sizeof line, words, ROOM);
    fprintf(file, "%-*s%s\n", TEXT_INDENT, label, line);
}

/* Likewise of two lines; of one if a word alone is wider. */
static void print_two(const char *label, const char *words, FILE *file) {
    char line[LOG_LINE];
    bool wide = false;
    text_fit(line, sizeof line, words, TWO_LINES);
    for (const char *word = line; *word; word += strcspn(word, " "), word += strspn(word, " "))
        wide = wide || strcspn(word, " ") > ROOM;
    if (wide)
        print_one(label, words, file);
    else
        text_under(file, label, line);
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

/* What makes the whole better, else the first thing that mends what decides; NULL if nothing was found. */
static const Way *way_to_tell(const Judgement *judgement) {
    if (judgement->advised && judgement->best.whole < judgement->verdict) return &judgement->best;
    const int check = way_check(judgement);
    return check < 0 ? NULL : &judgement->check[check].way[0];
}

/* "finest stroke 0.04 mm, at least 0.58 mm wanted". */
static void print_cause(const Job *job, const Check *check, char out[LOG_LINE]) {
    const SpokenCheck spoken = check_spoken(check, job->order.units);
    const char *space = spoken.unit[0] ? " " : "";
    (void)snprintf(out, LOG_LINE, "%s %s%s%s, %s %s%s%s wanted", spoken.name, spoken.value, space,
                   spoken.unit, check->least ? "at least" : "at most", spoken.limit, space, spoken.unit);
}

/* The first `most` of what decides, the last with how many there are beyond. */
static void print_why(const Job *job, int most, FILE *file) {
    const Judgement *judgement = &job->judgement;
    const char *label = judgement->verdict == VERDICT_GO ? "Shop" : "Why";
    char line[LOG_LINE], beyond[32] = "";
    int count = 0, told = 0;
    for (int i = 0; i < judgement->checks; i++) count += decides(judgement, &judgement->check[i]);
    if (count > most) (void)snprintf(beyond, sizeof beyond, "; and %d more", count - most);
    const int mended = way_check(judgement);
    for (int k = -1; k < judgement->checks && told < most; k++) {
        const int i = k < 0 ? mended : k;
        if (i < 0 || (k >= 0 && i == mended) || !decides(judgement, &judgement->check[i])) continue;
        print_cause(job, &judgement->check[i], line);
        if (told == most - 1) text_append(line, sizeof line, "%s", beyond);
        print_one(told++ == 0 ? label : "", line, file);
    }
}

/* --- what to do --- */

static void print_way(const Job *job, const Way *way, char out[LOG_LINE]) {
    bool shop = way->change.people > 0 || way->change.joining_c > 0; /* what a client is not told */
    change_print(out, LOG_LINE, job, way, !shop);
    if (way->whole == VERDICT_GO)
        text_append(out, LOG_LINE, ": then all is go");
    else if (way->whole < job->judgement.verdict)
        text_append(out, LOG_LINE, ": then it is a change");
    else
        text_append(out, LOG_LINE, ": then \"%s\" is go",
                    check_name(job->judgement.check[way_check(&job->judgement)].kind, job->order.units));
}

/* The whole command, each part behind a space; false if it is not for a terminal, or too long. */
static bool join_command(const Job *job, const Typed *typed, const char *options, char out[COMMAND]) {
    const char *part[] = {"logocane", job->typed, job->advised.options, options, typed->output, typed->logo};
    out[0] = 0;
    if (!job->typed || !typed->logo) return false;
    for (size_t i = 0; i < sizeof part / sizeof *part; i++) {
        if (!part[i] || !part[i][0]) continue;
        if (strlen(out) + strlen(part[i]) + 2 > COMMAND) return false;
        text_append(out, COMMAND, "%s%s", out[0] ? " " : "", part[i]);
    }
    return text_valid(out);
}

/* Where the first line of a command ends, so that both have room; -1 if it cannot be: at a space outside
 * quotes, before an option or the logo. */
static int break_command(const char *command) {
    int at = -1, column = 0;
    bool quoted = false;
    const char *last = strrchr(command, ' ');
    for (int i = 0; command[i]; i++) {
        if (command[i] == '\\' && !quoted)
            i++, column++; /* the next is not a quote */
        else if (command[i] == '\'')
            quoted = !quoted;
        bool may = command[i] == ' ' && !quoted && (command[i + 1] == '-' || command + i == last);
        if (may && column <= ROOM - 2) at = i;
        column += (command[i] & 0xC0) != 0x80;
    }
    return at >= 0 && text_width(command + at + 1) <= ROOM ? at : -1;
}

/* The command, on two lines if need be; of one that is longer only what is to be added. */
static void print_command(const Job *job, const Typed *typed, const Way *way, FILE *file) {
    char options[OPTIONS_TEXT], command[COMMAND], add[OPTIONS_TEXT + 16];
    if (!command_words(job, &way->change, options, sizeof options)) return;
    bool can = join_command(job, typed, options, command);
    int at = can ? break_command(command) : -1;
    (void)snprintf(add, sizeof add, "add %s", options);
    if (can && text_width(command) <= ROOM)
        fprintf(file, "%-*s%s\n", TEXT_INDENT, "Type", command);
    else if (at >= 0)
        fprintf(file, "%-*s%.*s \\\n%*s%s\n", TEXT_INDENT, "Type", at, command, TEXT_INDENT, "",
                command + at + 1);
    else if (text_width(add) <= ROOM)
        fprintf(file, "%-*s%s\n", TEXT_INDENT, "Type", add);
    else
        print_one("Type", "add --advised", file);
}

/* What to type, and what it does; or what it would take of the drawing. */
static void print_do(const Job *job, const Typed *typed, FILE *file) {
    char line[LOG_LINE], advice[ADVICE_TEXT];
    const Check *cause = first_cause(&job->judgement);
    const Way *way = way_to_tell(&job->judgement);
    if (way) {
        print_command(job, typed, way, file);
        print_way(job, way, line);
        print_two("", line, file);
    } else if (cause) {
        advice_print(job, cause, advice);
        if (advice[0]) print_two("Do", advice, file);
    }
}

/* --- what it takes --- */

static void print_log(const Job *job, FILE *file) {
    char across[64], along[64], mass[32], line[LOG_LINE] = "one log";
    length_print(across, sizeof across, job->cane.log_diameter_mm, job->order.units);
    length_print(along, sizeof along, job->cane.log_length_mm, job->order.units);
    mass_print(mass, sizeof mass, job->bill.log_mass_g, job->order.units);
    if (job->cane.logs > 1) (void)snprintf(line, sizeof line, "%d logs, each", job->cane.logs);
    const bool wide = job->cane.logs > 1 && job->order.units == UNITS_IN;
    text_append(line, sizeof line, " %s across%s, %s long, %s", across, wide ? "" : " with its jacket", along,
                mass);
    print_one("Log", line, file);
}

/* What of each candy to cook, as many as there is room for on so many lines. */
static void print_candies(const Job *job, int lines, FILE *file) {
    char line[LOG_LINE] = "", one[CANDY_NAME + 64], mass[32];
    const Bill *bill = &job->bill;
    int left = 0;
    for (int i = 0; i < bill->materials; i++) left += bill->material[i].mass_g >= MATERIAL_LEAST_G;
    for (int i = 0; i < bill->materials; i++) {
        const MaterialRow *row = &bill->material[i];
        if (row->mass_g < MATERIAL_LEAST_G) continue;
        mass_print(mass, sizeof mass, row->with_spare_g, job->order.units);
        (void)snprintf(one, sizeof one, "%s%s %s%s", line[0] ? ", " : "", row->candy.name, mass,
                       row->candy.dyed ? " (dyed)" : "");
        if (line[0] && text_width(line) + text_width(one) > lines * ROOM - (left > 1 ? 10 : 0)) break;
        text_append(line, sizeof line, "%s", one);
        left--;
    }
    if (left > 0) text_append(line, sizeof line, ", %d more", left);
    (lines > 1 ? print_two : print_one)("Candies", line, file);
}

static void print_work(const Job *job, FILE *file) {
    char line[LOG_LINE], minutes[LOG_LINE];
    (void)snprintf(line, sizeof line, "%d to make; ", job->bill.ropes_made);
    minutes_words(job, FORM_TEXT, minutes);
    text_append(line, sizeof line, "%s", minutes);
    print_one("Ropes", line, file);
}

static void print_takes(const Job *job, int candy_lines, FILE *file) {
    char line[LOG_LINE];
    print_log(job, file);
    print_candies(job, candy_lines, file);
    print_work(job, file);
    cost_words(job, line);
    if (line[0]) (candy_lines > 1 ? print_two : print_one)("Cost", line, file);
}

/* Is the line on the cost two? */
static bool cost_is_wide(const Job *job) {
    char line[LOG_LINE];
    cost_words(job, line);
    return text_width(line) > ROOM;
}

/* --- what was written --- */

void write_files_text(const Job *job, const char *dir, FILE *file) {
    char name[TEXT_COLUMNS * 4], line[LOG_LINE];
    const bool no = job->judgement.verdict == VERDICT_NO;
    const bool ours = job->judgement.verdict == VERDICT_GO || job->advised.taken;
    text_fit(name, sizeof name, dir, ROOM - 22);
    (void)snprintf(line, sizeof line, "%s/check.png; all in words: job.txt", name);
    print_one("Open", line, file);
    text_fit(name, sizeof name, dir, ROOM - 28);
    (void)snprintf(line, sizeof line, "%s/letter.txt%s%s", name, ours ? ", mockup.jpg" : "",
                   no ? "" : "; print bench.pdf");
    print_one("Send", line, file);
}

static void print_end(const Job *job, const Typed *typed, FILE *file) {
    if (typed->dir)
        write_files_text(job, typed->dir, file);
    else
        print_one("More", "--details tells all; -o DIR writes pictures, the letter, bench sheets", file);
}

void write_short(const Job *job, const Typed *typed, FILE *file) {
    char line[LOG_LINE], advised[LOG_LINE];
    advised_words(job, FORM_TEXT, advised);
    /* Two lines each for what was added, what to type, what it does and the candies leave this much: */
    const bool added = advised[0];
    const int why = added ? 1 : WHY_MOST - (typed->dir != NULL) - cost_is_wide(job),
              candy_lines = added ? 1 : 2;
    write_headline(job, file);
    order_words(job, FORM_TEXT, line);
    print_one("Order", line, file);
    if (added) print_two("", advised, file);
    print_why(job, why, file);
    print_do(job, typed, file);
    if (job->judgement.verdict != VERDICT_NO) print_takes(job, candy_lines, file);
    print_end(job, typed, file);
}
