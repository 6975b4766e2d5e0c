/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_RESULTS_ANSWER_TABLE_H
#define TCR_RESULTS_ANSWER_TABLE_H

/* What the parts of an answer's table share. */

#include "file/table.h"
#include "results/results.h"

/* How many decimals the output has that the answer is about. */
int tcr_answer_decimals(const tcr_results *r);
/* " mm"; nothing where it has no unit. */
void tcr_answer_add_unit(const tcr_results *r, tcr_paragraph *line);
/* What is good: "fitted.rms_mm of the worse eye" */
void tcr_answer_add_output(const tcr_results *r, tcr_paragraph *line);
/* "1 combination", "63 combinations" */
void tcr_answer_add_plural(tcr_paragraph *line, uint64_t count, const char *what);
/* "curl C, longest_mm 9", or without keys "C, 9", cut to 'columns' columns. */
void tcr_answer_add_combination(const tcr_results *r, tcr_paragraph *line, uint64_t point,
                                bool keys, int columns);
/* " 12 % of extensions are beyond the limits that plan assumes.": what lashes carry is not ranked
 * (answer_limits.c). */
void tcr_answer_add_beyond(const tcr_results *r, tcr_paragraph *line);
/* By what is ranked: "mean", "90th percentile", "mean worst of 2 runs", which a column has room for
 * only in brief (answer_sentence.c). */
void tcr_answer_add_criterion(const tcr_results *r, tcr_paragraph *line, bool whole);
/* The worst of all runs (answer_sentence.c). */
double tcr_answer_worst(const tcr_results *r, const tcr_summary *over);
/* "0.18 to 0.25" */
void tcr_answer_add_range(tcr_paragraph *line, double low, double high, int decimals);

/* The factors to name: all, or of 'each' the given or the chosen ones. */
typedef struct tcr_told {
    const tcr_each *each; /* NULL: all */
    bool given;
} tcr_told;

/* Columns of a row: its combination, and where the last figure ends. */
enum { TCR_ANSWER_NAMES = 42, TCR_ANSWER_NEXT_AT = 78 };

/* The values of some factors of a point, as tcr_answer_add_combination has them. */
void tcr_answer_add_values(const tcr_results *r, tcr_paragraph *line, uint64_t point, bool keys,
                           tcr_told which, int columns);
/* The keys of some factors in the order of a row; brief: only what stands behind their last point.
 */
void tcr_answer_add_names(const tcr_results *r, tcr_paragraph *line, bool brief, tcr_told which);
/* The heads of the columns; each: what is given comes first; or NULL. */
void tcr_answer_put_heads(const tcr_results *r, tcr_table *t, const tcr_each *each);
/* The figures of a row, behind its combination. */
void tcr_answer_add_figures(const tcr_results *r, tcr_table *t, const tcr_ranked *row,
                            const char *mark);
/* How many rows there is room for. */
size_t tcr_answer_room(const tcr_table *t);

/* Where an artist chooses some of the factors that vary (answer_given.c): the best for each
 * combination of the others, in a sentence and in a table; and a row of these, "4: 1", what is
 * given before what is chosen. */
void tcr_answer_add_each(const tcr_results *r, tcr_paragraph *line);
void tcr_answer_put_each(const tcr_results *r, tcr_table *t);
void tcr_answer_add_row(const tcr_results *r, tcr_paragraph *line, uint64_t point);
/* Whether she chooses none of them; then what comes of each, in a sentence and in a table. */
bool tcr_answer_is_given(const tcr_results *r);
void tcr_answer_add_given(const tcr_results *r, tcr_paragraph *line);
void tcr_answer_put_given(const tcr_results *r, tcr_table *t);

/* What is best, and what lashes would have to carry then. */
void tcr_answer_add_best(const tcr_results *r, tcr_paragraph *line);
/* "curl matters most for fitted.rms_mm", and which others are not told apart from it, or that one
 * has more by itself; false where no factor matters (answer_shares.c). */
bool tcr_answer_add_most(const tcr_results *r, tcr_paragraph *line, const tcr_sobol_index *index);
/* Which factors matter how much (answer_shares.c). */
void tcr_answer_put_shares(const tcr_results *r, tcr_table *t, const tcr_sobol_index *index,
                           const tcr_sobol_variance *v);

#endif
