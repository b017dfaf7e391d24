/* Public. The job as text for people. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_WRITE_TEXT_H
#define LOGOCANE_WRITE_TEXT_H

#include "model/job.h"

#include <stdio.h>

/* Prints verdict, reasons, log, ropes, candy, inks and cautions, at most TEXT_COLUMNS wide; of a log that
 * cannot be built not how to build and cook it. Never fails: write errors show when the file is closed. */
bool write_text(const Job *job, FILE *file, Err *err) MUST_CHECK;

#endif
