/* The cook and the heat as text for people. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_WRITE_COOK_H
#define LOGOCANE_WRITE_COOK_H

#include "model/job.h"

#include <stdio.h>

/* Prints the sections Cook and Heat of the text, each after an empty line, at most TEXT_COLUMNS wide. Doses
 * only where the shop gives them. */
void write_cook(const Job *job, FILE *file);

#endif
