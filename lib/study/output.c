/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outputs of a study: found by their names in the table of quantities, and read from a check. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <tipcrest/text.h>

#include "num/error.h"
#include "num/memory.h"
#include "num/order.h"
#include "study/study.h"

static const char *const OVER[] = {"", "mean", "min", "max", "p95"};
enum { OVERS = sizeof OVER / sizeof *OVER };

/* The figures of two eyes' symmetry, in the order of tcr_symmetry. */
static const char *const SYMMETRY[] = {"symmetry.rms_mm", "symmetry.max_mm",
                                       "symmetry.level_rms_mm", "symmetry.level_max_mm"};
enum { SYMMETRIES = sizeof SYMMETRY / sizeof *SYMMETRY };

/* ---- Names ----------------------------------------------------------------------------------- */

/* The name of a quantity in the JSON report, or in columns where it is not there. */
static const char *report_name(const tcr_quantity *q) {
    return q->json != NULL ? q->json : q->name;
}

/* A quantity of a lash or of an eye by either name, of 'bytes' bytes. */
static const tcr_quantity *quantity_of(const char *name, size_t bytes) {
    size_t count;
    const tcr_quantity *all = tcr_quantities(&count);
    for (size_t i = 0; i < count; i++)
        if ((strlen(all[i].name) == bytes && memcmp(all[i].name, name, bytes) == 0) ||
            (strlen(report_name(&all[i])) == bytes &&
             memcmp(report_name(&all[i]), name, bytes) == 0))
            return &all[i];
    return NULL;
}

static bool is_number(const tcr_quantity *q) {
    return q->kind != TCR_KIND_ENUM && q->kind != TCR_KIND_LABEL;
}

/* By which figure a name ends; TCR_OVER_NONE: by none. */
static tcr_over over_of(const char *name, size_t *bytes) {
    const char *dot = strrchr(name, '.');
    *bytes = strlen(name);
    for (int i = 1; i < OVERS && dot != NULL; i++)
        if (strcmp(dot + 1, OVER[i]) == 0) {
            *bytes = (size_t)(dot - name);
            return (tcr_over)i;
        }
    return TCR_OVER_NONE;
}

static tcr_status fail_unknown(const char *name, tcr_error *error) {
    enum { KNOWN_MAX = 256 };
    const char *known[KNOWN_MAX];
    size_t count, n = 0, bytes;
    const tcr_quantity *all = tcr_quantities(&count);
    const tcr_over over = over_of(name, &bytes);
    for (size_t i = 0; i < count && n + SYMMETRIES < KNOWN_MAX; i++)
        if (is_number(&all[i]))
            known[n++] = report_name(&all[i]);
    for (int i = 0; i < SYMMETRIES; i++)
        known[n++] = SYMMETRY[i];
    const char *meant = tcr_suggest(name, bytes, known, n);
    for (size_t i = 0; i < n && meant == NULL && bytes > 2; i++) /* "rms" */
        meant = strstr(known[i], name) != NULL ? known[i] : NULL;
    const tcr_quantity *q = meant != NULL ? quantity_of(meant, strlen(meant)) : NULL;
    const bool of_lash = q != NULL && q->owner == TCR_OWNER_LASH;
    return tcr_error_set(error, TCR_E_MISSING, "there is no output \"%.100s\"%s%s%s%s%s", name,
                         meant != NULL ? "; did you mean " : "", meant != NULL ? meant : "",
                         of_lash ? "." : "", of_lash ? OVER[over != 0 ? over : TCR_OVER_MAX] : "",
                         meant != NULL ? "?" : "");
}

