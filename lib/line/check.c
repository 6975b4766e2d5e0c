/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The main job: places every lash of every eye, then computes the parts that were asked for: lines
 * and deviations, views, remedies, assumptions. The parts are in intended.c, remedy.c and assume.c.
 */
#include <tipcrest/check.h>

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "line/check_data.h"
#include "line/figures.h"
#include "line/fit.h"
#include "model/set_data.h"
#include "num/error.h"
#include "num/memory.h"
#include "num/number.h"
#include "num/options.h"
#include "num/range.h"

void tcr_check_options_init(tcr_check_options *options, size_t size) {
    const tcr_check_options defaults = {
        .against = TCR_FITTED, .parts = TCR_PART_ALL, .tolerance_mm = NAN};
    tcr_options_init(options, size, &defaults, sizeof defaults);
}

static void free_eye(const tcr_allocator *allocator, tcr_checked_eye *eye) {
    tcr_variant *v = &eye->variant;
    void *const blocks[] = {eye->lash,    v->index,   v->worn,        v->sight,
                            v->x_mm,      v->y_mm,    eye->deviation, eye->across,
                            eye->scratch, eye->layer, eye->load};
    for (size_t i = 0; i < sizeof blocks / sizeof *blocks; i++)
        tcr_release(allocator, blocks[i]);
    tcr_figures_free(eye->figures, allocator);
}

void tcr_check_free(tcr_check *check) {
    if (check == NULL)
        return;
    const tcr_allocator allocator = check->allocator;
    for (int side = 0; side < TCR_SIDES; side++) {
        free_eye(&allocator, &check->eye[side]);
        tcr_intended_free(&check->intended[side], &allocator);
    }
    tcr_release(&allocator, check);
}

/* Resizes an array in place; false where there is no memory, and the array is as it was. */
static bool resize(const tcr_allocator *allocator, void *array, size_t n, size_t size) {
    void *old, *grown;
    memcpy(&old, array, sizeof old);
    grown = tcr_resize(allocator, old, n, size);
    if (grown != NULL)
        memcpy(array, &grown, sizeof grown);
    return grown != NULL;
}

/* Room for n lashes. */
static tcr_status make_room(const tcr_allocator *a, tcr_checked_eye *eye, size_t n) {
    tcr_variant *v = &eye->variant;
    if (n <= eye->room)
        return TCR_OK;
    const bool whole =
        resize(a, &eye->lash, n, sizeof *eye->lash) && resize(a, &v->index, n, sizeof *v->index) &&
        resize(a, &v->worn, n, sizeof *v->worn) && resize(a, &v->sight, n, sizeof *v->sight) &&
        resize(a, &v->x_mm, n, sizeof *v->x_mm) && resize(a, &v->y_mm, n, sizeof *v->y_mm) &&
        resize(a, &eye->deviation, n, sizeof *eye->deviation) &&
        resize(a, &eye->across, n, sizeof *eye->across) &&
        resize(a, &eye->scratch, n, sizeof *eye->scratch) &&
        resize(a, &eye->layer, n, sizeof *eye->layer);
    if (whole)
        eye->room = n;
    return whole ? TCR_OK : TCR_E_MEMORY;
}

/* One lash: what it wears, how that lies, where its tip stands. */
static tcr_status place_lash(const tcr_check *check, tcr_checked_eye *eye, size_t i) {
    tcr_variant *v = &eye->variant;
    const tcr_lash *lash = tcr_set_lash(v->set, v->side, i);
    tcr_lash_result *r = &eye->lash[i];
    tcr_sight *sight = &v->sight[v->n];
    *r = (tcr_lash_result){
        .line_mm = NAN, .deviation_mm = NAN, .across_mm = NAN, .remedy = {NAN, NAN, 0}};
    r->status = tcr_set_choice(v->set, v->side, i, &r->choice);
    if (r->status == TCR_E_TRAY && check->any_length)
        r->status = TCR_OK; /* the choice has the length that the rule gives */
    if (r->status == TCR_OK)
        r->status = tcr_evaluate_worn(&v->at, v->set, lash, &r->choice, TCR_ANEW_ALL, sight);
    else if (r->status != TCR_E_BARE && r->status != TCR_E_BARE_BY_ROW)
        return r->status;
    if (r->status == TCR_E_BOND && (tcr_set_wish(v->set, v->side, i)->fixed & TCR_FIX_LENGTH))
        return r->status;
    if (r->status == TCR_OK)
        r->attachment = sight->attachment;
    else
        (void)tcr_evaluate(&v->at, lash, NULL, NULL, TCR_ANEW_ALL, sight);
    r->stance = sight->stance;
    r->tip = sight->tip;
    r->seen = sight->seen;
    if (r->status != TCR_OK)
        return TCR_OK;
    v->index[v->n] = i;
    v->worn[v->n] = r->choice;
    v->x_mm[v->n] = sight->seen.x;
    v->y_mm[v->n] = sight->seen.y;
    eye->layer[v->n++] = lash->layer;
    return TCR_OK;
}

