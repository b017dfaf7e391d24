/* The job as JSON. SPDX-License-Identifier: MIT
 *
 * The tree is built by cJSON, one function an object, and printed when it is whole. */
#include "write/write.h"

#include "say/bench_words.h"
#include "say/verdict_words.h"
#include "write/json_out.h"

static void put_logo(Out *out, cJSON *to) {
    const InkMap *inks = out->job->inks;
    const Palette *palette = &out->job->palette;
    cJSON *logo = put_object(out, to, "logo");
    put_text(out, logo, "file", out->job->file);
    put_number(out, logo, "width", out->job->picture->file_width);
    put_number(out, logo, "height", out->job->picture->file_height);
    put_number(out, logo, "shaded", inks->shaded);
    cJSON *list = put_array(out, logo, "inks");
    for (int i = 0; i < inks->count; i++) {
        cJSON *ink = append_object(out, list);
        if (!inks->ink[i].transparent)
            put_colour(out, ink, "srgb", inks->ink[i].srgb);
        else if (!cJSON_AddNullToObject(ink, "srgb"))
            out->failed = true;
        put_number(out, ink, "share", inks->ink[i].share);
        put_text(out, ink, "candy", candy_name(out, palette->of_ink[i]));
        put_number(out, ink, "delta_e", palette->delta_e[i]);
        put_bool(out, ink, "field", i == inks->field);
    }
}

static void put_jacket(Out *out, cJSON *to) {
    const Palette *palette = &out->job->palette;
    cJSON *jacket = put_object(out, to, "jacket");
    cJSON *list = put_array(out, jacket, "candies");
    for (int i = 0; i < palette->jackets; i++) append_text(out, list, palette->jacket[i].name);
    put_number(out, jacket, "stripes", palette->stripes);
}

/* What else was tried, the cheapest by area and borders first; nothing where there was nothing to choose. */
static void put_choice(Out *out, cJSON *to) {
    static const char *const loss[] = {[LOSS_NONE] = "taken",
                                       [LOSS_VERDICT] = "verdict",
                                       [LOSS_LIKENESS] = "likeness",
                                       [LOSS_COLOUR] = "colour",
                                       [LOSS_BATCHES] = "batches"};
    const Choice *choice = &out->job->choice;
    cJSON *list = put_array(out, to, "palettes_tried");
    for (int i = 0; i < choice->count; i++) {
        const Tried *tried = &choice->tried[i];
        cJSON *object = append_object(out, list), *candies = put_array(out, object, "candies");
        for (int k = 0; k < tried->palette.count; k++)
            append_text(out, candies, tried->palette.candy[k].name);
        put_text(out, object, "verdict", verdict_name(tried->verdict));
        put_number(out, object, "likeness", tried->likeness);
        put_number(out, object, "features", tried->features);
        put_number(out, object, "colour", tried->colour);
        put_number(out, object, "contrast", tried->contrast);
        put_number(out, object, "loud", tried->loud);
        put_number(out, object, "worth", tried->worth);
        put_text(out, object, "lost_by", loss[tried->loss]);
        put_bool(out, object, "nearly_as_good", i == choice->runner_up);
    }
}

static void put_middle(Out *out, cJSON *to, Point middle) {
    cJSON *at = put_array(out, to, "middle_mm");
    append_number(out, at, middle.x);
    append_number(out, at, middle.y);
}

