/* The job folder as one ZIP, made in memory. SPDX-License-Identifier: MIT
 *
 * The same job gives the same bytes: every file has the same time, the first that a ZIP can say, and what is
 * packed already (pictures) is stored as it is. */
#include "write/write.h"

#include <stdlib.h>
#include <string.h>
#include <zip.h>

enum { FIRST_DAY = 1 << 5 | 1 }; /* 1 January 1980, as ZIP counts */

static bool no_memory(Err *err) {
    return err_set(err, ERR_MEMORY, "out of memory (for the ZIP); close other programs");
}

static bool is_packed(const char *name) {
    const char *dot = strrchr(name, '.');
    return dot && (strcmp(dot, ".png") == 0 || strcmp(dot, ".jpg") == 0);
}

/* A source of a copy of the bytes, which goes with it; NULL where memory is out. */
static zip_source_t *copy_of(zip_t *zip, const char *bytes, size_t size) {
    char *own = malloc(size ? size : 1);
    if (!own) return NULL;
    memcpy(own, bytes, size);
    zip_source_t *source = zip_source_buffer(zip, own, size, 1);
    if (!source) free(own);
    return source; /* NOLINT(clang-analyzer-unix.Malloc): the source frees the copy */
}

/* `user` is the archive. */
static bool add_file(void *user, const char *name, const char *bytes, size_t size, Err *err) {
    zip_t *zip = user;
    zip_source_t *source = copy_of(zip, bytes, size);
    if (!source) return no_memory(err);
    zip_int64_t at = zip_file_add(zip, name, source, ZIP_FL_ENC_UTF_8);
    if (at < 0) {
        zip_source_free(source);
        return no_memory(err);
    }
    zip_uint64_t index = (zip_uint64_t)at;
    bool good =
        zip_set_file_compression(zip, index, is_packed(name) ? ZIP_CM_STORE : ZIP_CM_DEFLATE, 6) == 0 &&
        zip_file_set_dostime(zip, index, 0, FIRST_DAY, 0) == 0 &&
        zip_file_set_external_attributes(zip, index, 0, ZIP_OPSYS_UNIX, 0100644U << 16) == 0;
    return good || no_memory(err);
}

/* Prints what the archive was written to. */
static bool print_source(zip_source_t *source, FILE *file, Err *err) {
    char piece[1 << 14];
    zip_int64_t size;
    if (zip_source_open(source) != 0) return no_memory(err);
    while ((size = zip_source_read(source, piece, sizeof piece)) > 0)
        (void)fwrite(piece, 1, (size_t)size, file);
    (void)zip_source_close(source);
    return size == 0 || no_memory(err);
}

bool write_job_zip(const Job *job, FILE *file, Err *err) {
    zip_error_t wrong;
    zip_error_init(&wrong);
    zip_source_t *source = zip_source_buffer_create(NULL, 0, 1, &wrong);
    zip_t *zip = source ? zip_open_from_source(source, ZIP_TRUNCATE, &wrong) : NULL;
    zip_error_fini(&wrong);
    if (!zip) {
        if (source) zip_source_free(source);
        return no_memory(err);
    }
    zip_source_keep(source);
    bool good = write_job_files(job, NULL, add_file, zip, err);
    if (!good)
        zip_discard(zip);
    else if (zip_close(zip) != 0) {
        good = no_memory(err);
        zip_discard(zip);
    }
    good = good && print_source(source, file, err);
    zip_source_free(source);
    return good;
}
