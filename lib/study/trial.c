/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One evaluation: the values of a point, the lashes of a run, a check, and what is read from it. */
#include <math.h>

#include "num/error.h"
#include "num/memory.h"
#include "study/study.h"

tcr_status tcr_trial_new(const tcr_study *study, tcr_trial **out) {
    uint64_t count;
    if (study == NULL || out == NULL)
        return TCR_E_ARGUMENT;
    tcr_status status = tcr_study_count(study, &count, NULL);
    if (status != TCR_OK)
        return status;
    tcr_trial *trial = tcr_resize(&study->allocator, NULL, 1, sizeof *trial);
    if (trial == NULL)
        return TCR_E_MEMORY;
    *trial = (tcr_trial){
        .study = study, .allocator = study->allocator, .options = tcr_check_options_default()};
    trial->options.against = study->options.against;
    trial->options.parts = tcr_study_parts(study);
    trial->options.figures_only = tcr_study_takes_figures(study);
    trial->apart_mm = NAN;
    status = tcr_set_copy(&study->allocator, study->set, &trial->set);
    if (status != TCR_OK) {
        tcr_trial_free(trial);
        return status;
    }
    *out = trial;
    return TCR_OK;
}

void tcr_trial_free(tcr_trial *trial) {
    if (trial == NULL)
        return;
    const tcr_allocator allocator = trial->allocator;
    tcr_check_free(trial->check);
    tcr_set_free(trial->set);
    tcr_trial_release_lashes(trial);
    tcr_release(&allocator, trial->column);
    tcr_release(&allocator, trial);
}

/* Whether value and run are such as the study has. */
static tcr_status check_place(const tcr_study *study, const double *value, size_t run,
                              tcr_error *error) {
    if ((value == NULL && study->factors > 0) ||
        (study->options.runs > 0 && run >= study->options.runs))
        return tcr_error_status(error, TCR_E_ARGUMENT);
    return TCR_OK;
}

static tcr_status evaluate(tcr_trial *trial, const double *value, size_t run, double *output,
                           tcr_error *error) {
    tcr_status status = tcr_trial_apply(trial, value, error);
    if (status == TCR_OK)
        status = tcr_trial_lay(trial, run, error);
    if (status == TCR_OK && trial->check == NULL)
        status = tcr_check_new(trial->set, &trial->options, &trial->check, error);
    else if (status == TCR_OK)
        status = tcr_check_again(trial->check, trial->set, &trial->options, error);
    return status == TCR_OK ? tcr_error_status(error, tcr_trial_read(trial, output)) : status;
}

tcr_status tcr_trial_evaluate(tcr_trial *trial, const double *value, size_t run, double *output,
                              tcr_error *error) {
    if (trial == NULL || output == NULL)
        return tcr_error_status(error, TCR_E_ARGUMENT);
    tcr_status status = check_place(trial->study, value, run, error);
    if (status != TCR_OK)
        return status;
    status = evaluate(trial, value, run, output, error);
    for (size_t i = 0; i < trial->study->outputs && status != TCR_OK && status != TCR_E_MEMORY; i++)
        output[i] = NAN;
    return status;
}

/* Says of the lashes of a trial's set that nobody measured them, where that is so. */
static tcr_status mark_drawn(tcr_trial *trial) {
    const tcr_study *study = trial->study;
    for (int side = 0; side < TCR_SIDES; side++) {
        const tcr_side s = (tcr_side)side;
        if (!tcr_set_has_eye(trial->set, s) || (study->options.runs == 0 && isnan(trial->apart_mm)))
            continue;
        const tcr_status status =
            tcr_set_mark_drawn(trial->set, s, tcr_set_lash_count(trial->set, s));
        if (status != TCR_OK)
            return status;
    }
    return TCR_OK;
}

tcr_status tcr_study_set(const tcr_study *study, const double *value, size_t run, tcr_set **set,
                         tcr_error *error) {
    tcr_trial *trial = NULL;
    if (study == NULL || set == NULL)
        return tcr_error_status(error, TCR_E_ARGUMENT);
    uint64_t count;
    tcr_status status = check_place(study, value, run, error);
    if (status == TCR_OK)
        status = tcr_study_count(study, &count, error);
    if (status != TCR_OK)
        return status;
    status = tcr_trial_new(study, &trial);
    if (status != TCR_OK)
        return tcr_error_status(error, status);
    status = tcr_trial_apply(trial, value, error);
    if (status == TCR_OK)
        status = tcr_trial_lay(trial, run, error);
    if (status == TCR_OK)
        status = tcr_error_status(error, mark_drawn(trial));
    if (status == TCR_OK) {
        *set = trial->set;
        trial->set = NULL;
    }
    tcr_trial_free(trial);
    return status;
}
