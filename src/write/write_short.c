/* The answer at a glance: the rows of say/answer.h, what to type, what to open and to send.
 * SPDX-License-Identifier: MIT
 *
 * Input: a job that was judged and, unless all is go, advised on; what was typed. Output: SHORT_LINES lines
 * at most. What a line has no room for stands in the whole text (write_text). */
#include "write/files.h"
#include "write/write.h"

#include "base/text.h"
#include "say/answer.h"

#include <string.h>

enum {
    ROOM = TEXT_COLUMNS - TEXT_INDENT, /* columns beside a label */
    TWO_LINES = 2 * ROOM - 20,         /* words of so many columns break into two lines */
    WHY_MOST = 3
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

/* --- what to type --- */

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
    char options[OPTIONS_TEXT], command[COMMAND_TEXT], add[OPTIONS_TEXT + 16];
    if (!command_words(job, &way->change, options, sizeof options)) return;
    bool can = command_whole(job, options, typed->output, typed->logo, command);
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

/* --- what was written --- */

void write_files_text(const Job *job, const char *dir, FILE *file) {
    char name[TEXT_COLUMNS * 4], line[LOG_LINE];
    const bool no = job->judgement.verdict == VERDICT_NO;
    const bool ours = job->judgement.verdict == VERDICT_GO || job->advised.taken;
    text_fit(name, sizeof name, dir, ROOM - 22);
    (void)snprintf(line, sizeof line, "%s/job.html; all in words: job.txt", name);
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

/* --- the whole --- */

/* Is the line on the cost two? */
static bool cost_is_wide(const Job *job) {
    char line[LOG_LINE];
    cost_words(job, line);
    return text_width(line) > ROOM;
}

/* The parts of a price only if there is room for all. */
static void print_cost(const Job *job, const char *words, bool added, FILE *file) {
    char line[LOG_LINE];
    if (text_width(words) <= (added ? ROOM : TWO_LINES)) {
        text_under(file, "Cost", words);
        return;
    }
    cost_short_words(job, line);
    print_one("Cost", line, file);
}

/* The rows that may take two lines, unless what --advised added took one of them. */
static bool may_take_two(AnswerKind kind, bool added) {
    if (kind == ANSWER_CANDIES) return !added;
    return kind == ANSWER_ADDED || kind == ANSWER_WAY || kind == ANSWER_DO;
}

void write_short(const Job *job, const Typed *typed, FILE *file) {
    Answer answer;
    const bool added = job->advised.taken;
    /* Two lines each for what was added, what to type, what it does and the candies leave this much: */
    const int why = added ? 1 : WHY_MOST - (typed->dir != NULL) - cost_is_wide(job);
    answer_fill(job, why, (added ? 1 : 2) * ROOM, &answer);
    write_headline(job, file);
    for (int i = 0; i < answer.rows; i++) {
        const AnswerRow *row = &answer.row[i];
        const bool way = row->kind == ANSWER_WAY;
        if (row->kind == ANSWER_COST) {
            print_cost(job, row->text, added, file);
            continue;
        }
        if (way) print_command(job, typed, answer_way(job), file);
        (may_take_two(row->kind, added) ? print_two : print_one)(way ? "" : row->label, row->text, file);
    }
    print_end(job, typed, file);
}
