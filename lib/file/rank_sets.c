/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which of many sets is the most even. */
#include <tipcrest/file.h>
#include <tipcrest/why.h>

#include <math.h>

#include "num/order.h"

/* Those that are not judged come last. */
static bool is_more_even(const void *a, const void *b, const void *context) {
    const tcr_judgement *one = &((const tcr_ranked_set *)a)->found;
    const tcr_judgement *other = &((const tcr_ranked_set *)b)->found;
    (void)context;
    if (one->verdict == TCR_NOT_JUDGED || other->verdict == TCR_NOT_JUDGED)
        return one->verdict != TCR_NOT_JUDGED && other->verdict == TCR_NOT_JUDGED;
    return one->rms_mm < other->rms_mm;
}

tcr_status tcr_rank_sets(tcr_ranked_set *sets, size_t count) {
    static const unsigned EVERY_EYE = ~0u;
    if (sets == NULL || count == 0)
        return TCR_E_ARGUMENT;
    for (size_t i = 0; i < count; i++)
        if (sets[i].name == NULL || sets[i].check == NULL)
            return TCR_E_ARGUMENT;
    for (size_t i = 0; i < count; i++) {
        sets[i].found =
            (tcr_judgement){.verdict = TCR_NOT_JUDGED, .rms_mm = NAN, .within_tolerance = NAN};
        (void)tcr_check_judge(sets[i].check, EVERY_EYE, &sets[i].found);
    }
    tcr_sort_items(sets, count, sizeof *sets, is_more_even, NULL);
    size_t first = 0; /* of the last rank */
    for (size_t i = 0; i < count; i++) {
        const bool judged = sets[i].found.verdict != TCR_NOT_JUDGED;
        sets[i].shares =
            judged && i > first &&
            tcr_effect_of(sets[first].found.rms_mm, sets[i].found.rms_mm) == TCR_LITTLE;
        if (sets[i].shares)
            sets[first].shares = true;
        else
            first = i;
        sets[i].rank = first + 1;
    }
    return TCR_OK;
}
