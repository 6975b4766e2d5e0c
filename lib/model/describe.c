/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The described eye (model.md, section 11): lash k of a sample, drawn by counter, so that any lash
 * can be drawn alone, in any order, in any thread. The draws are those of the full-grown lash; its
 * length then gives turn and root diameter by the growth of the shape (section 3). How numbers are
 * drawn from fields is part of the contract.
 */
#include <tipcrest/describe.h>

#include <math.h>

#include <tipcrest/random.h>

#include "model/field_table.h"
#include "model/growth_kernel.h"
#include "num/random_rows.h"
#include "num/range.h"

enum { USE_DESCRIBE = 0, ROWS = 6, DRAWN_AT_ONCE = 32 };

/* Growth and cycle of model.md, section 10. */
static const double GROWTH_MM_PER_DAY = 0.12; /* Thibaut 2010, 10.1111/j.1365-2133.2009.09487.x */
static const double CYCLE_A_DAYS = 152.0;     /* for FULL_MM; 41 % growing (Elder 1997) */
static const double FULL_MM = 7.5;
static const double CYCLE_B_DAYS = 90.0;             /* Thibaut 2010 */
static const double ROWS_FROM = 0.2, ROWS_TO = 0.85; /* six rows between, common practice */

tcr_description tcr_description_default(void) {
    tcr_description description = {0};
    tcr_fields_default(TCR_GROUP_DESCRIPTION, &description);
    return description;
}

tcr_status tcr_description_validate(const tcr_description *description, tcr_error *error) {
    return tcr_fields_validate(TCR_GROUP_DESCRIPTION, description, error);
}

static bool is_uniform(int field) {
    return field == TCR_FIELD_U || field == TCR_FIELD_ROW || field == TCR_FIELD_AGE ||
           field == TCR_FIELD_STRAY;
}

static void draw_lash(uint64_t seed, uint32_t eye, uint32_t k, tcr_lash_draw *draw) {
    tcr_random number = {.seed = seed, .lash = k, .eye = eye, .use = USE_DESCRIBE};
    for (int field = 0; field < TCR_DESCRIBE_FIELDS; field++) {
        number.field = (uint32_t)field;
        draw->number[field] =
            is_uniform(field) ? tcr_random_uniform(&number) : tcr_random_normal(&number);
    }
}

static double normal(const tcr_lash_draw *draw, tcr_describe_field field, double mean, double sd) {
    return mean + sd * draw->number[field];
}

/* Row 0 to 5 from the skin's edge: six in the middle of the lid, every other one towards the
 * corners. */
static int draw_row(const tcr_lash_draw *draw, double u) {
    const double share = draw->number[TCR_FIELD_ROW];
    if (u > ROWS_FROM && u < ROWS_TO)
        return (int)(share * ROWS);
    return 2 * (int)(share * (ROWS / 2));
}

/* The mean final length along the lid: linear from the inner corner to the middle to the outer
 * corner. */
static double mean_length(const tcr_description *d, double u) {
    const double end = u < 0.5 ? d->length_inner_share : d->length_outer_share;
    const double from_middle = fabs(u - 0.5) / 0.5;
    return d->length_mm * (1.0 + (end - 1.0) * from_middle);
}

/* Length at an age that is uniform over the cycle. */
static double length_by_age(const tcr_description *d, double final_mm, const tcr_lash_draw *draw) {
    if (d->phases == TCR_PHASES_NONE)
        return final_mm;
    const double days = d->phases == TCR_PHASES_A ? CYCLE_A_DAYS : CYCLE_B_DAYS;
    const double age = days * final_mm / FULL_MM * draw->number[TCR_FIELD_AGE];
    return fmin(final_mm, GROWTH_MM_PER_DAY * age);
}

static tcr_condition condition_of(const tcr_description *d, bool stray, const tcr_lash *lash) {
    if (stray)
        return TCR_STRAY;
    if (lash->length_mm < d->baby_below_mm)
        return TCR_BABY;
    return lash->root_diameter_mm < d->weak_below_mm ? TCR_WEAK : TCR_SUITABLE;
}

