/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Many evaluations: points by runs, cut into tiles. A tile is some points by some runs; it goes
 * from run to run and, in a run, from point to point, so that the points share the lashes of the
 * run. Where a result is written depends on its point and run alone.
 */
#include <stdint.h>
#include <string.h>
#include <unistd.h>

#include "num/memory.h"
#include "num/options.h"
#include "study/crew.h"
#include "study/study.h"

/* Evaluations of a tile, if their lashes are not too many, and of a block; points of a tile; bytes
 * of a block. */
enum { TILE = 256, BLOCK = 4096, TILE_POINTS_MAX = 64, BLOCK_BYTES = 1 << 25 };
enum { TILE_LASHES = 25000 }; /* some hundredths of a second: nobody waits longer for a stop */

void tcr_study_run_options_init(tcr_study_run_options *options, size_t size) {
    const tcr_study_run_options defaults = {.threads = 0};
    tcr_options_init(options, size, &defaults, sizeof defaults);
}

/* Results of the points of a block. */
typedef struct slot {
    double *factor; /* NULL: nobody wants them */
    double *value;
    tcr_status *status; /* NULL: likewise */
} slot;

typedef struct job {
    const tcr_study *study;
    uint64_t first; /* point */
    uint64_t points;
    size_t runs;                     /* evaluations of a point */
    uint64_t block;                  /* points in a block */
    size_t tile_points, tile_runs;   /* in a tile */
    uint64_t point_tiles, run_tiles; /* in a whole block */
    slot slot[TCR_CREW_AHEAD];
    tcr_study_receive receive;
    void *context;
} job;

/* What a thread has of its own. */
typedef struct worker {
    tcr_trial *trial;
    double *point; /* values of the factors at the points of a tile */
} worker;

static tcr_status begin(void *context, void **own) {
    const job *j = context;
    const tcr_allocator *a = &j->study->allocator;
    worker *w = tcr_resize(a, NULL, 1, sizeof *w);
    if (w == NULL)
        return TCR_E_MEMORY;
    *w = (worker){.trial = NULL};
    *own = w;
    w->point = tcr_resize(a, NULL, j->tile_points * (j->study->factors + 1), sizeof *w->point);
    return w->point != NULL ? tcr_trial_new(j->study, &w->trial) : TCR_E_MEMORY;
}

static void end(void *context, void *own) {
    const job *j = context;
    worker *w = own;
    if (w == NULL)
        return;
    tcr_trial_free(w->trial);
    tcr_release(&j->study->allocator, w->point);
    tcr_release(&j->study->allocator, w);
}

static uint64_t least(uint64_t a, uint64_t b) { return a < b ? a : b; }

/* Where a tile lies: in its block the points from 'point' and the runs from 'run' on. */
typedef struct place {
    uint64_t block, point, points;
    size_t run, runs;
} place;

static place place_of(const job *j, uint64_t tile) {
    const uint64_t a_block = j->point_tiles * j->run_tiles, in_block = tile % a_block;
    place p = {.block = tile / a_block};
    const uint64_t of_block = least(j->block, j->points - p.block * j->block);
    p.point = in_block / j->run_tiles * j->tile_points;
    p.points = p.point < of_block ? least(j->tile_points, of_block - p.point) : 0;
    p.run = (size_t)(in_block % j->run_tiles) * j->tile_runs;
    p.runs = (size_t)least(j->tile_runs, j->runs - p.run);
    return p;
}

