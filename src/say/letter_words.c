/* The letter to the client. SPDX-License-Identifier: MIT
 *
 * Every sentence stands in one table, with when it is said beside it: if all facts of `need` and none of
 * `unless` are true (letter_facts.h). {name} is filled by letter_slots.c. The paragraph of job.txt and
 * job.json is made of the same rows: those that are `brief`. */
#include "say/verdict_words.h"

#include "base/text.h"
#include "say/letter_facts.h"

#include <stdio.h>
#include <string.h>

#define F(name) FACT(name)

static const LetterRow table[] = {
    {LETTER_HEAD, false, F(NAMED), 0, "Your logo as candy: {name}"},
    {LETTER_HEAD, false, 0, F(NAMED), "[ THE NAME OF THE JOB IS MISSING: write it here, or use --name ]"},
    {LETTER_HEAD, false, 0, 0, ""},
    {LETTER_HEAD, false, 0, 0, "Good day,"},

    {LETTER_OFFER, true, 0, F(NO), "We can make your logo as picture candy, {size} across."},
    {LETTER_OFFER, false, F(NO), 0, "Thank you for thinking of candy for your logo."},
    {LETTER_OFFER, true, F(NO), 0,
     "At {size} across, hand-pulled candy cannot show your logo quite as it is drawn."},
    {LETTER_OFFER, false, 0, F(NO), "That is {pieces} pieces of {piece}, {mass} in all, in {candies}."},
    {LETTER_OFFER, false, 0, F(NO) | F(PROPOSED), "The picture we enclose shows how it comes out."},

    {LETTER_LOOK, true, F(CROPPED), F(NO), "It is cropped to a disc, as the pieces are."},
    {LETTER_LOOK, true, F(LEFT_OUT), F(NO), "Part of the drawing is left out."},
    {LETTER_LOOK, true, F(ALONE), F(NO), "It is the drawing alone, without its lettering."},
    {LETTER_LOOK, true, F(MADE_ONE), F(NO), "Two of its colours are made as one."},
    {LETTER_LOOK, true, F(SHADED), 0, "Candy comes in flat colours, so shading is left out."},
    {LETTER_LOOK, true, F(LINES_OUT), F(NO), "When it is made, {lines_out} will be left out."},
    {LETTER_LOOK, true, F(LINES_THICK), F(NO), "So that they are seen, {lines_thick} will be made wider."},
    {LETTER_LOOK, true, F(LETTERS_ANEW), F(NO),
     "The letters are drawn anew for candy, all their strokes alike{letters}."},
    {LETTER_LOOK, true, F(FINE), F(NO) | F(LINES_OUT) | F(LINES_THICK) | F(LETTERS_ANEW),
     "Its finest details come out a little simpler than drawn."},
    {LETTER_LOOK, false, F(LETTERS_LOST), F(NO),
     "Some shapes side by side lose a little of their form; if they are letters, please look whether they "
     "can still be read."},
    {LETTER_LOOK, false, F(OPENINGS), F(NO), "Narrow openings in the shapes may fill up."},
    {LETTER_LOOK, false, F(TIPS), F(NO), "Thin points and ends come out rounder."},
    {LETTER_LOOK, false, F(SMALL_LOST), F(NO), "A few very small spots will hardly be seen."},
    {LETTER_LOOK, true, F(COLOURS_OFF) | F(WISHED), F(NO), "The colours are those asked for."},
    {LETTER_LOOK, true, F(COLOURS_OFF), F(NO) | F(WISHED), "The colours are the nearest that we make."},
    {LETTER_LOOK, false, F(LIGHTER), F(NO), "In candy, {lighter} will look a little lighter."},
    {LETTER_LOOK, false, F(DARKER), F(NO), "In candy, {darker} will look a little darker."},
    {LETTER_LOOK, false, F(PALER), F(NO), "Beside your logo, {paler} will look a little paler."},
    {LETTER_LOOK, false, F(STRONGER), F(NO), "Beside your logo, {stronger} will look a little stronger."},
    {LETTER_LOOK, false, F(SHIFTED), F(NO), "Please expect another shade of {shifted}."},
    {LETTER_LOOK, true, F(NEAR), F(NO) | F(HARDLY),
     "In candy as on paper, {near} will hardly be told apart."},
    {LETTER_LOOK, true, F(HARDLY), F(NO),
     "Most of it is drawn in colours that lie close together, so it will be hard to see, in candy as on "
     "paper; if you have it in colours that differ more, please send us that."},
    {LETTER_LOOK, false, F(JOINED), F(NO), "We make {joined} as one colour."},
    {LETTER_LOOK, false, F(NO) | F(FINE), F(ALL_SHADED),
     "Some of its lines, gaps or shapes are too small for the candy to keep apart."},
    {LETTER_LOOK, true, F(NO) | F(HARDLY), F(ALL_SHADED),
     "It is drawn in colours so close to each other that nothing of it would be seen."},
    {LETTER_LOOK, false, F(NO) | F(COLOURS_OFF), F(ALL_SHADED) | F(HARDLY),
     "Some of its colours would look too much alike in candy."},
    {LETTER_LOOK, false, F(NO) | F(BUSY), F(ALL_SHADED),
     "It has more separate shapes than can be put together while candy is soft."},

    {LETTER_PROPOSAL, true, F(LARGER), 0, "What we propose is pieces of {better_size} across."},
    {LETTER_PROPOSAL, true, F(MORE), 0, "What we propose is an order of {better_pieces} pieces."},
    {LETTER_PROPOSAL, true, F(WITHOUT), 0, "We would leave out {without}."},
    {LETTER_PROPOSAL, true, F(UNLETTERED), 0, "We would make the drawing alone, without its lettering."},
    {LETTER_PROPOSAL, true, F(INTO_ONE), 0, "We would make one colour of {into_one}."},
    {LETTER_PROPOSAL, true, F(DYES), 0, "We would colour candy to match {dyes}."},
    {LETTER_PROPOSAL, true, F(FEWER), 0, "We would make it in {colours}."},
    {LETTER_PROPOSAL, true, F(PLAIN), 0, "We would keep its shapes a little plainer."},
    {LETTER_PROPOSAL, true, F(PROPOSED) | F(WELL), 0, "Then it comes out well."},
    {LETTER_PROPOSAL, true, F(PROPOSED), F(WELL), "Then we can make it, a little simpler than drawn."},
    {LETTER_PROPOSAL, true, F(NO) | F(CUT), F(PROPOSED),
     "The picture ends in the middle of the drawing; please send us the whole of it."},
    {LETTER_PROPOSAL, true, F(NO) | F(ALL_SHADED), F(PROPOSED) | F(CUT),
     "A version in a few flat colours would make it possible."},
    {LETTER_PROPOSAL, true, F(NO) | F(FINE), F(PROPOSED) | F(ALL_SHADED) | F(CUT),
     "A simpler version, with no line or gap thinner than {percent} of its width, would make it possible."},
    {LETTER_PROPOSAL, true, F(NO) | F(HARDLY), F(PROPOSED) | F(ALL_SHADED) | F(FINE) | F(CUT),
     "A version in colours that differ more from each other would make it possible."},
    {LETTER_PROPOSAL, true, F(NO), F(PROPOSED) | F(ALL_SHADED) | F(FINE) | F(CUT) | F(HARDLY),
     "A version in fewer colours that differ more from each other would make it possible."},
    {LETTER_PROPOSAL, false, F(NO), F(PROPOSED),
     "Best for us is a PNG, 1000 pixels or more across; we will gladly look at it again."},

    {LETTER_NEEDS, false, 0, F(QUANTITY) | F(NO), "Please tell us how many you would like."},
    {LETTER_NEEDS, false, F(LEAST), F(NO),
     "The smallest batch that we make gives {given} pieces, so that is the least we reckon with."},
    {LETTER_NEEDS, false, F(PRICE), F(NO) | F(PROPOSED), "The price is {price} for the whole order."},
    {LETTER_NEEDS, false, F(PRICE) | F(PROPOSED), F(NO),
     "As you asked for it the price is {price}; for what we propose we work it out when you have decided."},
    {LETTER_NEEDS, false, F(SMALLEST), F(NO), "An order comes to {smallest} at least."},
    {LETTER_NEEDS, false, F(VALID), F(NO), "This offer is valid until {date}."},
    {LETTER_NEEDS, false, F(PROPOSED), F(NO), "Please tell us which of the two you would like."},
    {LETTER_NEEDS, false, F(PROPOSED) | F(NO), 0, "Please tell us whether you would like it so."},
    {LETTER_NEEDS, false, 0, F(PROPOSED) | F(NO), "If you like it so, a short answer is all it takes."},
    {LETTER_NEEDS, false, 0, F(NO),
     "Before we begin we need the written permission of the logo's owner to use it."},

    {LETTER_END, false, 0, 0, "With kind regards"},
    {LETTER_END, false, F(SHOP_NAMED), 0, "{shop}"},
    {LETTER_END, false, 0, F(SHOP_NAMED), "[ YOUR NAME AND SHOP ]"},
    {LETTER_END, false, F(ADDRESS), 0, "{address}"},
};

