/* `make quality`: how well the program does on pictures by others. SPDX-License-Identifier: MIT
 *
 *     quality SET FOLDER OUT      SET: a list of pictures, a path below FOLDER a line, '#' begins a comment
 *
 * Every picture at two settings: sixteen least strips across the core, and the default order. Beside the
 * program's own lay-up stands plain sampling (the core cut into squares of a least strip, each of the candy
 * it holds most of), softened and judged by the same code; and how far its likeness stays behind that of the
 * wanted face, softened as if it could be laid without ropes. A table to standard output, OUT/quality.csv,
 * contact sheets of the default order OUT/quality-1.png ... Times are of this machine; all else is the same
 * on every run. */
#include "read/read.h"
#include "say/verdict_words.h"
#include "inks/inks.h"
#include "run/run.h"
#include "judge/judge.h"
#include "base/mem.h"
#include "quality_sheet.h"
#include "plan/plan.h"
#include "bench/bench.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { SETTINGS = 2, PLANS = 2, PICTURES_MAX = 512, LINE = 512 };

static const char *const setting_name[SETTINGS] = {"16 across", "default"};
static const char *const plan_name[PLANS] = {"laid up", "sampled"};

typedef struct Score {
    double iou; /* of each candy over the core, weighed by its wanted area */
    double likeness, weakest;
    double free_hand; /* how much likeness is lost to the wanted face as if it could be laid without ropes */
    double kept_share, difference_mm; /* as job.json has them */
    int features, kept;
    double ropes, made; /* laid; made by hand, copies not counted */
    Verdict verdict;
    char reason[64]; /* the first check that is as bad as the verdict; "" for go */
    double seconds;
} Score;

typedef struct Row {
    char picture[LINE];
    Score score[SETTINGS][PLANS];
} Row;

static double now(void) {
    struct timespec t;
    (void)clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + (double)t.tv_nsec * 1e-9;
}

/* --- scoring --- */

static double face_iou(const Face *wanted, const Face *got, int candies) {
    double want[INKS_MAX] = {0}, have[INKS_MAX] = {0}, both[INKS_MAX] = {0}, sum = 0, area = 0;
    for (size_t i = 0; i < (size_t)wanted->side * wanted->side; i++) {
        int w = wanted->candy[i], h = got->candy[i];
        if (w == OUTSIDE || h == OUTSIDE) continue;
        want[w]++;
        have[h]++;
        if (w == h) both[w]++;
    }
    for (int c = 0; c < candies; c++) {
        double either = want[c] + have[c] - both[c];
        if (either > 0) sum += want[c] * both[c] / either;
        area += want[c];
    }
    return sum / area;
}

static Score score_job(const Job *job, double seconds) {
    const Judgement *j = &job->judgement;
    Score score = {.likeness = j->likeness, .weakest = j->weakest};
    const Measures *m = &job->measures;
    score.features = m->features.count;
    score.kept = m->features.kept;
    score.kept_share = m->features.kept_share;
    score.difference_mm = m->difference.across_mm;
    score.ropes = job->layup.laid;
    score.made = job->bill.ropes_made;
    score.iou = face_iou(&job->grid.wanted, &job->face, job->palette.count);
    score.verdict = j->verdict;
    score.seconds = seconds;
    for (int i = 0; i < j->checks && j->verdict != VERDICT_GO; i++)
        if (j->check[i].verdict == j->verdict) {
            const Check *c = &j->check[i];
            (void)snprintf(score.reason, sizeof score.reason, "%s %.3g (%.3g)", check_name(c->kind, UNITS_MM),
                           c->value, c->limit);
            break;
        }
    return score;
}

/* --- plain sampling --- */

