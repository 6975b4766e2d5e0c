/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The table of a plan. Expected numbers are the plan's own; words are this project's own. The
 * client is described: INVENTED.
 */
#include <tipcrest/file.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "file/sample.h"
#include "support/client.h"

static char *table_of(const tcr_plan *plan, const tcr_set *set) {
    tcr_set *planned = NULL;
    tcr_plan_work *work = NULL;
    text written = {0};
    expect_status(tcr_plan_apply(plan, &planned), TCR_OK);
    expect_status(tcr_plan_work_new(plan, NULL, &work), TCR_OK);
    tcr_check *before = new_check(set, NULL), *after = new_check(planned, NULL);
    expect_status(tcr_report_plan_table(plan, work, before, after, NULL, keep_text, &written),
                  TCR_OK);
    tcr_check_free(before);
    tcr_check_free(after);
    tcr_plan_work_free(plan, work);
    tcr_set_free(planned);
    return written.bytes;
}

/* The number behind some words of a text. */
static double number_behind(const char *table, const char *words) {
    const char *at = strstr(table, words);
    if (at == NULL)
        ck_abort_msg("the table lacks \"%s\":\n%s", words, table);
    return strtod(at + strlen(words), NULL);
}

CLAIM(a_printed_bound_is_a_bound) {
    enum { DECIMALS_PER_MM = 1000 };
    size_t rounded_up = 0;
    for (int i = 0; i < 12; i++) {
        tcr_set *set = tcr_make_client(NULL, 1, 30 + (size_t)i);
        tcr_plan_options o = tcr_plan_options_default();
        tcr_plan *plan = NULL;
        o.objective = i % 2 == 0 ? TCR_LEAST_SQUARES : TCR_LEAST_MAXIMUM;
        expect_status(tcr_plan_new(set, &o, &plan, NULL), TCR_OK);
        char *table = table_of(plan, set);
        const double bound = tcr_plan_result_of(plan)->bound_mm;
        const double printed = number_behind(table, "no choice for the zones comes nearer than ");
        char nearest[32];
        snprintf(nearest, sizeof nearest, "%.3f", bound);
        given("bound %.17g, printed %.3f", bound, printed);
        /* Source: the plan's own bound; three decimals. */
        expect_true(printed <= bound && bound < printed + 1.0 / DECIMALS_PER_MM);
        rounded_up += strtod(nearest, NULL) > bound;
        free(table);
        tcr_plan_free(plan);
        tcr_set_free(set);
    }
    expect_true(rounded_up >= 3); /* else the nearest decimals would pass too */
}

int main(void) {
    static const TTest *const claims[] = {&a_printed_bound_is_a_bound};
    return RUN_CLAIMS("report of a plan", claims);
}
