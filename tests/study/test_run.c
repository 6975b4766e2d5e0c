/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Many evaluations: the same bits for any threads and blocks, in order, with progress, stopped. */
#include <errno.h>
#include <math.h>
#include <pthread.h>
#include <signal.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <tipcrest/study.h>

#include "study/no_gsl_error.h"
#include "study/sets.h"
#include "support/check.h"
#include "support/memory.h"
#include "support/options.h"

/* A study with a bit of everything: 60 points by 'runs'. A semi-axis of 13 fails. */
static tcr_study *mixed_study(const tcr_set *set, size_t runs, const tcr_allocator *allocator) {
    tcr_study_options o = tcr_study_options_default();
    tcr_study *study;
    o.runs = runs;
    expect_status(tcr_study_new(allocator, set, &o, &study, NULL), TCR_OK);
    add_levels(study, "describe.pitch_sd_deg", (const double[]){4.0, 11.0}, 2);
    add_levels(study, "apart_mm", (const double[]){0.5, 1.0, 1.5}, 3);
    add_levels(study, "layering.step_mm", (const double[]){0.0, 0.5, 1.0, 1.5, 2.0}, 5);
    add_levels(study, "lid.lateral_semiaxis_mm", (const double[]){16.0, 13.0}, 2);
    return study;
}

enum { POINTS = 60, OUTPUTS = 10, FACTORS = 4 };

typedef struct results {
    size_t runs;
    double *value;
    tcr_status *status;
} results;

static results room_for(size_t runs) {
    const size_t n = POINTS * runs;
    return (results){runs, malloc(n * OUTPUTS * sizeof(double)), malloc(n * sizeof(tcr_status))};
}

static void drop(results *r) {
    free(r->value);
    free(r->status);
}

/* The expected results: one trial after the other. */
static results one_by_one(const tcr_study *study, size_t runs) {
    results r = room_for(runs);
    double point[POINTS * FACTORS];
    expect_status(tcr_study_points(study, 0, POINTS, point), TCR_OK);
    for (size_t i = 0; i < POINTS * runs; i++) {
        tcr_trial *trial; /* a new one, that has tried nothing before */
        expect_status(tcr_trial_new(study, &trial), TCR_OK);
        r.status[i] = tcr_trial_evaluate(trial, point + i / runs * FACTORS, i % runs,
                                         r.value + i * OUTPUTS, NULL);
        tcr_trial_free(trial);
    }
    return r;
}

static void expect_results(const results *got, const results *expected) {
    const size_t n = POINTS * expected->runs;
    expect_bytes(got->status, expected->status, n * sizeof *got->status);
    /* NaN has the same bits too: it is written, not computed. */
    expect_bytes(got->value, expected->value, n * OUTPUTS * sizeof *got->value);
}

CLAIM(any_number_of_threads_gives_the_same_bits) {
    tcr_set *set = described_set();
    static const size_t RUNS[] = {0, 1, 7};
    for (size_t k = 0; k < 3; k++) {
        tcr_study *study = mixed_study(set, RUNS[k], NULL);
        results expected = one_by_one(study, RUNS[k] > 0 ? RUNS[k] : 1);
        size_t failed = 0;
        for (size_t i = 0; i < POINTS * expected.runs; i++)
            failed += expected.status[i] != TCR_OK;
        expect_true(failed > 0 && failed < POINTS * expected.runs);
        for (size_t threads = 1; threads <= 8; threads += threads < 3 ? 1 : 5) {
            results got = room_for(expected.runs);
            tcr_study_run_options o = tcr_study_run_options_default();
            o.threads = threads;
            given("%zu runs, %zu threads", RUNS[k], threads);
            expect_status(tcr_study_evaluate(study, 0, POINTS, &o, got.value, got.status), TCR_OK);
            expect_results(&got, &expected);
            drop(&got);
        }
        drop(&expected);
        tcr_study_free(study);
    }
    tcr_set_free(set);
}

/* ---- Blocks ---------------------------------------------------------------------------------- */

typedef struct received {
    const tcr_study *study;
    results r;
    uint64_t next;
    size_t failed;
    uint64_t stop_at; /* the point from which on no more is wanted */
} received;

