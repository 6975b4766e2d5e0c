/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The answer where nobody chooses some of what varies: the best for each combination of that. Where
 * nobody chooses any of it, there is no best, only what comes of each.
 */
#include "results/answer_table.h"

#include <math.h>

/* What the rows have in common. */
typedef struct over_rows {
    size_t valued;          /* rows with a best */
    const tcr_each_row *of; /* the first of them */
    bool same;              /* one choice is the best of all of them */
    double least, most;     /* of their values */
} over_rows;

static over_rows look_over(const tcr_each *each) {
    over_rows o = {.of = each->row, .same = true, .least = INFINITY, .most = -INFINITY};
    for (size_t i = 0; i < each->rows; i++) {
        const tcr_each_row *row = &each->row[i];
        if (isnan(row->best.value))
            continue;
        o.of = o.valued++ == 0 ? row : o.of;
        o.same = o.same && row->choice == o.of->choice;
        o.least = fmin(o.least, row->best.value);
        o.most = fmax(o.most, row->best.value);
    }
    return o;
}

/* A choice that is as good as the best of each row, or not told apart from it; each->choices: none.
 */
static size_t good_at_all(const tcr_each *each, const over_rows *o) {
    size_t best = each->choices;
    for (size_t i = 0; i < each->choices; i++)
        if (each->good[i] == o->valued &&
            (best == each->choices || each->first[i] > each->first[best]))
            best = i;
    return best;
}

/* How many factors nobody chooses. */
static size_t given_factors(const tcr_results *r) {
    size_t factors = 0;
    for (size_t i = 0; i < r->factors; i++)
        factors += r->each.given[i];
    return factors;
}

/* "8 values of lashes.describe.pitch_sd_deg" */
static void add_given(const tcr_results *r, tcr_paragraph *line, const tcr_each *each,
                      size_t valued) {
    tcr_paragraph names;
    const char *what = given_factors(r) == 1 ? "value" : "combination";
    if (valued == 1) {
        tcr_add(line, "the one ");
        tcr_add(line, what);
    } else {
        tcr_answer_add_plural(line, valued, what);
    }
    tcr_add(line, " of ");
    tcr_paragraph_begin(&names);
    tcr_answer_add_names(r, &names, false, (tcr_told){each, true});
    tcr_add_safe(line, names.text, 600);
}

/* The last row, from this one on, that has the same choice as its best. */
static size_t last_alike(const tcr_each *each, size_t row) {
    while (row + 1 < each->rows && each->row[row + 1].choice == each->row[row].choice)
        row++;
    return row;
}

/* "What is best changes with apart_mm: layering.step_mm 0 at 0 to 0.6; 1 at 0.8 to 1.6". False, and
 * nothing said, unless one factor is given and few choices follow each other along it. */
static bool add_changes(const tcr_results *r, tcr_paragraph *line, const over_rows *o) {
    enum { CHANGES = 5 };
    const tcr_each *each = &r->each;
    size_t changes = 0;
    for (size_t row = 0; row < each->rows; row = last_alike(each, row) + 1)
        changes++;
    if (given_factors(r) != 1 || o->valued < each->rows || changes > CHANGES ||
        changes == each->rows)
        return false;
    tcr_add(line, "What is best changes with ");
    tcr_answer_add_names(r, line, false, (tcr_told){each, true});
    for (size_t row = 0; row < each->rows; row = last_alike(each, row) + 1) {
        const size_t last = last_alike(each, row);
        const uint64_t from = r->first + each->row[row].best.combination;
        tcr_add(line, row == 0 ? ": " : "; ");
        tcr_answer_add_values(r, line, from, row == 0, (tcr_told){each, false}, 200);
        tcr_add(line, " at ");
        tcr_answer_add_values(r, line, from, false, (tcr_told){each, true}, 80);
        if (last == row)
            continue;
        tcr_add(line, " to ");
        tcr_answer_add_values(r, line, r->first + each->row[last].best.combination, false,
                              (tcr_told){each, true}, 80);
    }
    return true;
}

/* "Best at each of 8 values of lashes.describe.pitch_sd_deg: layering.step_mm 1, with mean 0.517 to
 * 0.823 mm of fitted.rms_mm." */
