/* A job folder from what a child has answered. SPDX-License-Identifier: MIT
 *
 * The child may have been taken over by the picture: so each name must be one of the plan's, each once, and
 * the folder's was made safe. The folder is written by a process of its own, since disks may be slow. */
#include "page/server.h"

#include "base/folder.h"
#include "base/units.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { LINE = 160 };

/* "SIZE NAME": *name points into the line. */
static bool parse_line(char *line, long *size, const char **name) {
    char *space = strchr(line, ' '), *end = strchr(line, '\n');
    if (!space || !end || end < space) return false;
    *space = *end = 0;
    *name = space + 1;
    return whole_parse(line, 0, ANSWER_MOST, size);
}

static bool is_ours(const PagePlan *plan, const char *name) {
    for (int i = 0; plan->ours[i]; i++)
        if (strcmp(plan->ours[i], name) == 0) return true;
    return false;
}

static bool copy(FILE *from, long size, FILE *to) {
    char piece[1 << 16];
    while (size > 0) {
        size_t some = fread(piece, 1, size < (long)sizeof piece ? (size_t)size : sizeof piece, from);
        if (some == 0) return false;
        (void)fwrite(piece, 1, some, to); /* what fails shows at the file's close */
        size -= (long)some;
    }
    return true;
}

/* All files that `from` has. Of a name given twice folder_open does not take the second. */
static bool write_files(const PagePlan *plan, FILE *from, const Folder *folder, Err *err) {
    char line[LINE];
    while (fgets(line, sizeof line, from)) {
        const char *name;
        long size;
        if (!parse_line(line, &size, &name) || !is_ours(plan, name))
            return err_set(err, ERR_SYSTEM, "the answer is damaged; nothing was kept");
        FILE *file = folder_open(folder, name, err);
        if (!file) return false;
        bool whole = copy(from, size, file);
        if (!folder_close(folder, file, name, err)) return false;
        if (!whole) return err_set(err, ERR_SYSTEM, "the answer is cut off; nothing was kept");
    }
    return true;
}

static bool write_folder(const PagePlan *plan, const char *dir, bool force, FILE *from, Err *err) {
    Folder folder;
    if (!folder_check(dir, plan->ours, force, err) || !folder_begin(dir, plan->ours, &folder, err))
        return false;
    if (write_files(plan, from, &folder, err)) return folder_commit(&folder, plan->ours, force, err);
    folder_abandon(&folder, plan->ours);
    return false;
}

bool keep_folder(const PagePlan *plan, const char *name, bool force, int spool, size_t at, FILE *file) {
    char dir[PATH_MAX];
    Err err = {0};
    FILE *from = lseek(spool, (off_t)at, SEEK_SET) >= 0 ? fdopen(spool, "rb") : NULL;
    if (!from) return false;
    if (snprintf(dir, sizeof dir, "%s/%s", plan->dir, name) >= (int)sizeof dir)
        (void)err_set(&err, ERR_USAGE, "%.80s...: the name is too long; choose a shorter one", plan->dir);
    else if (!force && folder_check(dir, plan->ours, true, &err) &&
             !folder_check(dir, plan->ours, false, &err)) {
        err = (Err){0}; /* as the page says it: nobody types an option there */
        (void)err_set(&err, ERR_USAGE, "%s is kept already; replace it, or give the job another name", name);
    } else if (err.code == ERR_NONE && write_folder(plan, dir, force, from, &err)) {
        page_head(file, 200, PAGE_JSON, ""); /* a safe name has no quotes */
        fprintf(file, "{\"line\":\"kept in %s\",\"folder\":\"%s\"}\n", name, name);
    }
    if (err.code != ERR_NONE) page_line(file, err.code == ERR_USAGE ? 409 : 500, err.msg);
    (void)fclose(from);
    return true;
}
