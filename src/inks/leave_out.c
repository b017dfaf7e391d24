/* A logo with parts left out and inks joined, as asked for. SPDX-License-Identifier: MIT
 *
 * Input: a map of inks, edits. Output: the map they leave; circle, shading and size as they were, so that all
 * else stays where it was. Edits are made in their order; points that go together are looked up at once.
 * 1. Areas: connected pixels of one ink, those of the field by their sides, others by their corners too. A
 * point names the area that it lies in; the open background, and what lies outside the circle, cannot be
 * named.
 * 2. What is left out takes the ink of the nearest pixel that stays: a line between two colours is shared out
 * between them, a hole is filled.
 * 3. A joined ink's pixels become those of the other. Inks without a pixel are dropped, but for the field.
 * 4. Shares and borders anew.
 * Invariant: edits made at once leave what the same edits leave that are made one call after the other.
 * O(pixels) for each edit that goes by itself. */
#include "inks/inks.h"

#include "base/components.h"
#include "base/distance.h"
#include "base/mem.h"
#include "base/text.h"
#include "inks/lettering.h"

#include <stdlib.h>
#include <string.h>

/* --- 1 --- */

int ink_areas(const InkMap *map, int32_t *area) {
    uint8_t ways[256];
    memset(ways, 8, sizeof ways);
    ways[map->field] = 4;
    return components(map->label, map->width, map->height, ways, area);
}

/* What is known of an area that a point may name. */
enum { AREA_NAMED = 1, AREA_SEEN = 2, AREA_OPEN = 4 };

/* Seen: some of it lies in the circle. Open: it is field and goes on beyond circle or picture. */
static void look_at_areas(const InkMap *map, const int32_t *area, uint8_t *known) {
    Circle c = map->circle;
    for (int y = 0; y < map->height; y++)
        for (int x = 0; x < map->width; x++) {
            size_t i = (size_t)y * (size_t)map->width + (size_t)x;
            double across = x + 0.5 - c.x, down = y + 0.5 - c.y;
            bool inside = across * across + down * down <= c.r * c.r;
            bool edge = x == 0 || y == 0 || x == map->width - 1 || y == map->height - 1;
            if (inside) known[area[i]] |= AREA_SEEN;
            if (map->label[i] == map->field && (edge || !inside)) known[area[i]] |= AREA_OPEN;
        }
}

static bool name_areas(const InkMap *map, const Edit *edit, int edits, const int32_t *area, uint8_t *known,
                       Err *err) {
    char spot[SPOT_TEXT];
    look_at_areas(map, area, known);
    for (int i = 0; i < edits; i++) {
        uint8_t *at = &known[area[spot_pixel(map->width, map->height, edit[i].x, edit[i].y)]];
        spot_print(edit[i].x, edit[i].y, spot);
        if (*at & AREA_OPEN)
            return err_set(err, ERR_USAGE,
                           "--leave-out: %s lies on the open background; name a point of a part or a hole",
                           spot);
        if (!(*at & AREA_SEEN))
            return err_set(err, ERR_USAGE,
                           "--leave-out: %s lies outside what comes on the candy; name a point inside", spot);
        *at |= AREA_NAMED;
    }
    return true;
}

/* Tells of what is named. */
static void note_gone(InkMap *map, const int32_t *area, const uint8_t *known) {
    int32_t of[GONE_MAX];
    const int before = map->gones;
    for (int i = 0, k = before; i < map->width * map->height; i++) {
        if (!(known[area[i]] & AREA_NAMED)) continue;
        if (k == map->gones || of[k] != area[i]) /* else that of the pixel before */
            for (k = before; k < map->gones && of[k] != area[i];) k++;
        if (k == GONE_MAX) continue;
        Gone *gone = &map->gone[k];
        const int x = i % map->width, y = i / map->width;
        if (k == map->gones) {
            of[map->gones++] = area[i];
            *gone = (Gone){map->ink[map->label[i]], map->label[i] == map->field, {x, y, 1, 1}};
        }
        const int left = x < gone->box.x ? x : gone->box.x;
        const int right = x + 1 > gone->box.x + gone->box.w ? x + 1 : gone->box.x + gone->box.w;
        gone->box = (Box){left, gone->box.y, right - left, y + 1 - gone->box.y};
    }
}

/* --- 2 --- */

