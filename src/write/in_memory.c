/* What is written to a file, as a string. SPDX-License-Identifier: MIT
 *
 * The file is one of stdio's whose bytes come to a function of ours (fopencookie), so that memory that runs
 * out is told as everywhere. Base64 is coded as the bytes come, three at a time. */
#include "write/in_memory.h"

#include "base/mem.h"
#include "write/files.h"

#include <stdint.h>
#include <stdlib.h>

typedef struct Memory {
    bool base64;
    char *text;     /* owned */
    size_t size;    /* used */
    size_t room;    /* as mem_grow has it */
    uint32_t three; /* bytes of which no base64 is made yet: 0 to 2, the last one lowest */
    int held;       /* how many */
    bool failed;    /* memory ran out */
    Err *err;       /* not owned; filled then */
} Memory;

static bool add(Memory *memory, char c) {
    char *text =
        memory->failed ? NULL : mem_grow(memory->text, &memory->room, memory->size + 1, 1, memory->err);
    memory->failed = !text;
    if (!text) return false;
    memory->text = text;
    memory->text[memory->size++] = c;
    return true;
}

/* What is held, as 4 digits; '=' for those of which nothing is. */
static bool add_digits(Memory *memory) {
    static const char digit[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    const uint32_t three = memory->three << (8 * (3 - memory->held));
    for (int i = 0; i < 4; i++)
        if (!add(memory, i <= memory->held ? digit[three >> (18 - 6 * i) & 63] : '=')) return false;
    memory->three = 0;
    memory->held = 0;
    return true;
}

static ssize_t on_write(void *cookie, const char *bytes, size_t size) {
    Memory *memory = cookie;
    for (size_t i = 0; i < size && !memory->failed; i++) {
        if (!memory->base64) {
            if (!add(memory, bytes[i])) return 0;
            continue;
        }
        memory->three = memory->three << 8 | (uint8_t)bytes[i];
        if (++memory->held == 3 && !add_digits(memory)) return 0;
    }
    return memory->failed ? 0 : (ssize_t)size;
}

static FILE *open_memory(Memory *memory) {
    FILE *file = fopencookie(memory, "wb", (cookie_io_functions_t){.write = on_write});
    if (!file)
        (void)err_set(memory->err, ERR_MEMORY, "out of memory (for a file in it); close other programs");
    return file;
}

/* Closes the file. The text, ended by a 0, if all was good; else NULL. */
static char *close_memory(Memory *memory, FILE *file, bool good) {
    good = fclose(file) == 0 && good && !memory->failed && (memory->held == 0 || add_digits(memory)) &&
           add(memory, 0);
    if (good) return memory->text;
    free(memory->text);
    return NULL;
}

char *written(const Job *job, bool (*write)(const Job *job, FILE *file, Err *err), Err *err) {
    Memory memory = {.err = err};
    FILE *file = open_memory(&memory);
    return file ? close_memory(&memory, file, write(job, file, err)) : NULL;
}

char *image_base64(const Image *image, bool (*encode)(const Image *image, FILE *file, Err *err), Err *err) {
    Memory memory = {.base64 = true, .err = err};
    FILE *file = open_memory(&memory);
    return file ? close_memory(&memory, file, encode(image, file, err)) : NULL;
}

char *png_base64(const Image *image, Err *err) {
    return image_base64(image, write_png, err);
}
