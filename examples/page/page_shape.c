/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shapes to draw, in millimetres: lashes, lids, lines, and the profile of the mean lashes. */
#include "page.h"

#include <math.h>
#include <string.h>

/* A hair is a row of points with its half width at each: x, y, half. */
enum { NATURAL_POINTS = 9, FIBRE_POINTS = 15, NUMBERS_A_POINT = 3, LASH_HEAD = 6 };
enum { NATURAL_NUMBERS = NATURAL_POINTS * NUMBERS_A_POINT };
enum { FIBRE_NUMBERS = FIBRE_POINTS * NUMBERS_A_POINT };
enum { CONTOUR_POINTS = 49, LINE_POINTS = 61 };

/* From which side it is looked at: in the view of a check, or from the temple. */
typedef struct page_eye_point {
    tcr_view view;
    bool profile;
} page_eye_point;

static tcr_vec2 seen(const page_eye_point *from, tcr_vec3 p) {
    return from->profile ? (tcr_vec2){p.z, p.y} : tcr_view_project(&from->view, p);
}

/* A lash with what it wears. */
typedef struct page_lash {
    const tcr_lash *lash;
    tcr_stance stance;
    const tcr_attachment *attachment; /* NULL where it is bare */
    tcr_extension extension;
} page_lash;

static double *put_point(double *out, tcr_vec2 p, double half) {
    *out++ = p.x;
    *out++ = p.y;
    *out++ = half;
    return out;
}

static double *put_natural(double *out, const page_lash *of, const page_eye_point *from) {
    const tcr_profile profile = tcr_lash_profile(of->lash);
    for (int i = 0; i < NATURAL_POINTS; i++) {
        const double s = of->lash->length_mm * i / (NATURAL_POINTS - 1);
        const tcr_arc_point p = tcr_profile_at(&profile, of->lash->length_mm, s);
        const tcr_vec3 at = tcr_stance_point(&of->stance, (tcr_vec3){p.x, p.y, 0});
        out = put_point(out, seen(from, at), tcr_lash_diameter(of->lash, s) / 2);
    }
    return out;
}

/* A fibre keeps its diameter over the first half and runs out to a tenth (model.md, section 9). */
static double *put_fibre(double *out, const page_lash *of, int fibre, const page_eye_point *from) {
    for (int i = 0; i < FIBRE_POINTS; i++) {
        const double share = (double)i / (FIBRE_POINTS - 1);
        const tcr_vec3 local = tcr_attachment_fibre(of->attachment, &of->extension, fibre,
                                                    share * of->extension.length_mm);
        const double taper = share <= 0.5 ? 1 : 1 - 1.8 * (share - 0.5);
        out = put_point(out, seen(from, tcr_stance_point(&of->stance, local)),
                        of->extension.diameter_mm * taper / 2);
    }
    return out;
}

/* How many numbers a lash takes. */
static size_t lash_numbers(int fibres) {
    return LASH_HEAD + NATURAL_NUMBERS + (size_t)fibres * FIBRE_NUMBERS;
}

/* layer, fibres, whether it sticks out, tip x, tip y, deviation; then the hairs. */
static double *put_lash(double *out, const page_lash *of, const tcr_lash_result *result,
                        tcr_vec3 tip, const page_eye_point *from) {
    const int fibres = of->attachment != NULL ? of->extension.fan : 0;
    const tcr_vec2 at = seen(from, tip);
    *out++ = of->lash->layer;
    *out++ = fibres;
    *out++ = result != NULL && result->staggered;
    *out++ = at.x;
    *out++ = at.y;
    *out++ = result != NULL ? result->deviation_mm : NAN;
    out = put_natural(out, of, from);
    for (int fibre = 0; fibre < fibres; fibre++)
        out = put_fibre(out, of, fibre, from);
    return out;
}