static bool receive(void *context, const tcr_study_block *block) {
    received *to = context;
    double point[POINTS * FACTORS];
    expect_count(block->first, to->next);
    expect_count(block->runs, to->r.runs);
    expect_count(block->factors, FACTORS);
    expect_count(block->outputs, OUTPUTS);
    expect_status(tcr_study_points(to->study, block->first, block->points, point), TCR_OK);
    expect_bytes(block->factor, point, block->points * FACTORS * sizeof *point);
    const size_t at = (size_t)block->first * to->r.runs, n = block->points * to->r.runs;
    memcpy(to->r.value + at * OUTPUTS, block->value, n * OUTPUTS * sizeof(double));
    memcpy(to->r.status + at, block->status, n * sizeof(tcr_status));
    for (size_t i = 0; i < n; i++)
        to->failed += block->status[i] != TCR_OK;
    to->failed -= block->failed; /* so 0 at the end */
    to->next += block->points;
    return to->next < to->stop_at;
}

CLAIM(blocks_come_in_order_and_are_the_whole) {
    tcr_set *set = described_set();
    static const size_t BLOCKS[] = {0, 1, 7, 59, 60, 1000};
    tcr_study *study = mixed_study(set, 3, NULL);
    results expected = one_by_one(study, 3);
    for (size_t b = 0; b < sizeof BLOCKS / sizeof *BLOCKS; b++)
        for (size_t threads = 1; threads <= 3; threads += 2) {
            received to = {study, room_for(3), 0, 0, UINT64_MAX};
            tcr_study_run_options o = tcr_study_run_options_default();
            o.threads = threads;
            o.block = BLOCKS[b];
            given("blocks of %zu, %zu threads", BLOCKS[b], threads);
            expect_status(tcr_study_run(study, 0, POINTS, &o, receive, &to), TCR_OK);
            expect_count(to.next, POINTS);
            expect_count(to.failed, 0);
            expect_results(&to.r, &expected);
            drop(&to.r);
        }
    drop(&expected);
    tcr_study_free(study);
    tcr_set_free(set);
}

CLAIM(a_study_that_was_stopped_goes_on_to_the_same_results) {
    tcr_set *set = described_set();
    tcr_study *study = mixed_study(set, 2, NULL);
    results expected = one_by_one(study, 2);
    for (size_t threads = 1; threads <= 4; threads += 3) {
        received to = {study, room_for(2), 0, 0, 0};
        tcr_study_run_options o = tcr_study_run_options_default();
        o.threads = threads;
        o.block = 4;
        while (to.next < POINTS) {
            const uint64_t from = to.next;
            to.stop_at = from + 1 + from % 9;
            const tcr_status status = tcr_study_run(study, from, POINTS, &o, receive, &to);
            given("%zu threads, from %zu to %zu", threads, (size_t)from, (size_t)to.next);
            expect_true(to.next > from);
            expect_status(status, to.next < to.stop_at ? TCR_OK : TCR_E_STOPPED);
            if (status == TCR_OK)
                break;
        }
        expect_results(&to.r, &expected);
        drop(&to.r);
    }
    drop(&expected);
    tcr_study_free(study);
    tcr_set_free(set);
}

CLAIM(a_part_is_that_of_the_whole) {
    tcr_set *set = described_set();
    tcr_study *study = mixed_study(set, 2, NULL);
    results expected = one_by_one(study, 2), got = room_for(2);
    for (size_t first = 0; first < POINTS; first += 17) {
        const size_t n = POINTS - first < 17 ? POINTS - first : 17;
        expect_status(tcr_study_evaluate(study, first, n, NULL, got.value + first * 2 * OUTPUTS,
                                         got.status + first * 2),
                      TCR_OK);
    }
    expect_results(&got, &expected);
    /* Without statuses, too. */
    memset(got.value, 0, POINTS * 2 * OUTPUTS * sizeof(double));
    expect_status(tcr_study_evaluate(study, 0, POINTS, NULL, got.value, NULL), TCR_OK);
    expect_results(&got, &expected);
    drop(&got);
    drop(&expected);
    tcr_study_free(study);
    tcr_set_free(set);
}