static bool fill_named(InkMap *map, int32_t *area, const uint8_t *known, Err *err) {
    size_t total = (size_t)map->width * (size_t)map->height, staying = 0;
    uint8_t *stays = mem_alloc(total, 1, err);
    if (!stays) return false;
    for (size_t i = 0; i < total; i++) staying += stays[i] = !(known[area[i]] & AREA_NAMED);
    bool good = staying > 0;
    if (!good) err_set(err, ERR_USAGE, "--leave-out: nothing of the logo would be left; name fewer points");
    int32_t *nearest = area;
    good = good && distance_transform(stays, map->width, map->height, NULL, nearest, err);
    for (size_t i = 0; good && i < total; i++) /* one that stays is its own nearest */
        if (!stays[i]) map->label[i] = map->label[nearest[i]];
    free(stays);
    return good;
}

static bool leave_areas_out(InkMap *map, const Edit *edit, int edits, Err *err) {
    int32_t *area = mem_alloc((size_t)map->width * (size_t)map->height, sizeof *area, err);
    if (!area) return false;
    uint8_t *known = mem_alloc((size_t)ink_areas(map, area), 1, err);
    bool good = known && name_areas(map, edit, edits, area, known, err);
    if (good) note_gone(map, area, known);
    good = good && fill_named(map, area, known, err);
    free(known);
    free(area);
    return good;
}

/* --- 3 --- */

static bool no_such_ink(const InkMap *map, const Edit *edit, Rgb8 wanted, Err *err) {
    char list[INKS_MAX * (RGB8_CODE + 2)] = "", one[RGB8_CODE], other[RGB8_CODE], code[RGB8_CODE];
    for (int i = 0; i < map->count; i++) {
        if (map->ink[i].transparent) continue;
        rgb8_code(map->ink[i].srgb, code);
        text_append(list, sizeof list, "%s%s", *list ? ", " : "", code);
    }
    rgb8_code(edit->ink, one);
    rgb8_code(edit->into, other);
    rgb8_code(wanted, code);
    return err_set(err, ERR_USAGE, "--join '%s=%s': the logo has no ink like %s; its inks are %s", one, other,
                   code, *list ? list : "none, all is transparent");
}

static bool join_inks(InkMap *map, const Edit *edit, Err *err) {
    int from = ink_nearest(map, edit->ink), into = ink_nearest(map, edit->into);
    char one[RGB8_CODE], other[RGB8_CODE], both[RGB8_CODE];
    if (from < 0 || into < 0) return no_such_ink(map, edit, from < 0 ? edit->ink : edit->into, err);
    if (from == into) {
        rgb8_code(edit->ink, one);
        rgb8_code(edit->into, other);
        rgb8_code(map->ink[from].srgb, both);
        return err_set(err, ERR_USAGE, "--join '%s=%s': both are the ink %s; name two", one, other, both);
    }
    size_t total = (size_t)map->width * (size_t)map->height;
    for (size_t i = 0; i < total; i++)
        if (map->label[i] == from) map->label[i] = (uint8_t)into;
    if (map->field == from) map->field = into;
    return true;
}

/* Drops the inks that no pixel has. */
static void number_inks(InkMap *map) {
    bool used[INKS_MAX] = {false};
    int number[INKS_MAX] = {0}, count = 0;
    size_t total = (size_t)map->width * (size_t)map->height;
    used[map->field] = true;
    for (size_t i = 0; i < total; i++) used[map->label[i]] = true;
    for (int i = 0; i < map->count; i++)
        if (used[i]) {
            map->ink[count] = map->ink[i];
            number[i] = count++;
        }
    for (size_t i = 0; i < total; i++) map->label[i] = (uint8_t)number[map->label[i]];
    map->field = number[map->field];
    map->count = count;
}

/* How many edits go together from the first on. */
static int count_together(const Edit *edit, int edits) {
    int count = 1;
    while (count < edits && edit[count].with) count++;
    return count;
}

bool leave_out(const InkMap *from, const Edit *edit, int edits, InkMap *out, Err *err) {
    InkMap map = *from;
    size_t total = (size_t)map.width * (size_t)map.height;
    map.label = mem_alloc(total, 1, err);
    if (!map.label) return false;
    memcpy(map.label, from->label, total);
    bool good = true;
    for (int i = 0, count; good && i < edits; i += count) {
        count = count_together(edit + i, edits - i);
        good = edit[i].kind == EDIT_JOIN        ? join_inks(&map, &edit[i], err)
               : edit[i].kind == EDIT_LETTERING ? leave_lettering_out(&map, err)
                                                : leave_areas_out(&map, edit + i, count, err);
        if (good) number_inks(&map);
    }
    good = good && (edits == 0 || (count_inks(&map, err) && find_edges(&map, err))); /* 4 */
    if (good)
        *out = map;
    else
        free(map.label);
    return good;
}
