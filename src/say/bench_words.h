/* Public. The bench in words: the log, ropes, blocks, the work, the cook. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_SAY_BENCH_WORDS_H
#define LOGOCANE_SAY_BENCH_WORDS_H

#include "model/job.h"
#include "say/verdict_words.h"

/* --- log_words: what is told of the order, the log and the pieces ---
 *
 * Job text and sheets tell the same facts. Where their wordings differ, the form says which is wanted. */

enum { LOG_LINE = 600 }; /* bytes of a line, the closing 0 included */

/* "16 x 14 mm": a piece's diameter and length. */
void piece_size_print(const Job *job, char out[96]);

/* How many pieces of which size. */
void order_words(const Job *job, Form form, char out[LOG_LINE]);

enum { EDIT_TEXT = POINTS_MAX * SPOT_TEXT };

/* The edits from the first on that go together, as the value of the option that asks for them: "41:63,20:8",
 * "lettering", "#1A2B3C=#203040"; returns how many they are. */
int edit_print(const Order *order, int first, char *out, size_t size);

/* "left out: a black part 3 mm across at the lower left; #1A2B3C joined into #203040", the places as they are
 * in the picture; "" if nothing was. */
void edits_words(const Job *job, char out[LOG_LINE]);

/* "added as advised, for a change: --people 3"; "" if --advised added nothing. */
void advised_words(const Job *job, Form form, char out[LOG_LINE]);

/* How many logs, their size and mass; how far a log is drawn out. */
void log_words(const Job *job, Form form, char out[LOG_LINE]);
void drawn_words(const Job *job, Form form, char out[LOG_LINE]);

/* What a piece weighs; what the log gives beyond the order, "" if nothing. */
void piece_words(const Job *job, Form form, char out[LOG_LINE]);
void spare_words(const Job *job, Form form, char out[LOG_LINE]);

/* That the picture is cropped, and how much of it is left out; "" if it is whole. */
void fit_words(const Job *job, char out[LOG_LINE]);

/* What a price is made of: "candy 42.74, 3.4 hours 96.32, margin 30 %: 41.72"; what the shop gives no price
 * for: "fuel, packing"; "" of none. */
void price_words(const Job *job, char out[LOG_LINE]);
void price_left_out_words(const Job *job, char out[LOG_LINE]);

/* What the order costs: "231.00 EUR"; "" where the shop gives no price. */
void price_total_words(const Job *job, char out[64]);

/* What the order costs, and all of that; "" where the shop gives no price. The short one without its parts.
 */
void cost_words(const Job *job, char out[LOG_LINE]);
void cost_short_words(const Job *job, char out[LOG_LINE]);

/* How long the log takes to lay up; on the sheet also how many ropes and joins that is. Where nothing tells
 * what a habit is (FORM_PICTURE): "usually about". */
void minutes_words(const Job *job, Form form, char out[LOG_LINE]);

/* --- rope_words: what is told of candies, ropes, trims and the jacket --- */

enum { ROPE_LINE = 600, ROPE_SIZE = 128 }; /* bytes of a line, of a size, the closing 0 included */

/* "red, pulled", "dark teal, pulled, dyed", "purple+white, pulled, folded". */
void candy_words(const Candy *candy, char out[ROPE_LINE]);

/* "dark teal", on the sheet with the code of its colour; whether that is as near as candy comes to the ink.
 * False and "" of a candy that is not dyed to order, or not cooked. */
bool dyed_candy_words(const Job *job, const MaterialRow *row, Form form, char out[ROPE_LINE]);

/* What to aim at, in the text with the names of the candies that are dyed to order; "" if none. */
void dyed_words(const Job *job, Form form, char out[ROPE_LINE]);

/* Is any of the blend in the log? */
bool blend_told(const BlendRow *row);

/* Of a blend: what to fold of each candy, for one log, and how often; on the sheet as what to do. */
void blend_words(const Job *job, const BlendRow *row, Form form, char out[ROPE_LINE]);

/* The candies that were nearly as good a choice, and how to have them; "" if none. */
void runner_up_words(const Job *job, char out[ROPE_LINE]);

