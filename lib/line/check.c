/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The main job: places every lash of every eye, fits the lines, measures the deviations, and says
 * of staggered lashes what to do. The parts are in intended.c, remedy.c and assume.c.
 */
#include <tipcrest/check.h>

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "line/check_data.h"
#include "model/lash_kernel.h"
#include "model/set_data.h"
#include "num/memory.h"
#include "num/options.h"

void tcr_check_options_init(tcr_check_options *options, size_t size) {
    static const tcr_check_options DEFAULTS = {.against = TCR_FITTED};
    tcr_options_init(options, size, &DEFAULTS, sizeof DEFAULTS);
}

void tcr_check_free(tcr_check *check) {
    if (check == NULL)
        return;
    const tcr_allocator allocator = check->allocator;
    for (int side = 0; side < TCR_SIDES; side++)
        tcr_release(&allocator, check->lash[side]);
    tcr_release(&allocator, check);
}

/* One lash: what it carries, how that lies, where its tip stands. */
static tcr_status place_lash(const tcr_set *set, tcr_side side, size_t i,
                             const tcr_lid_constants *k, const tcr_view *view, tcr_lash_result *r) {
    const tcr_lash *lash = tcr_set_get_lash(set, side, i);
    *r = (tcr_lash_result){.line_mm = NAN, .deviation_mm = NAN, .across_mm = NAN};
    r->stance = tcr_lash_stance_kernel(lash, k, view->opening);
    tcr_status status = tcr_set_choice(set, side, i, &r->choice);
    if (status == TCR_OK) {
        const tcr_extension ext = tcr_set_extension(set, &r->choice);
        status = tcr_attach_kernel(lash, &ext, tcr_set_get_bond(set), &r->attachment);
        if (status == TCR_E_BOND && (tcr_set_get_wish(set, side, i)->fixed & TCR_FIX_LENGTH))
            return status;
    } else if (status != TCR_E_BARE && status != TCR_E_BARE_BY_ROW) {
        return status;
    }
    r->bare = status;
    r->tip = tcr_stance_point_kernel(&r->stance, status == TCR_OK ? r->attachment.tip
                                                                  : tcr_bare_tip_kernel(lash));
    r->seen = tcr_view_project(view, r->tip);
    return TCR_OK;
}

static tcr_status place_all(tcr_check *check, tcr_side side, tcr_check_fault *fault) {
    const tcr_lid_constants k = tcr_lid_prepare(tcr_set_get_lid(check->set, side));
    tcr_eye_result *eye = &check->eye[side];
    for (size_t i = 0; i < eye->lashes; i++) {
        const tcr_status status =
            place_lash(check->set, side, i, &k, &check->view, &check->lash[side][i]);
        if (status != TCR_OK) {
            *fault = (tcr_check_fault){side, i, check->lash[side][i].choice.length_mm};
            return status;
        }
        if (check->lash[side][i].bare == TCR_OK)
            eye->extended++;
    }
    return TCR_OK;
}

static tcr_status columns_new(const tcr_allocator *allocator, size_t n, tcr_check_columns *c) {
    *c = (tcr_check_columns){.n = n};
    c->block = tcr_resize(allocator, NULL, n, 5 * sizeof(double));
    c->lash = tcr_resize(allocator, NULL, n, sizeof *c->lash);
    c->layer = tcr_resize(allocator, NULL, n, sizeof *c->layer);
    c->closed = tcr_resize(allocator, NULL, n, sizeof *c->closed);
    if (c->block == NULL || c->lash == NULL || c->layer == NULL || c->closed == NULL)
        return TCR_E_MEMORY;
    c->x = c->block;
    c->y = c->x + n;
    c->deviation = c->y + n;
    c->across = c->deviation + n;
    c->scratch = c->across + n;
    return TCR_OK;
}

static void columns_free(const tcr_allocator *allocator, tcr_check_columns *c) {
    tcr_release(allocator, c->block);
    tcr_release(allocator, c->lash);
    tcr_release(allocator, c->layer);
    tcr_release(allocator, c->closed);
}

static void fill_columns(const tcr_check *check, tcr_side side, tcr_check_columns *c) {
    size_t j = 0;
    for (size_t i = 0; i < check->eye[side].lashes; i++) {
        const tcr_lash_result *r = &check->lash[side][i];
        if (r->bare != TCR_OK)
            continue;
        c->x[j] = r->seen.x;
        c->y[j] = r->seen.y;
        c->lash[j] = i;
        c->layer[j++] = tcr_set_get_lash(check->set, side, i)->layer;
    }
}

/* The tips as they are with the eye closed, by the same attachments; x and y of the columns stay.
 */