/* Lash k of a valid description. */
static tcr_lash lash_of(const tcr_description *d, size_t k, const tcr_lash_draw *draw) {
    const double steep = 84.999 * TCR_DEG, spacing = 0.9 / (double)d->count;

    tcr_lash l = {0};
    l.u = 0.05 + spacing * ((double)k + 0.5) +
          spacing * 0.25 * (2.0 * draw->number[TCR_FIELD_U] - 1.0);
    const bool stray = draw->number[TCR_FIELD_STRAY] < d->stray_share;
    const int row = stray ? ROWS - 1 : draw_row(draw, l.u);
    l.layer = (tcr_layer)(row / 2);
    const double height = row * d->gap_mm / 2.0 + (stray ? d->stray_rise_mm : 0.0);
    l.height_mm =
        tcr_cut(normal(draw, TCR_FIELD_HEIGHT, height, d->height_sd_mm), TCR_HEIGHT_RANGE);
    l.pitch_rad =
        tcr_cut(normal(draw, TCR_FIELD_PITCH, d->pitch_rad, d->pitch_sd_rad), -steep, steep);
    l.yaw_rad =
        tcr_cut(normal(draw, TCR_FIELD_YAW, d->yaw_rad + d->yaw_fan_rad * l.u, d->yaw_sd_rad),
                -steep, steep);
    l.roll_rad = tcr_cut(normal(draw, TCR_FIELD_ROLL, d->roll_rad, d->roll_sd_rad), -TCR_PI / 2.0,
                         TCR_PI / 2.0);
    l.turn_rad = tcr_lash_turn_kept(normal(draw, TCR_FIELD_TURN, d->turn_rad, d->turn_sd_rad));
    l.root_diameter_mm = tcr_lash_root_diameter_kept(
        normal(draw, TCR_FIELD_ROOT_DIAMETER, d->root_diameter_mm, d->root_diameter_sd_mm), 0.0);
    l.tip_diameter_mm = fmin(d->tip_diameter_mm, l.root_diameter_mm);
    l.final_length_mm =
        tcr_cut(normal(draw, TCR_FIELD_FINAL_LENGTH, mean_length(d, l.u), d->length_sd_mm),
                TCR_FINAL_LENGTH_RANGE);
    l.length_mm = l.final_length_mm;
    l = tcr_lash_grow_kernel(
        &l, &l, fmax(length_by_age(d, l.final_length_mm, draw), TCR_LASH_LENGTH_LEAST_MM));
    l.condition = condition_of(d, stray, &l);
    return l;
}

tcr_status tcr_describe_draw(uint64_t seed, uint32_t eye, size_t first, size_t n,
                             tcr_lash_draw *draw) {
    if (draw == NULL || eye > 1 || first > UINT32_MAX || n > UINT32_MAX - first)
        return TCR_E_ARGUMENT;
    tcr_random number = {.seed = seed, .eye = eye, .use = USE_DESCRIBE};
    for (int field = 0; field < TCR_DESCRIBE_FIELDS; field++) {
        number.field = (uint32_t)field;
        for (size_t at = 0; at < n; at += DRAWN_AT_ONCE) {
            const size_t part = n - at < DRAWN_AT_ONCE ? n - at : DRAWN_AT_ONCE;
            double column[DRAWN_AT_ONCE];
            number.lash = (uint32_t)(first + at);
            (is_uniform(field) ? tcr_random_uniforms : tcr_random_normals)(&number, part, column);
            for (size_t i = 0; i < part; i++)
                draw[at + i].number[field] = column[i];
        }
    }
    return TCR_OK;
}

static bool is_drawn(const tcr_lash_draw *draw) {
    for (int field = 0; field < TCR_DESCRIBE_FIELDS; field++) {
        const double number = draw->number[field];
        if (!isfinite(number) || (is_uniform(field) && !(number > 0.0 && number < 1.0)))
            return false;
    }
    return true;
}

tcr_status tcr_describe_lashes(const tcr_description *d, size_t first, size_t n,
                               const tcr_lash_draw *draw, tcr_lash *lash) {
    const tcr_status status = tcr_description_validate(d, NULL);
    if (status != TCR_OK)
        return status;
    if (draw == NULL || lash == NULL || first > d->count || n > d->count - first)
        return TCR_E_ARGUMENT;
    for (size_t i = 0; i < n; i++)
        if (!is_drawn(&draw[i]))
            return TCR_E_RANGE;
    for (size_t i = 0; i < n; i++)
        lash[i] = lash_of(d, first + i, &draw[i]);
    return TCR_OK;
}

tcr_status tcr_describe_lash(const tcr_description *d, uint32_t eye, uint32_t k, tcr_lash *lash) {
    const tcr_status status = tcr_description_validate(d, NULL);
    if (status != TCR_OK)
        return status;
    if (lash == NULL || eye > 1 || k >= d->count)
        return TCR_E_ARGUMENT;
    tcr_lash_draw draw;
    draw_lash(d->seed, eye, k, &draw);
    *lash = lash_of(d, k, &draw);
    return TCR_OK;
}