static tcr_status find_quantity(const char *name, tcr_output *output, tcr_error *error) {
    size_t bytes = strlen(name);
    output->over = TCR_OVER_NONE;
    output->quantity = quantity_of(name, bytes);
    if (output->quantity == NULL) {
        output->over = over_of(name, &bytes);
        output->quantity = quantity_of(name, bytes);
    }
    const tcr_quantity *q = output->quantity;
    if (q == NULL)
        return fail_unknown(name, error);
    if (!is_number(q))
        return tcr_error_set(error, TCR_E_ARGUMENT, "%s is a word and no number to study", name);
    const bool of_lash = q->owner == TCR_OWNER_LASH;
    if (of_lash && output->over == TCR_OVER_NONE)
        return tcr_error_set(error, TCR_E_ARGUMENT,
                             "%s is a number for each lash; write %s.mean, .min, .max or .p95",
                             name, name);
    if (!of_lash && output->over != TCR_OVER_NONE)
        return tcr_error_set(error, TCR_E_ARGUMENT, "%.*s is one number for an eye; leave out .%s",
                             (int)bytes, name, OVER[output->over]);
    output->unit = q->unit;
    return TCR_OK;
}

/* Takes "left." or "right." off a name; bits of the eyes that it is about. */
static tcr_status take_side(const tcr_set *set, const char **name, unsigned *sides,
                            tcr_error *error) {
    *sides = 0;
    for (int side = 0; side < TCR_SIDES; side++) {
        const char *text = tcr_side_text((tcr_side)side);
        const size_t bytes = strlen(text);
        if (tcr_set_has_eye(set, (tcr_side)side))
            *sides |= 1u << side;
        if (strncmp(*name, text, bytes) != 0 || (*name)[bytes] != '.')
            continue;
        if (!tcr_set_has_eye(set, (tcr_side)side))
            return tcr_error_set(error, TCR_E_MISSING,
                                 "the set has no %s eye for the output %.100s", text, *name);
        *sides = 1u << side;
        *name += bytes + 1;
        return TCR_OK;
    }
    return TCR_OK;
}

/* The place of a figure of the symmetry; -1 for another name. */
static int symmetry_at(const char *name) {
    for (int i = 0; i < SYMMETRIES; i++)
        if (strcmp(name, SYMMETRY[i]) == 0)
            return i;
    return -1;
}

static tcr_status find_symmetry(const tcr_set *set, int member, tcr_output *output,
                                tcr_error *error) {
    if (tcr_set_eyes(set, NULL) < 2)
        return tcr_error_set(error, TCR_E_MISSING,
                             "%s is a figure of two eyes, and the set has one", SYMMETRY[member]);
    *output = (tcr_output){.side = -1, .unit = TCR_UNIT_MM, .member = member};
    (void)snprintf(output->name, sizeof output->name, "%s", SYMMETRY[member]);
    return TCR_OK;
}

tcr_status tcr_output_find(const tcr_set *set, const char *name, tcr_output outputs[TCR_SIDES],
                           size_t *count, tcr_error *error) {
    tcr_output found = {.member = 0};
    unsigned sides;
    *count = 0;
    if (symmetry_at(name) >= 0) {
        *count = 1;
        return find_symmetry(set, symmetry_at(name), &outputs[0], error);
    }
    tcr_status status = take_side(set, &name, &sides, error);
    if (status == TCR_OK)
        status = find_quantity(name, &found, error);
    const bool several = tcr_set_eyes(set, NULL) > 1;
    for (int side = 0; side < TCR_SIDES && status == TCR_OK; side++) {
        if ((sides >> side & 1u) == 0)
            continue;
        tcr_output *output = &outputs[(*count)++];
        *output = found;
        output->side = side;
        (void)snprintf(output->name, sizeof output->name, "%s%s%s%s%s",
                       several ? tcr_side_text((tcr_side)side) : "", several ? "." : "",
                       report_name(found.quantity), found.over != TCR_OVER_NONE ? "." : "",
                       OVER[found.over]);
    }
    return status;
}

/* ---- Adding ---------------------------------------------------------------------------------- */

static bool has_output(const tcr_study *study, const char *name) {
    for (size_t i = 0; i < study->outputs; i++)
        if (strcmp(study->output[i].name, name) == 0)
            return true;
    return false;
}