static int commonest(const Grid *grid, Box box) {
    int held[INKS_MAX] = {0}, best = grid->field;
    for (int y = box.y * SAMPLES; y < (box.y + box.h) * SAMPLES; y++)
        for (int x = box.x * SAMPLES; x < (box.x + box.w) * SAMPLES; x++) {
            int candy = grid->wanted.candy[(size_t)y * grid->wanted.side + x];
            if (candy != OUTSIDE) held[candy]++;
        }
    for (int c = 0; c < grid->candies; c++)
        if (held[c] > held[best]) best = c;
    return best;
}

static void sample_rope(const Grid *grid, Box box, LayUp *layup) {
    Rope rope = {.outline = outline_of_box(box.x, box.y, box.w, box.h), .candy = commonest(grid, box)};
    rope.area = outline_disc_area(&rope.outline, grid->core);
    if (rope.area < 1e-9) return;
    rope.rim = rope.area < (1 - 1e-9) * box.w * box.h;
    rope.trim = rope.area < 0.25 * grid->least_steps * grid->least_steps;
    layup->laid += !rope.trim;
    layup->rope[layup->ropes++] = rope;
}

/* The square cut into as many squares of a least strip as fit, stretched by up to a step to fill it. */
static bool sample_plainly(const Grid *grid, LayUp *out, Err *err) {
    int n = grid->steps, across = n / grid->least_steps;
    LayUp layup = {.rope = mem_alloc((size_t)across * across, sizeof *layup.rope, err)};
    if (!layup.rope) return false;
    for (int i = 0; i < across * across; i++) {
        int x = i % across * n / across, y = i / across * n / across;
        Box box = {x, y, (i % across + 1) * n / across - x, (i / across + 1) * n / across - y};
        sample_rope(grid, box, &layup);
    }
    *out = layup;
    return true;
}

/* The same job with its core sampled; rings would be a gift to it, so it has none. */
static bool score_sampled(const Job *job, Score *out, Err *err) {
    double start = now(), half = job->cane.key.steps / 2.0;
    Job other = *job;
    other.layup = (LayUp){0};
    other.blocks = (Blocks){0}; /* squares in rows: nothing to build once and copy */
    other.face = (Face){0};
    other.bill = (Bill){0};
    other.judgement = (Judgement){0};
    other.measures = (Measures){0};
    other.grid.rings = 0;
    other.grid.core = (Circle){half, half, half};
    bool good = sample_plainly(&other.grid, &other.layup, err) &&
                soften(&other.grid, &other.layup, &other.cane.key, &other.face, err) &&
                weigh(&other.order, &other.palette, &other.cane, &other.grid, other.shop, &other.blocks,
                      &other.layup, &other.bill, err) &&
                judge(&other, &other.judgement, err) && measure(&other, &other.measures, err);
    if (good) *out = score_job(&other, now() - start);
    layup_free(&other.layup);
    face_free(&other.face);
    bill_free(&other.bill);
    judgement_free(&other.judgement);
    measures_free(&other.measures);
    return good;
}

/* The likeness of the wanted face itself, softened. */
static bool likeness_of_free_hand(const Job *job, double *out, Err *err) {
    Job other = *job;
    other.face = (Face){0};
    other.judgement = (Judgement){0};
    bool good = soften_free_hand(&other.grid, &other.cane.key, &other.face, err) &&
                judge(&other, &other.judgement, err);
    if (good) *out = other.judgement.likeness;
    face_free(&other.face);
    judgement_free(&other.judgement);
    return good;
}

/* --- a picture --- */

static void put_score(char *out, size_t size, const Score *s) {
    (void)snprintf(out, size,
                   "likeness %.3f (%+.3f)  features %d/%d %.2f  differs %.2f mm  ropes %.0f  %s  %s",
                   s->likeness, s->free_hand, s->kept, s->features, s->kept_share, s->difference_mm, s->ropes,
                   verdict_name(s->verdict), s->reason);
}

static bool add_to_sheet(Sheet *sheet, const Job *job, const Row *row, Err *err) {
    const char *slash = strrchr(row->picture, '/');
    char figures[256];
    put_score(figures, sizeof figures, &row->score[1][0]);
    return sheet_add(sheet, job, slash ? slash + 1 : row->picture, figures, err);
}

