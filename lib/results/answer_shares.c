/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The answer of a sensitivity design: which factor matters most, then the shares of each. */
#include "results/answer_table.h"

#include <math.h>

/* The factor with the largest total index among those below a bound; r->factors for none. */
static size_t next_factor(const tcr_results *r, const tcr_sobol_index *index, size_t last) {
    size_t next = r->factors;
    for (size_t i = 0; i < r->factors; i++) {
        const double own = index[i].total.estimate;
        const bool is_behind = last == r->factors || own < index[last].total.estimate ||
                               (i > last && own == index[last].total.estimate);
        if (is_behind && (next == r->factors || own > index[next].total.estimate))
            next = i;
    }
    return next;
}

static void add_index(tcr_paragraph *line, int at, const tcr_interval *index) {
    tcr_add_to_column(line, at);
    tcr_add_fixed(line, index->estimate, 2, false);
    tcr_add(line, " (");
    tcr_answer_add_range(line, index->low, index->high, 2);
    tcr_add(line, ")");
}

static void put_left(tcr_table *t, const tcr_sobol_variance *v) {
    if (isnan(v->left_share))
        return;
    tcr_add(&t->line, "With all of these known, ");
    tcr_add_share(&t->line, v->left_share);
    tcr_add(&t->line, " of the whole variance is left: lashes vary from run to run.");
    tcr_table_end(t, 0, 2);
}

static void put_factors(const tcr_results *r, tcr_table *t, const tcr_sobol_index *index) {
    enum { FACTORS = 8, ALONE_AT = 32, ALL_AT = 54 };
    bool negative = false;
    size_t shown = 0;
    tcr_add(&t->line, "share of the variance");
    tcr_add_to_column(&t->line, ALONE_AT);
    tcr_add(&t->line, "by itself");
    tcr_add_to_column(&t->line, ALL_AT);
    tcr_add(&t->line, "with the others");
    tcr_table_end(t, 2, 4);
    for (size_t i = next_factor(r, index, r->factors); i < r->factors && shown < FACTORS;
         i = next_factor(r, index, i), shown++) {
        tcr_add_safe(&t->line, tcr_study_factor_at(r->study, i)->key.name, ALONE_AT - 2);
        add_index(&t->line, ALONE_AT, &index[i].first);
        add_index(&t->line, ALL_AT, &index[i].total);
        tcr_table_end(t, 2, 4);
        negative |= index[i].first.estimate < 0.0 || index[i].total.estimate < 0.0;
    }
    if (shown < r->factors) {
        tcr_add(&t->line, "... and ");
        tcr_add_count(&t->line, r->factors - shown);
        tcr_add(&t->line, " more, which matter less");
        tcr_table_end(t, 2, 4);
    }
    if (negative)
        tcr_table_line(t, 0,
                       "A share below 0 is an estimate of a true one that is small or 0; see its "
                       "interval.");
}

/* The factor that explains most by itself. */
static size_t first_by_itself(const tcr_results *r, const tcr_sobol_index *index) {
    size_t most = 0;
    for (size_t i = 1; i < r->factors; i++)
        if (index[i].first.estimate > index[most].first.estimate)
            most = i;
    return most;
}

bool tcr_answer_add_most(const tcr_results *r, tcr_paragraph *line, const tcr_sobol_index *index) {
    const size_t most = next_factor(r, index, r->factors);
    if (most == r->factors || !isfinite(index[most].total.estimate))
        return false;
    const size_t alone = first_by_itself(r, index);
    const double least = index[most].total.low;
    bool is_tie = false;
    for (size_t i = 0; i < r->factors; i++)
        is_tie = is_tie || (i != most && index[i].total.high >= least);
    tcr_add(line, tcr_study_factor_at(r->study, most)->key.name);
    tcr_add(line, " matters most for ");
    tcr_answer_add_output(r, line);
    if (is_tie || alone != most)
        tcr_add(line, ", with what it does together with others");
    const char *between = ", but is not told apart from ";
    for (size_t i = next_factor(r, index, most); i < r->factors; i = next_factor(r, index, i)) {
        if (!(index[i].total.high >= least))
            continue;
        tcr_add(line, between);
        tcr_add(line, tcr_study_factor_at(r->study, i)->key.name);
        between = ", ";
    }
    if (alone != most && index[alone].first.low > index[most].first.high) {
        tcr_add(line, "; by itself ");
        tcr_add(line, tcr_study_factor_at(r->study, alone)->key.name);
        tcr_add(line, " matters more");
    }
    return true;
}

void tcr_answer_put_shares(const tcr_results *r, tcr_table *t, const tcr_sobol_index *index,
                           const tcr_sobol_variance *v) {
    if (v->missing > 0) {
        tcr_add(&t->line, "No shares can be given: ");
        tcr_answer_add_plural(&t->line, v->missing, "point");
        tcr_add(&t->line, " of the design have no value of ");
        tcr_add(&t->line, r->of);
        tcr_add(&t->line, "; narrow the ranges of the factors.");
        tcr_table_end(t, 0, 2);
        return;
    }
    if (!tcr_answer_add_most(r, &t->line, index)) {
        tcr_add(&t->line, "Nothing to share out: ");
        tcr_answer_add_output(r, &t->line);
        tcr_add(&t->line, " is the same at all points of a scrambling.");
        tcr_table_end(t, 0, 2);
        return;
    }
    tcr_add(&t->line, ". The mean of this output is ");
    tcr_add_fixed(&t->line, v->mean, tcr_answer_decimals(r), false);
    tcr_add(&t->line, ", its sd over the factors ");
    tcr_add_fixed(&t->line, sqrt(v->variance), tcr_answer_decimals(r), false);
    tcr_answer_add_unit(r, &t->line);
    tcr_add(&t->line, ". Intervals: 95 %, from ");
    tcr_answer_add_plural(&t->line, r->file->options.scramblings, "scrambling");
    tcr_add(&t->line, ".");
    tcr_table_end(t, 0, 2);
    tcr_table_line(t, 0, "");
    put_factors(r, t, index);
    put_left(t, v);
}