/* A lash that cannot be placed. */
static tcr_status refuse_lash(const tcr_check *check, tcr_error *error, tcr_status status,
                              const tcr_checked_eye *eye, size_t i, double length_mm) {
    if (status == TCR_E_TRAY) {
        char length[TCR_NUMBER_SIZE];
        tcr_number_text(length_mm, length);
        tcr_error_set(error, status, "length_mm is %s by the rule, %s", length,
                      check->set->tray.count > 0 ? "which the tray lacks"
                                                 : "which no extension has (3 to 30 mm)");
        tcr_error_number(error, "length_mm", length_mm, NAN, NAN);
    } else
        tcr_error_status(error, status);
    error->side = (int)eye->variant.side;
    error->lash = i;
    return status;
}

static tcr_status place_all(const tcr_check *check, tcr_checked_eye *eye, tcr_error *error) {
    eye->blank = 0;
    for (size_t i = 0; i < eye->result.lashes; i++) {
        const tcr_status status = place_lash(check, eye, i);
        if (status != TCR_OK)
            return refuse_lash(check, error, status, eye, i, eye->lash[i].choice.length_mm);
    }
    return TCR_OK;
}

/* Results of lashes that nothing is known of; they stay from run to run. */
static void blank_results(tcr_checked_eye *eye) {
    const tcr_vec3 none = tcr_vec3_none();
    for (; eye->blank < eye->result.lashes; eye->blank++)
        eye->lash[eye->blank] =
            (tcr_lash_result){.status = TCR_E_MISSING,
                              .stance = {none, none, none, none},
                              .attachment = {.base = none, .part = none, .tip = none},
                              .tip = none,
                              .seen = {NAN, NAN},
                              .line_mm = NAN,
                              .deviation_mm = NAN,
                              .across_mm = NAN,
                              .remedy = {NAN, NAN, 0}};
}

/* The same for figures alone. */
static tcr_status place_figures(const tcr_check *check, tcr_checked_eye *eye, tcr_error *error) {
    size_t lash = 0;
    double length_mm = NAN;
    const tcr_status status = tcr_figures_place(check, eye, &lash, &length_mm);
    blank_results(eye);
    return status == TCR_OK || status == TCR_E_MEMORY
               ? status
               : refuse_lash(check, error, status, eye, lash, length_mm);
}

/* Writes the deviations from the chosen line to the lashes and marks the staggered ones. */
static void give_deviations(const tcr_check *check, tcr_checked_eye *eye, const tcr_line *line) {
    const tcr_variant *v = &eye->variant;
    double slope = 0.8; /* a first guess, as seen from the front */
    for (size_t j = 0; j < v->n; j++) {
        if (check->figures_only) {
            eye->result.staggered += fabs(eye->deviation[j]) > check->tolerance_mm;
            continue;
        }
        tcr_lash_result *r = &eye->lash[v->index[j]];
        r->line_mm = v->y_mm[j] - eye->deviation[j];
        r->deviation_mm = eye->deviation[j];
        r->across_mm = eye->across[j];
        r->staggered = fabs(r->deviation_mm) > check->tolerance_mm;
        eye->result.staggered += r->staggered;
        if (r->staggered && (check->parts & TCR_PART_REMEDIES))
            r->remedy = tcr_check_remedy(eye, j, r, line, check->tolerance_mm, &slope);
    }
}

/* The line through the tips as they stand in the columns, and their figures. */
static tcr_status fit(const tcr_check *check, tcr_checked_eye *eye, tcr_line *line,
                      tcr_evenness *evenness) {
    const tcr_variant *v = &eye->variant;
    const tcr_status status =
        tcr_line_fit(v->x_mm, v->y_mm, v->n, &check->line, eye->scratch, line);
    return status != TCR_OK
               ? status
               : tcr_line_evenness(line, v->x_mm, v->y_mm, eye->layer, v->n, check->tolerance_mm,
                                   eye->deviation, eye->across, eye->scratch, evenness);
}