/* The shop of a setting: a log of at most 96 mm core is sixteen least strips of 6 mm across for the default
 * order. */
static Shop setting_shop(int setting) {
    Shop shop = shop_default();
    if (setting == 0) shop.log_diameter_max_mm = 16 * shop.least_strip_mm / (1 - shop.jacket_share);
    return shop;
}

static bool run_setting(const Picture *picture, const InkMap *inks, int setting, Sheet *sheet, Row *row,
                        Err *err) {
    Shop shop = setting_shop(setting);
    Job job = {.picture = picture, .inks = inks, .shop = &shop, .order = order_default()};
    double start = now();
    bool good = job_run(&job, err);
    if (good) row->score[setting][0] = score_job(&job, now() - start);
    double free_hand = 0;
    good = good && score_sampled(&job, &row->score[setting][1], err) &&
           likeness_of_free_hand(&job, &free_hand, err);
    for (int p = 0; good && p < PLANS; p++) {
        Score *score = &row->score[setting][p];
        score->free_hand = free_hand - score->likeness;
    }
    good = good && (setting != 1 || add_to_sheet(sheet, &job, row, err));
    job_free(&job);
    return good;
}

static bool run_picture(const char *folder, Sheet *sheet, Row *row, Err *err) {
    char path[2 * LINE];
    (void)snprintf(path, sizeof path, "%s/%s", folder, row->picture);
    Picture picture = {0};
    InkMap inks = {0};
    double start = now();
    bool good = decode(path, row->picture, &picture, err) && find_inks(&picture, &inks, err);
    double reading = now() - start;
    for (int s = 0; good && s < SETTINGS; s++) {
        good = run_setting(&picture, &inks, s, sheet, row, err);
        row->score[s][0].seconds += reading;
    }
    inkmap_free(&inks);
    picture_free(&picture);
    return good;
}

/* --- the tables --- */

static void print_heading(void) {
    printf("%-28s | %-90s | %s\n", "", "16 least strips across", "default order");
    printf("%-28s |", "picture");
    for (int s = 0; s < SETTINGS; s++)
        printf(" %5s %5s %6s %5s %5s %8s %5s %5s %4s %-6s %5s %s |", "IoU", "like", "free", "weak", "share",
               "kept", "diff", "ropes", "made", "", "s", "sampled IoU like share");
    printf(" first reason\n");
}

static void print_scores(const char *name, const Row *row, const char *reason) {
    printf("%-28.28s |", name);
    for (int s = 0; s < SETTINGS; s++) {
        const Score *a = &row->score[s][0], *b = &row->score[s][1];
        const char *verdict = reason ? verdict_name(a->verdict) : "";
        printf(" %.3f %.3f %6.3f %5.2f %5.3f %3d/%-4d %5.2f %5.0f %4.0f %-6s %5.2f       %.3f %.3f %.3f |",
               a->iou, a->likeness, a->free_hand, a->weakest, a->kept_share, a->kept, a->features,
               a->difference_mm, a->ropes, a->made, verdict, a->seconds, b->iou, b->likeness, b->kept_share);
    }
    printf(" %s\n", reason ? reason : "");
    (void)fflush(stdout);
}

static void print_row(const Row *row) {
    const char *slash = strrchr(row->picture, '/');
    print_scores(slash ? slash + 1 : row->picture, row, row->score[1][0].reason);
}

static Score mean_score(const Row *row, int rows, int setting, int plan) {
    Score mean = {0};
    for (int i = 0; i < rows; i++) {
        const Score *s = &row[i].score[setting][plan];
        mean.iou += s->iou / rows;
        mean.likeness += s->likeness / rows;
        mean.free_hand += s->free_hand / rows;
        mean.weakest += s->weakest / rows;
        mean.kept_share += s->kept_share / rows;
        mean.difference_mm += s->difference_mm / rows;
        mean.features += s->features; /* sums: the table shows how many of all */
        mean.kept += s->kept;
        mean.seconds += s->seconds / rows;
        mean.ropes += s->ropes / rows;
        mean.made += s->made / rows;
    }
    return mean;
}

