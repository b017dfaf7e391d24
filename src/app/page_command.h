/* The page in the browser. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_PAGE_COMMAND_H
#define LOGOCANE_PAGE_COMMAND_H

#include "app/options.h"
#include "model/shop.h"
#include "page/page.h"

/* What a question begins with: the options and the shop of the command line. */
typedef struct PageStart {
    const Options *options; /* not owned */
    const Shop *shop;       /* not owned */
} PageStart;

/* Serves the page until a signal ends it. Fails as page_serve and jobs_dir_make do. */
bool page_command(const Options *options, const Shop *shop, Err *err) MUST_CHECK;

/* Answers a question, as PageReply: its fields are options, by their long names, behind those of the command
 * line. `user` is a PageStart. */
bool page_reply(void *user, const PageAsk *ask, FILE *file);

#endif
