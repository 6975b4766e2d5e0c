/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Tips in blocks (model/rows.h). Lashes without a row of their own wear what their cell, zone and
 * layer, gives them; a cell is worked out once, with its curl at its length and where it parts, and
 * again only where anything that it is made of has changed. Seats on the lid stay while the lashes'
 * places, lid and opening stay. All else is evaluated lash by lash, with the same bits.
 */
#include "line/figures.h"

#include <math.h>
#include <string.h>

#include "model/load_rows.h"
#include "model/rows.h"
#include "model/set_data.h"
#include "num/memory.h"

/* What lashes of a zone and layer wear. */
typedef struct cell {
    bool known;
    tcr_status status; /* TCR_OK, or TCR_E_TRAY */
    tcr_choice choice;
    tcr_extension ext;
    tcr_bond bond;
    tcr_fibre fibre;
    bool weighed;
    tcr_borne borne; /* on a bond as long as both allow */
} cell;

enum { NO_CELL = 0xFFFF };

typedef struct block {
    size_t n;
    size_t tip[TCR_ROWS];      /* of each row: its number among the eye's tips */
    size_t lash[TCR_ROWS];     /* and among its lashes */
    uint16_t cell[TCR_ROWS];   /* whose worn columns the row has, or NO_CELL */
    double seated_u[TCR_ROWS]; /* that 'seat' is made for */
    size_t seated;
    tcr_lash_rows lashes;
    tcr_seat_rows seat;
    tcr_worn_rows worn;
    tcr_tip_rows tips;
} block;

struct tcr_figures {
    char *key; /* the bytes of all that cells and ids are made of, and room for those of another run
                */
    size_t key_size, key_room;
    cell *cells;
    size_t cell_room;
    block *blocks;
    size_t block_room;
    tcr_load_block *loads; /* of each block; NULL where none were asked for */
    size_t load_room;
    tcr_lid_constants lid; /* that seats are made for */
    double opening;
};

/* ---- What cells are made of ------------------------------------------------------------------ */

/* Bytes being gathered behind those of the last run. */
typedef struct gathering {
    tcr_figures *f;
    const tcr_allocator *allocator;
    size_t size;
    bool lacks_memory;
} gathering;

static void gather(gathering *g, const void *bytes, size_t size) {
    tcr_figures *f = g->f;
    const size_t at = f->key_size + g->size;
    if (f->key == NULL || at + size > f->key_room) {
        char *grown = tcr_resize(g->allocator, f->key, 2 * (at + size), 1);
        if (grown == NULL) {
            g->lacks_memory = true;
            return;
        }
        f->key = grown;
        f->key_room = 2 * (at + size);
    }
    memcpy(f->key + at, bytes, size);
    g->size += size;
}

static void gather_curl(gathering *g, const tcr_curl *curl) {
    gather(g, &curl->count, sizeof curl->count);
    if (curl->length_mm != NULL)
        gather(g, curl->length_mm, curl->count * sizeof *curl->length_mm);
    gather(g, curl->profiles, curl->count * sizeof *curl->profiles);
}

/* By its members, for what stands between these has no value. */
static void gather_layering(gathering *g, const tcr_layering *l) {
    gather(g, &l->step_mm, sizeof l->step_mm);
    gather(g, &l->diameter_mm, sizeof l->diameter_mm);
    gather(g, &l->fan, sizeof l->fan);
    gather(g, &l->spread_rad, sizeof l->spread_rad);
    gather(g, l->placement, sizeof l->placement);
    gather(g, &l->blend, sizeof l->blend);
}

/* Whether cells and ids are as in the last run; 'key' is then this one's. Zones, tray and bond are
 * compared whole: what is unused in them may differ where nothing else does, which costs time
 * alone. */
static tcr_status renew_key(tcr_figures *f, const tcr_check *check, const tcr_stored_eye *eye,
                            bool *same) {
    const tcr_set *set = check->set;
    gathering g = {f, &check->allocator, 0, false};
    gather(&g, &eye->map.count, sizeof eye->map.count);
    gather(&g, eye->map.zone, eye->map.count * sizeof *eye->map.zone);
    gather_layering(&g, &set->layering);
    gather(&g, &set->tray, sizeof set->tray);
    gather(&g, &set->bond, sizeof set->bond);
    gather(&g, &check->any_length, sizeof check->any_length);
    for (size_t i = 0; i < set->curl_count; i++) {
        gather(&g, set->curls[i]->label, sizeof set->curls[i]->label);
        gather_curl(&g, &set->curls[i]->curl);
    }
    if (g.lacks_memory)
        return TCR_E_MEMORY;
    *same = g.size == f->key_size && memcmp(f->key, f->key + f->key_size, g.size) == 0;
    if (!*same) {
        memmove(f->key, f->key + f->key_size, g.size);
        f->key_size = g.size;
    }
    return TCR_OK;
}

