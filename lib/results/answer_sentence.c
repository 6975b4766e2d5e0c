/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The answer in a sentence or two, for a chart, and words that it shares with the table. */
#include "results/answer_table.h"

#include <stdio.h>

void tcr_answer_add_criterion(const tcr_results *r, tcr_paragraph *line, bool whole) {
    if (!r->has_runs) {
        tcr_add(line, "value");
    } else if (r->options.best.by != TCR_BEST_WORST) {
        tcr_add(line, r->options.best.by == TCR_BEST_P90 ? "90th percentile" : "mean");
    } else {
        tcr_add(line, whole ? "mean worst of " : "worst of ");
        tcr_add_count(line, r->runs / TCR_BEST_BATCHES);
        tcr_add(line, whole ? " runs" : "");
    }
}

double tcr_answer_worst(const tcr_results *r, const tcr_summary *over) {
    return r->goal == TCR_GOAL_MOST ? over->least : over->most;
}

static const double LEVEL = 0.95;

/* TCR_E_MISSING where no factor matters. */
static tcr_status say_most(const tcr_results *r, tcr_paragraph *line) {
    tcr_sobol_index index[TCR_FACTORS_MAX] = {0};
    tcr_sobol_variance variance = {0};
    const tcr_status status = tcr_results_indices(r, LEVEL, index, &variance);
    if (status != TCR_OK)
        return status;
    if (!tcr_answer_add_most(r, line, index))
        return TCR_E_MISSING;
    tcr_add(line, ".");
    return TCR_OK;
}

tcr_status tcr_results_sentence(const tcr_results *r, char text[TCR_RESULTS_SENTENCE_SIZE]) {
    tcr_paragraph line;
    if (r == NULL || text == NULL)
        return TCR_E_ARGUMENT;
    text[0] = '\0';
    tcr_paragraph_begin(&line);
    tcr_status status = TCR_OK;
    if (!tcr_answer_is_ranking(r))
        status = say_most(r, &line);
    else if (r->ranked == NULL)
        status = TCR_E_MISSING;
    else
        tcr_answer_add_best(r, &line);
    if (status == TCR_OK)
        (void)snprintf(text, TCR_RESULTS_SENTENCE_SIZE, "%s", line.text);
    return status;
}