/* ---- Progress -------------------------------------------------------------------------------- */

typedef struct watcher {
    size_t calls, stop_after; /* 0: never */
    double last;
} watcher;

static bool watch(void *context, const char *phase, double share) {
    watcher *w = context;
    expect_text(phase, "study");
    expect_within(share, w->last, 1.0, "never back");
    w->last = share;
    w->calls++;
    return w->stop_after == 0 || w->calls < w->stop_after;
}

CLAIM(progress_rises_and_stops_the_work) {
    tcr_set *set = described_set();
    tcr_study *study = mixed_study(set, 20, NULL);
    for (size_t threads = 1; threads <= 2; threads++) {
        results got = room_for(20);
        watcher w = {0};
        tcr_study_run_options o = tcr_study_run_options_default();
        o.threads = threads;
        o.progress = (tcr_progress){watch, &w};
        expect_status(tcr_study_evaluate(study, 0, POINTS, &o, got.value, got.status), TCR_OK);
        given("%zu threads, %zu calls", threads, w.calls);
        expect_true(w.calls > 0);
        w = (watcher){.stop_after = 1};
        expect_status(tcr_study_evaluate(study, 0, POINTS, &o, got.value, got.status),
                      TCR_E_STOPPED);
        expect_count(w.calls, 1);
        drop(&got);
    }
    tcr_study_free(study);
    tcr_set_free(set);
}

/* ---- Threads --------------------------------------------------------------------------------- */

static bool in_handler;
static void note_signal(int number) {
    (void)number;
    in_handler = true;
}

/* Blocks SIGUSR1 in the caller's thread: whoever takes it then is a thread of the library's. */
static bool raise_here(void *context, const char *phase, double share) {
    (void)context;
    (void)phase;
    (void)share;
    (void)kill(getpid(), SIGUSR1);
    return true;
}

CLAIM(signals_are_left_to_the_host) {
    tcr_set *set = described_set();
    tcr_study *study = mixed_study(set, 20, NULL);
    results got = room_for(20);
    sigset_t usr1, before, after;
    tcr_study_run_options o = tcr_study_run_options_default();
    o.threads = 3;
    o.progress = (tcr_progress){raise_here, NULL};
    sigemptyset(&usr1);
    sigaddset(&usr1, SIGUSR1);
    expect_true(signal(SIGUSR1, note_signal) != SIG_ERR);
    expect_count(sigprocmask(SIG_BLOCK, &usr1, &before), 0);
    expect_status(tcr_study_evaluate(study, 0, POINTS, &o, got.value, got.status), TCR_OK);
    expect_true(!in_handler);
    /* And the caller's own mask is as it was. */
    expect_count(sigprocmask(SIG_SETMASK, NULL, &after), 0);
    expect_true(sigismember(&after, SIGUSR1) == 1 && sigismember(&after, SIGTERM) == 0);
    drop(&got);
    tcr_study_free(study);
    tcr_set_free(set);
}

static size_t threads_left; /* that can be started; SIZE_MAX: all */

int __real_pthread_create(pthread_t *thread, const pthread_attr_t *attributes,
                          void *(*start)(void *), void *context);
int __wrap_pthread_create(pthread_t *thread, const pthread_attr_t *attributes,
                          void *(*start)(void *), void *context);
int __wrap_pthread_create(pthread_t *thread, const pthread_attr_t *attributes,
                          void *(*start)(void *), void *context) {
    if (threads_left == 0)
        return EAGAIN;
    threads_left -= threads_left != SIZE_MAX;
    return __real_pthread_create(thread, attributes, start, context);
}

CLAIM(where_no_thread_can_be_started_the_callers_does_the_work) {
    tcr_set *set = described_set();
    tcr_study *study = mixed_study(set, 2, NULL);
    results expected = one_by_one(study, 2);
    for (size_t left = 0; left < 3; left++) {
        results got = room_for(2);
        tcr_study_run_options o = tcr_study_run_options_default();
        o.threads = 4;
        threads_left = left;
        given("%zu threads of 4", left);
        expect_status(tcr_study_evaluate(study, 0, POINTS, &o, got.value, got.status), TCR_OK);
        expect_results(&got, &expected);
        drop(&got);
    }
    drop(&expected);
    tcr_study_free(study);
    tcr_set_free(set);
}