/* The candies of the jacket and its stripes. */
void jacket_words(const Job *job, char out[ROPE_LINE]);

/* How many ropes are laid and made, trims, wraps, rings and blocks. */
void ropes_words(const Job *job, char out[ROPE_LINE]);

/* The trims of the row's candy: their numbers, and what they weigh together. */
void trims_words(const Job *job, const WrapRow *row, char out[ROPE_LINE]);

/* A rest: its number and those of its copies, what it weighs each time its block is built, and which block
 * that is. */
void rest_words(const Job *job, const WrapRow *row, char out[ROPE_LINE]);

/* Do what the row lists, a sheet or a rest, and the block belong together? */
bool row_is_of(const Job *job, const WrapRow *row, int block);

/* "block 4", "blocks 2, 7": of a row of sheets round blocks, or of a rest. */
void row_blocks_print(const Job *job, const WrapRow *row, char out[ROPE_LINE]);

/* "wrap 3 mm black, 214 mm round, 308 mm long: block 4", with "2 x" before it if it is rolled twice. */
void wrap_words(const Job *job, const WrapRow *row, char out[ROPE_LINE]);

/* Is there a type of rope that is told as a wedge, a tapered or a corner-cut strip? */
bool any_rope_slanted(const Bill *bill);

/* The type of rope that is most easily taken for this one: of the same candy, no corner a millimetre farther
 * off however turned; -1 if there is none. */
int rope_alike(const Bill *bill, int type);

/* How ropes are pulled; how sheets are rolled. */
void pulling_words(const Job *job, char out[ROPE_LINE]);
void rolling_words(const Job *job, char out[ROPE_LINE]);

/* "ring, red", "stripes, white", "wrap, black": of a row of sheets. */
void sheet_words(const WrapRow *row, char out[ROPE_LINE]);

/* Is it a row of sheets, not of what is pressed in? */
bool row_is_rolled(const WrapRow *row);

/* "ring", "jacket", "trim", "wrap", "rest". */
const char *wrap_name(WrapKind kind);

/* "strip", "wedge", "tapered strip", "corner-cut strip", "round". */
const char *shape_name(Shape shape);

/* A length of a section, as hands form it: tenths of a millimetre, or 32nds of an inch, one at least. */
void across_print(char *out, size_t size, double mm, Units units);

/* Cuts the unit off behind a length or a size. */
void unit_drop(char *size);

/* --- sections in words ---
 *
 * Lengths only, tenths of a millimetre or 32nds of an inch, without their unit; all of them together tell the
 * whole section, as it lies on its base (model/section.h). "From left" is from its leftmost corner. `scale`
 * times as in the log. */

/* In some 30 characters, for a card:
 *   strip                     "24 x 12", of a rim rope "24 x 12 rim"
 *   round rope                "24 across"
 *   wedge with a right angle  "wedge 24 x 12"
 *   other wedge               "wedge 24 x 12, tip at 5"
 *   tapered strip             "12 over 24 x 9": top, base, height; the top stands in the middle
 *                             "12 over 24 x 9, at 3": the top begins 3 from left, at 0: left upright
 *   with a corner cut off     "24 x 12, corner off 5 x 4": along the top, down the side
 *   any other                 "24: 9@0, 12@12, 4@20": its base, and how high and how far from left
 *                             every other corner is, clockwise; "2 to 26: ..." if its base starts farther in
 * Upright ones, those whose base is drawn upright, have the two numbers of a pair changed. */
void rope_section_print(const RopeRow *row, double scale, bool upright, Units units, char out[ROPE_SIZE]);

/* In full, for a list: "tapered strip 12 on top, 24 below, 9 high, the top 3 from left". */
void rope_section_words(const RopeRow *row, double scale, Units units, char out[ROPE_LINE]);

/* How to form it, in a line, with units: "from a square rope of 12.7 mm: press it 9 mm high, and both sides
 * to the slope with a bar: 12 mm on top, 24 mm below". "" of a strip, a round and a rim rope. */
void rope_form_words(const RopeRow *row, double scale, Units units, char out[ROPE_LINE]);

/* Likewise of a rim rope, whose drawing tells its shape. */
void rim_form_words(const RopeRow *row, double scale, Units units, char out[ROPE_LINE]);