static void print_means(const Row *row, int rows) {
    Row mean = {.picture = ""};
    for (int s = 0; s < SETTINGS; s++)
        for (int p = 0; p < PLANS; p++) mean.score[s][p] = mean_score(row, rows, s, p);
    print_scores("mean", &mean, NULL);
    for (int s = 0; s < SETTINGS; s++)
        for (int p = 0; p < PLANS; p++) {
            int count[3] = {0};
            for (int i = 0; i < rows; i++) count[row[i].score[s][p].verdict]++;
            printf("%s, %s: %d go, %d change, %d no\n", setting_name[s], plan_name[p], count[VERDICT_GO],
                   count[VERDICT_CHANGE], count[VERDICT_NO]);
        }
}

static bool write_csv(const char *folder, const Row *row, int rows, Err *err) {
    char path[1024];
    (void)snprintf(path, sizeof path, "%s/quality.csv", folder);
    FILE *file = fopen(path, "w");
    if (!file) return err_set(err, ERR_SYSTEM, "%s: cannot be written", path);
    fprintf(file,
            "picture,setting,plan,iou,likeness,free_hand,weakest,features,kept,kept_share,difference_mm,"
            "ropes,made,verdict,reason,seconds\r\n");
    for (int i = 0; i < rows; i++)
        for (int s = 0; s < SETTINGS; s++)
            for (int p = 0; p < PLANS; p++) {
                const Score *c = &row[i].score[s][p];
                fprintf(file, "%s,%s,%s,%.4f,%.4f,%.4f,%.4f,%d,%d,%.4f,%.3f,%.0f,%.0f,%s,%s,%.3f\r\n",
                        row[i].picture, setting_name[s], plan_name[p], c->iou, c->likeness, c->free_hand,
                        c->weakest, c->features, c->kept, c->kept_share, c->difference_mm, c->ropes, c->made,
                        verdict_name(c->verdict), c->reason, c->seconds);
            }
    bool good = !ferror(file);
    return fclose(file) == 0 && good ? true : err_set(err, ERR_SYSTEM, "%s: cannot be written", path);
}

/* The next picture of the list; false at its end. */
static bool next_picture(FILE *list, char picture[LINE]) {
    while (fgets(picture, LINE, list)) {
        picture[strcspn(picture, "\r\n")] = 0;
        if (picture[0] && picture[0] != '#') return true;
    }
    return false;
}

static int run_list(FILE *list, const char *folder, const char *out, Row *row, Err *err) {
    Sheet sheet = {.folder = out};
    int rows = 0, failed = 0;
    print_heading();
    while (rows < PICTURES_MAX && next_picture(list, row[rows].picture)) {
        Err problem = {0};
        if (run_picture(folder, &sheet, &row[rows], &problem))
            print_row(&row[rows++]);
        else
            printf("%-28.28s | %s\n", row[rows].picture, problem.msg), failed++;
    }
    if (rows > 0) print_means(row, rows);
    return sheet_end(&sheet, err) && write_csv(out, row, rows, err) && failed == 0 && rows > 0 ? 0 : 1;
}

int main(int argc, char *argv[]) {
    Err err = {0};
    FILE *list = argc == 4 ? fopen(argv[1], "r") : NULL;
    Row *row = mem_alloc(PICTURES_MAX, sizeof *row, &err);
    if (!list || !row) {
        fprintf(stderr, "usage: quality SET FOLDER OUT\n");
        return 2;
    }
    int status = run_list(list, argv[2], argv[3], row, &err);
    if (err.code) fprintf(stderr, "quality: %s\n", err.msg);
    (void)fclose(list);
    free(row);
    return status;
}