/* All lashes of an eye in the view of its check: a lash after the other, their number first. */
const double *PAGE(page_lashes)(int slot, int side) {
    const tcr_check *check = page_check(slot);
    const tcr_set *set = page_set(slot);
    const tcr_eye_result *eye = tcr_check_eye(check, (tcr_side)side);
    const page_eye_point from = {.view = tcr_check_view(check)};
    size_t count = 1;
    for (size_t i = 0; eye != NULL && i < eye->lashes; i++)
        count += lash_numbers(eye->lash[i].status == TCR_OK ? eye->lash[i].choice.fan : 0);
    double *all = page_numbers(count), *out = all;
    if (eye == NULL || all == NULL)
        return NULL;
    *out++ = (double)eye->lashes;
    for (size_t i = 0; i < eye->lashes; i++) {
        const tcr_lash_result *result = &eye->lash[i];
        page_lash lash = {.lash = tcr_set_lash(set, (tcr_side)side, i), .stance = result->stance};
        if (result->status == TCR_OK) {
            lash.attachment = &result->attachment;
            lash.extension = tcr_set_extension(set, &result->choice);
        }
        out = put_lash(out, &lash, result, result->tip, &from);
    }
    return all;
}

/* The edge of the upper lid at an opening, as seen: x, y of each point from corner to corner. */
const double *PAGE(page_margin)(int slot, int side, double opening) {
    const tcr_lid *lid = tcr_set_lid(page_set(slot), (tcr_side)side);
    const page_eye_point from = {.view = tcr_check_view(page_check(slot))};
    double *all = page_numbers((size_t)2 * CONTOUR_POINTS), *out = all;
    for (int i = 0; lid != NULL && all != NULL && i < CONTOUR_POINTS; i++) {
        tcr_vec3 point;
        if (tcr_lid_margin(lid, (double)i / (CONTOUR_POINTS - 1), opening, &point) != TCR_OK)
            return NULL;
        const tcr_vec2 p = seen(&from, point);
        *out++ = p.x;
        *out++ = p.y;
    }
    return lid != NULL ? all : NULL;
}

/* The fitted (0) or intended (1) line of an eye: x, y of each point. NULL where there is none. */
const double *PAGE(page_line)(int slot, int side, int which) {
    const tcr_eye_result *eye = tcr_check_eye(page_check(slot), (tcr_side)side);
    double *all = page_numbers((size_t)2 * LINE_POINTS), *out = all;
    if (eye == NULL || all == NULL || (which ? eye->intended_status : eye->fitted_status) != TCR_OK)
        return NULL;
    const tcr_line *line = which ? &eye->intended_line : &eye->fitted_line;
    for (int i = 0; i < LINE_POINTS; i++) {
        const double share = (double)i / (LINE_POINTS - 1);
        const double x = line->x_min_mm + share * (line->x_max_mm - line->x_min_mm);
        *out++ = x;
        *out++ = tcr_line_at(line, x);
    }
    return all;
}

/* ---- The profile ----------------------------------------------------------------------------- */

/* A set with an eye that has lid and map of another's, and no lashes. */
static tcr_status bare_set(const tcr_set *set, tcr_side side, tcr_set **made) {
    size_t zones;
    const tcr_zone *map = tcr_set_map(set, side, &zones);
    tcr_status status = tcr_set_new_like(NULL, set, made);
    if (status == TCR_OK)
        status = tcr_set_add_eye(*made, side, tcr_set_lid(set, side));
    return status == TCR_OK ? tcr_set_put_map(*made, side, map, zones) : status;
}

/* The same with the mean lash on each layer at u. */
static tcr_status mean_set(const tcr_set *set, tcr_side side, double u, tcr_set **made) {
    tcr_layer_heights heights;
    tcr_mean_lash mean;
    tcr_status status = bare_set(set, side, made);
    if (status == TCR_OK)
        status = tcr_mean_lash_of(set, side, &mean);
    if (status == TCR_OK)
        status = tcr_layer_heights_of(set, side, &heights);
    for (int layer = 0; status == TCR_OK && layer < TCR_LAYERS; layer++) {
        tcr_lash lash = tcr_mean_lash_at(&mean, u);
        lash.layer = (tcr_layer)layer;
        lash.height_mm += heights.height_mm[layer] - heights.height_mm[TCR_BOTTOM];
        status = tcr_set_add_lash(*made, side, tcr_layer_text(lash.layer), &lash, NULL);
    }
    return status;
}