/* ---- Room ------------------------------------------------------------------------------------ */

static tcr_status make_room(tcr_figures *f, const tcr_allocator *a, size_t zones, size_t lashes) {
    const size_t cells = zones * TCR_LAYERS, blocks = (lashes + TCR_ROWS - 1) / TCR_ROWS;
    if (cells > f->cell_room) {
        cell *grown = tcr_resize(a, f->cells, cells, sizeof *grown);
        if (grown == NULL)
            return TCR_E_MEMORY;
        f->cells = grown;
        f->cell_room = cells;
    }
    if (blocks > f->block_room) {
        block *grown = tcr_resize(a, f->blocks, blocks, sizeof *grown);
        if (grown == NULL)
            return TCR_E_MEMORY;
        for (size_t b = f->block_room; b < blocks; b++)
            memset(&grown[b], 0, sizeof grown[b]);
        f->blocks = grown;
        f->block_room = blocks;
        f->opening = -1.0; /* no seat is known */
    }
    return TCR_OK;
}

/* Room for loads, all of which are unknown at first. */
static tcr_status make_load_room(const tcr_check *check, tcr_checked_eye *eye, size_t lashes) {
    static const tcr_load none = {NAN, NAN, NAN, NAN, NAN, NAN};
    const tcr_allocator *a = &check->allocator;
    tcr_figures *f = eye->figures;
    if (f->block_room > f->load_room) {
        tcr_load_block *grown = tcr_resize(a, f->loads, f->block_room, sizeof *grown);
        if (grown == NULL)
            return TCR_E_MEMORY;
        memset(&grown[f->load_room], 0, (f->block_room - f->load_room) * sizeof *grown);
        f->loads = grown;
        f->load_room = f->block_room;
    }
    if (lashes > eye->load_room) {
        tcr_load *grown = tcr_resize(a, eye->load, lashes, sizeof *grown);
        if (grown == NULL)
            return TCR_E_MEMORY;
        eye->load = grown;
        eye->load_room = lashes;
    }
    for (size_t i = 0; i < lashes; i++)
        eye->load[i] = none;
    return TCR_OK;
}

static void forget_cells(tcr_figures *f, size_t zones) {
    for (size_t i = 0; i < zones * TCR_LAYERS; i++)
        f->cells[i].known = false;
    for (size_t b = 0; b < f->block_room; b++)
        for (size_t i = 0; i < TCR_ROWS; i++)
            f->blocks[b].cell[i] = NO_CELL;
}

static tcr_status prepare(const tcr_check *check, tcr_checked_eye *eye,
                          const tcr_stored_eye *stored) {
    const tcr_allocator *a = &check->allocator;
    bool same = false;
    if (eye->figures == NULL) {
        eye->figures = tcr_resize(a, NULL, 1, sizeof *eye->figures);
        if (eye->figures == NULL)
            return TCR_E_MEMORY;
        *eye->figures = (tcr_figures){.opening = -1.0};
    }
    tcr_figures *f = eye->figures;
    const size_t blocks = f->block_room;
    tcr_status status = make_room(f, a, stored->map.count, stored->count);
    if (status == TCR_OK)
        status = renew_key(f, check, stored, &same);
    if (status == TCR_OK && tcr_check_keeps_loads(check))
        status = make_load_room(check, eye, stored->count);
    if (status == TCR_OK && (!same || f->block_room > blocks))
        forget_cells(f, stored->map.count);
    const tcr_looking *at = &eye->variant.at;
    /* Doubles alone: bits that differ for equal numbers only mean that the work is done again. */
    /* NOLINTNEXTLINE(bugprone-suspicious-memory-comparison,cert-exp42-c,cert-flp37-c) */
    const bool same_lid = memcmp(&f->lid, &at->lid, sizeof f->lid) == 0;
    if (status == TCR_OK && (f->opening != at->opening || !same_lid)) {
        f->opening = at->opening;
        f->lid = at->lid;
        for (size_t b = 0; b < f->block_room; b++)
            f->blocks[b].seated = 0;
    }
    return status;
}

/* ---- Cells ----------------------------------------------------------------------------------- */

