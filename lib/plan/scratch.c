/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is kept while a plan is made. */
#include "plan/scratch.h"

#include <string.h>

#include "num/memory.h"

/* Lashes over all samples, above which none are kept: some megabytes. */
enum { LASHES_MOST = 1 << 16 };

tcr_status tcr_plan_scratch_new(tcr_plan *plan) {
    plan->scratch = tcr_resize(&plan->allocator, NULL, 1, sizeof *plan->scratch);
    if (plan->scratch == NULL)
        return TCR_E_MEMORY;
    memset(plan->scratch, 0, sizeof *plan->scratch);
    return TCR_OK;
}

tcr_status tcr_plan_scratch_draws(const tcr_plan *plan) {
    const tcr_allocator *a = &plan->allocator;
    tcr_kept_samples *drawn = &plan->scratch->drawn;
    const size_t lashes = plan->eye[TCR_LEFT].lashes + plan->eye[TCR_RIGHT].lashes;
    const size_t samples = plan->options.samples;
    if (samples == 0 || lashes == 0 || lashes > LASHES_MOST / samples)
        return TCR_OK;
    drawn->line = tcr_resize(a, NULL, TCR_SIDES * samples, sizeof *drawn->line);
    drawn->lash = tcr_resize(a, NULL, samples * lashes, sizeof *drawn->lash);
    drawn->used = tcr_resize(a, NULL, samples * lashes, sizeof *drawn->used);
    drawn->room = samples;
    return drawn->line != NULL && drawn->lash != NULL && drawn->used != NULL ? TCR_OK
                                                                             : TCR_E_MEMORY;
}

void tcr_plan_scratch_free(tcr_plan *plan) {
    if (plan->scratch == NULL)
        return;
    tcr_kept_samples *drawn = &plan->scratch->drawn;
    tcr_release(&plan->allocator, drawn->line);
    tcr_release(&plan->allocator, drawn->lash);
    tcr_release(&plan->allocator, drawn->used);
    tcr_release(&plan->allocator, plan->scratch);
    plan->scratch = NULL;
}
