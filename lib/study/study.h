/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_STUDY_DATA_H
#define TCR_STUDY_DATA_H

/* What a study and a trial are made of. */

#include <tipcrest/mean.h>
#include <tipcrest/study.h>

#include "study/key.h"

struct tcr_study {
    tcr_allocator allocator;
    tcr_set *set; /* a copy */
    tcr_study_options options;
    size_t factors;
    tcr_study_factor factor[TCR_FACTORS_MAX];
    bool usual_outputs; /* none has been added yet */
    size_t outputs, room;
    tcr_output *output;
};

/* The numbers of a lash that vary in an eye that is not described. */
enum { TCR_VARIED = 5 };

/* Lashes of one eye as they are put into a trial's set. */
typedef struct tcr_trial_eye {
    size_t room;     /* lashes that there is room for */
    tcr_lash *lash;  /* of the point and the run, where they root without apart_mm */
    tcr_lash *moved; /* the same moved by it */
    bool drawn;      /* 'draw', or 'shift', has the numbers of 'seed' */
    uint64_t seed;
    tcr_lash_draw *draw; /* of a described eye */
    bool described;      /* 'lash' has these, by 'by' */
    tcr_description by;
    bool based; /* 'base_mm' and 'heights' are of 'lash', as it roots */
    double *base_mm;
    tcr_layer_heights heights;
    double (*shift)[TCR_VARIED]; /* of another eye */
} tcr_trial_eye;

struct tcr_trial {
    const tcr_study *study;
    tcr_allocator allocator;
    tcr_set *set; /* that is evaluated */
    tcr_check *check;
    tcr_check_options options;
    bool applied; /* the set has the values of 'value' */
    double value[TCR_FACTORS_MAX];
    bool laid; /* the set has the lashes of 'run', which depend on no factor */
    size_t run;
    tcr_description description[TCR_SIDES]; /* with the values of the point */
    double apart_mm;                        /* NaN: as the lashes root */
    tcr_zone zone[TCR_ZONES_MAX];           /* of a map that is being put */
    tcr_trial_eye eye[TCR_SIDES];
    double *column; /* numbers of each lash */
    size_t column_room;
};

/* Whether any factor is one of a kind of key. */
bool tcr_study_varies(const tcr_study *study, int what);

/* Whether a factor is the number of lashes of a described eye. */
bool tcr_study_varies_count(const tcr_study *study, tcr_side side);

/* Puts the values of a point into the set of a trial, all but lashes. */
tcr_status tcr_trial_apply(tcr_trial *trial, const double *value, tcr_error *error);

/* Puts the lashes of a run into the set, after tcr_trial_apply. */
tcr_status tcr_trial_lay(tcr_trial *trial, size_t run, tcr_error *error);

/* Frees what tcr_trial_lay has made. */
void tcr_trial_release_lashes(tcr_trial *trial);

/* Reads the outputs of the check of a trial. TCR_E_MEMORY. */
tcr_status tcr_trial_read(tcr_trial *trial, double *output);

/* The options of a run with their defaults. TCR_E_ARGUMENT, TCR_E_RANGE. */
tcr_status tcr_study_take_run_options(const tcr_study_run_options *given,
                                      tcr_study_run_options *options);

/* How many threads they ask for. */
size_t tcr_study_threads(const tcr_study_run_options *options);

/* Bits TCR_PART_... that the outputs need. */
unsigned tcr_study_parts(const tcr_study *study);

/* Whether they need of single lashes no more than loads (figures_only of tcr_check_options). */
bool tcr_study_takes_figures(const tcr_study *study);

/* Finds an output by its name, for one eye or, with sides of several, the first of them. */
tcr_status tcr_output_find(const tcr_set *set, const char *name, tcr_output outputs[TCR_SIDES],
                           size_t *count, tcr_error *error);

#endif
