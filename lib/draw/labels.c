/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Greedy placement: each label tries places around its point, near ones first and above before
 * beside, since hairs end at the tips and the sheet is free above them.
 */
#include "draw/labels.h"

#include <math.h>

void tcr_label_block(tcr_label_map *map, tcr_box box) {
    if (map->blocks < TCR_LABEL_BLOCKS)
        map->block[map->blocks++] = box;
}

static bool overlap(tcr_box a, tcr_box b) {
    return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height &&
           b.y < a.y + a.height;
}

static bool inside(tcr_box a, tcr_box area) {
    return a.x >= area.x && a.y >= area.y && a.x + a.width <= area.x + area.width &&
           a.y + a.height <= area.y + area.height;
}

/* Twice the area of a triangle, positive where it runs one way around. */
static double turn(tcr_vec2 a, tcr_vec2 b, tcr_vec2 c) {
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

/* Whether two segments cross. */
static bool cross(tcr_vec2 a, tcr_vec2 b, tcr_vec2 c, tcr_vec2 d) {
    return turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0;
}

/* Whether a segment runs through a box: it crosses one of its diagonals or ends inside. */
static bool pierces(tcr_vec2 from, tcr_vec2 to, tcr_box box) {
    const double right = box.x + box.width, low = box.y + box.height;
    return cross(from, to, (tcr_vec2){box.x, box.y}, (tcr_vec2){right, low}) ||
           cross(from, to, (tcr_vec2){box.x, low}, (tcr_vec2){right, box.y}) ||
           overlap((tcr_box){from.x, from.y, 1e-9, 1e-9}, box);
}

static bool is_free(const tcr_label_map *map, const tcr_label *wanted) {
    if (!inside(wanted->box, map->area))
        return false;
    for (size_t i = 0; i < map->blocks; i++)
        if (overlap(wanted->box, map->block[i]))
            return false;
    for (size_t i = 0; i < map->labels; i++) {
        const tcr_label *other = &map->label[i];
        if (overlap(wanted->box, other->box) || pierces(wanted->from, wanted->to, other->box) ||
            pierces(other->from, other->to, wanted->box) ||
            cross(wanted->from, wanted->to, other->from, other->to))
            return false;
    }
    return true;
}

/* Keeps a label that is free; NULL where it is not, or there is no room for another. */
static const tcr_label *keep(tcr_label_map *map, const tcr_label *wanted) {
    if (map->labels >= TCR_LABELS || !is_free(map, wanted))
        return NULL;
    map->label[map->labels] = *wanted;
    return &map->label[map->labels++];
}

/* Tries the directions of a list in 'tiers' tiers: all of them near before any far. */
static const tcr_label *place_by(tcr_label_map *map, const tcr_vec2 *way, int ways, int tiers,
                                 tcr_vec2 point, double clear, double width, double height) {
    const tcr_label *placed = NULL;
    for (int i = 0; i < tiers * ways && placed == NULL; i++) {
        const double away = clear + 0.5 + i / ways * 1.1 * height;
        const tcr_vec2 w = way[i % ways];
        const tcr_vec2 middle = {point.x + w.x * (away + width / 2),
                                 point.y + w.y * (away + height / 2)};
        const double length = hypot(middle.x - point.x, middle.y - point.y);
        const tcr_vec2 rim = {point.x + (middle.x - point.x) * clear / length,
                              point.y + (middle.y - point.y) * clear / length};
        const tcr_label wanted = {
            {middle.x - width / 2, middle.y - height / 2, width, height}, rim, middle};
        placed = keep(map, &wanted);
    }
    return placed;
}

const tcr_label *tcr_label_place(tcr_label_map *map, tcr_vec2 point, double clear, double width,
                                 double height) {
    /* Directions in which the label's middle lies, in the order of liking, y downwards. */
    static const tcr_vec2 above[] = {{0, -1},     {-0.15, -1}, {0.15, -1},
                                     {-0.35, -1}, {0.35, -1},  {-0.7, -0.8},
                                     {0.7, -0.8}, {-1, -0.35}, {1, -0.35}};
    static const tcr_vec2 below[] = {{0, 1},      {-0.15, 1}, {0.15, 1},  {-0.35, 1}, {0.35, 1},
                                     {-0.7, 0.8}, {0.7, 0.8}, {-1, 0.35}, {1, 0.35}};
    enum { ABOVE = sizeof above / sizeof *above, BELOW = sizeof below / sizeof *below };
    const tcr_label *placed = place_by(map, above, ABOVE, 5, point, clear, width, height);
    if (placed == NULL && map->below)
        placed = place_by(map, below, BELOW, 2, point, clear, width, height);
    return placed;
}

const tcr_label *tcr_label_along(tcr_label_map *map, tcr_vec2 point, tcr_vec2 direction,
                                 double clear, double width, double height) {
    enum { STEPS = 24 };
    /* So far from the point, the whole box lies beyond it as seen along the direction. */
    const double first = clear + width / 2 * fabs(direction.x) + height / 2 * fabs(direction.y);
    const tcr_label *placed = NULL;
    for (int i = 0; i < STEPS && placed == NULL; i++) {
        const double away = first + 0.25 * i * height;
        const tcr_vec2 middle = {point.x + away * direction.x, point.y + away * direction.y};
        const tcr_label wanted = {
            {middle.x - width / 2, middle.y - height / 2, width, height}, point, middle};
        placed = keep(map, &wanted);
    }
    return placed;
}
