/* Writes what completes a command line of logocane, for bash or zsh. SPDX-License-Identifier: MIT
 *
 *     completion bash|zsh >FILE
 *
 * Made from the table of options and the built-in stock, so that neither is written down twice. */
#include "app/options.h"
#include "model/shop.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

/* What an option's value is. */
typedef enum Value {
    VALUE_NONE,
    VALUE_WORDS,
    VALUE_CANDY,
    VALUE_INK,
    VALUE_FILE,
    VALUE_DIR,
    VALUE_TEXT
} Value;

static Value value_of(const OptionRow *row) {
    if (!row->argument) return VALUE_NONE;
    if (strchr(row->argument, '|')) return VALUE_WORDS;
    if (strchr(row->argument, '#')) return VALUE_INK;
    if (strstr(row->argument, "CANDY")) return VALUE_CANDY;
    if (strcmp(row->argument, "FILE") == 0) return VALUE_FILE;
    return strcmp(row->argument, "DIR") == 0 ? VALUE_DIR : VALUE_TEXT;
}

/* Prints the words of `text`, which are parted by '|', but for what stands for something else: X:Y. */
static void print_words(const char *text) {
    for (size_t length; length = strcspn(text, "|"), *text; text += length + (text[length] == '|'))
        if (!isupper((unsigned char)*text)) printf("%.*s%s", (int)length, text, text[length] ? " " : "");
}

/* "-o|--output|..." of all options whose value is of the kind and must follow; false if there is none. */
static bool print_pattern(Value value) {
    int count;
    const OptionRow *table = options_table(&count);
    bool any = false;
    for (const OptionRow *row = table; row < table + count; row++) {
        if (!row->name || value_of(row) != value || (row->argument && row->argument[0] == '[')) continue;
        printf("%s--%s", any ? "|" : "", row->name);
        if (row->letter && row->help) printf("|-%c", row->letter);
        any = true;
    }
    return any;
}

static void print_names(char quote) {
    Shop shop = shop_default();
    for (int i = 0; i < shop.stock.count; i++)
        printf("%s%c%s%c", i ? " " : "", quote, shop.stock.candy[i].name, quote);
}

/* In bash a word ends at '=', and candies stand behind a comma or '=' too. */
static const char bash_head[] = "# Completes logocane in bash. Made by docs/completion.c.\n"
                                "_logocane_candies() {\n"
                                "    local cur=$1 quote= name head\n"
                                "    case $cur in [\\'\\\"]*) quote=${cur:0:1} cur=${cur:1} ;; esac\n"
                                "    cur=${cur//\\\\/}\n"
                                "    head=${cur%\"${cur##*[=,]}\"} cur=${cur##*[=,]}\n"
                                "    for name in ";
static const char bash_candies[] = " ${2-}; do\n"
                                   "        [[ $name == \"$cur\"* ]] || continue\n"
                                   "        name=$head$name\n"
                                   "        [[ $quote ]] || name=${name// /\\\\ }\n"
                                   "        COMPREPLY+=(\"$name\")\n"
                                   "    done\n"
                                   "}\n"
                                   "_logocane() {\n"
                                   "    local cur=${COMP_WORDS[COMP_CWORD]} i=$((COMP_CWORD - 1))\n"
                                   "    COMPREPLY=()\n"
                                   "    [[ $cur == = ]] && cur= i=$COMP_CWORD\n"
                                   "    while [[ $i -gt 1 && ${COMP_WORDS[i]} == = ]]; do\n"
                                   "        i=$((i - 1))\n"
                                   "        [[ ${COMP_WORDS[i]} == -* ]] || i=$((i - 1))\n"
                                   "    done\n"
                                   "    case ${COMP_WORDS[i]} in\n";
static const char bash_tail[] = "    esac\n"
                                "    [[ $cur == -* ]] && COMPREPLY=($(compgen -W '";
static const char bash_end[] = "' -- \"$cur\"))\n"
                               "}\n"
                               "complete -o default -F _logocane logocane\n";

static void print_case(Value value, const char *action) {
    printf("    ");
    if (print_pattern(value)) printf(") %s; return ;;\n", action);
}

