/* Copies of a tree, for threads to try several things at once. SPDX-License-Identifier: MIT
 *
 * Whatever is tried begins at the tree as it is, so what comes of it does not depend on what was tried
 * before, nor on threads. What never changes, costs and what is equal, is the tree's own. */
#include "plan/slant.h"

#include "base/mem.h"

#include <stdlib.h>
#include <string.h>

static bool copy_new(const Tree *from, Tree *to, Err *err) {
    const size_t room = (size_t)from->room;
    Tree t = *from;
    t.twig = mem_alloc(room, sizeof *t.twig, err);
    t.order = mem_alloc(room, sizeof *t.order, err);
    t.trial.save = mem_alloc(room, sizeof *t.trial.save, err);
    *to = t;
    return t.twig && t.order && t.trial.save;
}

static void copy_free(Tree *t) {
    free(t->twig);
    free(t->order);
    free(t->trial.save);
}

bool copies_new(const Tree *tree, Copies *out, Err *err) {
    *out = (Copies){.was = {0}};
    bool done = copy_new(tree, &out->was, err);
    for (int i = 0; done && i < TRIES; i++) done = copy_new(tree, &out->tree[i], err);
    if (!done) copies_free(out);
    return done;
}

void copies_free(Copies *copies) {
    for (int i = 0; i < TRIES; i++) copy_free(&copies->tree[i]);
    copy_free(&copies->was);
}

void tree_become(Tree *to, const Tree *from) {
    Tree t = *from;
    t.twig = to->twig;
    t.order = to->order;
    t.trial.save = to->trial.save;
    memcpy(t.twig, from->twig, (size_t)from->twigs * sizeof *t.twig);
    *to = t;
}