enum { ROWS = sizeof table / sizeof *table };

const LetterRow *letter_rows(int *count) {
    *count = ROWS;
    return table;
}

bool letter_row_holds(const LetterRow *row, uint64_t facts) {
    return (facts & row->need) == row->need && (facts & row->unless) == 0;
}

/* The sentence with what stands in braces filled in. */
static void fill(const Job *job, const char *sentence, char *out, size_t size) {
    char name[32], slot[SLOT_TEXT];
    out[0] = 0;
    for (const char *at = sentence; *at;) {
        size_t plain = strcspn(at, "{");
        text_append(out, size, "%.*s", (int)plain, at);
        at += plain;
        if (*at == 0) break;
        size_t length = strcspn(++at, "}");
        (void)snprintf(name, sizeof name, "%.*s", (int)length, at);
        if (letter_slot(job, name, slot)) text_append(out, size, "%s", slot);
        at += length + (at[length] == '}');
    }
}

/* Each row of the head and of the end is a line of its own, the others make a paragraph each part. */
static bool own_line(LetterPart part) {
    return part == LETTER_HEAD || part == LETTER_END;
}

bool letter_next(const Job *job, int *row, LetterPart *part, char out[LETTER_TEXT]) {
    const uint64_t facts = letter_facts(job);
    char sentence[LETTER_TEXT];
    out[0] = 0;
    for (; *row < ROWS; ++*row) {
        const LetterRow *now = &table[*row];
        if (!letter_row_holds(now, facts)) continue;
        fill(job, now->sentence, sentence, sizeof sentence);
        text_append(out, LETTER_TEXT, "%s%s", out[0] ? " " : "", sentence);
        bool last = true;
        for (int k = *row + 1; k < ROWS && table[k].part == now->part && last; k++)
            last = own_line(now->part) || !letter_row_holds(&table[k], facts);
        if (!last) continue;
        *part = now->part;
        ++*row;
        return true;
    }
    return false;
}

void client_print(const Job *job, char out[SENTENCE_TEXT]) {
    const uint64_t facts = letter_facts(job);
    const uint64_t redrawn =
        F(CROPPED) | F(LEFT_OUT) | F(ALONE) | F(MADE_ONE) | F(LINES_OUT) | F(LINES_THICK) | F(LETTERS_ANEW);
    char sentence[LETTER_TEXT];
    out[0] = 0;
    if (!job->judgement.advised && (facts & redrawn) == 0) return;
    for (int i = 0; i < ROWS; i++) {
        if (!table[i].brief || !letter_row_holds(&table[i], facts)) continue;
        fill(job, table[i].sentence, sentence, sizeof sentence);
        if (strlen(out) + strlen(sentence) + 1 < SENTENCE_TEXT)
            text_append(out, SENTENCE_TEXT, "%s%s", out[0] ? " " : "", sentence);
    }
}