static void close_eye(const tcr_check *check, tcr_side side, const tcr_check_columns *c) {
    const tcr_lid_constants k = tcr_lid_prepare(tcr_set_get_lid(check->set, side));
    for (size_t j = 0; j < c->n; j++) {
        const tcr_lash_result *r = &check->lash[side][c->lash[j]];
        const tcr_stance stance =
            tcr_lash_stance_kernel(tcr_set_get_lash(check->set, side, c->lash[j]), &k, 0.0);
        c->closed[j] = tcr_stance_point_kernel(&stance, r->attachment.tip);
    }
}

/* Layer offsets from the line fitted in a view of the closed eye; overwrites x and y. */
static tcr_status offsets_closed(tcr_named_view name, tcr_check_columns *c,
                                 double offset[TCR_LAYERS]) {
    const tcr_view view = tcr_view_named(name);
    for (size_t j = 0; j < c->n; j++) {
        const tcr_vec2 seen = tcr_view_project(&view, c->closed[j]);
        c->x[j] = seen.x;
        c->y[j] = seen.y;
    }
    tcr_line line;
    tcr_evenness evenness;
    tcr_status status = tcr_line_fit(c->x, c->y, c->n, NULL, c->scratch, &line);
    if (status == TCR_OK)
        status = tcr_line_evenness(&line, c->x, c->y, c->layer, c->n, 1.0, c->deviation, c->across,
                                   c->scratch, &evenness);
    if (status == TCR_OK)
        memcpy(offset, evenness.layer_offset_mm, sizeof evenness.layer_offset_mm);
    return status;
}

/* A line that does not exist is a finding, not a failure. */
static bool is_finding(tcr_status status) {
    return status == TCR_OK || status == TCR_E_FEW || status == TCR_E_ONE_X || status == TCR_E_BOND;
}

/* Writes the deviations from the chosen line to the lashes and marks the staggered ones. */
static void spread_deviations(tcr_check *check, tcr_side side, const tcr_line *line,
                              const tcr_check_columns *c) {
    const double tolerance = tcr_set_get_tolerance(check->set);
    tcr_eye_result *eye = &check->eye[side];
    for (size_t j = 0; j < c->n; j++) {
        tcr_lash_result *r = &check->lash[side][c->lash[j]];
        r->line_mm = tcr_line_at(line, c->x[j]);
        r->deviation_mm = c->deviation[j];
        r->across_mm = c->across[j];
        r->staggered = fabs(r->deviation_mm) > tolerance;
        if (!r->staggered)
            continue;
        eye->staggered++;
        r->remedy = tcr_check_remedy(check->set, side, c->lash[j], r, &check->view, line);
    }
}

/* One line's figures; where it is the one that was asked for, the lashes' too. */
static tcr_status measure(tcr_check *check, tcr_side side, tcr_against which,
                          tcr_check_columns *c) {
    tcr_eye_result *eye = &check->eye[side];
    const bool fitted = which == TCR_FITTED;
    tcr_line *line = fitted ? &eye->fitted_line : &eye->intended_line;
    tcr_status *why = fitted ? &eye->fitted_status : &eye->intended_status;
    if (fitted)
        *why = tcr_line_fit(c->x, c->y, c->n, NULL, c->scratch, line);
    else
        *why =
            c->n == 0 ? TCR_E_FEW : tcr_check_intended_line(check->set, side, &check->view, line);
    if (*why != TCR_OK)
        return is_finding(*why) ? TCR_OK : *why;
    const tcr_status status = tcr_line_evenness(
        line, c->x, c->y, c->layer, c->n, tcr_set_get_tolerance(check->set), c->deviation,
        c->across, c->scratch, fitted ? &eye->fitted : &eye->intended);
    if (status == TCR_OK && which == check->against)
        spread_deviations(check, side, line, c);
    return status;
}

/* The open front is the view of the check itself; the other two look at the closed eye. */
static tcr_status measure_views(tcr_check *check, tcr_side side, tcr_check_columns *c) {
    tcr_eye_result *eye = &check->eye[side];
    for (int v = 0; v < TCR_VIEWS; v++)
        for (int j = 0; j < TCR_LAYERS; j++)
            eye->view_offset_mm[v][j] = NAN;
    eye->view_status[TCR_OPEN_FRONT] = eye->fitted_status;
    if (eye->fitted_status == TCR_OK)
        memcpy(eye->view_offset_mm[TCR_OPEN_FRONT], eye->fitted.layer_offset_mm,
               sizeof eye->fitted.layer_offset_mm);
    close_eye(check, side, c);
    for (int v = TCR_CLOSED_FRONT; v <= TCR_ARTIST; v++) {
        eye->view_status[v] = offsets_closed((tcr_named_view)v, c, eye->view_offset_mm[v]);
        if (!is_finding(eye->view_status[v]))
            return eye->view_status[v];
    }
    return TCR_OK;
}

