/* Days of the calendar. SPDX-License-Identifier: MIT */
#include "base/date.h"

#include <stdio.h>
#include <string.h>

enum { LENGTH = 10, GREGORIAN = 1583 }; /* the first whole year of the calendar */

static int number_at(const char *text, int digits) {
    int number = 0;
    for (int i = 0; i < digits; i++) number = 10 * number + (text[i] - '0');
    return number;
}

static bool is_leap(int year) {
    return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
}

static int days_in(int year, int month) {
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return days[month - 1] + (month == 2 && is_leap(year));
}

bool date_valid(const char *text) {
    if (strlen(text) != LENGTH) return false;
    for (int i = 0; i < LENGTH; i++) {
        bool dash = i == 4 || i == 7;
        if (dash ? text[i] != '-' : text[i] < '0' || text[i] > '9') return false;
    }
    int year = number_at(text, 4), month = number_at(text + 5, 2), day = number_at(text + 8, 2);
    return year >= GREGORIAN && month >= 1 && month <= 12 && day >= 1 && day <= days_in(year, month);
}

void date_words(const char *date, char out[DATE_WORDS]) {
    static const char *const month[] = {"January",   "February", "March",    "April",
                                        "May",       "June",     "July",     "August",
                                        "September", "October",  "November", "December"};
    if (!date_valid(date))
        (void)snprintf(out, DATE_WORDS, "%s", date);
    else
        (void)snprintf(out, DATE_WORDS, "%d %s %d", number_at(date + 8, 2), month[number_at(date + 5, 2) - 1],
                       number_at(date, 4));
}
