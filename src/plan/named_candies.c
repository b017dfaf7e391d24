/* The candies that an order names, as far as the shop alone tells them. SPDX-License-Identifier: MIT */
#include "plan/plan_parts.h"

#include "model/blend.h"
#include "model/colour_name.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

void names_add(char *list, size_t size, const char *name) {
    size_t used = strlen(list);
    const char *comma = used > 0 ? ", " : "";
    if (used >= 3 && strcmp(list + used - 3, "...") == 0) return;
    if (used + strlen(comma) + strlen(name) + sizeof ", ..." > size) name = "...";
    (void)snprintf(list + used, size - used, "%s%s", comma, name);
}

int stock_named(const Stock *stock, const char *name, const char *option, Err *err) {
    int at = stock_find(stock, name);
    char list[300] = "";
    if (at >= 0) return at;
    for (int i = 0; i < stock->count; i++)
        if (at == -1 || strncasecmp(stock->candy[i].name, name, strlen(name)) == 0)
            names_add(list, sizeof list, stock->candy[i].name);
    if (at == -1)
        err_set(err, ERR_USAGE, "%s '%s': the shop has no such candy; it has %s", option, name, list);
    else
        err_set(err, ERR_USAGE, "%s '%s': fits several candies; write more of the name: %s", option, name,
                list);
    return -1;
}

/* May a candy that is dyed for some logo be called so? */
static bool may_be_dyed(const char *name) {
    char low[CANDY_NAME] = "";
    for (size_t i = 0; name[i] && i + 1 < sizeof low; i++) low[i] = (char)tolower((unsigned char)name[i]);
    return colour_name_known(low);
}

static bool check_blend(const Stock *stock, const char *text, const char *option, Err *err) {
    BlendWish wish;
    const Candy *of[BLEND];
    Candy blend;
    if (!blend_read(text, option, &wish, err)) return false;
    for (int i = 0; i < BLEND; i++) {
        if (stock_find(stock, wish.name[i]) < 0 && may_be_dyed(wish.name[i])) return true;
        int at = stock_named(stock, wish.name[i], option, err);
        if (at < 0) return false;
        of[i] = &stock->candy[at];
    }
    return blend_make(of, wish.parts, text, option, &blend, err);
}

static bool check_name(const Stock *stock, const char *name, const char *option, Err *err) {
    if (blend_asked(name)) return check_blend(stock, name, option, err);
    return may_be_dyed(name) || stock_named(stock, name, option, err) >= 0;
}

bool check_candies(const Order *order, const Shop *shop, Err *err) {
    const Stock *stock = &shop->stock;
    if (*order->field && !check_name(stock, order->field, "-f", err)) return false;
    for (int i = 0; i < order->wishes; i++)
        if (strcasecmp(order->wish[i].candy, "dye") != 0 &&
            !check_name(stock, order->wish[i].candy, "-m", err))
            return false;
    bool chosen = order->jackets > 0 && strcasecmp(order->jacket[0], "auto") == 0;
    for (int j = 0; j < order->jackets && !chosen; j++)
        if (!check_name(stock, order->jacket[j], "-j", err)) return false;
    return true;
}
