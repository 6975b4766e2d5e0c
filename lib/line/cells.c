/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cells and own choices (model.md, section 8). */
#include "line/cells.h"

#include <math.h>

#include "model/set_data.h"
#include "num/memory.h"
#include "num/order.h"

static const double TIE_MM = 1e-9; /* centres as far off as this are equally near */

/* What a row says that a lash wears. */
static const unsigned WORN = TCR_FIX_LENGTH | TCR_FIX_CURL | TCR_FIX_DIAMETER | TCR_FIX_FAN |
                             TCR_FIX_SPREAD | TCR_FIX_PLACEMENT;

static const tcr_set_map_zones *map_of(const tcr_cells *c) {
    return &tcr_set_eye_of(c->v->set, c->v->side)->map;
}

static const tcr_lash *lash_of(const tcr_cells *c, size_t j) {
    return tcr_set_lash(c->v->set, c->v->side, c->v->index[j]);
}

/* Where the cell of a layer at u stands in the table. */
static size_t place_at(const tcr_cells *c, double u, tcr_layer layer) {
    return tcr_set_zone_at(c->v->set, c->v->side, u) * TCR_LAYERS + (size_t)layer;
}

static size_t place_of(const tcr_cells *c, size_t j) {
    const tcr_lash *lash = lash_of(c, j);
    return place_at(c, lash->u, lash->layer);
}

/* Whether a plan chose what the cells wear: they then wear what the map gives. */
static bool is_planned(const tcr_cells *c) {
    return tcr_set_eye_of(c->v->set, c->v->side)->intended.count > 0;
}

/* The length of the cell at a place of the table, at u. */
static double length_of(const tcr_cells *c, size_t place, double u, bool rounded) {
    const size_t zone = place / TCR_LAYERS;
    const tcr_layer layer = (tcr_layer)(place % TCR_LAYERS);
    return tcr_set_ruled_length(c->v->set, map_of(c), zone, layer, u, rounded) +
           c->cell[place].beyond_mm;
}

/* ---- What a cell wears ----------------------------------------------------------------------- */

/* One property of what is worn, as a number that tells equal from different. */
static double property(const tcr_choice *worn, unsigned bit) {
    switch (bit) {
    case TCR_FIX_CURL:
        return (double)worn->curl;
    case TCR_FIX_DIAMETER:
        return worn->diameter_mm;
    case TCR_FIX_FAN:
        return worn->fan;
    case TCR_FIX_SPREAD:
        return worn->spread_rad;
    default:
        return (double)worn->placement;
    }
}

void tcr_choice_take(tcr_choice *to, const tcr_choice *from, unsigned bits) {
    if (bits & TCR_FIX_CURL)
        to->curl = from->curl;
    if (bits & TCR_FIX_DIAMETER)
        to->diameter_mm = from->diameter_mm;
    if (bits & TCR_FIX_FAN)
        to->fan = from->fan;
    if (bits & TCR_FIX_SPREAD)
        to->spread_rad = from->spread_rad;
    if (bits & TCR_FIX_PLACEMENT)
        to->placement = from->placement;
}

/* How many of n sorted numbers equal a value. */
static size_t count_equal(const double *sorted, size_t n, double value) {
    size_t low = 0, high = n;
    while (low < high) {
        const size_t middle = (low + high) / 2;
        if (sorted[middle] < value)
            low = middle + 1;
        else
            high = middle;
    }
    size_t end = low;
    while (end < n && sorted[end] == value)
        end++;
    return end - low;
}

/* The most frequent value of a property in a cell; of equally frequent ones the map's, else the
 * first in the file. member: the cell's lashes in the order of the file; sorted: room for n. */
static void take_most_frequent(const tcr_cells *c, const size_t *member, size_t n, unsigned bit,
                               double *sorted, tcr_choice *worn) {
    size_t most = 0;
    for (size_t a = 0; a < n; a++)
        sorted[a] = property(&c->v->worn[member[a]], bit);
    tcr_sort(sorted, n);
    for (size_t a = 0, run = 0; a < n; a++) {
        run = a > 0 && sorted[a] == sorted[a - 1] ? run + 1 : 1;
        most = run > most ? run : most;
    }
    if (count_equal(sorted, n, property(worn, bit)) == most)
        return;
    size_t a = 0;
    while (count_equal(sorted, n, property(&c->v->worn[member[a]], bit)) < most)
        a++;
    tcr_choice_take(worn, &c->v->worn[member[a]], bit);
}

/* Whether a row of the cell's lashes says what it wears. */
static bool worn_by_rows(const tcr_cells *c, const size_t *member, size_t n) {
    for (size_t a = 0; a < n; a++)
        if (tcr_set_wish(c->v->set, c->v->side, c->v->index[member[a]])->fixed & WORN)
            return true;
    return false;
}

/* Fills the cell of n lashes; beyond has room for n numbers. */
static void fill_cell(const tcr_cells *c, size_t place, const size_t *member, size_t n,
                      double *beyond) {
    const size_t zone = place / TCR_LAYERS;
    const tcr_layer layer = (tcr_layer)(place % TCR_LAYERS);
    tcr_cell *cell = &c->cell[place];
    *cell =
        (tcr_cell){.lashes = n, .worn = tcr_set_ruled_choice(c->v->set, map_of(c), zone, layer)};
    if (n == 0 || is_planned(c) || !worn_by_rows(c, member, n))
        return;
    for (size_t a = 0; a < n; a++)
        beyond[a] =
            c->v->worn[member[a]].length_mm - length_of(c, place, lash_of(c, member[a])->u, true);
    tcr_select(beyond, n, n / 2); /* the longer of the middle two */
    cell->beyond_mm = beyond[n / 2];
    for (unsigned bit = TCR_FIX_CURL; bit <= TCR_FIX_PLACEMENT; bit <<= 1)
        take_most_frequent(c, member, n, bit, beyond, &cell->worn);
}