/* What a lash of a cell wears that has no row of its own; as tcr_set_choice, without blending. */
static void find_cell(const tcr_check *check, const tcr_stored_eye *eye, size_t zone,
                      tcr_layer layer, cell *c) {
    const tcr_set *set = check->set;
    c->known = true;
    c->choice = tcr_set_ruled_choice(set, &eye->map, zone, layer);
    c->status = tcr_set_take_length(set, &c->choice);
    if (c->status == TCR_E_TRAY && check->any_length)
        c->status = TCR_OK;
    c->ext = tcr_set_extension(set, &c->choice);
    c->bond = tcr_set_bond_of(set, &c->choice);
    c->fibre = tcr_fibre_of_extension(&c->ext);
    c->weighed = false;
}

/* ---- Rows ------------------------------------------------------------------------------------ */

/* A load that is computed alone, of a lash that lies and stands as 'sight' says. */
static void weigh_alone(tcr_checked_eye *eye, size_t i, const tcr_choice *worn,
                        const tcr_sight *sight) {
    const tcr_variant *v = &eye->variant;
    const tcr_extension ext = tcr_set_extension(v->set, worn);
    const tcr_bond bond = tcr_set_bond_of(v->set, worn);
    eye->load[i] = tcr_usual_load(tcr_set_lash(v->set, v->side, i), &sight->stance,
                                  (tcr_worn){&ext, &bond, &sight->attachment});
}

/* A lash that is evaluated alone, its load too if that is asked for. */
static tcr_status place_alone(const tcr_check *check, tcr_checked_eye *eye, size_t i,
                              const tcr_choice *worn, size_t tip) {
    tcr_variant *v = &eye->variant;
    tcr_sight sight;
    const tcr_status status = tcr_evaluate_worn(&v->at, v->set, tcr_set_lash(v->set, v->side, i),
                                                worn, TCR_ANEW_ALL, &sight);
    if (status != TCR_OK)
        return status;
    v->x_mm[tip] = sight.seen.x;
    v->y_mm[tip] = sight.seen.y;
    if (tcr_check_keeps_loads(check))
        weigh_alone(eye, i, worn, &sight);
    return TCR_OK;
}

/* Rows behind the last are copies of it, up to a whole vector. */
static void fill_up(block *b) {
    const size_t whole = tcr_rows_whole(b->n);
    for (size_t k = b->n; k < whole; k++) {
        tcr_rows_copy(&b->lashes, sizeof b->lashes, k, b->n - 1);
        tcr_rows_copy(&b->worn, sizeof b->worn, k, b->n - 1);
        b->cell[k] = b->cell[b->n - 1];
    }
}

/* The loads of a block whose tips are there. */
static void weigh_block(const tcr_check *check, tcr_checked_eye *eye, const block *b) {
    tcr_figures *f = eye->figures;
    tcr_load_block *l = &f->loads[b - f->blocks];
    for (size_t k = 0; k < tcr_rows_whole(b->n); k++) {
        cell *c = &f->cells[b->cell[k]];
        if (!c->weighed)
            c->borne = tcr_borne_of(&c->ext, &c->fibre, b->worn.most_mm[k]);
        c->weighed = true;
        tcr_borne_row(&l->borne, k, &c->borne);
    }
    tcr_load_rows_n(b->n, &b->lashes, &b->seat, &b->worn, l);
    for (size_t k = 0; k < b->n; k++) {
        if (b->tips.usual[k] != 0.0 && l->borne.usual[k] != 0.0)
            eye->load[b->lash[k]] = tcr_load_in_row(l, k);
        else if (b->tips.usual[k] != 0.0) /* an unusual one has been weighed with its tip */
            (void)place_alone(check, eye, b->lash[k], &f->cells[b->cell[k]].choice, b->tip[k]);
    }
}

static void flush(const tcr_check *check, tcr_checked_eye *eye, block *b) {
    tcr_variant *v = &eye->variant;
    tcr_figures *f = eye->figures;
    const size_t at = (size_t)(b - f->blocks);
    const bool weighs = tcr_check_keeps_loads(check);
    bool touching = false, parted = false;
    fill_up(b);
    for (size_t k = 0; k < b->n; k++) {
        touching |= b->worn.upward[k] != 0.0;
        parted |= b->worn.chord_mm[k] == 0.0;
    }
    if (b->seated != b->n || memcmp(b->seated_u, b->lashes.u, b->n * sizeof *b->seated_u) != 0) {
        tcr_seats_n(&v->at.lid, v->at.opening, b->n, &b->lashes, &b->seat);
        memcpy(b->seated_u, b->lashes.u, sizeof b->seated_u);
        b->seated = b->n;
        if (at < f->load_room)
            f->loads[at].stood = 0;
    }
    if (parted)
        tcr_partings_n(b->n, &b->worn);
    tcr_tip_rows_n(b->n, &b->lashes, &b->seat, &b->worn, touching, &b->tips,
                   weighs ? &f->loads[at].lie : NULL);
    for (size_t k = 0; k < b->n; k++) {
        if (b->tips.usual[k] == 0.0) {
            (void)place_alone(check, eye, b->lash[k], &f->cells[b->cell[k]].choice, b->tip[k]);
            continue;
        }
        const tcr_vec2 seen =
            tcr_project(&v->at, (tcr_vec3){b->tips.x[k], b->tips.y[k], b->tips.z[k]});
        v->x_mm[b->tip[k]] = seen.x;
        v->y_mm[b->tip[k]] = seen.y;
    }
    if (weighs)
        weigh_block(check, eye, b);
}

