/* What an answer begins with, and names that are safe. SPDX-License-Identifier: MIT
 *
 * The child's answer is a line, "STATUS KIND NAME", and then the body. A folder's body is a line for each
 * file, "SIZE NAME", with its bytes behind it. The server takes neither on trust. */
#include "page/page.h"

#include "base/text.h"

#include <cjson/cJSON.h>
#include <string.h>

void page_head(FILE *file, int status, PageKind kind, const char *name) {
    char safe[PAGE_NAME] = "";
    if (*name) page_name(name, safe);
    fprintf(file, "%d %d %s\n", status, (int)kind, safe);
}

void page_line(FILE *file, int status, const char *line) {
    char clean[1024];
    text_clean(clean, sizeof clean, line);
    page_head(file, status, PAGE_JSON, "");
    cJSON *text = cJSON_CreateString(clean);
    char *printed = text ? cJSON_PrintUnformatted(text) : NULL;
    fprintf(file, "{\"line\":%s}\n", printed ? printed : "\"out of memory\"");
    cJSON_free(printed);
    cJSON_Delete(text);
}

void page_file(FILE *file, const char *name, const char *bytes, size_t size) {
    fprintf(file, "%zu %s\n", size, name);
    (void)fwrite(bytes, 1, size, file);
}

static bool stays(unsigned char c) {
    return c >= 128 || (c >= '0' && c <= '9') || ((c | 32) >= 'a' && (c | 32) <= 'z') || c == '-' ||
           c == '_' || c == '.';
}

void page_name(const char *name, char out[PAGE_NAME]) {
    char clean[PAGE_NAME - 16]; /* room for an ending */
    size_t used = 0;
    text_clean(clean, sizeof clean, name);
    for (const char *at = clean; *at; at++) {
        char c = *at;
        if (!stays((unsigned char)c)) c = '-';
        if (used == 0 && (c == '.' || c == '-')) continue;
        if (c == '-' && out[used - 1] == '-') continue;
        out[used++] = c;
    }
    while (used > 0 && (out[used - 1] == '.' || out[used - 1] == '-')) used--;
    out[used] = 0;
    if (used == 0) (void)snprintf(out, PAGE_NAME, "logo");
}