/* What to form the lump of a pull to, without unit: "37 x 37 x 60"; of inches, which take more room, one side
 * of the square, to a 16th: "1 1/2 x 2 3/8". The lump is weighed; its form need not be finer. */
void lump_print(const Pull *pull, Units units, char out[ROPE_SIZE]);

/* --- block_words: what the bench is told about a block --- */

enum { WORDS_LINES = 8, WORDS_SIZE = 400 };

typedef struct BlockWords {
    int lines; /* used */
    char line[WORDS_LINES][WORDS_SIZE];
    bool bold[WORDS_LINES]; /* what must not be overlooked */
} BlockWords;

enum { TERMS = 10, TERM_SIZE = 288 };

/* A word of these lines and what it asks for. */
typedef struct Term {
    const char *word; /* a constant string */
    char meaning[TERM_SIZE];
} Term;

/* Lists the words that the lines of the job's blocks use. Returns how many. */
int block_terms(const Job *job, Term out[TERMS]);

/* How a block that is needed more than once comes to be, in a line; "" of one built once for one place. */
void copy_words(const Job *job, int block, char out[WORDS_SIZE]);

/* How many blocks go in so that every piece is spoilt. */
int blocks_at_risk(const Blocks *blocks);

/* How many they are, and how; "" if none. */
void risks_words(const Blocks *blocks, char out[WORDS_SIZE]);

/* Which way round it goes, how copies of it are made, which blocks it goes into. */
void block_words(const Job *job, int block, BlockWords *out);

/* Width x height of what hands build of a block, `scale` times as in the log, width and height changed if
 * turned; of a round one its diameter. */
void block_size_print(const Job *job, const Block *block, bool turned, double scale, char out[96]);

/* Of what goes into a block, as it is built: its size, "a trim", or what a rest weighs: of a block and of a
 * strip as drawn, width first, of another rope its section in short; how a block lies that is not laid as it
 * was built, else "". */
void item_words(const Job *job, const Block *holder, const Item *item, char size[ROPE_SIZE],
                const char **way);

/* "row", "stack", "wrapped", "round". */
const char *block_kind_name(BlockKind kind);

/* "row of 3", "wrapped twice", "round in its rest"; what the list of what goes into it is headed by. */
void block_kind_words(const Block *block, char out[32]);
const char *block_list_words(BlockKind kind);

/* "wrap 3 mm black, 214 mm round": a sheet of a wrapped block, as built, 0 the inner one. */
void block_wrap_words(const Job *job, const Block *block, int sheet, char out[ROPE_LINE]);

/* "440 g, pressed in round it": the rest of a round block, each time that is built. */
void block_rest_words(const Job *job, const Block *block, char out[ROPE_SIZE]);

/* "once", "thicker", "longer", "fine", "each". */
const char *build_way_name(BuildWay way);

/* How a piece is laid against how it was built: "as built", "a half turn", "end for end, then a quarter turn
 * right". */
const char *placement_words(Placement way);

/* How a block's uses lie: "x2, one end for end", or "" of a block used once. */
void block_uses_print(const Blocks *blocks, int block, char *out, size_t size);

/* --- log_words: what the bench is to do, and to beware of --- */

enum { WORK_STEPS = 12, WORK_STEP = 400 };

typedef struct WorkStep {
    char text[WORK_STEP];
    bool stop; /* what must not be overlooked */
} WorkStep;

/* The order of work, with this job's numbers. Returns how many steps. */
int work_words(const Job *job, WorkStep out[WORK_STEPS]);

enum { CAUTION_PARAGRAPHS = 2 };

/* The cautions of every job, the gravest first; of text or sheet only. */
const char *caution_paragraph(Form form, int paragraph);

/* --- cook_words: what the kitchen is told: the cook and the heat ---
 *
 * Text and sheets print the same figures; where wordings differ, the form says which. Every figure says where
 * it comes from: a publication, the shop's habit, or computed from such. */

enum { COOK_LINE = 400, COOK_CELLS = 7 };

/* A cell in the row of a candy, or of all. */
typedef struct CookCell {
    const char *name; /* of its column; a constant string */
    double g;
    bool dose; /* weighed on a small scale: in grams, in all units */
} CookCell;