/* What was redrawn for hands, of the logo's thin lines. */
static void put_redrawn(Out *out, cJSON *to) {
    static const char *const way[] = {[REDRAW_NOTHING] = "nothing",
                                      [REDRAW_LINES] = "lines",
                                      [REDRAW_OUT] = "outlines out",
                                      [REDRAW_THICKER] = "all thicker"};
    const Redrawn *redrawn = &out->job->grid.redrawn;
    const double sample_mm = cane_sample_mm(&out->job->cane), half = out->job->grid.wanted.side / 2.0;
    cJSON *object = put_object(out, to, "redrawn");
    put_text(out, object, "way", way[redrawn->way]);
    cJSON *worth = put_array(out, object, "worth");
    for (int i = 0; i < REDRAW_WAYS; i++) append_number(out, worth, redrawn->worth[i]);
    put_number(out, object, "more", redrawn->more);
    cJSON *letters = put_array(out, object, "letters");
    for (int i = 0; i < redrawn->even.rows; i++) {
        const EvenRow *row = &redrawn->even.row[i];
        cJSON *item = append_object(out, letters);
        put_number(out, item, "count", row->letters);
        put_text(out, item, "candy", candy_name(out, row->candy));
        put_number(out, item, "stem_was_mm", row->stem_was * sample_mm);
        put_number(out, item, "stem_mm", row->stem * sample_mm);
        put_number(out, item, "times_wide", row->times_wide);
        put_number(out, item, "times_high", row->times_high);
    }
    cJSON *list = put_array(out, object, "lines");
    for (int i = 0; i < redrawn->count; i++) {
        const RedrawnLine *line = &redrawn->line[i];
        cJSON *item = append_object(out, list);
        put_text(out, item, "what", line_noun(out->job, line));
        put_text(out, item, "candy", candy_name(out, line->candy));
        put_bool(out, item, "left_out", line->how == REDRAWN_LEFT_OUT);
        put_number(out, item, "width_mm", line->width * sample_mm);
        put_number(out, item, "length_mm", line->length * sample_mm);
        put_number(out, item, "parted", line->parted);
        put_number(out, item, "missed", line->missed);
        put_middle(out, item,
                   (Point){(line->middle.x - half) * sample_mm, (line->middle.y - half) * sample_mm});
    }
}

static void put_frame(Out *out, cJSON *to) {
    const Frame *frame = &out->job->grid.frame;
    double shrink = out->job->picture->shrink;
    cJSON *object = put_object(out, to, "frame");
    cJSON *centre = put_array(out, object, "centre_px");
    append_number(out, centre, frame->centre_px.x * shrink);
    append_number(out, centre, frame->centre_px.y * shrink);
    put_number(out, object, "px_per_step", frame->px_per_step * shrink);
    put_bool(out, object, "full_bleed", frame->full_bleed);
    put_bool(out, object, "roundel", frame->roundel);
    put_bool(out, object, "cropped", frame->cropped);
}

/* In their order, each as its option has it. */
static void put_edits(Out *out, cJSON *to) {
    const Order *order = &out->job->order;
    char text[EDIT_TEXT];
    cJSON *list = put_array(out, to, "edits");
    for (int i = 0; i < order->edits;) {
        bool join = order->edit[i].kind == EDIT_JOIN;
        i += edit_print(order, i, text, sizeof text);
        put_text(out, append_object(out, list), join ? "join" : "leave_out", text);
    }
}

static void put_advised(Out *out, cJSON *to) {
    const Advised *advised = &out->job->advised;
    if (!advised->taken) return;
    cJSON *object = put_object(out, to, "advised");
    put_text(out, object, "from", verdict_name(advised->from));
    put_text(out, object, "options", advised->options);
}

