/* The lists as CSV (RFC 4180, UTF-8): the rows of the bill, one each. SPDX-License-Identifier: MIT
 *
 * All three print and leave what each print call says alone: errors show when the file is closed. They fail
 * never. */
#ifndef LOGOCANE_WRITE_CSV_H
#define LOGOCANE_WRITE_CSV_H

#include "model/job.h"

#include <stdio.h>

bool write_ropes(const Job *job, FILE *file, Err *err) MUST_CHECK;     /* a row a type of rope, per log */
bool write_wraps(const Job *job, FILE *file, Err *err) MUST_CHECK;     /* trims, rings, jacket, per log */
bool write_materials(const Job *job, FILE *file, Err *err) MUST_CHECK; /* a row a candy, all logs */

#endif