static void measure_fitted(const tcr_check *check, tcr_checked_eye *eye) {
    tcr_eye_result *result = &eye->result;
    result->fitted_status = fit(check, eye, &result->fitted_line, &result->fitted);
    if (result->fitted_status == TCR_OK && check->against == TCR_FITTED)
        give_deviations(check, eye, &result->fitted_line);
}

static tcr_status measure_intended(tcr_check *check, tcr_checked_eye *eye) {
    const tcr_variant *v = &eye->variant;
    tcr_eye_result *result = &eye->result;
    result->intended_status = TCR_E_FEW;
    if (v->n == 0)
        return TCR_OK;
    tcr_side sides[TCR_SIDES];
    const bool shared = tcr_intended_sides(v->set, v->side, sides) > 1;
    tcr_intended *intended = &check->intended[shared ? TCR_LEFT : v->side];
    const tcr_status status =
        tcr_intended_renew(intended, &check->allocator, v->set, v->side, &check->view);
    result->intended_status = intended->status;
    if (status != TCR_OK || result->intended_status != TCR_OK)
        return status;
    result->intended_line = intended->line;
    result->intended_status = tcr_line_evenness(
        &result->intended_line, v->x_mm, v->y_mm, eye->layer, v->n, check->tolerance_mm,
        eye->deviation, eye->across, eye->scratch, &result->intended);
    if (result->intended_status == TCR_OK && check->against == TCR_INTENDED)
        give_deviations(check, eye, &result->intended_line);
    return TCR_OK;
}

/* Layer offsets with the eye closed, each from the line fitted in that view. */
static void measure_closed(const tcr_check *check, tcr_checked_eye *eye, tcr_named_view name) {
    tcr_variant *v = &eye->variant;
    tcr_eye_result *result = &eye->result;
    const tcr_view view = tcr_view_named(name);
    tcr_line line;
    tcr_evenness evenness;
    const unsigned anew = v->at.opening != view.opening ? TCR_ANEW_OPENING : 0;
    tcr_look_from(&v->at, &view);
    (void)tcr_variant_evaluate(v, NULL, NULL, anew); /* what is attached stays so */
    result->view_status[name] = fit(check, eye, &line, &evenness);
    if (result->view_status[name] == TCR_OK)
        memcpy(result->view_offset_mm[name], evenness.layer_offset_mm,
               sizeof evenness.layer_offset_mm);
}

/* The open front is the view of the check itself; the other two look at the closed eye. */
static void measure_views(const tcr_check *check, tcr_checked_eye *eye) {
    tcr_eye_result *result = &eye->result;
    result->view_status[TCR_OPEN_FRONT] = result->fitted_status;
    if (result->fitted_status == TCR_OK)
        memcpy(result->view_offset_mm[TCR_OPEN_FRONT], result->fitted.layer_offset_mm,
               sizeof result->fitted.layer_offset_mm);
    measure_closed(check, eye, TCR_CLOSED_FRONT);
    measure_closed(check, eye, TCR_ARTIST);
    tcr_look_from(&eye->variant.at, &check->view);
}

/* From how near the layer offsets show. */
static void measure_distances(tcr_eye_result *result) {
    for (int v = 0; v < TCR_VIEWS; v++)
        for (int j = 0; j < TCR_LAYERS; j++)
            result->view_shows_from_mm[v][j] = tcr_distance_of(fabs(result->view_offset_mm[v][j]));
}

static tcr_verdict verdict_on(const tcr_check *check, const tcr_eye_result *result) {
    const bool fitted = check->against == TCR_FITTED;
    const tcr_status line = fitted ? result->fitted_status : result->intended_status;
    return line != TCR_OK || (fitted && result->too_few)
               ? TCR_NOT_JUDGED
               : tcr_verdict_of(result->extended, result->staggered);
}

