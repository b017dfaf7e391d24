/* Which logos are meant. SPDX-License-Identifier: MIT
 *
 * 1. What is no folder is a logo, whatever it is: reading it will tell. 2. Of a folder's plain files those
 * that are pictures, by bytes of their names; a link counts as what it leads to. Names that begin with a dot
 * are hidden, and not looked at. 3. A folder without any is a logo that cannot be read. Cost: each file of a
 * folder is opened once; a path in memory each. */
#include "run/run.h"

#include "base/mem.h"
#include "base/text.h"
#include "read/read.h"

#include <dirent.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

bool is_folder(const char *path) {
    struct stat about;
    return stat(path, &about) == 0 && S_ISDIR(about.st_mode);
}

static bool no_picture(const char *folder, Err *err) {
    char name[320];
    text_fit(name, sizeof name, folder, 160);
    return err_set(err, ERR_INPUT,
                   "%s: no picture is to be seen in this folder; name one that holds pictures itself", name);
}

/* A list that grows. */
typedef struct Growing {
    LogoList list;
    size_t capacity;
} Growing;

/* Adds `folder`/`name`, or `name` alone, of which so many bytes. */
static bool add(Growing *to, const char *folder, const char *name, Err *err) {
    size_t length = strlen(folder), size = length + strlen(name) + 2;
    char **path = mem_grow(to->list.path, &to->capacity, (size_t)to->list.count + 1, sizeof *path, err);
    if (!path) return false;
    to->list.path = path;
    char *copy = mem_alloc(size, 1, err);
    if (!copy) return false;
    bool slash = length > 0 && folder[length - 1] != '/';
    (void)snprintf(copy, size, "%s%s%s", folder, slash ? "/" : "", name);
    path[to->list.count++] = copy;
    return true;
}

static int compare_paths(const void *p, const void *q) {
    return strcmp(*(char *const *)p, *(char *const *)q);
}

/* The last path added is that of an entry of a folder: it stays if it is a picture. */
static void keep_picture(Growing *to) {
    LogoList *list = &to->list;
    struct stat about;
    char *path = list->path[list->count - 1];
    bool plain = stat(path, &about) == 0 && S_ISREG(about.st_mode);
    if (plain && file_is_picture(path)) return;
    list->passed += plain;
    free(path);
    list->count--;
}

/* 2. and 3. */
static bool add_folder(Growing *to, const char *folder, Err *err) {
    const int before = to->list.count;
    DIR *stream = opendir(folder);
    bool good = true;
    for (struct dirent *entry; good && stream && (entry = readdir(stream));) {
        if (entry->d_name[0] == '.') continue;
        good = add(to, folder, entry->d_name, err);
        if (good) keep_picture(to);
    }
    if (stream) (void)closedir(stream);
    const int found = to->list.count - before;
    if (found > 1) qsort(to->list.path + before, (size_t)found, sizeof *to->list.path, compare_paths);
    return good && (found > 0 || add(to, "", folder, err));
}

/* How many bytes of folders all paths begin with. */
static int common_folders(const LogoList *list) {
    if (list->count == 0) return 0;
    const char *first = list->path[0], *slash = strrchr(first, '/');
    size_t common = slash && slash[1] ? (size_t)(slash - first) + 1 : 0;
    for (int i = 1; i < list->count; i++)
        while (common > 0 && strncmp(first, list->path[i], common) != 0) {
            common--;
            while (common > 0 && first[common - 1] != '/') common--;
        }
    return (int)common;
}

bool logos_list(char *const given[], int count, LogoList *out, Err *err) {
    Growing growing = {0};
    bool good = true;
    for (int i = 0; good && i < count; i++)
        good = is_folder(given[i]) ? add_folder(&growing, given[i], err) : add(&growing, "", given[i], err);
    bool any = false;
    for (int i = 0; good && !any && i < growing.list.count; i++) any = !is_folder(growing.list.path[i]);
    if (good && !any) {
        good = no_picture(given[0], err);
    }
    if (!good) {
        logo_list_free(&growing.list);
        return false;
    }
    growing.list.common = common_folders(&growing.list);
    *out = growing.list;
    return true;
}

/* --- names of job folders --- */

/* A logo by the name of its file without folders and ending. */
typedef struct Stem {
    const char *text; /* in its path */
    int length;
    int logo;
} Stem;

static int compare_texts(const Stem *a, const Stem *b) {
    int shorter = a->length < b->length ? a->length : b->length;
    int order = memcmp(a->text, b->text, (size_t)shorter);
    return order ? order : (a->length > b->length) - (a->length < b->length);
}

static int compare_stems(const void *p, const void *q) {
    const Stem *a = p, *b = q;
    int order = compare_texts(a, b);
    return order ? order : (a->logo > b->logo) - (a->logo < b->logo);
}

static int find_stem(const void *p, const void *q) {
    return compare_texts(p, q);
}

static Stem stem_of(const char *path, int logo) {
    const char *slash = strrchr(path, '/'), *name = slash && slash[1] ? slash + 1 : path;
    if (strcmp(path, "-") == 0) name = "logo";
    const char *dot = strrchr(name, '.');
    return (Stem){name, dot && dot > name ? (int)(dot - name) : (int)strlen(name), logo};
}

/* "STEM", or "STEM-2" and on where another logo has that already: no other's stem, and what two stems become
 * differs, since the number ends where the last dash is. *number: the last one tried. */
static char *folder_of(const Stem *stem, const Stem *sorted, int count, bool first, int *number, Err *err) {
    size_t size = (size_t)stem->length + 16;
    char *name = mem_alloc(size, 1, err);
    if (!name) return NULL;
    (void)snprintf(name, size, "%.*s", stem->length, stem->text);
    Stem wish;
    do {
        if (!first) (void)snprintf(name + stem->length, size - (size_t)stem->length, "-%d", ++*number);
        wish = (Stem){name, (int)strlen(name), 0};
    } while (!first && bsearch(&wish, sorted, (size_t)count, sizeof *sorted, find_stem));
    return name;
}

bool logos_folders(LogoList *list, Err *err) {
    const int count = list->count;
    for (int i = 0; list->folder && i < count; i++) free(list->folder[i]); /* asked for before */
    free(list->folder);
    list->folder = NULL;
    Stem *stem = mem_alloc((size_t)count, sizeof *stem, err);
    bool good = stem && (list->folder = mem_alloc((size_t)count, sizeof *list->folder, err));
    for (int i = 0; good && i < count; i++) stem[i] = stem_of(list->path[i], i);
    if (good) qsort(stem, (size_t)count, sizeof *stem, compare_stems);
    for (int i = 0, number = 1; good && i < count; i++) {
        bool first = i == 0 || compare_texts(&stem[i - 1], &stem[i]) != 0;
        if (first) number = 1;
        list->folder[stem[i].logo] = folder_of(&stem[i], stem, count, first, &number, err);
        good = list->folder[stem[i].logo] != NULL;
    }
    free(stem);
    return good;
}
