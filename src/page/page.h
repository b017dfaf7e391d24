/* Public. The page in the browser: HTTP on this machine, each question answered by a process of its own.
 * SPDX-License-Identifier: MIT
 *
 * What a question means is the caller's: here it is a file with a name, and fields. The caller's function
 * works in a child process that is shut in (shut_in.h), and prints its answer:
 *
 *     page_head(file, 200, PAGE_LINES, "");
 *     fputs("{\"stage\":\"drawn\"}\n", file), fflush(file);        each line reaches the browser as it comes
 */
#ifndef LOGOCANE_PAGE_H
#define LOGOCANE_PAGE_H

#include "base/err.h"
#include "base/stop.h"

#include <stdio.h>

/* What is asked for: POST /answer, /sweep, /files, /keep; /hand, which no child answers. */
typedef enum PageQuestion {
    PAGE_ANSWER,
    PAGE_SWEEP,
    PAGE_FILES,
    PAGE_KEEP,
    PAGE_HAND,
    PAGE_QUESTIONS
} PageQuestion;

/* A part of the form that is no file: UTF-8, never NULL. */
typedef struct PageField {
    const char *name, *value;
} PageField;

/* A question as the child gets it. The picture is the child's standard input, at its first byte. */
typedef struct PageAsk {
    PageQuestion question;
    const char *logo;       /* the picture's name, without folders, clean; "logo" if it has none */
    int fields;             /* of field */
    const PageField *field; /* in the order they were sent; a name may come several times */
    void **kept;            /* what the reply keeps for the next question about the same picture, NULL at the
                               first; NULL if none comes */
    const Stop *stop;       /* asks whether the answer is still wanted; NULL = it is */
} PageAsk;

/* The kinds of answers. */
typedef enum PageKind {
    PAGE_JSON,  /* an object; sent when the child has ended well */
    PAGE_LINES, /* an object a line; each sent as soon as it is there */
    PAGE_FILE,  /* a file to be saved, its type told by the ending of its name; sent as PAGE_JSON is */
    PAGE_FOLDER /* files, by page_file: kept in a folder of that name, and the answer says so */
} PageKind;

enum { PAGE_NAME = 120 }; /* bytes of a name, the closing 0 included */

/* The head of an answer: printed once, before all else. `status`: 200, or 400 to 599 with PAGE_JSON; `name`:
 * of the file or the folder, made safe by page_name, else "". */
void page_head(FILE *file, int status, PageKind kind, const char *name);

/* The head and an object {"line": line}: an answer that is a sentence. */
void page_line(FILE *file, int status, const char *line);

/* One file of a folder. */
void page_file(FILE *file, const char *name, const char *bytes, size_t size);

/* Copies a name so that it can be a file's on any system, whatever it was: letters, digits, "-_." and what is
 * not ASCII stay, runs of others become '-', no '.' stands first or last; "logo" if nothing is left. */
void page_name(const char *name, char out[PAGE_NAME]);

/* Answers in the child; false if it could not: the browser is told so. */
typedef bool PageReply(void *user, const PageAsk *ask, FILE *file);

/* What a start needs. A value: the caller fills it. */
typedef struct PagePlan {
    const char *at;            /* ADDRESS:PORT, IPv6 in brackets, port 0 = any that is free; NULL = PAGE_AT */
    const char *password_file; /* its first line is the password; NULL = none, for this machine only */
    const char *const *hosts;  /* [host_count] further names of this machine */
    int host_count;
    const char *shop;            /* what GET /shop answers, JSON */
    const char *dir;             /* where job folders are kept; NULL: /keep is not there */
    const char *const *ours;     /* the names of a folder's files, NULL after the last */
    PageReply *reply;            /* by page_serve's children */
    void *user;                  /* handed on to it */
    bool fonts[PAGE_QUESTIONS];  /* does its answer need fonts? */
    bool stays[PAGE_QUESTIONS];  /* may a child stay with its picture, to be asked again? */
    int seconds[PAGE_QUESTIONS]; /* an answer may take; 0: the usual 60, of a sweep 240 */
    int children;                /* at most at a time; 0: as many as processors */
    int waiting;                 /* questions at most behind them; 0: the usual 32 */
    int rest_seconds;            /* a child stays so long unasked; 0: the usual 60 */
    FILE *out; /* where the address is told: a line, and a second one where others reach it */
} PagePlan;

#define PAGE_AT "127.0.0.1:8765"

/* Serves until SIGINT, SIGTERM or SIGHUP comes, then ends all children within a second and returns true. The
 * process must have no threads. Fails with ERR_USAGE on an address or name that cannot be read, one that is
 * not this machine's, or that others reach without a password file; on a password file that is missing,
 * empty, too long or open to others. With ERR_SYSTEM on a port in use and where the system has no room. */
bool page_serve(const PagePlan *plan, Err *err) MUST_CHECK;

#endif