/* The cells that the cook's table has for these weights: candy, sugar, syrup, water, and those doses that the
 * shop gives. Returns how many; the same for all rows of a job. */
int cook_cells(const Job *job, const Weights *weights, CookCell out[COOK_CELLS]);

/* A dose under 1 kg: "0.25 g", "45.0 g". */
void dose_print(double g, char out[32]);

/* A row of the cook's table. */
typedef struct CookRow {
    const char *name;       /* of the candy; "all"; "a boiling" */
    const Candy *candy;     /* not owned; NULL of the last two */
    const Weights *weights; /* not owned */
} CookRow;

enum { COOK_ROWS = MATERIALS_MAX + 2 };

/* Lists the candies that are cooked, then all of them and one of several boilings. Returns how many. */
int cook_rows(const Job *job, CookRow out[COOK_ROWS]);

typedef struct CookWords {
    char source[COOK_LINE];      /* what the masses are computed from */
    char boilings[COOK_LINE];    /* how many, and how much each */
    char temperature[COOK_LINE]; /* how hot */
    char thick[COOK_LINE];       /* how little of it may do for thick syrup; "" at sea level */
} CookWords;

void cook_words(const Job *job, CookWords *out);

/* How many batches are coloured, and dyed to order; what is cooked for the ends of blocks, "" if nothing. */
void batches_words(const Job *job, Form form, char out[COOK_LINE]);
void block_ends_words(const Job *job, Form form, char out[COOK_LINE]);

/* How long ropes and the log stay workable. */
typedef struct HeatWords {
    char terms[COOK_LINE];   /* what the times are */
    char strips[COOK_LINE];  /* by thickness; "" if there are none */
    char slanted[COOK_LINE]; /* of wedges, tapered and corner-cut strips, likewise */
    char rounds[COOK_LINE];  /* of round ropes, likewise */
    char rest[COOK_LINE];    /* rim ropes, the log */
    char uneven[COOK_LINE];  /* what a difference in warmth does */
} HeatWords;

void heat_words(const Job *job, HeatWords *out);

/* --- work_words: the plan of work --- */

/* Whole minutes. */
void minute_print(double minute, char out[16]);

/* "pull", "lay up"; constant strings. */
const char *task_name(TaskKind kind);

/* What the task is done to: "boiling 1", "white", "block 5", "core", "jacket", "log", "pieces". */
void task_of_print(const Job *job, const WorkTask *task, char out[CANDY_NAME]);

/* "A", "B"; "all", "kettle". */
void person_print(const WorkPlan *work, int person, char out[16]);

/* "pull white, 3.06 kg", "form ropes 7.2, 12.1", "lay up block 5". */
void task_words(const Job *job, const WorkTask *task, char out[ROPE_LINE]);

/* The task of that kind for the block; NULL if there is none. */
const WorkTask *block_task(const Job *job, TaskKind kind, int block);

/* A line of the plan: a task, or a block's ropes and its laying up in one. */
typedef struct WorkLine {
    TaskKind kind;         /* of the first task */
    double start, minutes; /* after the pouring */
    int person;
    double waits; /* minutes in the warm box, of what comes of it */
    char text[ROPE_LINE];
} WorkLine;

/* The next line from task *at on, which is moved behind it; 0 at first. False if there is no more. */
bool work_line_next(const Job *job, int *at, WorkLine *out);

/* The least that the time from the pouring to the end can be: the longest chain, the kettle, or the work of
 * all hands shared out. */
double work_least(const WorkPlan *work);

/* When to begin, and how long it takes; how little it could take, and why it takes more; what waits longest
 * in the warm box, "" if nothing does. */
void day_words(const Job *job, Form form, char out[LOG_LINE]);
void day_least_words(const Job *job, Form form, char out[LOG_LINE]);
void waits_words(const Job *job, Form form, char out[LOG_LINE]);

/* "min 16 A": when the block's ropes are formed, and who does it; "min 16 A, 23 B": it is laid up
 * later. */
void block_minute_words(const Job *job, int block, char out[WORDS_SIZE]);

#endif
