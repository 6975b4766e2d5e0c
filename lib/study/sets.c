/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The outputs of a study for a block of sets: each set is checked as it is, in any thread. */
#include <math.h>

#include "num/memory.h"
#include "study/crew.h"
#include "study/study.h"

/* Sets of a tile, if their lashes are not too many, and tiles for each thread. */
enum { TILE = 64, TILE_LASHES = 25000, TILES_A_THREAD = 8 };

typedef struct job {
    const tcr_study *study;
    const tcr_set *const *sets;
    size_t count, tile;
    double *value;
    tcr_status *status; /* NULL: nobody wants it */
} job;

static size_t lashes_of(const tcr_set *set) {
    size_t lashes = 0;
    for (int side = 0; side < TCR_SIDES; side++)
        lashes += tcr_set_lash_count(set, (tcr_side)side);
    return lashes;
}

static size_t least(size_t a, size_t b) { return a < b ? a : b; }

/* Few enough sets that nobody waits long for a stop, and enough tiles for all threads. */
static size_t tile_of(const job *j, size_t threads) {
    size_t most = 1;
    for (size_t i = 0; i < j->count; i++) {
        const size_t lashes = lashes_of(j->sets[i]);
        most = lashes > most ? lashes : most;
    }
    size_t tile = least(TILE, j->count / (TILES_A_THREAD * threads));
    tile = most < TILE_LASHES ? least(tile, TILE_LASHES / most) : 1;
    return tile > 0 ? tile : 1;
}

/* A trial for the memory of its check and columns; its set is not read. */
static tcr_status begin(void *context, void **own) {
    const job *j = context;
    tcr_trial *trial = NULL;
    const tcr_status status = tcr_trial_new(j->study, &trial);
    *own = trial;
    return status;
}

static void end(void *context, void *own) {
    (void)context;
    tcr_trial_free(own);
}

/* Whether a set has the eyes of each output: a figure of the symmetry, of no side, needs both. */
static bool has_eyes(const tcr_study *study, const tcr_set *set) {
    for (size_t i = 0; i < study->outputs; i++) {
        const int side = study->output[i].side;
        if (side < 0 ? tcr_set_eyes(set, NULL) < TCR_SIDES : !tcr_set_has_eye(set, (tcr_side)side))
            return false;
    }
    return true;
}

static tcr_status evaluate(tcr_trial *trial, const tcr_set *set, double *value) {
    if (!has_eyes(trial->study, set))
        return TCR_E_MISSING;
    const tcr_status status = trial->check == NULL
                                  ? tcr_check_new(set, &trial->options, &trial->check, NULL)
                                  : tcr_check_again(trial->check, set, &trial->options, NULL);
    return status == TCR_OK ? tcr_trial_read(trial, value) : status;
}

static tcr_status do_tile(void *context, void *own, uint64_t tile) {
    const job *j = context;
    const size_t first = (size_t)tile * j->tile, last = least(first + j->tile, j->count);
    const size_t outputs = j->study->outputs;
    for (size_t i = first; i < last; i++) {
        double *value = j->value + i * outputs;
        const tcr_status status = evaluate(own, j->sets[i], value);
        if (status == TCR_E_MEMORY)
            return status;
        for (size_t o = 0; o < outputs && status != TCR_OK; o++)
            value[o] = NAN;
        if (j->status != NULL)
            j->status[i] = status;
    }
    return TCR_OK;
}

tcr_status tcr_study_evaluate_sets(const tcr_study *study, const tcr_set *const *sets, size_t count,
                                   const tcr_study_run_options *options, double *value,
                                   tcr_status *status) {
    tcr_study_run_options o;
    if (study == NULL || (count > 0 && (sets == NULL || value == NULL)))
        return TCR_E_ARGUMENT;
    for (size_t i = 0; i < count; i++)
        if (sets[i] == NULL)
            return TCR_E_ARGUMENT;
    const tcr_status taken = tcr_study_take_run_options(options, &o);
    if (taken != TCR_OK || count == 0)
        return taken;
    const size_t threads = tcr_study_threads(&o);
    job j = {.study = study, .sets = sets, .count = count, .value = value, .status = status};
    j.tile = tile_of(&j, threads);
    const uint64_t tiles = (count + j.tile - 1) / j.tile;
    const tcr_crew_work work = {.tiles = tiles,
                                .tiles_a_block = tiles,
                                .threads = threads,
                                .progress = o.progress,
                                .phase = "sets",
                                .context = &j,
                                .begin = begin,
                                .end = end,
                                .tile = do_tile};
    return tcr_crew_run(&work);
}