/* Adds outputs that are new, all or none. */
static tcr_status add(tcr_study *study, const tcr_output *outputs, size_t count, tcr_error *error) {
    const size_t has = study->usual_outputs ? 0 : study->outputs;
    if (count > TCR_OUTPUTS_MAX - has)
        return tcr_error_set(error, TCR_E_ARGUMENT, "a study has at most %d outputs",
                             TCR_OUTPUTS_MAX);
    while (study->room < has + count)
        if (tcr_grow(&study->allocator, (void **)&study->output, study->room, &study->room,
                     sizeof *study->output) != TCR_OK)
            return tcr_error_status(error, TCR_E_MEMORY);
    memcpy(study->output + has, outputs, count * sizeof *outputs);
    study->outputs = has + count;
    study->usual_outputs = false;
    return TCR_OK;
}

tcr_status tcr_study_add_output(tcr_study *study, const char *name, tcr_error *error) {
    tcr_output found[TCR_SIDES];
    size_t count;
    if (study == NULL || name == NULL)
        return tcr_error_status(error, TCR_E_ARGUMENT);
    const tcr_status status = tcr_output_find(study->set, name, found, &count, error);
    if (status != TCR_OK)
        return status;
    for (size_t i = 0; i < count && !study->usual_outputs; i++)
        if (has_output(study, found[i].name))
            return tcr_error_set(error, TCR_E_DUPLICATE, "the output %s is here twice",
                                 found[i].name);
    return add(study, found, count, error);
}

tcr_status tcr_study_add_usual_outputs(tcr_study *study) {
    static const char *const USUAL[] = {"fitted.rms_mm",
                                        "fitted.p95_abs_mm",
                                        "fitted.max_abs_mm",
                                        "fitted.within_tolerance",
                                        "fitted.layer_offset_mm.bottom",
                                        "fitted.layer_offset_mm.middle",
                                        "fitted.layer_offset_mm.top",
                                        "largest_gap_mm",
                                        "load.mass_ratio.max",
                                        "load.moment_ratio.max"};
    enum { USUALS = sizeof USUAL / sizeof *USUAL };
    tcr_output all[TCR_SIDES * USUALS];
    size_t n = 0;
    if (study == NULL)
        return TCR_E_ARGUMENT;
    const bool usual = study->usual_outputs;
    study->usual_outputs = false; /* they are here to stay */
    for (int i = 0; i < USUALS; i++) {
        tcr_output found[TCR_SIDES];
        size_t count;
        const tcr_status status = tcr_output_find(study->set, USUAL[i], found, &count, NULL);
        for (size_t k = 0; k < count && status == TCR_OK; k++)
            if (!has_output(study, found[k].name))
                all[n++] = found[k];
    }
    const tcr_status status = add(study, all, n, NULL);
    study->usual_outputs = status != TCR_OK && usual;
    return status;
}

size_t tcr_study_output_count(const tcr_study *study) { return study != NULL ? study->outputs : 0; }

const tcr_output *tcr_study_output_at(const tcr_study *study, size_t i) {
    return study != NULL && i < study->outputs ? &study->output[i] : NULL;
}

unsigned tcr_study_parts(const tcr_study *study) {
    unsigned parts = 0;
    for (size_t i = 0; i < study->outputs; i++)
        parts |=
            study->output[i].quantity != NULL ? study->output[i].quantity->part : TCR_PART_FITTED;
    return parts;
}

bool tcr_study_takes_figures(const tcr_study *study) {
    for (size_t i = 0; i < study->outputs; i++) {
        const tcr_output *o = &study->output[i];
        if (o->over != TCR_OVER_NONE && o->quantity->part != TCR_PART_LOADS)
            return false;
    }
    const unsigned figures = TCR_PART_FITTED | TCR_PART_INTENDED | TCR_PART_LOADS;
    return (tcr_study_parts(study) & ~figures) == 0;
}

/* ---- Reading --------------------------------------------------------------------------------- */

