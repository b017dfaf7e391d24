/* What a letter to the client can depend on, and what goes into its sentences. SPDX-License-Identifier: MIT
 */
#ifndef LOGOCANE_SAY_LETTER_FACTS_H
#define LOGOCANE_SAY_LETTER_FACTS_H

#include "model/job.h"

#include <stdint.h>

/* What is true of a job, as far as its client is concerned. A new one is a member here and a row in
 * letter_facts.c. */
typedef enum Fact {
    FACT_NO, /* it cannot be built like this */
    FACT_NAMED,
    FACT_SHOP_NAMED,
    FACT_ADDRESS,
    FACT_QUANTITY, /* the order said how many */
    FACT_LEAST,    /* the least batch gives more than is ordered */
    FACT_PRICE,    /* candy and hours have one */
    FACT_SMALLEST, /* the shop has a least price of an order */
    FACT_VALID,
    FACT_CROPPED,
    FACT_LEFT_OUT,    /* some of it was asked to be left out */
    FACT_ALONE,       /* the drawing was asked for without its lettering */
    FACT_MADE_ONE,    /* two of its inks were asked to be one */
    FACT_SHADED,      /* some of it is */
    FACT_ALL_SHADED,  /* too much of it is */
    FACT_FINE,        /* strokes, gaps or small parts are finer than is good */
    FACT_WISHED,      /* candies were asked for */
    FACT_COLOURS_OFF, /* a colour is far from its candy, or two run into one */
    FACT_CUT,         /* the picture's edge cuts through it */
    FACT_BUSY,        /* too many shapes */
    FACT_LINES_OUT,
    FACT_LINES_THICK,
    FACT_LETTERS_ANEW,
    FACT_LETTERS_LOST, /* a letter, or an opening in one, does not come out */
    FACT_OPENINGS,     /* an opening in a shape fills up */
    FACT_TIPS,         /* an outlying end of a shape comes out rounder */
    FACT_SMALL_LOST,   /* a small part, no letter, does not come out */
    FACT_LIGHTER,
    FACT_DARKER,
    FACT_PALER,
    FACT_STRONGER,
    FACT_SHIFTED,
    FACT_JOINED,     /* two colours of the logo become one */
    FACT_NEAR,       /* two of its own colours hardly differ */
    FACT_HARDLY,     /* ... and most of it is drawn so */
    FACT_PROPOSED,   /* there is a better way that a client can decide on */
    FACT_LARGER,     /* it takes larger pieces */
    FACT_MORE,       /* ... another number */
    FACT_WITHOUT,    /* ... leaving something out */
    FACT_UNLETTERED, /* ... the drawing without its lettering */
    FACT_INTO_ONE,   /* ... two colours made one */
    FACT_DYES,       /* ... candy coloured to match */
    FACT_FEWER,      /* ... another number of colours */
    FACT_PLAIN,      /* ... plainer detail */
    FACT_WELL,       /* with it the whole is go */
    FACTS
} Fact;

#define FACT(name) ((uint64_t)1 << FACT_##name)

/* The set of what is true. */
uint64_t letter_facts(const Job *job);

/* The way that is proposed to the client: what only the shop does, and what leaves out a main part or a
 * letter, is not. NULL: none. Points into the job. */
const Way *letter_proposal(const Job *job);

enum { SLOT_TEXT = 200 };

/* Ways in which a candy differs from its ink, each a Fact. */
bool ink_differs(const Job *job, int ink, Fact how);

/* Does it become the same candy as a larger ink? Which one, else -1. */
int ink_joined_with(const Job *job, int ink);

/* Fills what stands in a sentence as {name}: a length, a list of colours. False if the name is unknown. */
bool letter_slot(const Job *job, const char *name, char out[SLOT_TEXT]);

#endif
