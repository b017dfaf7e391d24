/* The shop, printed as a file that reads back to the same. SPDX-License-Identifier: MIT */
#include "read/read.h"

#include "base/text.h"

#include <string.h>

static void print_key(const ShopKey *key, const Shop *shop, FILE *file) {
    char range[80], value[SHOP_TEXT];
    shop_key_range(key, range, sizeof range);
    shop_key_print(key, shop, value, sizeof value);
    bool empty = shop_key_empty(key, shop);
    fprintf(file, "; %s; %s (%s)\n", key->help, range, key->standing);
    fprintf(file, "%s%s = %s\n", empty ? "; " : "", key->key, empty ? "" : value);
}

static void print_candy(const Candy *candy, FILE *file) {
    char density[32], dye[32], colour[RGB8_CODE];
    rgb8_code(candy->srgb, colour);
    text_number(density, sizeof density, candy->density_g_ml, 9);
    fprintf(file, "\n[candy %s]\nfinish = %s\n", candy->name, finish_name(candy->finish));
    fprintf(file, "colour = %s\ndensity = %s g/ml\n", colour, density);
    text_number(dye, sizeof dye, candy->dye_share * 100, 9);
    if (candy->dye_share > 0) fprintf(file, "dye = %s %%\n", dye);
}

void shop_file_print(const Shop *shop, FILE *file) {
    int count;
    const ShopKey *key = shop_keys(&count);
    fputs("; The shop: its limits, habits, prices and stock. Lines that begin with ; are remarks.\n"
          "; A key that is left out keeps the value printed here. Lengths may be in mm, cm or in.\n"
          "; habit: common practice, no source; your own measure is better.\n",
          file);
    for (int i = 0; i < count; i++) {
        if (i == 0 || strcmp(key[i].section, key[i - 1].section) != 0)
            fprintf(file, "\n[%s]\n", key[i].section);
        print_key(&key[i], shop, file);
    }
    fputs("\n[stock]\n"
          "; yes: the candies of this file and no others; no: the built-in ones too (no)\n"
          "only_named = yes\n"
          "; with no: built-in candies that the shop does not have, by name\n"
          "; leave_out = grey, violet\n"
          "\n; A candy takes the place of the built-in one of its name. finish: pulled or clear; colour: of "
          "the "
          "cut face;\n"
          "; density: cold (pulled 1.30: habit; clear 1.50: literature, from memory); dye: colour of the "
          "candy,\n"
          "; your own dose, in % (none is built in).\n",
          file);
    for (int i = 0; i < shop->stock.count; i++) print_candy(&shop->stock.candy[i], file);
}
