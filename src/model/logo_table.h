/* Public. What is told of several logos: a row each. Every output prints these; none computes.
 * SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_LOGO_TABLE_H
#define LOGOCANE_LOGO_TABLE_H

#include "base/err.h"
#include "model/judgement.h"
#include "model/order.h"

/* The logos, in the order of the table. Filled by logos_list. */
typedef struct LogoList {
    int count;
    char **path;   /* [count] as given, or FOLDER/NAME; each owned, and the list */
    char **folder; /* [count] name of its job folder; owned likewise; NULL before logos_folders */
    int common;    /* bytes of the folders, with the last '/', that all paths begin with */
    long passed;   /* files of the folders given that are no pictures */
} LogoList;

/* One logo. Filled by many. */
typedef struct LogoRow {
    const char *file;   /* its path; the list's */
    const char *folder; /* of its job, under -o; NULL if none is written; the list's */
    Err err;            /* why there is no verdict: then what follows is not filled; else err.code 0 */
    Verdict verdict;
    CheckKind cause;          /* the first check of that verdict, where it is not go */
    double likeness, weakest; /* 0..1 */
    long pieces;              /* of the order; of one by mass: as many as weigh so much */
    int ropes_made;           /* per log */
    int logs;
    double minutes; /* to lay up a log */
    double price;   /* of the whole order; 0 where it is no, or the shop has no prices */
} LogoRow;

/* How they are told, and what is the same for all. A value: many_command fills it. */
typedef struct LogoTable {
    enum { LOGOS_TEXT, LOGOS_CSV, LOGOS_JSON } form;
    int count;            /* of logos */
    int common;           /* as LogoList has it */
    const Order *order;   /* not owned */
    bool prices;          /* the shop has some */
    const char *currency; /* "" = not given; the shop's */
} LogoTable;

/* How many came out how: rows so far. Filled by logos_count. */
typedef struct LogoCounts {
    int verdict[VERDICT_NO + 1];
    int failed;
} LogoCounts;

/* Counts the row. */
void logos_count(const LogoRow *row, LogoCounts *counts);

/* The exit status: 2 if any failed, else 1 if any is no, else 0. */
int logos_status(const LogoCounts *counts);

void logo_list_free(LogoList *list);

#endif