void tcr_answer_add_each(const tcr_results *r, tcr_paragraph *line) {
    const tcr_each *each = &r->each;
    const over_rows o = look_over(each);
    const size_t good = o.same ? o.of->choice : good_at_all(each, &o);
    const int decimals = tcr_answer_decimals(r);
    const double scale = pow(10.0, decimals);
    const bool told = good == each->choices && add_changes(r, line, &o);
    if (!told) {
        tcr_add(line, o.same                 ? "Best at "
                      : good < each->choices ? "As good as the best, or not told apart from it, at "
                                             : "What is best is not the same at the ");
        tcr_add(line, good < each->choices && o.valued > 1 ? "each of " : "");
        add_given(r, line, each, o.valued);
    }
    if (good < each->choices) {
        tcr_add(line, ": ");
        tcr_answer_add_values(r, line, r->first + each->point[good], true, (tcr_told){each, false},
                              600);
    }
    tcr_add(line, o.same ? ", with "
                  : told ? ". The best of each has "
                         : "; the best of each has ");
    tcr_answer_add_criterion(r, line, true);
    tcr_add(line, " ");
    if (round(scale * o.least) < round(scale * o.most))
        tcr_answer_add_range(line, o.least, o.most, decimals);
    else
        tcr_add_fixed(line, o.least, decimals, false);
    tcr_answer_add_unit(r, line);
    tcr_add(line, " of ");
    tcr_answer_add_output(r, line);
    tcr_add(line, ".");
    if (o.valued > 1)
        tcr_add(line, " They are not ranked against each other: no artist chooses them.");
    if (o.valued < each->rows) {
        tcr_add(line, " At ");
        tcr_add_count(line, each->rows - o.valued);
        tcr_add(line, " more no choice has a value.");
    }
}

/* What the marks of the rows say, and what it means that a row has none. */
static void put_marks(const tcr_results *r, tcr_table *t, const tcr_each *each) {
    size_t alike = 0, open = 0, clear = 0, none = 0;
    for (size_t i = 0; i < each->rows; i++) {
        const tcr_each_row *row = &each->row[i];
        if (isnan(row->best.value))
            continue;
        open += row->open > 0;
        alike += row->open == 0 && row->alike > 0;
        none += row->none;
        clear += row->open == 0 && row->alike == 0 && row->none + 1 < each->choices;
    }
    if (open > 0)
        tcr_add(&t->line, "?: another choice is not told apart by these runs. ");
    if (alike > 0) {
        tcr_add(&t->line, "=: another is worse by no more than ");
        tcr_add_number(&t->line, r->options.best.alike);
        tcr_answer_add_unit(r, &t->line);
        tcr_add(&t->line, ", which counts as no difference (assumed). ");
    }
    if (none > 0) {
        tcr_answer_add_plural(&t->line, none, "combination");
        tcr_add(&t->line,
                none == 1 ? " beside the best has no value. " : " beside the best have no value. ");
    }
    if (r->has_runs && r->runs < 2) {
        tcr_add(&t->line, "One run tells nothing apart.");
    } else if (clear > 0) {
        tcr_add(&t->line,
                open + alike + none > 0 ? "Else all others are worse" : "All others are worse");
        if (r->has_runs) {
            tcr_add(&t->line, ", with ");
            tcr_add_number(&t->line, 100.0 * r->options.best.level);
            tcr_add(&t->line, " % confidence in each row");
        }
        tcr_add(&t->line, ".");
    }
    if (t->line.used > 0)
        tcr_table_end(t, 0, 2);
}

/* "4: 1", what is given before what is chosen */
void tcr_answer_add_row(const tcr_results *r, tcr_paragraph *line, uint64_t point) {
    const tcr_each *each = &r->each;
    tcr_paragraph words;
    tcr_paragraph_begin(&words);
    tcr_answer_add_values(r, &words, point, false, (tcr_told){each, true}, TCR_ANSWER_NAMES);
    tcr_add(&words, ": ");
    tcr_answer_add_values(r, &words, point, false, (tcr_told){each, false}, TCR_ANSWER_NAMES);
    tcr_add_safe(line, words.text, TCR_ANSWER_NAMES);
}

static void put_each_row(const tcr_results *r, tcr_table *t, const tcr_each *each,
                         const tcr_each_row *row) {
    const uint64_t point = r->first + row->best.combination;
    if (isnan(row->best.value)) {
        tcr_answer_add_values(r, &t->line, point, false, (tcr_told){each, true},
                              TCR_ANSWER_NAMES / 2);
        tcr_add(&t->line, ": no choice has a value");
    } else {
        tcr_answer_add_row(r, &t->line, point);
    }
    tcr_answer_add_figures(r, t, &row->best, row->open > 0 ? "?" : row->alike > 0 ? "=" : "");
    tcr_add_fixed_at(&t->line, TCR_ANSWER_NEXT_AT, row->next, tcr_answer_decimals(r), false);
    tcr_table_end(t, 2, 4);
}

/* ---- Rows in the study's order --------------------------------------------------------------- */

/* Of n rows 'shown' are shown: the first, the last and others evenly between them. The number of
 * shown row i. */
static size_t spread(size_t i, size_t shown, size_t n) {
    return shown < 2 ? i : (i * (n - 1) + (shown - 1) / 2) / (shown - 1);
}

/* How many of n rows are shown. */
static size_t shown_of(const tcr_table *t, size_t n) {
    const size_t most = tcr_answer_room(t);
    return n <= most + 1 ? n : most;
}

