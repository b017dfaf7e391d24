/* Where the lines of a row of letters go. SPDX-License-Identifier: MIT
 *
 * 1. Runs of pixels between two lines of one letter, row by row, those above each other together, are its
 * counters and bays. Each must be wide enough, where it is widest, that a gap is left between two strokes;
 * one that tapers, as those of a W, a little wider; and as deep as a gap, so that the arms of an E are long
 * enough.
 * 2. The same column by column. All letters share the rows, so bars that were level with each other stay so.
 * 3. Letters must stand apart by a gap.
 * 4. All of that are spans of columns, or rows, that must come to be so wide. Everything is scaled alike;
 * then each span that is not is stretched evenly, the shortest first. The scale such that the whole is as
 * wide as asked for, but no less than the least. Cost: O(pixels), spans * columns for each of forty scales.
 */
#include "plan/letters.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double wide_stems = 1.1, deep_stems = 0.7; /* of a stem: what is less is no gap; chosen */
static const double gap_share = 0.1;                    /* of the row's height: likewise; chosen */
static const double taper_from = 0.8; /* mean of widest: what is less tapers, all from a half on; chosen */

enum { SCALE_MAX = 8, HALVINGS = 40 };

/* From one column, or row, to another must be so far. */
typedef struct Span {
    int from, to;
    double need; /* samples */
} Span;

typedef struct Spans {
    int count;
    size_t room;
    Span *span; /* owned */
} Spans;

static bool add_span(Spans *s, int from, int to, double need, Err *err) {
    if (from >= to || need <= 0) return true;
    Span *list = mem_grow(s->span, &s->room, (size_t)s->count + 1, sizeof *list, err);
    if (!list) return false;
    s->span = list;
    list[s->count++] = (Span){from, to, need};
    return true;
}

typedef struct Stretcher {
    const LetterRow *row;
    const LetterSize *size;
    Spans spans[WAYS]; /* of columns, of rows; owned */
    uint8_t *line;     /* the row's lines, or their transpose; owned */
    int gaps;
} Stretcher;

/* --- 1, 2, 3: counters and bays --- */

/* Runs of pixels between two lines, in rows one below the other, each beside one of the last row only. */
typedef struct Bay {
    int from, to;    /* its widest run: the lines on both sides */
    int first, last; /* its rows */
    int pixels;
} Bay;

typedef struct Run {
    int from, to; /* the lines on both sides */
    int bay;
    int beside; /* runs of the next row that it is beside */
} Run;

typedef struct Bays {
    int count;
    size_t room;
    Bay *bay; /* owned */
} Bays;

enum { RUNS_MAX = 32 /* in a row of one letter; more are passed over */ };

static int list_runs(const uint8_t *row, int width, int letter, Run run[RUNS_MAX]) {
    int last = -1, runs = 0;
    for (int x = 0; x < width; x++) {
        if (row[x] != letter) continue;
        if (last >= 0 && x > last + 1 && runs < RUNS_MAX) run[runs++] = (Run){last, x, -1, 0};
        last = x;
    }
    return runs;
}

/* Which run of the last row the run is beside, -1: none or several. */
static int find_beside(const Run *run, const Run *last, int lasts) {
    int found = -1, count = 0;
    for (int i = 0; i < lasts; i++)
        if (last[i].from < run->to - 1 && run->from < last[i].to - 1) {
            found = i;
            count++;
        }
    return count == 1 ? found : -1;
}

static void count_beside(Run *last, int lasts, const Run *run, int runs) {
    for (int i = 0; i < lasts; i++)
        for (int j = 0; j < runs; j++)
            last[i].beside += last[i].from < run[j].to - 1 && run[j].from < last[i].to - 1;
}

static bool add_run(Bays *bays, Run *run, int row, int bay, Err *err) {
    if (bay < 0) {
        Bay *list = mem_grow(bays->bay, &bays->room, (size_t)bays->count + 1, sizeof *list, err);
        if (!list) return false;
        bays->bay = list;
        bay = bays->count++;
        list[bay] = (Bay){.first = row};
    }
    Bay *b = &bays->bay[bay];
    run->bay = bay;
    b->last = row;
    b->pixels += run->to - run->from - 1;
    if (run->to - run->from > b->to - b->from) {
        b->from = run->from;
        b->to = run->to;
    }
    return true;
}

