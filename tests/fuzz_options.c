/* The command line: each line of the input is an argument. SPDX-License-Identifier: MIT */
#include "fuzz.h"

#include "app/options.h"

static void check_order(const Order *o) {
    assert(o->pieces >= 1 && o->pieces <= PIECES_MAX && o->weight_g >= 0 && o->weight_g <= 1e8);
    assert(o->piece_diameter_mm >= 5 && o->piece_diameter_mm <= 60);
    assert(o->piece_length_mm >= 2 && o->piece_length_mm <= 100);
    assert(o->colours >= 1 && o->colours <= INKS_MAX && o->wishes >= 0 && o->wishes <= INKS_MAX);
    assert(o->jackets >= 0 && o->jackets <= JACKETS_MAX && o->stripes >= 0 && o->stripes <= STRIPES_MAX);
    assert(o->ropes_cap >= 0 && o->ropes_cap <= 10000 && text_valid(o->name) && text_valid(o->field));
    for (int i = 0; i < o->wishes; i++) assert(text_valid(o->wish[i].candy) && o->wish[i].candy[0]);
    for (int i = 0; i < o->jackets; i++) assert(text_valid(o->jacket[i]) && o->jacket[i][0]);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    enum { MOST = 64 };
    char program[] = "logocane", *argv[MOST + 2] = {program}, *text = feed_text(data, size), *rest = text;
    int argc = 1;
    while (argc <= MOST && rest) argv[argc++] = strsep(&rest, "\n");
    Options options = {.logo = "untouched"};
    Err err = {0};
    if (options_parse(argc, argv, &options, &err)) {
        check_order(&options.order);
        assert(err.code == ERR_NONE &&
               (options.logo || options.help || options.version || options.print_shop || options.page));
        assert(!options.sweep || (options.plan.sizes <= SWEEP_MAX && options.plan.orders <= SWEEP_MAX));
    } else {
        assert(err.code == ERR_USAGE && strcmp(options.logo, "untouched") == 0);
        check_message(&err);
    }
    free(text);
    return 0;
}
