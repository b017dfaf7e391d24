/* The help. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_HELP_H
#define LOGOCANE_HELP_H

#include <stdio.h>

enum { HELP_COLUMNS = 80, HELP_ROWS = 40 };

/* Prints the help from the table of options: one screen of HELP_COLUMNS x HELP_ROWS at most. */
void help_print(FILE *file);

#endif
