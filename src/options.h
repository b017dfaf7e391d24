/* The command line. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_OPTIONS_H
#define LOGOCANE_OPTIONS_H

#include "err.h"
#include "order.h"
#include "sweep_plan.h"

#include <stdio.h>

#define LOGOCANE_VERSION "0.1.0"

typedef struct Options {
    Order order;      /* its name is "" unless --name gave one */
    const char *logo; /* the file to read, "-" for standard input; NULL with help or version; argv's */
    const char *shop; /* the shop file; NULL = the built-in shop; argv's */
    bool print_shop;  /* print the shop and do no more: logo is NULL then */
    const char *dir;  /* the job folder to write; NULL = none; argv's */
    bool sweep;       /* a table of piece sizes and orders in place of a job */
    SweepPlan plan;   /* of the sweep */
    bool dated;       /* the date goes on the sheets */
    bool json;        /* job.json on standard output */
    bool force;       /* an earlier job may be replaced */
    bool quiet;       /* no text on standard output */
    bool help, version;
} Options;

/* Reads the command line; options may come before and after LOGO, "--" ends them, and of an option given
 * twice the last holds (-m adds). At --help or --version the rest is not looked at. Fails with ERR_USAGE on
 * an option that is not known, on a value missing, out of range or that cannot be read, and on no LOGO or
 * several. *out is then untouched. */
bool options_parse(int argc, char *argv[], Options *out, Err *err) MUST_CHECK;

/* The help: one screen. */
void options_help(FILE *file);

#endif