static tcr_status do_tile(void *context, void *own, uint64_t tile) {
    const job *j = context;
    worker *w = own;
    const place p = place_of(j, tile);
    const slot *to = &j->slot[p.block % TCR_CREW_AHEAD];
    const size_t factors = j->study->factors, outputs = j->study->outputs;
    const uint64_t first = j->first + p.block * j->block + p.point;
    if (p.points == 0) /* the last block may have fewer points than tiles */
        return TCR_OK;
    tcr_status status = tcr_study_points(j->study, first, (size_t)p.points, w->point);
    if (status != TCR_OK)
        return status;
    if (to->factor != NULL && p.run == 0 && factors > 0)
        memcpy(to->factor + p.point * factors, w->point,
               (size_t)p.points * factors * sizeof *to->factor);
    for (size_t r = p.run; r < p.run + p.runs; r++)
        for (uint64_t i = 0; i < p.points; i++) {
            const uint64_t at = (p.point + i) * j->runs + r;
            status = tcr_trial_evaluate(w->trial, w->point + i * factors, r,
                                        to->value + at * outputs, NULL);
            if (status == TCR_E_MEMORY)
                return status;
            if (to->status != NULL)
                to->status[at] = status;
        }
    return TCR_OK;
}

/* Evaluations of a tile. */
static uint64_t tile_of(const tcr_study *study) {
    size_t lashes = 1;
    for (int side = 0; side < TCR_SIDES; side++)
        lashes += tcr_set_lash_count(study->set, (tcr_side)side);
    return lashes < TILE_LASHES ? least(TILE, TILE_LASHES / lashes) : 1;
}

/* Cuts blocks into tiles: points that share a run, and enough tiles for all threads. */
static void cut(job *j, uint64_t block, size_t threads) {
    enum { TILES_A_THREAD = 8, TILE_LEAST = 4 };
    const uint64_t tile = tile_of(j->study);
    uint64_t points = block > 1 ? least(least(TILE_POINTS_MAX, tile), block) : 1;
    uint64_t runs = j->runs > 1 ? least(tile / points, j->runs) : 1;
    for (;;) {
        j->point_tiles = (block + points - 1) / points;
        j->run_tiles = (j->runs + runs - 1) / runs;
        if (j->point_tiles * j->run_tiles >= TILES_A_THREAD * threads ||
            points * runs <= TILE_LEAST)
            break;
        if (runs > 1)
            runs = (runs + 1) / 2;
        else
            points = (points + 1) / 2;
    }
    j->block = block;
    j->tile_points = (size_t)points;
    j->tile_runs = (size_t)runs;
}

size_t tcr_study_threads(const tcr_study_run_options *o) {
    if (o->threads > 0)
        return o->threads;
    const long online = sysconf(_SC_NPROCESSORS_ONLN);
    return online < 1 ? 1 : online > TCR_THREADS_MAX ? TCR_THREADS_MAX : (size_t)online;
}

tcr_status tcr_study_take_run_options(const tcr_study_run_options *given,
                                      tcr_study_run_options *o) {
    *o = tcr_study_run_options_default();
    if (tcr_options_take(o, sizeof *o, given) != TCR_OK)
        return TCR_E_ARGUMENT;
    return o->threads <= TCR_THREADS_MAX ? TCR_OK : TCR_E_RANGE;
}

static tcr_status check_range(const tcr_study *study, uint64_t first, uint64_t count) {
    uint64_t points;
    const tcr_status status = tcr_study_count(study, &points, NULL);
    if (status != TCR_OK)
        return status;
    return first <= points && count <= points - first ? TCR_OK : TCR_E_RANGE;
}

/* Hands on a block that is done. */
static bool hand_on(void *context, uint64_t block) {
    const job *j = context;
    const slot *from = &j->slot[block % TCR_CREW_AHEAD];
    tcr_study_block b = {.first = j->first + block * j->block,
                         .points = (size_t)least(j->block, j->points - block * j->block),
                         .runs = j->runs,
                         .factors = j->study->factors,
                         .outputs = j->study->outputs,
                         .factor = from->factor,
                         .value = from->value,
                         .status = from->status};
    for (size_t i = 0; i < b.points * b.runs; i++)
        b.failed += from->status[i] != TCR_OK;
    return j->receive(j->context, &b);
}