static tcr_status begin_eye(tcr_check *check, tcr_side side, tcr_error *error) {
    tcr_checked_eye *eye = &check->eye[side];
    const tcr_stored_eye *of = tcr_set_eye_of(check->set, side);
    eye->result = (tcr_eye_result){.side = side,
                                   .lashes = of->count,
                                   .fitted_status = TCR_E_MISSING,
                                   .intended_status = TCR_E_MISSING};
    for (int v = 0; v < TCR_VIEWS; v++) {
        eye->result.view_status[v] = TCR_E_MISSING;
        for (int j = 0; j < TCR_LAYERS; j++)
            eye->result.view_offset_mm[v][j] = NAN;
    }
    if (of->count == 0 || of->map.count == 0)
        return of->map.count == 0 ? TCR_E_MAP : TCR_E_MISSING;
    size_t repeated;
    const tcr_status status = tcr_set_find_duplicate(check->set, side, &repeated);
    if (status == TCR_E_DUPLICATE) {
        tcr_error_status(error, status);
        error->lash = repeated;
    }
    return status == TCR_OK ? make_room(&check->allocator, eye, of->count) : status;
}

static tcr_status check_eye(tcr_check *check, tcr_side side, tcr_error *error) {
    tcr_checked_eye *eye = &check->eye[side];
    tcr_eye_result *result = &eye->result;
    tcr_status status = begin_eye(check, side, error);
    if (status != TCR_OK)
        return status;
    tcr_variant *v = &eye->variant;
    v->set = check->set;
    v->side = side;
    v->at = tcr_looking_at(tcr_set_lid(check->set, side), &check->view);
    v->n = 0;
    status = check->figures_only ? place_figures(check, eye, error) : place_all(check, eye, error);
    if (status != TCR_OK)
        return status;
    result->lash = eye->lash;
    result->extended = v->n;
    result->too_few = v->n < TCR_TOO_FEW;
    result->largest_gap_mm = tcr_line_largest_gap(v->x_mm, v->n, eye->scratch);
    if (check->parts & TCR_PART_FITTED)
        measure_fitted(check, eye);
    if (check->parts & TCR_PART_INTENDED)
        status = measure_intended(check, eye);
    if (check->parts & TCR_PART_VIEWS)
        measure_views(check, eye);
    measure_distances(result);
    result->verdict = verdict_on(check, result);
    if (check->parts & TCR_PART_ASSUMPTIONS)
        tcr_check_assumptions(eye);
    return status;
}

static void measure_symmetry(tcr_check *check) {
    const tcr_eye_result *left = &check->eye[TCR_LEFT].result,
                         *right = &check->eye[TCR_RIGHT].result;
    if (!check->eye[TCR_LEFT].present || !check->eye[TCR_RIGHT].present)
        check->symmetry_status = TCR_E_MISSING;
    else if (left->fitted_status != TCR_OK || right->fitted_status != TCR_OK)
        check->symmetry_status = TCR_E_FEW;
    else
        check->symmetry_status =
            tcr_line_symmetry(&left->fitted_line, &right->fitted_line, &check->symmetry);
}

/* The parts that were asked for, and those that they need. */
static unsigned with_needed(unsigned parts, tcr_against against) {
    const unsigned line = against == TCR_FITTED ? TCR_PART_FITTED : TCR_PART_INTENDED;
    return parts | line | (parts & TCR_PART_VIEWS ? TCR_PART_FITTED : 0u);
}

/* Whether parts need no result of a single lash. */
static bool takes_figures(unsigned parts) {
    return (parts & ~(unsigned)(TCR_PART_FITTED | TCR_PART_INTENDED | TCR_PART_LOADS)) == 0;
}

static tcr_status refuse_parts(unsigned parts, tcr_error *error) {
    tcr_error_set(error, TCR_E_ARGUMENT,
                  "with figures_only parts may be TCR_PART_FITTED, TCR_PART_INTENDED and "
                  "TCR_PART_LOADS");
    tcr_error_number(error, "parts", parts, NAN, NAN);
    return TCR_E_ARGUMENT;
}

