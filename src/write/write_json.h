/* Public. The job as JSON. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_WRITE_JSON_H
#define LOGOCANE_WRITE_JSON_H

#include "model/job.h"

#include <stdio.h>

/* Prints the job as one JSON object (format 1): the keys of docs/formats.md, numbers unrounded, mm and g
 * whatever the order's units, per log but for the materials. frame.centre_px and px_per_step are in pixels of
 * the logo's file, upright, as are its width and height. Fails with ERR_MEMORY, nothing printed then; write
 * errors show when the file is closed. */
bool write_json(const Job *job, FILE *file, Err *err) MUST_CHECK;

#endif
