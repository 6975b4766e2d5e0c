/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Which step from layer to layer holds for lashes that vary: five steps, each on the same 40 drawn
 * clients, on all processors.
 *
 *     cc best_step.c $(pkg-config --cflags --libs tipcrest tipcrest-study) && ./a.out
 */
#include <stdio.h>

#include <tipcrest/study.h>
#include <tipcrest/tipcrest.h>

enum { STEPS = 5, RUNS = 40 };
static const double STEP_MM[STEPS] = {0.0, 0.5, 1.0, 1.5, 2.0};

/* A described eye with one zone of 12 mm. Any length is at hand, so that half millimetres are. */
static tcr_status fill(tcr_set *set) {
    const tcr_zone map[] = {{.to = 1.0, .length_mm = 12, .curl = "C"}};
    const tcr_description lashes = tcr_description_default();
    tcr_tray any = tcr_tray_default();
    any.count = 0;
    tcr_status status = tcr_set_put_tray(set, &any);
    if (status == TCR_OK)
        status = tcr_set_add_eye(set, TCR_LEFT, NULL);
    if (status == TCR_OK)
        status = tcr_set_put_map(set, TCR_LEFT, map, 1);
    return status == TCR_OK ? tcr_set_describe(set, TCR_LEFT, &lashes) : status;
}

/* The root mean square deviation of each step on each client. */
static tcr_status evaluate(const tcr_set *set, double rms_mm[STEPS * RUNS], tcr_error *error) {
    const tcr_factor step = {
        .key = "layering.step_mm", .distribution = TCR_LEVELS, .level = STEP_MM, .levels = STEPS};
    tcr_study_options options = tcr_study_options_default(); /* a grid */
    tcr_study *study = NULL;
    options.runs = RUNS;
    tcr_status status = tcr_study_new(NULL, set, &options, &study, error);
    if (status == TCR_OK)
        status = tcr_study_add_factor(study, &step, error);
    if (status == TCR_OK)
        status = tcr_study_add_output(study, "fitted.rms_mm", error);
    if (status == TCR_OK)
        status = tcr_study_evaluate(study, 0, STEPS, NULL, rms_mm, NULL);
    tcr_study_free(study);
    return status;
}

static void print(const tcr_ranked ranked[STEPS]) {
    static const char *const SAYS[TCR_STANDINGS] = {"first", "no worse that anybody sees",
                                                    "not told apart", "worse", "no answer"};
    for (int i = 0; i < STEPS; i++)
        printf("%.1f mm shorter for each layer up: %.2f mm rms, %s\n",
               STEP_MM[ranked[i].combination], ranked[i].value, SAYS[ranked[i].standing]);
}

int main(void) {
    static double rms_mm[STEPS * RUNS];
    tcr_ranked ranked[STEPS];
    tcr_error error = tcr_error_none();
    tcr_set *set = NULL;
    tcr_status status = tcr_set_new(NULL, &set);
    if (status == TCR_OK)
        status = fill(set);
    if (status == TCR_OK)
        status = evaluate(set, rms_mm, &error);
    if (status == TCR_OK)
        status = tcr_best_of(NULL, rms_mm, 1, STEPS, RUNS, NULL, ranked);
    if (status == TCR_OK)
        print(ranked);
    else
        fprintf(stderr, "best_step: %s\n",
                error.status != TCR_OK ? error.message : tcr_status_text(status));
    tcr_set_free(set);
    return status != TCR_OK;
}
