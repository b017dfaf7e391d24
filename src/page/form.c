/* A question as it comes: fields into a table, the picture into a file in memory. SPDX-License-Identifier:
 * MIT
 *
 * The server's own memory does not grow with the picture, and the child is handed the file as its standard
 * input. */
#include "page/server.h"

#include "base/text.h"

#include <errno.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

int memory_file(void) {
    return memfd_create("page", MFD_CLOEXEC | MFD_ALLOW_SEALING);
}

bool write_all(int at, const char *bytes, size_t size) {
    for (size_t done = 0; done < size;) {
        ssize_t some = write(at, bytes + done, size - done);
        if (some < 0 && errno == EINTR) continue;
        if (some <= 0) return false;
        done += (size_t)some;
    }
    return true;
}

void form_wrong(Form *form, int status, const char *line) {
    if (form->status) return;
    form->status = status;
    form->line = line;
}

/* Appends to the text; false if there is no room. */
static bool append(Form *form, const char *bytes, size_t size) {
    if (size >= sizeof form->text - form->used) return false;
    memcpy(form->text + form->used, bytes, size);
    form->used += size;
    form->text[form->used] = 0;
    return true;
}

/* The name behind the last slash of either kind: some browsers send folders too. */
static void take_logo_name(Form *form, const char *file) {
    for (const char *at = file; *at; at++)
        if ((*at == '/' || *at == '\\') && at[1]) file = at + 1;
    text_clean(form->logo_name, sizeof form->logo_name, file);
    bool named = form->logo_name[strspn(form->logo_name, "./\\ -")] != 0;
    if (!named) (void)snprintf(form->logo_name, sizeof form->logo_name, "logo");
}

static void begin_logo(Form *form, const char *file) {
    if (form->logo >= 0) {
        form_wrong(form, 400, "logo: is there twice; send one picture at a time");
        return;
    }
    form->logo = memory_file();
    if (form->logo < 0) form_wrong(form, 503, "the page has no room left; try again in a moment");
    take_logo_name(form, file);
    form->logo_mark = 0xcbf29ce484222325;
    form->in_logo = true;
}

static void begin_field(Form *form, const char *key) {
    if (form->fields == FIELDS_MAX || !append(form, "", 1) || !append(form, key, strlen(key) + 1)) {
        form_wrong(form, 400, "the form has more in it than a question needs");
        return;
    }
    const char *value = form->text + form->used;
    form->field[form->fields++] = (PageField){value - strlen(key) - 1, value};
}

enum MHD_Result form_take(void *user, enum MHD_ValueKind kind, const char *key, const char *file,
                          const char *type, const char *encoding, const char *data, uint64_t at,
                          size_t size) {
    Form *form = user;
    (void)kind, (void)type, (void)encoding;
    if (at == 0) {
        form->in_logo = false;
        bool logo = key && strcmp(key, "logo") == 0;
        if (!key || (logo && !file) || (!logo && file))
            form_wrong(form, 400, "the form is not as this page sends it; load the page anew");
        else if (logo)
            begin_logo(form, file);
        else
            begin_field(form, key);
    }
    if (form->status) return MHD_YES;
    if (form->in_logo) {
        form->logo_size += size;
        for (size_t i = 0; i < size; i++)
            form->logo_mark = (form->logo_mark ^ (unsigned char)data[i]) * 0x100000001b3;
        if (!write_all(form->logo, data, size))
            form_wrong(form, 503, "the page has no room left; try again in a moment");
    } else if (memchr(data ? data : "", 0, size) || !append(form, data ? data : "", size)) {
        form_wrong(form, 400, "the form has more in it than a question needs");
    }
    return MHD_YES;
}
