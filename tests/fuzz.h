/* What the fuzz harnesses share. SPDX-License-Identifier: MIT
 *
 * A harness is tests/fuzz_NAME.c with LLVMFuzzerTestOneInput and nothing else; `make fuzz` builds it with
 * clang's libFuzzer, `make check` runs it over tests/seeds/NAME, file by file anew (replay.c). What must hold
 * is asserted. */
#ifndef LOGOCANE_TESTS_FUZZ_H
#define LOGOCANE_TESTS_FUZZ_H

#undef NDEBUG
#include "read/read.h"
#include "base/text.h"

#include <assert.h>
#include <pthread.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* One line, not empty, safe to print. */
static inline void check_message(const Err *err) {
    char clean[sizeof err->msg];
    assert(err->code != ERR_NONE && err->msg[0] && strlen(err->msg) < sizeof err->msg);
    text_clean(clean, sizeof clean, err->msg);
    assert(text_valid(clean));
}

typedef struct Decoding {
    char path[32];
    Picture picture;
    Err err;
    bool good;
} Decoding;

static inline void *decode_in_thread(void *argument) {
    Decoding *decoding = argument;
    decoding->good = decode(decoding->path, "logo", &decoding->picture, &decoding->err);
    return NULL;
}

/* Decodes the bytes as a file, in a new thread: what a library keeps of the last file, by thread, such as
 * stb_image's reason for a failure, is as in a program that has just begun. What comes of it is whole: a
 * picture within its limits, or a message. */
static inline bool fuzz_decode(const uint8_t *data, size_t size, Err *err) {
    Decoding decoding = {0};
    pthread_t thread;
    int fd = memfd_create("picture", 0);
    assert(fd >= 0 && write(fd, data, size) == (ssize_t)size);
    (void)snprintf(decoding.path, sizeof decoding.path, "/proc/self/fd/%d", fd);
    assert(pthread_create(&thread, NULL, decode_in_thread, &decoding) == 0);
    assert(pthread_join(thread, NULL) == 0);
    close(fd);
    Picture picture = decoding.picture;
    bool good = decoding.good;
    *err = decoding.err;
    if (good) {
        assert(picture.rgba && err->code == ERR_NONE && picture.shrink >= 1);
        assert(picture.width > 0 && picture.width < 1536 && picture.height > 0 && picture.height < 1536);
        assert(picture.width <= picture.file_width && picture.height <= picture.file_height);
    } else {
        assert(!picture.rgba && (err->code == ERR_INPUT || err->code == ERR_MEMORY));
        check_message(err);
    }
    picture_free(&picture);
    return good;
}

/* Bytes taken one after the other; 0 once they are used up. */
typedef struct Feed {
    const uint8_t *bytes;
    size_t left;
} Feed;

static inline unsigned feed_8(Feed *feed) {
    if (feed->left == 0) return 0;
    feed->left--;
    return *feed->bytes++;
}

static inline int feed_below(Feed *feed, int limit) {
    return (int)(feed_8(feed) % (unsigned)limit);
}

/* low..high, in 65536 places. */
static inline double feed_between(Feed *feed, double low, double high) {
    unsigned upper = feed_8(feed);
    return low + (high - low) * (upper * 256 + feed_8(feed)) / 65535.0;
}

/* The rest as text; to be freed. */
static inline char *feed_text(const uint8_t *data, size_t size) {
    char *text = malloc(size + 1); /* of its own size, so that a step too far is seen */
    assert(text);
    memcpy(text, data, size);
    text[size] = 0;
    return text;
}

#endif