static void put_left_out(const tcr_results *r, tcr_table *t, size_t shown, size_t n,
                         const char *file) {
    if (shown == n)
        return;
    tcr_add(&t->line, "... ");
    tcr_add_count(&t->line, shown);
    tcr_add(&t->line, " of ");
    tcr_add_count(&t->line, n);
    tcr_add(&t->line, r->dir != NULL ? ", from first to last; all are in "
                                     : ", from first to last; -o DIR writes them all to ");
    tcr_add(&t->line, file);
    tcr_table_end(t, 2, 4);
}

void tcr_answer_put_each(const tcr_results *r, tcr_table *t) {
    const tcr_each *each = &r->each;
    tcr_answer_add_best(r, &t->line);
    tcr_table_end(t, 0, 2);
    put_marks(r, t, each);
    tcr_answer_put_heads(r, t, each);
    const size_t shown = shown_of(t, each->rows);
    for (size_t i = 0; i < shown; i++)
        put_each_row(r, t, each, &each->row[spread(i, shown, each->rows)]);
    put_left_out(r, t, shown, each->rows, "study.json");
}

/* ---- Nothing is chosen ----------------------------------------------------------------------- */

/* Whether a factor has more than one value. */
static bool varies(const tcr_results *r, size_t factor) {
    const tcr_factor *f = &tcr_study_factor_at(r->study, factor)->factor;
    return f->distribution != TCR_LEVELS || f->levels > 1;
}

bool tcr_answer_is_given(const tcr_results *r) {
    size_t given = 0, chosen = 0;
    for (size_t i = 0; i < r->factors; i++)
        if (varies(r, i))
            *(r->each.given[i] ? &given : &chosen) += 1;
    return given > 0 && chosen == 0 && r->ranked != NULL && !isnan(r->ranked[0].value);
}

/* "0.469 mm at lashes.describe.pitch_sd_deg 4" */
static void add_end(const tcr_results *r, tcr_paragraph *line, const tcr_ranked *end) {
    tcr_add_fixed(line, end->value, tcr_answer_decimals(r), false);
    tcr_answer_add_unit(r, line);
    tcr_add(line, " at ");
    tcr_answer_add_combination(r, line, r->first + end->combination, true, 300);
}

/* Whether they differ by anything that counts, as far as the runs tell. */
static void add_apart(const tcr_results *r, tcr_paragraph *line, size_t valued) {
    size_t alike = 0, open = 0;
    for (size_t i = 1; i < valued; i++) {
        alike += r->ranked[i].standing == TCR_STANDING_ALIKE;
        open += r->ranked[i].standing == TCR_STANDING_OPEN;
    }
    if (r->has_runs && r->runs < 2) {
        tcr_add(line, " One run tells nothing apart.");
    } else if (open > 0) {
        tcr_add(line, " These runs do not tell ");
        tcr_add_count(line, open);
        tcr_add(line, " of them from the first of these.");
    } else if (alike == valued - 1) {
        tcr_add(line, " They differ by no more than ");
        tcr_add_number(line, r->options.best.alike);
        tcr_answer_add_unit(r, line);
        tcr_add(line, ", which counts as no difference (assumed).");
    }
}

void tcr_answer_add_given(const tcr_results *r, tcr_paragraph *line) {
    size_t valued = 0;
    while (valued < (size_t)(r->end - r->first) && !isnan(r->ranked[valued].value))
        valued++;
    const tcr_ranked *first = &r->ranked[0], *last = &r->ranked[valued - 1];
    tcr_answer_add_output(r, line);
    tcr_add(line, ", ");
    tcr_answer_add_criterion(r, line, true);
    const bool most = r->goal == TCR_GOAL_MOST;
    tcr_add(line, valued == 1 ? ": " : most ? ": most " : ": least ");
    add_end(r, line, first);
    if (valued > 1) {
        tcr_add(line, most ? ", least " : ", most ");
        add_end(r, line, last);
        tcr_add(line, ". They are not ranked: no artist chooses them");
    }
    tcr_add(line, ".");
    if (valued > 1)
        add_apart(r, line, valued);
}

void tcr_answer_put_given(const tcr_results *r, tcr_table *t) {
    const size_t n = (size_t)(r->end - r->first);
    tcr_answer_add_best(r, &t->line);
    tcr_table_end(t, 0, 2);
    if (n < 2)
        return;
    tcr_answer_put_heads(r, t, NULL);
    const size_t shown = shown_of(t, n);
    for (size_t i = 0; i < shown; i++) {
        const size_t place = spread(i, shown, n);
        size_t k = 0;
        while (r->ranked[k].combination != place)
            k++;
        tcr_answer_add_combination(r, &t->line, r->first + place, false, TCR_ANSWER_NAMES);
        if (isnan(r->ranked[k].value))
            tcr_add(&t->line, ": no value");
        else
            tcr_answer_add_figures(r, t, &r->ranked[k], "");
        tcr_table_end(t, 2, 4);
    }
    put_left_out(r, t, shown, n, "results.csv");
}