/* One mean lash with what map and rule give it, also where the tray lacks that. */
static double *put_mean(double *out, const tcr_set *set, tcr_side side, size_t i, double opening) {
    const page_eye_point from = {.profile = true};
    page_lash lash = {.lash = tcr_set_lash(set, side, i)};
    tcr_attachment attachment;
    tcr_choice choice;
    tcr_vec3 tip = {0, 0, 0};
    const tcr_status found = tcr_set_choice(set, side, i, &choice);
    if (tcr_lash_stance(lash.lash, tcr_set_lid(set, side), opening, &lash.stance) != TCR_OK)
        return NULL;
    if (found == TCR_OK || found == TCR_E_TRAY) {
        const tcr_bond bond = tcr_set_bond_of(set, &choice);
        lash.extension = tcr_set_extension(set, &choice);
        if (tcr_attach(lash.lash, &lash.extension, &bond, &attachment) == TCR_OK)
            lash.attachment = &attachment;
    }
    if (lash.attachment != NULL) {
        tip = tcr_stance_point(&lash.stance, attachment.tip);
    } else if (tcr_tip(tcr_set_lid(set, side), opening, lash.lash, NULL, NULL, &tip) != TCR_OK) {
        return NULL;
    }
    return put_lash(out, &lash, NULL, tip, &from);
}

/* What map and rule give the layers at u, mm, whether the tray has it or not; NULL without a map.
 */
const double *PAGE(page_layer_lengths)(int slot, int side_number, double u) {
    const double least_u = 0.02, most_u = 0.98; /* where a lash may root */
    const tcr_side side = (tcr_side)side_number;
    tcr_set *made = NULL;
    double *out = page_numbers(TCR_LAYERS);
    tcr_status status = out != NULL ? bare_set(page_set(slot), side, &made) : TCR_E_MEMORY;
    for (size_t i = 0; status == TCR_OK && i < TCR_LAYERS; i++) {
        const tcr_lash lash = tcr_lash_unknown(fmin(fmax(u, least_u), most_u), (tcr_layer)i);
        tcr_choice choice = {.length_mm = NAN};
        status = tcr_set_add_lash(made, side, tcr_layer_text(lash.layer), &lash, NULL);
        if (status == TCR_OK)
            (void)tcr_set_choice(made, side, i,
                                 &choice); /* the length also where the tray lacks it */
        out[i] = choice.length_mm;
    }
    tcr_set_free(made);
    return status == TCR_OK ? out : NULL;
}

enum { PROFILE_HEAD = 5, LASH_FIBRES = 1, LASH_TIP_Y = 4 };

/*
 * The profile at u, from the temple: z, y of the lid's edge at the opening of the check, and of the
 * edge of the lower lid; how far apart in height the tips of the extensions are, NaN for fewer than
 * two; then the mean lash of each layer. NULL where it cannot be drawn.
 */
const double *PAGE(page_profile)(int slot, int side_number, double u) {
    const tcr_side side = (tcr_side)side_number;
    const tcr_set *set = page_set(slot);
    const tcr_lid *lid = tcr_set_lid(set, side);
    const double opening = tcr_check_view(page_check(slot)).opening;
    tcr_set *made = NULL;
    tcr_vec3 upper, lower;
    double *all = page_numbers(PROFILE_HEAD + TCR_LAYERS * lash_numbers(20)), *out = all;
    if (lid == NULL || all == NULL || tcr_lid_margin(lid, u, opening, &upper) != TCR_OK ||
        tcr_lid_margin(lid, u, 0, &lower) != TCR_OK)
        return NULL;
    *out++ = upper.z;
    *out++ = upper.y;
    *out++ = lower.z;
    *out++ = lower.y;
    double *apart = out++, low = INFINITY, high = -INFINITY;
    int tips = 0;
    const tcr_status status = mean_set(set, side, u, &made);
    for (size_t i = 0; status == TCR_OK && out != NULL && i < TCR_LAYERS; i++) {
        const double *lash = out;
        out = put_mean(out, made, side, i, opening);
        if (out == NULL || !(lash[LASH_FIBRES] > 0))
            continue;
        low = fmin(low, lash[LASH_TIP_Y]);
        high = fmax(high, lash[LASH_TIP_Y]);
        tips++;
    }
    *apart = tips > 1 ? high - low : NAN;
    tcr_set_free(made);
    return status == TCR_OK && out != NULL ? all : NULL;
}