static tcr_status do_job(job *j, const tcr_study_run_options *o, uint64_t block) {
    const uint64_t blocks = (j->points + block - 1) / block;
    const size_t threads = tcr_study_threads(o);
    cut(j, block, threads);
    const tcr_crew_work work = {.tiles = blocks * j->point_tiles * j->run_tiles,
                                .tiles_a_block = j->point_tiles * j->run_tiles,
                                .threads = threads,
                                .progress = o->progress,
                                .phase = "study",
                                .context = j,
                                .begin = begin,
                                .end = end,
                                .tile = do_tile,
                                .hand_on = j->receive != NULL ? hand_on : NULL};
    return tcr_crew_run(&work);
}

static size_t runs_of(const tcr_study *study) {
    return study->options.runs > 0 ? study->options.runs : 1;
}

tcr_status tcr_study_evaluate(const tcr_study *study, uint64_t first, size_t count,
                              const tcr_study_run_options *options, double *value,
                              tcr_status *status) {
    tcr_study_run_options o;
    if (study == NULL || (value == NULL && count > 0))
        return TCR_E_ARGUMENT;
    tcr_status checked = tcr_study_take_run_options(options, &o);
    if (checked == TCR_OK)
        checked = check_range(study, first, count);
    if (checked != TCR_OK || count == 0)
        return checked;
    job j = {.study = study,
             .first = first,
             .points = count,
             .runs = runs_of(study),
             .slot = {{NULL, value, status}}};
    return do_job(&j, &o, count);
}

/* Enough evaluations, and enough points to share a run, but not too many bytes. */
uint64_t tcr_study_usual_block(const tcr_study *study) {
    if (study == NULL)
        return 0;
    const uint64_t runs = runs_of(study), bytes = runs * study->outputs * sizeof(double);
    uint64_t points = BLOCK / runs;
    if (points < TILE_POINTS_MAX)
        points = least(TILE_POINTS_MAX, BLOCK_BYTES / bytes);
    return points > 0 ? points : 1;
}

static tcr_status make_slots(job *j, uint64_t block) {
    const tcr_allocator *a = &j->study->allocator;
    if (block > SIZE_MAX / j->runs)
        return TCR_E_MEMORY;
    const size_t evaluations = (size_t)block * j->runs;
    for (int i = 0; i < TCR_CREW_AHEAD; i++) {
        slot *s = &j->slot[i];
        s->factor = tcr_resize(a, NULL, (size_t)block, j->study->factors * sizeof *s->factor);
        s->value = tcr_resize(a, NULL, evaluations, j->study->outputs * sizeof *s->value);
        s->status = tcr_resize(a, NULL, evaluations, sizeof *s->status);
        if (s->factor == NULL || s->value == NULL || s->status == NULL)
            return TCR_E_MEMORY;
    }
    return TCR_OK;
}

static void release_slots(job *j) {
    const tcr_allocator *a = &j->study->allocator;
    for (int i = 0; i < TCR_CREW_AHEAD; i++) {
        tcr_release(a, j->slot[i].factor);
        tcr_release(a, j->slot[i].value);
        tcr_release(a, j->slot[i].status);
    }
}

tcr_status tcr_study_run(const tcr_study *study, uint64_t first, uint64_t end_at,
                         const tcr_study_run_options *options, tcr_study_receive receive,
                         void *context) {
    tcr_study_run_options o;
    if (study == NULL || receive == NULL)
        return TCR_E_ARGUMENT;
    tcr_status status = tcr_study_take_run_options(options, &o);
    if (status == TCR_OK)
        status = first <= end_at ? check_range(study, first, end_at - first) : TCR_E_RANGE;
    if (status != TCR_OK || first == end_at)
        return status;
    job j = {.study = study,
             .first = first,
             .points = end_at - first,
             .runs = runs_of(study),
             .receive = receive,
             .context = context};
    const uint64_t block = least(o.block > 0 ? o.block : tcr_study_usual_block(study), j.points);
    status = make_slots(&j, block);
    if (status == TCR_OK)
        status = do_job(&j, &o, block);
    release_slots(&j);
    return status;
}