/* A lash of a cell, which is known to bond. */
static void add_row(tcr_figures *f, block *b, const tcr_lash *lash, size_t c, size_t i,
                    size_t tip) {
    const size_t k = b->n++;
    b->tip[k] = tip;
    b->lash[k] = i;
    tcr_lash_row(&b->lashes, k, lash);
    if (b->cell[k] == c)
        return;
    b->cell[k] = (uint16_t)c;
    tcr_worn_row(&b->worn, k, &f->cells[c].ext, &f->cells[c].fibre, &f->cells[c].bond);
    b->worn.chord_mm[k] = 0.0; /* its parting is to be worked out */
}

/* A lash with a row of its own, or with a length that is blended. Bare lashes stay out. */
static tcr_status place_single(const tcr_check *check, tcr_checked_eye *eye, size_t i,
                               double *length_mm) {
    tcr_variant *v = &eye->variant;
    tcr_choice choice;
    tcr_status status = tcr_set_choice(v->set, v->side, i, &choice);
    if (status == TCR_E_BARE || status == TCR_E_BARE_BY_ROW)
        return TCR_OK;
    if (status == TCR_E_TRAY && check->any_length)
        status = TCR_OK;
    if (status == TCR_E_TRAY)
        *length_mm = choice.length_mm;
    if (status == TCR_OK)
        status = place_alone(check, eye, i, &choice, v->n);
    if (status == TCR_E_BOND && !(tcr_set_wish(v->set, v->side, i)->fixed & TCR_FIX_LENGTH))
        return TCR_OK;
    if (status == TCR_OK)
        eye->layer[v->n++] = tcr_set_lash(v->set, v->side, i)->layer;
    return status;
}

tcr_status tcr_figures_place(const tcr_check *check, tcr_checked_eye *eye, size_t *lash,
                             double *length_mm) {
    tcr_variant *v = &eye->variant;
    const tcr_stored_eye *stored = tcr_set_eye_of(v->set, v->side);
    tcr_status status = prepare(check, eye, stored);
    if (status != TCR_OK)
        return status;
    block *b = eye->figures->blocks;
    b->n = 0;
    for (size_t i = 0; i < stored->count && status == TCR_OK; i++) {
        const tcr_stored_lash *one = &stored->lashes[i];
        *lash = i;
        if (one->wish.fixed != 0 || v->set->layering.blend) {
            status = place_single(check, eye, i, length_mm);
            continue;
        }
        if (one->lash.condition != TCR_SUITABLE)
            continue;
        const size_t zone = tcr_map_zone_at(&stored->map, one->lash.u);
        const size_t at = zone * TCR_LAYERS + (size_t)one->lash.layer;
        cell *c = &eye->figures->cells[at];
        if (!c->known)
            find_cell(check, stored, zone, one->lash.layer, c);
        status = c->status;
        *length_mm = c->choice.length_mm;
        if (status != TCR_OK ||
            tcr_bond_length(&one->lash, c->ext.length_mm, &c->bond) < TCR_BOND_LEAST_MM)
            continue;
        add_row(eye->figures, b, &one->lash, at, i, v->n);
        eye->layer[v->n++] = one->lash.layer;
        if (b->n == TCR_ROWS) {
            flush(check, eye, b++);
            if (b < eye->figures->blocks + eye->figures->block_room)
                b->n = 0;
        }
    }
    if (status == TCR_OK && b < eye->figures->blocks + eye->figures->block_room && b->n > 0)
        flush(check, eye, b);
    return status;
}

void tcr_figures_free(tcr_figures *figures, const tcr_allocator *allocator) {
    if (figures == NULL)
        return;
    tcr_release(allocator, figures->key);
    tcr_release(allocator, figures->cells);
    tcr_release(allocator, figures->blocks);
    tcr_release(allocator, figures->loads);
    tcr_release(allocator, figures);
}
