/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Progress and stop: every phase is reported, and a plan that was stopped in it says so and holds.
 * The client is described: INVENTED.
 */
#include <tipcrest/plan.h>

#include <math.h>
#include <string.h>

#include "support/check.h"
#include "support/client.h"

static const char *const PHASES[] = {"lashes",  "tips",        "samples", "zones",
                                     "lengths", "corrections", "order"};
enum { N = sizeof PHASES / sizeof *PHASES };

typedef struct watched {
    const char *stop_in; /* NULL: nowhere */
    size_t calls[N], after;
    double last[N];
    bool stopped;
} watched;

static bool report(void *context, const char *phase, double share) {
    watched *w = context;
    size_t i = 0;
    while (i < N && strcmp(PHASES[i], phase) != 0)
        i++;
    given("phase %s, share %g", phase, share);
    expect_true(i < N);
    expect_true(isnan(share) || (share >= 0.0 && share <= 1.0));
    if (!isnan(share)) { /* "lashes" begins again with the other eye */
        expect_true(share >= w->last[i] || (i == 0 && share == 0.0));
        w->last[i] = share;
    }
    w->calls[i]++;
    w->after += w->stopped;
    w->stopped = w->stopped || (w->stop_in != NULL && strcmp(w->stop_in, phase) == 0);
    return !w->stopped;
}

/* Samples, a free line and few lengths: every phase. */
static tcr_plan_options options_for(watched *w) {
    tcr_plan_options o = tcr_plan_options_default();
    o.samples = 40;
    o.free_mm = 1.0;
    o.lengths_most = 3;
    o.progress = (tcr_progress){report, w};
    return o;
}

CLAIM(each_phase_is_reported_with_a_share_that_rises) {
    tcr_set *set = tcr_make_measured(NULL, 2, 40);
    watched w = {.stop_in = NULL};
    const tcr_plan_options o = options_for(&w);
    tcr_plan *plan = NULL;
    tcr_plan_work *work = NULL;
    expect_status(tcr_plan_new(set, &o, &plan, NULL), TCR_OK);
    expect_status(tcr_plan_work_new(plan, NULL, &work), TCR_OK);
    for (size_t i = 0; i < N; i++) {
        given("phase %s", PHASES[i]);
        expect_true(w.calls[i] > 0);
    }
    expect_true(!tcr_plan_result_of(plan)->stopped && !work->stopped);
    tcr_plan_work_free(work);
    tcr_plan_free(plan);
    tcr_set_free(set);
}

CLAIM(what_was_stopped_says_so) {
    tcr_set *set = tcr_make_measured(NULL, 2, 40);
    for (size_t i = 0; i < N; i++) {
        watched w = {.stop_in = PHASES[i]};
        const tcr_plan_options o = options_for(&w);
        tcr_plan *plan = NULL;
        tcr_plan_work *work = NULL;
        given("stopped in %s", PHASES[i]);
        const tcr_status status = tcr_plan_new(set, &o, &plan, NULL);
        if (i < 2) { /* before there was a choice */
            expect_status(status, TCR_E_STOPPED);
            expect_true(plan == NULL);
            continue;
        }
        expect_status(status, TCR_OK);
        const tcr_plan_result *r = tcr_plan_result_of(plan);
        const bool in_work = strcmp(PHASES[i], "order") == 0;
        expect_true(r->stopped == !in_work);
        expect_true(r->cells > 0 && r->bound_mm <= fmax(r->rms_mm, r->expected_rms_mm));
        /* Corrections and order come after the proof. */
        expect_true(r->proved == (in_work || strcmp(PHASES[i], "corrections") == 0));
        /* Asked no more, but for the choice by fewer samples, which has its own time. */
        expect_count(w.after, strcmp(PHASES[i], "samples") == 0 ? 1 : 0);
        w.stop_in = "order";
        expect_status(tcr_plan_work_new(plan, NULL, &work), TCR_OK);
        expect_true(work->stopped);
        tcr_plan_work_free(work);
        tcr_plan_free(plan);
    }
    tcr_set_free(set);
}

int main(void) {
    static const TTest *const claims[] = {
        &each_phase_is_reported_with_a_share_that_rises,
        &what_was_stopped_says_so,
    };
    return RUN_CLAIMS("progress", claims);
}