/* An allocator for several threads that can run out of memory: blocks are counted under a lock. */
static pthread_mutex_t counting = PTHREAD_MUTEX_INITIALIZER;
static tcr_counted shared;
static tcr_allocator behind;

static void *resize_locked(void *context, void *block, size_t bytes) {
    pthread_mutex_lock(&counting);
    void *resized = behind.resize(context, block, bytes);
    pthread_mutex_unlock(&counting);
    return resized;
}

static void release_locked(void *context, void *block) {
    pthread_mutex_lock(&counting);
    behind.release(context, block);
    pthread_mutex_unlock(&counting);
}

CLAIM(a_thread_without_memory_ends_the_study_and_loses_nothing) {
    tcr_set *set = described_set();
    threads_left = SIZE_MAX;
    for (size_t fail = 1; fail < 400; fail += 13) {
        shared = (tcr_counted){0};
        behind = tcr_counted_allocator(&shared);
        const tcr_allocator allocator = {resize_locked, release_locked, behind.context};
        tcr_study *study = mixed_study(set, 1, &allocator);
        results got = room_for(1);
        tcr_study_run_options o = tcr_study_run_options_default();
        o.threads = 3;
        shared.fail_at = shared.calls + fail;
        given("allocation %zu fails", fail);
        const tcr_status status = tcr_study_evaluate(study, 0, POINTS, &o, got.value, got.status);
        expect_true(status == TCR_E_MEMORY || status == TCR_OK);
        expect_true(status == TCR_E_MEMORY || fail > 40);
        shared.fail_at = 0;
        tcr_study_free(study);
        drop(&got);
        expect_count(shared.blocks, 0);
    }
    tcr_set_free(set);
}

CLAIM(without_memory_a_study_ends_and_loses_nothing) {
    tcr_set *set = described_set();
    /* One thread: a counting allocator is not thread-safe. */
    for (size_t fail = 1;; fail += fail < 60 ? 1 : 23) {
        tcr_counted counted = {0};
        const tcr_allocator allocator = tcr_counted_allocator(&counted);
        tcr_study *study = mixed_study(set, 1, &allocator);
        received to = {study, room_for(1), 0, 0, UINT64_MAX};
        tcr_study_run_options o = tcr_study_run_options_default();
        o.threads = 1;
        o.block = 16;
        counted.fail_at = counted.calls + fail;
        given("allocation %zu fails", fail);
        const tcr_status status = tcr_study_run(study, 0, POINTS, &o, receive, &to);
        counted.fail_at = 0;
        tcr_study_free(study);
        drop(&to.r);
        expect_count(counted.blocks, 0);
        if (status == TCR_OK)
            break;
        expect_status(status, TCR_E_MEMORY);
    }
    tcr_set_free(set);
}

/* ---- Arguments ------------------------------------------------------------------------------- */

