/* Public. Days of the calendar, as ISO 8601 writes them. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_DATE_H
#define LOGOCANE_DATE_H

#include <stdbool.h>

enum { DATE_WORDS = 32 }; /* bytes, the closing 0 included */

/* Is it a real day, "2027-02-28"? Of the Gregorian calendar, year 1583 on, four digits, two and two. */
bool date_valid(const char *text);

/* The same as people read it wherever they live: "28 February 2027"; what is no real day as it is, cut. */
void date_words(const char *date, char out[DATE_WORDS]);

#endif