static bool find_bays(const uint8_t *line, int width, int height, int letter, Bays *bays, Err *err) {
    Run row[2][RUNS_MAX];
    int runs[2] = {0};
    for (int y = 0; y < height; y++) {
        Run *now = row[y % 2], *last = row[1 - y % 2];
        int count = list_runs(line + (size_t)y * width, width, letter, now), lasts = runs[1 - y % 2];
        runs[y % 2] = count;
        count_beside(last, lasts, now, count);
        for (int i = 0; i < count; i++) {
            int beside = find_beside(&now[i], last, lasts);
            bool goes_on = beside >= 0 && last[beside].beside == 1;
            if (!add_run(bays, &now[i], y, goes_on ? last[beside].bay : -1, err)) return false;
        }
    }
    return true;
}

/* Adds what a letter's gaps need: of those between lines along `way`. */
static bool span_gaps(Stretcher *s, int width, int height, int way, int letter, Err *err) {
    const double least = gap_share * s->row->height, stem = s->row->stem;
    Bays bays = {0};
    bool done = find_bays(s->line, width, height, letter, &bays, err);
    for (int i = 0; done && i < bays.count; i++) {
        const Bay *b = &bays.bay[i];
        int wide = b->to - b->from, deep = b->last - b->first + 1;
        if (wide < fmax(wide_stems * stem, least) || deep < fmax(deep_stems * stem, least)) continue;
        double mean = b->pixels / ((wide - 1.0) * deep), tapers = (taper_from - mean) / (taper_from - 0.5);
        double more = 1 + (s->size->taper - 1) * within(tapers, 0, 1);
        int first = b->first > 0 ? b->first - 1 : 0, last = b->last + 1 < height ? b->last + 1 : b->last;
        done = add_span(&s->spans[way], b->from, b->to, (s->size->stem + s->size->gap[way]) * more, err) &&
               add_span(&s->spans[!way], first, last, s->size->gap[!way], err);
        s->gaps++;
    }
    free(bays.bay);
    return done;
}

static bool find_gaps(Stretcher *s, int way, Err *err) {
    int w = s->row->width, h = s->row->height;
    for (int y = 0; y < h; y++)
        for (int x = 0; x < w; x++)
            s->line[way == ALONG ? y * w + x : x * h + y] = s->row->line[(size_t)y * w + x];
    for (int letter = 1; letter <= s->row->letters; letter++)
        if (!span_gaps(s, way == ALONG ? w : h, way == ALONG ? h : w, way, letter, err)) return false;
    return true;
}

/* --- 3 --- */

/* Each row's last pixel of a letter, -1 if there is none, and first of the next one, or the width. */
static void find_facing(const LetterRow *row, int letter, int *last, int *first) {
    for (int y = 0; y < row->height; y++) {
        const uint8_t *line = row->line + (size_t)y * row->width;
        last[y] = -1;
        first[y] = row->width;
        for (int x = row->width - 1; x >= 0; x--) {
            if (line[x] == letter && last[y] < 0) last[y] = x;
            if (line[x] == letter + 1) first[y] = x;
        }
    }
}

/* In each row, and from those about a stem above and below. */
static bool part_letters(Stretcher *s, Err *err) {
    const LetterRow *row = s->row;
    const int near = (int)ceil(row->stem), h = row->height;
    int *last = mem_alloc((size_t)h, 2 * sizeof *last, err), *first = last ? last + h : NULL;
    bool done = last != NULL;
    for (int letter = 1; done && letter < row->letters; letter++) {
        find_facing(row, letter, last, first);
        for (int y = 0, was[2] = {-1, -1}; done && y < h; y++) {
            int from = -1;
            for (int v = y > near ? y - near : 0; v <= y + near && v < h; v++)
                from = last[v] > from ? last[v] : from;
            if (from < 0 || first[y] == row->width || (from == was[0] && first[y] == was[1])) continue;
            was[0] = from;
            was[1] = first[y];
            done = add_span(&s->spans[ALONG], from, first[y], s->size->stem + s->size->gap[ALONG], err);
        }
    }
    free(last);
    return done;
}