static void print_bash(const OptionRow *table, int count) {
    fputs(bash_head, stdout);
    print_names('\'');
    fputs(bash_candies, stdout);
    for (int i = 0; i < count; i++)
        if (table[i].name && value_of(&table[i]) == VALUE_WORDS) {
            printf("    --%s) COMPREPLY=($(compgen -W '", table[i].name);
            print_words(table[i].argument);
            printf("' -- \"$cur\")); return ;;\n");
        }
    print_case(VALUE_CANDY, "_logocane_candies \"$cur\"");
    print_case(VALUE_INK, "_logocane_candies \"$cur\" dye");
    print_case(VALUE_DIR, "compopt +o default -o dirnames");
    print_case(VALUE_TEXT, "compopt +o default");
    print_case(VALUE_FILE, ":");
    fputs(bash_tail, stdout);
    for (int i = 0; i < count; i++) {
        if (table[i].name) printf("--%s ", table[i].name);
        if (table[i].letter && table[i].help) printf("-%c ", table[i].letter);
    }
    fputs(bash_end, stdout);
}

/* What zsh does for the value: ":name:action". */
static void print_zsh_value(const OptionRow *row) {
    switch (value_of(row)) {
    case VALUE_NONE:
        break;
    case VALUE_WORDS:
        printf(":%s:(", row->name);
        print_words(row->argument);
        printf(")");
        break;
    case VALUE_CANDY:
        printf(":candy:_logocane_%s", strchr(row->argument, ',') ? "list" : "candy");
        break;
    case VALUE_INK:
        printf(":candy:_logocane_ink");
        break;
    case VALUE_FILE:
        printf(":file:_files");
        break;
    case VALUE_DIR:
        printf(":folder:_files -/");
        break;
    case VALUE_TEXT:
        printf("%s%s: ", row->argument[0] == '[' ? "::" : ":", row->name);
        break;
    }
}

/* Both names of an option: "'(-o --output)'{-o+,--output=}'", which exclude each other unless it may come
 * again. */
static void print_zsh_pair(const OptionRow *row, bool again, const char *equals) {
    if (again)
        printf("'*'");
    else
        printf("'(-%c --%s)'", row->letter, row->name);
    printf("{-%c%s,--%s%s}'", row->letter, row->argument ? "+" : "", row->name, equals);
}

/* One option: "'(-o --output)'{-o,--output=}'[help]:folder:_files -/'". An ink may be named more than once.
 */
static void print_zsh_row(const OptionRow *row, const char *help) {
    bool again = value_of(row) == VALUE_INK;
    const char *equals = !row->argument ? "" : row->argument[0] == '[' ? "=-" : "=";
    bool letter = row->letter && row->help;
    printf("        ");
    if (letter)
        print_zsh_pair(row, again, equals);
    else
        printf("'--%s%s", row->name, equals);
    putchar('[');
    for (; *help; help++) {
        if (*help == ':') putchar('\\');
        fputs(*help == '\'' ? "'\\''" : (char[]){*help, 0}, stdout);
    }
    putchar(']');
    print_zsh_value(row);
    printf("' \\\n");
}

static void print_zsh(const OptionRow *table, int count) {
    puts("#compdef logocane\n# Completes logocane in zsh. Made by docs/completion.c.");
    printf("_logocane_candy() {\n    local -a candies=(");
    print_names('\'');
    puts(")\n    compadd -a candies\n}\n"
         "_logocane_list() {\n    compset -P '*,'\n    compset -S ',*'\n    _logocane_candy\n}\n"
         "_logocane_ink() {\n    compset -P '*=' && { _logocane_candy; compadd dye; }\n}\n"
         "_logocane() {\n    _arguments -s -S \\");
    for (int i = 0; i < count; i++)
        if (table[i].name) print_zsh_row(&table[i], table[i].help ? table[i].help : table[i - 1].help);
    puts("        ':logo:_files'\n}\n_logocane \"$@\"");
}

int main(int argc, char *argv[]) {
    int count;
    const OptionRow *table = options_table(&count);
    bool bash = argc == 2 && strcmp(argv[1], "bash") == 0;
    if (!bash && !(argc == 2 && strcmp(argv[1], "zsh") == 0)) {
        fputs("usage: completion bash|zsh\n", stderr);
        return 2;
    }
    (bash ? print_bash : print_zsh)(table, count);
    return fflush(stdout) == 0 ? 0 : 3;
}
