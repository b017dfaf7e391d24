/* The command line. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_OPTIONS_H
#define LOGOCANE_OPTIONS_H

#include "base/err.h"
#include "model/order.h"
#include "model/shop.h"
#include "model/sweep_table.h"

#include <stddef.h>
#include <stdio.h>

#define LOGOCANE_VERSION "0.1.0"

enum { TYPED_TEXT = 4096, PAGE_HOSTS_MAX = 16 };

typedef struct Options {
    Order order;            /* as Order says; its name is "" without --name, its date "" */
    const char *logo;       /* the file to read, "-" for standard input; NULL with help or version; argv's */
    char *const *logos;     /* [logo_count] it and what is named behind it; argv's */
    int logo_count;         /* 0 without a logo */
    const char *shop;       /* the shop file; NULL = the built-in shop; argv's */
    bool print_shop;        /* print the shop and do no more: logo is NULL then */
    const char *dir;        /* the job folder to write; NULL = none; argv's */
    bool sweep;             /* a table of piece sizes and orders in place of a job */
    SweepPlan plan;         /* of the sweep */
    bool advised;           /* the first proposal is taken */
    char typed[TYPED_TEXT]; /* the options that say what the job is, as a shell takes them, the shop file
                               last; of the page its name alone */
    bool piece_given;       /* --piece: the shop's usual one does not count */
    bool jacket_given;      /* --jacket, likewise; of the number of pieces the order says it */
    bool dated;             /* the date goes on the sheets */
    bool details;           /* all of job.txt on standard output */
    bool table;             /* a line a logo, also of one */
    bool csv;               /* the same as CSV */
    bool json;              /* job.json on standard output; of several logos a line each */
    bool force;             /* an earlier job may be replaced */
    bool quiet;             /* no text on standard output */
    bool page;              /* the page in the browser in place of a job: logo is NULL then */
    const char *page_at;    /* its ADDRESS:PORT; NULL = the usual one; argv's, as the next two */
    const char *page_password_file;        /* NULL = none */
    const char *page_host[PAGE_HOSTS_MAX]; /* [page_hosts] further names of this machine */
    int page_hosts;
    bool help, version; /* print that and do no more */
} Options;

/* A row of the table of options. */
typedef struct OptionRow OptionRow;

/* Takes the value of the row's option into *out, or says in one line why not. */
typedef bool TakeOption(const OptionRow *row, const char *value, Options *out, Err *err);

struct OptionRow {
    char letter;          /* the short name; 0: none */
    const char *name;     /* long; NULL: a heading of the help */
    const char *argument; /* as the help shows it; NULL = none */
    long low, high;       /* of a whole number; 0, 0 = no such range */
    const char *standard; /* the default, in words; NULL = none worth saying */
    const char *help;     /* NULL: another name of the row above */
    TakeOption *take;
    size_t at; /* offset in Options of what it sets, the first of several */
};

/* The table, in the order of the help; *count rows. */
const OptionRow *options_table(int *count);

enum { HELP_COLUMNS = 80, HELP_ROWS = 54 };

/* Prints the help from the table: one screen of HELP_COLUMNS x HELP_ROWS at most. */
void help_print(FILE *file);

/* Reads the command line; options may come before and after LOGO, "--" ends them, and of an option given
 * twice the last holds (-m, --join and --leave-out add). At --help or --version the rest is not looked at.
 * Fails with ERR_USAGE on an option that is not known, on a value missing, out of range or that cannot be
 * read, on what contradicts each other, and on no LOGO. *out is then untouched. */
bool options_parse(int argc, char *argv[], Options *out, Err *err) MUST_CHECK;

/* Takes one more option, as if --NAME VALUE stood at the end of the line; "yes" is the value of one that has
 * none. Fails with ERR_USAGE as the line would, and on a name that is not known; *out may be changed then. */
bool options_add(const char *name, const char *value, Options *out, Err *err) MUST_CHECK;

/* Do the options go together? ERR_USAGE says which do not. */
bool options_fit(const Options *options, Err *err) MUST_CHECK;

/* Piece, number of pieces and jacket that the command line does not give become the shop's usual ones, and a
 * sweep's sizes those that are usual in its units. Fails
 * with ERR_USAGE on a jacket that --jacket would not take; *out is then untouched. */
bool options_take_usual(const Shop *shop, Options *out, Err *err) MUST_CHECK;

#endif