/* --- 4 --- */

static int compare_spans(const void *a, const void *b) {
    const Span *p = a, *q = b;
    if (p->to - p->from != q->to - q->from) return p->to - p->from - (q->to - q->from);
    if (p->from != q->from) return p->from - q->from;
    return p->need < q->need ? -1 : p->need > q->need;
}

/* at[count]: places at that scale, spans stretched, the shortest first. Returns the last place. */
static double place_all(const Spans *s, int count, double scale, int low, int high, double *at) {
    for (int i = 0; i < count; i++) at[i] = i > low && i <= high ? scale : 0; /* steps, for now */
    for (int k = 0; k < s->count; k++) {
        const Span *span = &s->span[k];
        double sum = 0;
        for (int i = span->from + 1; i <= span->to; i++) sum += at[i];
        double more = (span->need - sum) / (span->to - span->from);
        for (int i = span->from + 1; more > 0 && i <= span->to; i++) at[i] += more;
    }
    for (int i = 1; i < count; i++) at[i] += at[i - 1];
    return at[count - 1];
}

/* The lines' first and last column, or row. */
static void find_ends(const LetterRow *row, int way, int *low, int *high) {
    *low = way == ALONG ? row->width : row->height;
    *high = 0;
    for (int i = 0; i < row->width * row->height; i++) {
        if (!row->line[i]) continue;
        int at = way == ALONG ? i % row->width : i / row->width;
        *low = at < *low ? at : *low;
        *high = at > *high ? at : *high;
    }
}

/* As wide as asked for, or as much more as the least scale and the spans ask for; about 0. Returns the width.
 */
static double fit(const Stretcher *s, int way, double target, double *to) {
    int low, high, count = way == ALONG ? s->row->width : s->row->height;
    double least = 0, most = SCALE_MAX;
    find_ends(s->row, way, &low, &high);
    for (int i = 0; i < HALVINGS; i++) {
        double middle = (least + most) / 2;
        *(place_all(&s->spans[way], count, middle, low, high, to) > target ? &most : &least) = middle;
    }
    double wide = place_all(&s->spans[way], count, fmax(least, s->size->scale), low, high, to);
    for (int i = 0; i < count; i++) to[i] -= wide / 2;
    return wide;
}

static bool find_spans(Stretcher *s, Err *err) {
    if (!find_gaps(s, ALONG, err) || !find_gaps(s, ACROSS, err) || !part_letters(s, err)) return false;
    for (int way = 0; way < WAYS; way++) {
        Spans *spans = &s->spans[way];
        if (spans->count > 0) qsort(spans->span, (size_t)spans->count, sizeof *spans->span, compare_spans);
    }
    return true;
}

bool letter_stretch(const LetterRow *row, const LetterSize *size, Stretch *out, Err *err) {
    Stretcher s = {.row = row, .size = size};
    Stretch made = {0};
    s.line = mem_alloc((size_t)row->width * row->height, 1, err);
    double *to = s.line ? mem_alloc((size_t)row->width + row->height, sizeof *to, err) : NULL;
    bool done = to && find_spans(&s, err);
    if (done) {
        made.to[ALONG] = to;
        made.to[ACROSS] = to + row->width;
        made.gaps = s.gaps;
        made.wide = size->stem + fit(&s, ALONG, size->wide - size->stem, made.to[ALONG]);
        made.high = size->stem + fit(&s, ACROSS, size->high - size->stem, made.to[ACROSS]);
        *out = made;
        to = NULL;
    }
    free(to);
    free(s.spans[ALONG].span);
    free(s.spans[ACROSS].span);
    free(s.line);
    return done;
}
