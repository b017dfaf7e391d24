/* Public. The keys of the shop file: one table for the reader, the printer and the manual.
 * SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_SHOP_KEYS_H
#define LOGOCANE_SHOP_KEYS_H

#include "model/shop.h"

#include <stddef.h>

/* What a key holds, and how it is written. */
typedef enum KeyKind {
    KEY_LENGTH, /* double, mm; written in mm, cm or in: 6 mm, 1/4 in */
    KEY_MASS,   /* double, g; written in kg, g, lb or oz, kg if bare */
    KEY_HEAT,   /* double, Celsius; written in C or F */
    KEY_SHARE,  /* double, 0..1; written in % */
    KEY_NUMBER, /* double, written as it is */
    KEY_WHOLE,  /* int */
    KEY_WORD    /* char[SHOP_WORD] */
} KeyKind;

/* A row of the table, a constant: no stage fills it. */
typedef struct ShopKey {
    const char *section, *key; /* as the shop file has them */
    KeyKind kind;
    size_t offset;        /* of its field in Shop */
    const char *unit;     /* as written: "mm", "kg", "%", "min"; "" = none. May be left out in the file. */
    double low, high;     /* in that unit; of a word: its longest, bytes */
    bool optional;        /* 0 or "" means: not given; printed as a remark then */
    const char *standing; /* where the built-in value comes from */
    const char *help;     /* what it is */
} ShopKey;

enum { SHOP_KEYS_MAX = 64 };

/* The table, rows of one section together; *count rows, at most SHOP_KEYS_MAX. */
const ShopKey *shop_keys(int *count);

/* The key of that name in that section, NULL if there is none. */
const ShopKey *shop_key_find(const char *section, const char *key);

/* Reads `text` into the key's field of *shop; false, and *shop untouched, if it cannot be read or is out of
 * range. */
bool shop_key_read(const ShopKey *key, const char *text, Shop *shop);

/* The field's value as written in the file, with the fewest decimals that read back to the same value. */
void shop_key_print(const ShopKey *key, const Shop *shop, char *out, size_t size);

/* Is it an optional key that is not given? */
bool shop_key_empty(const ShopKey *key, const Shop *shop);

/* "3 to 20 mm", "at most 8 bytes of plain text": what the key takes. */
void shop_key_range(const ShopKey *key, char *out, size_t size);

#endif