/* What wearing lash j, of the cell at a place of the table, has chosen beside it. */
static tcr_own_choice own_choice(const tcr_cells *c, size_t j, size_t place) {
    const tcr_choice *worn = &c->v->worn[j], *cell = &c->cell[place].worn;
    tcr_own_choice own = {
        .place = place,
        .longer_mm = worn->length_mm - length_of(c, place, lash_of(c, j)->u, true),
    };
    for (unsigned bit = TCR_FIX_CURL; bit <= TCR_FIX_PLACEMENT; bit <<= 1)
        if (property(worn, bit) != property(cell, bit))
            own.differs |= bit;
    return own;
}

tcr_status tcr_cells_make(const tcr_variant *v, const tcr_allocator *allocator, tcr_cells *cells) {
    *cells = (tcr_cells){.v = v};
    const size_t places = map_of(cells)->count * TCR_LAYERS;
    cells->cell = tcr_resize(allocator, NULL, places, sizeof *cells->cell);
    cells->own = tcr_resize(allocator, NULL, v->n, sizeof *cells->own);
    size_t *member = tcr_resize(allocator, NULL, v->n, sizeof *member);
    double *beyond = tcr_resize(allocator, NULL, v->n, sizeof *beyond);
    const bool whole =
        cells->cell != NULL && cells->own != NULL && member != NULL && beyond != NULL;
    for (size_t j = 0; j < v->n && whole; j++)
        cells->own[j].place = place_of(cells, j);
    for (size_t place = 0; place < places && whole; place++) {
        size_t n = 0;
        for (size_t j = 0; j < v->n; j++)
            if (cells->own[j].place == place)
                member[n++] = j;
        fill_cell(cells, place, member, n, beyond);
    }
    for (size_t j = 0; j < v->n && whole; j++)
        cells->own[j] = own_choice(cells, j, cells->own[j].place);
    tcr_release(allocator, member);
    tcr_release(allocator, beyond);
    return whole ? TCR_OK : TCR_E_MEMORY;
}

void tcr_cells_free(const tcr_allocator *allocator, tcr_cells *cells) {
    tcr_release(allocator, cells->cell);
    tcr_release(allocator, cells->own);
}

/* ---- Lengths levelled ------------------------------------------------------------------------ */

static double centre_of(const tcr_cells *c, size_t zone) {
    const tcr_zone *zones = map_of(c)->zone;
    return ((zone > 0 ? zones[zone - 1].to : 0.0) + zones[zone].to) / 2.0;
}

/*
 * The cell whose length a cell wears without shortening: the bottom one of its zone, or of the
 * nearest zone that has one, of two equally near the inner one; its own where there is none.
 */
static size_t without_shortening(const tcr_cells *c, size_t place) {
    const size_t zones = map_of(c)->count, zone = place / TCR_LAYERS;
    size_t found = place;
    double nearest = INFINITY;
    for (size_t z = 0; z < zones; z++) {
        const double distance = fabs(centre_of(c, z) - centre_of(c, zone));
        if (c->cell[z * TCR_LAYERS + TCR_BOTTOM].lashes > 0 && distance < nearest - TIE_MM) {
            nearest = distance;
            found = z * TCR_LAYERS + TCR_BOTTOM;
        }
    }
    return found;
}

static double levelled(const tcr_cells *c, size_t place, double u, tcr_levels levels) {
    const size_t source = levels.shortening ? place : without_shortening(c, place);
    return length_of(c, source, u, levels.steps || !tcr_set_layering(c->v->set)->blend);
}

/* Blended between the centres of a layer's cells that are there. */
static double blended(const tcr_cells *c, size_t place, double u, tcr_levels levels) {
    const size_t zones = map_of(c)->count;
    double before_u = NAN, before = NAN;
    for (size_t z = 0; z < zones; z++) {
        const size_t at = z * TCR_LAYERS + place % TCR_LAYERS;
        if (c->cell[at].lashes == 0)
            continue;
        const double centre = centre_of(c, z), length = levelled(c, at, u, levels);
        if (u <= centre)
            return isnan(before)
                       ? length
                       : before + (length - before) * (u - before_u) / (centre - before_u);
        before_u = centre;
        before = length;
    }
    return before;
}

const tcr_cell *tcr_cells_of(const tcr_cells *c, size_t j) { return &c->cell[c->own[j].place]; }

double tcr_cells_length(const tcr_cells *c, size_t j, tcr_levels levels) {
    const size_t place = c->own[j].place;
    const double u = lash_of(c, j)->u;
    const bool blend = tcr_set_layering(c->v->set)->blend;
    return levels.steps || blend ? levelled(c, place, u, levels) : blended(c, place, u, levels);
}

tcr_choice tcr_cells_choice_at(const tcr_cells *c, double u, tcr_layer layer) {
    const size_t place = place_at(c, u, layer);
    tcr_choice choice = c->cell[place].worn;
    choice.length_mm = length_of(c, place, u, true);
    return choice;
}

bool tcr_cells_worn_by_rows(const tcr_cells *c) {
    size_t given = 0;
    for (size_t j = 0; j < c->v->n; j++)
        if (tcr_set_wish(c->v->set, c->v->side, c->v->index[j])->fixed & TCR_FIX_LENGTH)
            given++;
    return given > c->v->n / 2 && !is_planned(c);
}
