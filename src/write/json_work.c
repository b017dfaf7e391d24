/* What the order comes to and the plan of work, as JSON. SPDX-License-Identifier: MIT */
#include "write/json_out.h"

#include "say/bench_words.h"

void put_quote(Out *out, cJSON *to) {
    const Shop *shop = out->job->shop;
    const Quote *quote = &out->job->bill.quote;
    cJSON *object = put_object(out, to, "quote");
    put_number(out, object, "pieces", (double)out->job->order.pieces);
    put_number(out, object, "spare_pieces", (double)quote->spare_pieces);
    put_number(out, object, "piece_mass_g", out->job->bill.piece_mass_g);
    put_number(out, object, "pieces_mass_g", quote->pieces_mass_g);
    put_number(out, object, "pieces_per_kg", quote->pieces_per_kg);
    put_number(out, object, "batches", quote->batches);
    put_number(out, object, "batches_dyed", quote->dyed);
    if (!shop_has_prices(shop)) return;
    static const char *const name[PRICE_PARTS] = {
        [PRICE_CANDY] = "candy", [PRICE_DYE] = "dyeing", [PRICE_FLAVOUR] = "flavour",
        [PRICE_HOURS] = "hours", [PRICE_FUEL] = "fuel",  [PRICE_PACKING] = "packing"};
    cJSON *cost = put_object(out, object, "cost");
    put_text(out, cost, "currency", shop->currency);
    put_number(out, cost, "hours_worked", quote->hours);
    for (int part = 0; part < PRICE_PARTS; part++)
        if (shop_price(shop, (PricePart)part) > 0) put_number(out, cost, name[part], quote->cost[part]);
    if (shop->price_margin > 0) put_number(out, cost, "margin", quote->margin_cost);
    put_number(out, cost, "price", quote->price);
}

static void put_task(Out *out, cJSON *list, const WorkPlan *work, int at) {
    const WorkTask *task = &work->task[at];
    char of[CANDY_NAME], who[16];
    cJSON *row = append_object(out, list);
    task_of_print(out->job, task, of);
    person_print(work, task->person, who);
    put_text(out, row, "what", task_name(task->kind));
    put_text(out, row, "of", of);
    put_text(out, row, "who", who);
    put_number(out, row, "start", task->start);
    put_number(out, row, "minutes", task->minutes);
    put_number(out, row, "count", task->count);
    put_number(out, row, "waits", task->waits);
    put_number(out, row, "keeps", task->keeps);
    cJSON *after = put_array(out, row, "after");
    for (int i = 0; i < work->edges; i++)
        if (work->edge[i].after == at) append_number(out, after, work->edge[i].before + 1);
}

void put_work(Out *out, cJSON *to) {
    const WorkPlan *work = &out->job->work;
    cJSON *object = put_object(out, to, "work");
    put_number(out, object, "people", work->people);
    put_number(out, object, "laying_up", work->laying);
    put_number(out, object, "begins", work->begins);
    put_number(out, object, "ends", work->ends);
    put_number(out, object, "hands", work->hands);
    put_number(out, object, "longest_chain", work->chain);
    put_number(out, object, "kettle", work->kettle);
    put_number(out, object, "next_log", work->next);
    put_text(out, object, "source", "computed from the shop's habits");
    cJSON *list = put_array(out, object, "tasks");
    for (int i = 0; i < work->tasks; i++) put_task(out, list, work, i);
}