static tcr_status check_eye(tcr_check *check, tcr_side side, tcr_check_fault *fault) {
    tcr_eye_result *eye = &check->eye[side];
    *fault = (tcr_check_fault){side, SIZE_MAX, 0.0};
    *eye = (tcr_eye_result){.side = side, .lashes = tcr_set_lash_count(check->set, side)};
    size_t zones, repeated;
    (void)tcr_set_get_map(check->set, side, &zones);
    if (eye->lashes == 0 || zones == 0)
        return zones == 0 ? TCR_E_MAP : TCR_E_MISSING;
    tcr_status status = tcr_set_find_duplicate(check->set, side, &repeated);
    if (status == TCR_E_DUPLICATE)
        fault->lash = repeated;
    if (status != TCR_OK)
        return status;
    check->lash[side] = tcr_resize(&check->allocator, NULL, eye->lashes, sizeof(tcr_lash_result));
    if (check->lash[side] == NULL)
        return TCR_E_MEMORY;
    eye->lash = check->lash[side];
    status = place_all(check, side, fault);
    if (status != TCR_OK)
        return status;
    eye->too_few = eye->extended < TCR_TOO_FEW;

    tcr_check_columns columns;
    status = columns_new(&check->allocator, eye->extended, &columns);
    if (status == TCR_OK) {
        fill_columns(check, side, &columns);
        eye->largest_gap_mm = tcr_line_largest_gap(columns.x, columns.n, columns.scratch);
        status = measure(check, side, TCR_FITTED, &columns);
    }
    if (status == TCR_OK)
        status = measure(check, side, TCR_INTENDED, &columns);
    if (status == TCR_OK)
        status = measure_views(check, side, &columns);
    columns_free(&check->allocator, &columns);
    if (status == TCR_OK)
        tcr_check_assumptions(check->set, side, &check->view, eye);
    return status;
}

static void measure_symmetry(tcr_check *check) {
    const tcr_eye_result *left = &check->eye[TCR_LEFT], *right = &check->eye[TCR_RIGHT];
    if (!check->present[TCR_LEFT] || !check->present[TCR_RIGHT])
        check->symmetry_status = TCR_E_MISSING;
    else if (left->fitted_status != TCR_OK || right->fitted_status != TCR_OK)
        check->symmetry_status = TCR_E_FEW;
    else
        check->symmetry_status =
            tcr_line_symmetry(&left->fitted_line, &right->fitted_line, &check->symmetry);
}

static tcr_status take_options(const tcr_check_options *given, tcr_check_options *o) {
    *o = tcr_check_options_default();
    const tcr_status status = tcr_options_take(o, sizeof *o, given);
    if (status != TCR_OK || (o->against != TCR_FITTED && o->against != TCR_INTENDED))
        return TCR_E_ARGUMENT;
    return o->has_view ? tcr_view_check(&o->view, NULL) : TCR_OK;
}

tcr_status tcr_check_new(const tcr_set *set, const tcr_check_options *options, tcr_check **out,
                         tcr_check_fault *fault) {
    tcr_check_options o;
    tcr_check_fault local;
    if (fault == NULL)
        fault = &local;
    *fault = (tcr_check_fault){TCR_LEFT, SIZE_MAX, 0.0};
    tcr_status status = take_options(options, &o);
    if (set == NULL || out == NULL || status != TCR_OK)
        return set == NULL || out == NULL ? TCR_E_ARGUMENT : status;
    if (!tcr_set_has_eye(set, TCR_LEFT) && !tcr_set_has_eye(set, TCR_RIGHT))
        return TCR_E_MISSING;
    tcr_check *check = tcr_resize(&set->allocator, NULL, 1, sizeof *check);
    if (check == NULL)
        return TCR_E_MEMORY;
    *check = (tcr_check){.set = set,
                         .allocator = set->allocator,
                         .view = o.has_view ? o.view : set->view,
                         .against = o.against};
    for (int side = 0; side < TCR_SIDES && status == TCR_OK; side++) {
        check->present[side] = tcr_set_has_eye(set, (tcr_side)side);
        if (check->present[side])
            status = check_eye(check, (tcr_side)side, fault);
    }
    if (status != TCR_OK) {
        tcr_check_free(check);
        return status;
    }
    measure_symmetry(check);
    *out = check;
    return TCR_OK;
}

const tcr_set *tcr_check_set(const tcr_check *check) { return check != NULL ? check->set : NULL; }

tcr_view tcr_check_view(const tcr_check *check) {
    return check != NULL ? check->view : tcr_view_named(TCR_OPEN_FRONT);
}

tcr_against tcr_check_against(const tcr_check *check) {
    return check != NULL ? check->against : TCR_FITTED;
}

const tcr_eye_result *tcr_check_eye(const tcr_check *check, tcr_side side) {
    if (check == NULL || (int)side < 0 || (int)side >= TCR_SIDES || !check->present[side])
        return NULL;
    return &check->eye[side];
}

tcr_status tcr_check_symmetry(const tcr_check *check, tcr_symmetry *symmetry) {
    if (check == NULL || symmetry == NULL)
        return TCR_E_ARGUMENT;
    if (check->symmetry_status == TCR_OK)
        *symmetry = check->symmetry;
    return check->symmetry_status;
}