/* Puts options, checked, into a check. */
static tcr_status take_options(const tcr_set *set, const tcr_check_options *given, tcr_check *check,
                               tcr_error *error) {
    tcr_check_options o = tcr_check_options_default();
    tcr_line_options line = tcr_line_options_default();
    tcr_status status = tcr_options_take(&o, sizeof o, given);
    if (status == TCR_OK)
        status = tcr_line_options_take(o.line, &line, error);
    if (status == TCR_OK && o.against != TCR_FITTED && o.against != TCR_INTENDED)
        return tcr_error_range(error, TCR_E_ARGUMENT, "against", (int)o.against, TCR_FITTED,
                               TCR_INTENDED);
    if (status == TCR_OK && (o.parts & ~(unsigned)TCR_PART_ALL))
        return tcr_error_range(error, TCR_E_ARGUMENT, "parts", o.parts, 0.0, TCR_PART_ALL);
    if (status == TCR_OK && o.figures_only && !takes_figures(o.parts))
        return refuse_parts(o.parts, error);
    if (status != TCR_OK)
        return status;
    tcr_line_rule rule = tcr_line_rule_default();
    if (!isnan(o.tolerance_mm))
        rule.tolerance_mm = o.tolerance_mm;
    status = tcr_line_rule_validate(&rule, error);
    if (status == TCR_OK && o.has_view)
        status = tcr_view_validate(&o.view, error);
    if (status != TCR_OK)
        return status;
    check->view = o.has_view ? o.view : set->view;
    check->against = o.against;
    check->parts = with_needed(o.parts, o.against);
    check->line = line;
    check->tolerance_mm = isnan(o.tolerance_mm) ? tcr_set_tolerance(set) : o.tolerance_mm;
    check->any_length = o.any_length;
    check->figures_only = o.figures_only;
    return TCR_OK;
}

/* Evaluates the set of a check by its options. */
static tcr_status run(tcr_check *check, tcr_error *error) {
    tcr_status status = tcr_set_eyes(check->set, NULL) > 0 ? TCR_OK : TCR_E_MISSING;
    for (int side = 0; side < TCR_SIDES && status == TCR_OK; side++) {
        if (!tcr_set_has_eye(check->set, (tcr_side)side))
            continue;
        status = check_eye(check, (tcr_side)side, error);
        if (status != TCR_OK && error->status != status)
            tcr_error_status(error, status);
        if (status != TCR_OK)
            error->side = side;
    }
    return status;
}

tcr_status tcr_check_again(tcr_check *check, const tcr_set *set, const tcr_check_options *options,
                           tcr_error *error) {
    tcr_error own; /* handed on where the call fails */
    own.status = TCR_OK;
    tcr_status status = check != NULL && set != NULL ? TCR_OK : TCR_E_ARGUMENT;
    if (status == TCR_OK) {
        check->set = set; /* also where the call fails: the one before may be gone */
        check->changes = set->changes;
        status = take_options(set, options, check, &own);
    }
    if (status == TCR_OK)
        status = run(check, &own);
    if (status != TCR_OK && own.status != status)
        tcr_error_status(&own, status);
    if (status != TCR_OK && error != NULL)
        *error = own;
    if (check == NULL || set == NULL)
        return status;
    for (int side = 0; side < TCR_SIDES; side++)
        check->eye[side].present = status == TCR_OK && tcr_set_has_eye(set, (tcr_side)side);
    measure_symmetry(check);
    return status;
}

tcr_status tcr_check_new(const tcr_set *set, const tcr_check_options *options, tcr_check **out,
                         tcr_error *error) {
    if (set == NULL || out == NULL)
        return tcr_error_status(error, TCR_E_ARGUMENT);
    tcr_check *check = tcr_resize(&set->allocator, NULL, 1, sizeof *check);
    if (check == NULL)
        return tcr_error_status(error, TCR_E_MEMORY);
    *check = (tcr_check){.allocator = set->allocator};
    const tcr_status status = tcr_check_again(check, set, options, error);
    if (status != TCR_OK) {
        tcr_check_free(check);
        return status;
    }
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

unsigned tcr_check_parts(const tcr_check *check) { return check != NULL ? check->parts : 0; }

double tcr_check_tolerance(const tcr_check *check) {
    return check != NULL ? check->tolerance_mm : NAN;
}

const tcr_eye_result *tcr_check_eye(const tcr_check *check, tcr_side side) {
    if (check == NULL || (int)side < 0 || (int)side >= TCR_SIDES || !check->eye[side].present)
        return NULL;
    return check->set->changes == check->changes ? &check->eye[side].result : NULL;
}

tcr_status tcr_check_symmetry(const tcr_check *check, tcr_symmetry *symmetry) {
    if (check == NULL || symmetry == NULL)
        return TCR_E_ARGUMENT;
    if (tcr_check_eye(check, TCR_LEFT) == NULL || tcr_check_eye(check, TCR_RIGHT) == NULL)
        return TCR_E_MISSING;
    if (check->symmetry_status == TCR_OK)
        *symmetry = check->symmetry;
    return check->symmetry_status;
}