/* As it was asked for: what the program chose stands elsewhere. */
static void put_order(Out *out, cJSON *to) {
    static const char *const detail[] = {
        [DETAIL_PLAIN] = "plain", [DETAIL_NORMAL] = "normal", [DETAIL_FINE] = "fine"};
    static const char *const fit[] = {[FIT_AUTO] = "auto", [FIT_CROP] = "crop", [FIT_WHOLE] = "whole"};
    const Order *order = &out->job->order;
    cJSON *object = put_object(out, to, "order");
    put_number(out, object, "pieces", (double)order->pieces);
    if (order->weight_g > 0) put_number(out, object, "weight_g", order->weight_g);
    if (order->valid_until[0]) put_text(out, object, "valid_until", order->valid_until);
    put_number(out, object, "piece_diameter_mm", order->piece_diameter_mm);
    put_number(out, object, "piece_length_mm", order->piece_length_mm);
    put_number(out, object, "colors", order->colours);
    put_text(out, object, "field", order->field);
    cJSON *map = put_array(out, object, "map");
    for (int i = 0; i < order->wishes; i++) {
        cJSON *wish = append_object(out, map);
        put_colour(out, wish, "ink", order->wish[i].ink);
        put_text(out, wish, "candy", order->wish[i].candy);
    }
    cJSON *jacket = put_array(out, object, "jacket");
    for (int i = 0; i < order->jackets; i++) append_text(out, jacket, order->jacket[i]);
    put_number(out, object, "stripes", order->stripes);
    put_text(out, object, "fit", fit[order->fit]);
    put_number(out, object, "ropes", order->ropes_cap);
    put_text(out, object, "detail", detail[order->detail]);
    put_bool(out, object, "no_fine", order->no_fine);
    put_edits(out, object);
    if (order->people > 0) put_number(out, object, "people", order->people);
    if (order->joining_c > 0) put_number(out, object, "warm_box_c", order->joining_c);
}

static void put_cane(Out *out, cJSON *to) {
    const Cane *cane = &out->job->cane;
    cJSON *object = put_object(out, to, "cane");
    put_number(out, object, "logs", cane->logs);
    put_number(out, object, "log_diameter_mm", cane->log_diameter_mm);
    put_number(out, object, "log_length_mm", cane->log_length_mm);
    put_number(out, object, "core_diameter_mm", cane->core_diameter_mm);
    put_number(out, object, "reduction", cane->reduction);
    put_number(out, object, "cane_length_m", cane->cane_length_m);
}

/* Two of the logo's own colours that hardly differ; nothing where there are none. */
static void put_near(Out *out, cJSON *to) {
    const NearInks *near = &out->job->judgement.near;
    if (near->border <= 0) return;
    cJSON *object = put_object(out, to, "near_inks");
    put_number(out, object, "one", near->one);
    put_number(out, object, "other", near->other);
    put_number(out, object, "delta_e", near->apart);
    put_number(out, object, "border_share", near->border);
}

static void put_judgement(Out *out, cJSON *to) {
    const Judgement *judgement = &out->job->judgement;
    char advice[ADVICE_TEXT], sentence[SENTENCE_TEXT];
    cJSON *object = put_object(out, to, "judgement");
    put_text(out, object, "verdict", verdict_name(judgement->verdict));
    put_number(out, object, "likeness", judgement->likeness);
    put_number(out, object, "weakest", judgement->weakest);
    cJSON *checks = put_array(out, object, "checks");
    for (int i = 0; i < judgement->checks; i++) {
        const Check *check = &judgement->check[i];
        cJSON *line = append_object(out, checks);
        put_text(out, line, "name", check_name(check->kind, UNITS_MM));
        put_number(out, line, "value", check->value);
        put_number(out, line, "limit", check->limit);
        put_text(out, line, "unit", check_unit(check->kind));
        put_text(out, line, "verdict", verdict_name(check->verdict));
        put_bool(out, line, "own", check->own);
        advice_print(out->job, check, advice);
        put_text(out, line, "advice", advice);
        put_text(out, line, "source", standing_name(check->standing));
    }
    put_near(out, object);
    client_print(out->job, sentence);
    put_text(out, object, "sentence", sentence);
}

static void put_features(Out *out, cJSON *to) {
    static const char *const kind[] = {
        [FEATURE_COUNTER] = "counter", [FEATURE_BAY] = "bay", [FEATURE_ARM] = "arm"};
    const Features *features = &out->job->measures.features;
    put_number(out, to, "features", features->count);
    put_number(out, to, "features_kept", features->kept);
    put_number(out, to, "kept_share", features->kept_share);
    cJSON *lost = put_array(out, to, "lost");
    for (int i = 0; i < features->count; i++) {
        const Feature *feature = &features->feature[i];
        if (feature->kept) continue;
        cJSON *object = append_object(out, lost);
        put_text(out, object, "kind", kind[feature->kind]);
        put_text(out, object, "candy", candy_name(out, out->job->judgement.part[feature->part].candy));
        put_number(out, object, "share", feature->share);
        put_number(out, object, "left", feature->left);
        put_bool(out, object, "run_together", feature->run);
        put_middle(out, object, feature->middle_mm);
    }
}