CLAIM(arguments_out_of_range_are_refused) {
    tcr_set *set = described_set();
    tcr_study *study = mixed_study(set, 0, NULL);
    results got = room_for(1);
    received to = {study, got, 0, 0, UINT64_MAX};
    tcr_study_run_options o = tcr_study_run_options_default();
    expect_status(tcr_study_evaluate(NULL, 0, 1, NULL, got.value, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_study_evaluate(study, 0, 1, NULL, NULL, NULL), TCR_E_ARGUMENT);
    expect_status(tcr_study_evaluate(study, 0, 61, NULL, got.value, NULL), TCR_E_RANGE);
    expect_status(tcr_study_evaluate(study, 61, 0, NULL, got.value, NULL), TCR_E_RANGE);
    expect_status(tcr_study_evaluate(study, UINT64_MAX, 2, NULL, got.value, NULL), TCR_E_RANGE);
    expect_status(tcr_study_evaluate(study, 60, 0, NULL, NULL, NULL), TCR_OK);
    expect_status(tcr_study_run(NULL, 0, 1, NULL, receive, &to), TCR_E_ARGUMENT);
    expect_status(tcr_study_run(study, 0, 1, NULL, NULL, &to), TCR_E_ARGUMENT);
    expect_status(tcr_study_run(study, 2, 1, NULL, receive, &to), TCR_E_RANGE);
    expect_status(tcr_study_run(study, 0, 61, NULL, receive, &to), TCR_E_RANGE);
    expect_status(tcr_study_run(study, 5, 5, NULL, receive, &to), TCR_OK);
    o.threads = TCR_THREADS_MAX + 1;
    expect_status(tcr_study_evaluate(study, 0, 1, &o, got.value, NULL), TCR_E_RANGE);
    expect_status(tcr_study_run(study, 0, 1, &o, receive, &to), TCR_E_RANGE);
    expect_count(to.next, 0);
    drop(&got);
    tcr_study_free(study);
    tcr_set_free(set);
}

static tcr_status evaluate_two(const void *options, void *context) {
    double value[2 * OUTPUTS];
    return tcr_study_evaluate(context, 0, 2, options, value, NULL);
}

CLAIM(options_may_be_those_of_an_older_header) {
    tcr_set *set = described_set();
    tcr_study *study = mixed_study(set, 0, NULL);
    const tcr_study_run_options o = tcr_study_run_options_default();
    tcr_expect_sizes(&o, sizeof o, evaluate_two, study);
    tcr_study_free(study);
    tcr_set_free(set);
}

CLAIM(a_study_without_factors_is_a_check) {
    tcr_set *set = described_set();
    tcr_study *study;
    tcr_check *check;
    uint64_t points;
    double value[OUTPUTS];
    expect_status(tcr_study_new(NULL, set, NULL, &study, NULL), TCR_OK);
    expect_status(tcr_study_count(study, &points, NULL), TCR_OK);
    expect_count(points, 1);
    expect_status(tcr_study_evaluate(study, 0, 1, NULL, value, NULL), TCR_OK);
    expect_status(tcr_check_new(set, NULL, &check, NULL), TCR_OK);
    expect_same(value[0], tcr_check_eye(check, TCR_LEFT)->fitted.upright.rms_mm, "of a check");
    tcr_check_free(check);
    tcr_study_free(study);
    tcr_set_free(set);
}

CLAIM(the_usual_block_is_what_is_handed_on_at_once) {
    tcr_study_options options = tcr_study_options_default();
    tcr_set *set = described_set();
    tcr_study *study;
    /* In words: study.h, about 4096 evaluations, at least one point; but points enough to share the
     * lashes of a run, while that takes no more than 32 MB. */
    const struct {
        size_t runs;
        uint64_t points;
    } USUAL[] = {{0, 4096}, {10, 409}, {1000, 64}, {TCR_RUNS_MAX, 1}};
    expect_count(tcr_study_usual_block(NULL), 0);
    for (size_t i = 0; i < sizeof USUAL / sizeof *USUAL; i++) {
        options.runs = USUAL[i].runs;
        expect_status(tcr_study_new(NULL, set, &options, &study, NULL), TCR_OK);
        expect_count(tcr_study_usual_block(study), USUAL[i].points);
        tcr_study_free(study);
    }
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &any_number_of_threads_gives_the_same_bits,
        &blocks_come_in_order_and_are_the_whole,
        &a_study_that_was_stopped_goes_on_to_the_same_results,
        &a_part_is_that_of_the_whole,
        &progress_rises_and_stops_the_work,
        &signals_are_left_to_the_host,
        &where_no_thread_can_be_started_the_callers_does_the_work,
        &a_thread_without_memory_ends_the_study_and_loses_nothing,
        &without_memory_a_study_ends_and_loses_nothing,
        &arguments_out_of_range_are_refused,
        &options_may_be_those_of_an_older_header,
        &a_study_without_factors_is_a_check,
        &the_usual_block_is_what_is_handed_on_at_once,
    };
    threads_left = SIZE_MAX;
    refuse_gsl_errors();
    return RUN_CLAIMS("run", claims);
}