/* One figure of a column, over the numbers that there are; moves them to its front. */
static double figure_of(double *column, size_t n, tcr_over over) {
    size_t there = 0;
    double sum = 0.0;
    for (size_t i = 0; i < n; i++)
        if (!isnan(column[i]))
            column[there++] = column[i];
    if (there == 0)
        return NAN;
    if (over == TCR_OVER_P95)
        return tcr_quantile(column, there, 0.95);
    double least = column[0], most = column[0];
    for (size_t i = 0; i < there; i++) {
        sum += column[i];
        least = fmin(least, column[i]);
        most = fmax(most, column[i]);
    }
    return over == TCR_OVER_MEAN ? sum / (double)there : over == TCR_OVER_MIN ? least : most;
}

/* Lash quantities that stand near each other in the table are computed together: they may share
 * work, as loads do. Returns how many outputs from 'first' on are read so. */
static size_t group_from(const tcr_study *study, size_t first, size_t *span) {
    enum { NEAR = 3 };
    const tcr_output *o = &study->output[first];
    size_t n = 1;
    *span = 1;
    while (first + n < study->outputs) {
        const tcr_output *next = &study->output[first + n];
        if (next->side != o->side || next->over == TCR_OVER_NONE ||
            next->quantity < o->quantity + *span - 1 ||
            next->quantity > o->quantity + *span - 1 + NEAR)
            break;
        *span = (size_t)(next->quantity - o->quantity) + 1;
        n++;
    }
    return n;
}

/* Reads a group of lash quantities: a row of each lash, then a figure of each column. */
static tcr_status read_lashes(tcr_trial *trial, size_t first, size_t n, size_t span,
                              double *output) {
    enum { SPAN_MAX = 64 };
    const tcr_output *o = &trial->study->output[first];
    const tcr_side side = (tcr_side)o->side;
    const size_t lashes = tcr_set_lash_count(tcr_check_set(trial->check), side);
    double row[SPAN_MAX];
    if (n * lashes > trial->column_room) {
        double *column =
            tcr_resize(&trial->allocator, trial->column, n * lashes, sizeof *trial->column);
        if (column == NULL)
            return TCR_E_MEMORY;
        trial->column = column;
        trial->column_room = n * lashes;
    }
    for (size_t k = 0; k < n && trial->options.figures_only; k++) /* loads, which lie ready */
        (void)tcr_check_column(trial->check, side, o[k].quantity, trial->column + k * lashes,
                               lashes);
    for (size_t i = 0; i < lashes && !trial->options.figures_only; i++) {
        (void)tcr_check_row(trial->check, side, i, o->quantity, row, span);
        for (size_t k = 0; k < n; k++)
            trial->column[k * lashes + i] = row[o[k].quantity - o->quantity];
    }
    for (size_t k = 0; k < n; k++)
        output[first + k] = figure_of(trial->column + k * lashes, lashes, o[k].over);
    return TCR_OK;
}

static double symmetry_of(const tcr_check *check, int member) {
    tcr_symmetry s;
    if (tcr_check_symmetry(check, &s) != TCR_OK)
        return NAN;
    const double figure[SYMMETRIES] = {s.rms_mm, s.max_mm, s.level_rms_mm, s.level_max_mm};
    return figure[member];
}

tcr_status tcr_trial_read(tcr_trial *trial, double *output) {
    const tcr_study *study = trial->study;
    size_t n = 1;
    for (size_t i = 0; i < study->outputs; i += n) {
        const tcr_output *o = &study->output[i];
        n = 1;
        if (o->quantity == NULL) {
            output[i] = symmetry_of(trial->check, o->member);
        } else if (o->over == TCR_OVER_NONE) {
            (void)tcr_check_row(trial->check, (tcr_side)o->side, 0, o->quantity, &output[i], 1);
        } else {
            size_t span;
            n = group_from(study, i, &span);
            const tcr_status status = read_lashes(trial, i, n, span, output);
            if (status != TCR_OK)
                return status;
        }
    }
    return TCR_OK;
}