static void put_measures(Out *out, cJSON *to) {
    const Difference *difference = &out->job->measures.difference;
    cJSON *measures = put_object(out, to, "measures");
    put_features(out, measures);
    cJSON *object = put_object(out, measures, "difference");
    put_number(out, object, "across_mm", difference->across_mm);
    if (difference->across_mm <= 0) return;
    put_number(out, object, "times_seen", difference->times_seen);
    put_number(out, object, "thick_mm", difference->thick_mm);
    put_number(out, object, "of_thickness", difference->of_thickness);
    put_middle(out, object, difference->middle_mm);
    put_text(out, object, "wanted", candy_name(out, difference->wanted));
    put_text(out, object, "got", candy_name(out, difference->got));
}

static void put_materials(Out *out, cJSON *to) {
    cJSON *list = put_array(out, to, "materials");
    for (int i = 0; i < out->job->bill.materials; i++) {
        const MaterialRow *row = &out->job->bill.material[i];
        cJSON *object = append_object(out, list);
        put_text(out, object, "candy", row->candy.name);
        put_text(out, object, "finish", finish_name(row->candy.finish));
        put_colour(out, object, "srgb", row->candy.srgb);
        put_bool(out, object, "dyed_to_order", row->candy.dyed);
        put_number(out, object, "share_of_log", row->share_of_log);
        put_number(out, object, "volume_ml", row->volume_ml);
        put_number(out, object, "mass_g", row->mass_g);
        put_number(out, object, "with_spare_g", row->with_spare_g);
        put_number(out, object, "block_ends_g", row->block_ends_g);
    }
}

/* The masses are among those of the materials. */
static void put_blends(Out *out, cJSON *to) {
    cJSON *list = put_array(out, to, "blends");
    for (int i = 0; i < out->job->bill.blends; i++) {
        const BlendRow *row = &out->job->bill.blend[i];
        const Candy *candy = &row->whole.candy;
        cJSON *object = append_object(out, list);
        put_text(out, object, "candy", candy->name);
        put_colour(out, object, "srgb", candy->srgb);
        put_number(out, object, "density_g_ml", candy->density_g_ml);
        put_number(out, object, "folds", out->job->shop->blend_folds);
        put_number(out, object, "share_of_log", row->whole.share_of_log);
        put_number(out, object, "mass_g", row->whole.mass_g);
        put_number(out, object, "with_spare_g", row->whole.with_spare_g);
        cJSON *of = put_array(out, object, "of");
        for (int k = 0; k < BLEND; k++) {
            cJSON *part = append_object(out, of);
            put_text(out, part, "candy", candy->blend[k].name);
            put_number(out, part, "parts", candy->blend[k].parts);
            put_number(out, part, "fold_for_a_log_g", row->part_g[k]);
        }
    }
}

static void put_weights(Out *out, cJSON *to, const Weights *w) {
    put_number(out, to, "candy_g", w->candy_g);
    put_number(out, to, "sugar_g", w->sugar_g);
    put_number(out, to, "syrup_g", w->syrup_g);
    put_number(out, to, "water_g", w->water_g);
    if (w->acid_g > 0) put_number(out, to, "acid_g", w->acid_g);
    if (w->flavour_g > 0) put_number(out, to, "flavour_g", w->flavour_g);
    if (w->colour_g > 0) put_number(out, to, "colour_g", w->colour_g);
}

