/* The page in the browser: what it begins with. SPDX-License-Identifier: MIT */
#include "app/page_command.h"

#include "run/run.h"
#include "write/write.h"

#include <stdlib.h>
#include <time.h>
#include <unistd.h>

enum { FILES_MAX = 32 }; /* of a job folder */

/* What GET /shop answers; the caller frees it. */
static char *shop_text(const Options *options, const Shop *shop, Err *err) {
    char *text = NULL;
    size_t size = 0;
    FILE *file = open_memstream(&text, &size);
    const PageShop page = {LOGOCANE_VERSION, options->dir != NULL};
    bool good = file && write_shop_json(shop, &options->order, &page, file, err);
    bool whole = file && fclose(file) == 0;
    if (good && whole) return text;
    (void)err_set(err, ERR_MEMORY, "out of memory (for the shop); close other programs");
    free(text);
    return NULL;
}

static void list_ours(const char *out[FILES_MAX + 1]) {
    int count = 0;
    while (count < FILES_MAX && (out[count] = write_job_file(count))) count++;
    out[count] = NULL;
}

bool page_command(const Options *options, const Shop *shop, Err *err) {
    const char *ours[FILES_MAX + 1];
    PageStart start = {options, shop};
    bool made = false;
    if (options->dir && !jobs_dir_make(options->dir, &made, err)) return false;
    char *text = shop_text(options, shop, err);
    list_ours(ours);
    tzset(); /* a child, which may need the day, cannot read the zone's file */
    PagePlan plan = {.at = options->page_at,
                     .password_file = options->page_password_file,
                     .hosts = options->page_host,
                     .host_count = options->page_hosts,
                     .shop = text,
                     .dir = options->dir,
                     .ours = ours,
                     .reply = page_reply,
                     .user = &start,
                     .stays = {[PAGE_ANSWER] = true},
                     .fonts = {[PAGE_FILES] = true, [PAGE_KEEP] = true},
                     .out = stdout};
    bool good = text && page_serve(&plan, err);
    free(text);
    if (made) (void)rmdir(options->dir); /* where nothing was kept: else it is not empty */
    return good;
}
