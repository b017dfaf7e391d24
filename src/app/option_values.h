/* The values of options: each taken into its field, or one line that says why not. SPDX-License-Identifier:
 * MIT
 *
 * All of them as TakeOption (options.h) has it; ERR_USAGE is all that they fail with. */
#ifndef LOGOCANE_OPTION_VALUES_H
#define LOGOCANE_OPTION_VALUES_H

#include "app/options.h"

/* A whole number of the row's range into an int; a flag; a path, which stays the caller's. */
TakeOption take_small, take_flag, take_path;

/* Of the order and the candy. Of pieces and mass the last holds. */
TakeOption take_pieces, take_weight, take_piece, take_job_name;
TakeOption take_field, take_map, take_join, take_leave_out, take_jacket, take_fit, take_detail;

/* Of the shop, the page and the output. */
TakeOption take_warm_box, take_page, take_page_host, take_day, take_units, take_sweep;

#endif