/* Doses only if the shop gives them; of a dye also how much of it there is in the piece. */
static void put_cook(Out *out, cJSON *to) {
    const Recipe *recipe = &out->job->recipe;
    const Shop *shop = out->job->shop;
    cJSON *object = put_object(out, to, "cook");
    cJSON *list = put_array(out, object, "candies");
    for (int i = 0; i < recipe->rows; i++) {
        cJSON *row = append_object(out, list);
        put_text(out, row, "candy", out->job->bill.material[i].candy.name);
        put_weights(out, row, &recipe->row[i]);
        double mg_kg = recipe->row[i].colour_g / recipe->whole.candy_g * 1e6;
        if (recipe->row[i].colour_g > 0) put_number(out, row, "colour_mg_per_kg_of_piece", mg_kg);
    }
    put_weights(out, put_object(out, object, "all"), &recipe->whole);
    put_number(out, object, "boilings", recipe->boilings);
    put_weights(out, put_object(out, object, "boiling"), &recipe->boiling);
    put_number(out, object, "moisture", shop->moisture);
    put_number(out, object, "altitude_m", shop->altitude_m);
    put_number(out, object, "water_boils_c", recipe->water_boils_c);
    put_number(out, object, "cook_c", recipe->cook_c);
    put_number(out, object, "cook_least_c", recipe->cook_least_c);
    put_text(out, object, "source", "computed from the shop's habits; moisture good to 0.01");
}

static void put_warmth(Out *out, cJSON *to, const Warmth *warmth) {
    put_number(out, to, "round_diameter_mm", warmth->diameter_mm);
    put_number(out, to, "seconds", warmth->seconds);
}

static void put_heat(Out *out, cJSON *to) {
    const Heat *heat = &out->job->heat;
    cJSON *object = put_object(out, to, "heat");
    put_number(out, object, "joining_c", out->job->shop->joining_c);
    put_number(out, object, "working_c", out->job->shop->working_c);
    put_number(out, object, "room_c", out->job->shop->room_c);
    cJSON *ropes = put_array(out, object, "rope_types");
    for (int i = 0; i < heat->ropes; i++) put_warmth(out, append_object(out, ropes), &heat->rope[i]);
    cJSON *pulls = put_array(out, object, "pulls");
    for (int i = 0; i < heat->pulls; i++) put_warmth(out, append_object(out, pulls), &heat->pull[i]);
    cJSON *blocks = put_array(out, object, "blocks");
    for (int i = 0; i < heat->blocks; i++) put_warmth(out, append_object(out, blocks), &heat->block[i]);
    put_warmth(out, put_object(out, object, "log"), &heat->log);
    put_number(out, object, "uneven_c", heat->uneven_c);
    put_number(out, object, "uneven_viscosity_ratio", heat->uneven_ratio);
    put_text(out, object, "source", "computed from the shop's habits; the viscosity as a ratio only");
}

bool write_json(const Job *job, FILE *file, Err *err) {
    Out out = {.job = job};
    cJSON *root = cJSON_CreateObject();
    put_number(&out, root, "format", 2);
    put_text(&out, root, "name", job->order.name);
    put_logo(&out, root);
    put_text(&out, root, "field", candy_name(&out, job->palette.field));
    put_choice(&out, root);
    put_jacket(&out, root);
    put_frame(&out, root);
    put_redrawn(&out, root);
    put_order(&out, root);
    put_advised(&out, root);
    put_cane(&out, root);
    put_quote(&out, root);
    put_layup(&out, root);
    put_judgement(&out, root);
    put_measures(&out, root);
    put_materials(&out, root);
    put_blends(&out, root);
    put_cook(&out, root);
    put_heat(&out, root);
    put_work(&out, root);
    char *text = out.failed ? NULL : cJSON_Print(root);
    cJSON_Delete(root);
    if (!text) return err_set(err, ERR_MEMORY, "out of memory for job.json; close other programs");
    fputs(text, file);
    fputc('\n', file);
    cJSON_free(text);
    return true;
}
