/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The answer of a study for people. Of a ranking: the best combination in a sentence, what is not
 * told apart from it, then the best in a row each. Where some of it nobody chooses: answer_given.c.
 */
#include "results/answer_table.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "num/number.h"

enum { LINES = 15, VALUE_AT = 50, RANGE_AT = 54, MARK_AT = 69, NAME_COLUMNS = TCR_ANSWER_NAMES };

static const double LEVEL = 0.95;

const char *tcr_unit_word(tcr_unit unit) {
    static const char *const WORD[] = {
        [TCR_UNIT_NONE] = "",  [TCR_UNIT_MM] = "mm",     [TCR_UNIT_DEGREES] = "degrees",
        [TCR_UNIT_PLACE] = "", [TCR_UNIT_SHARE] = "",    [TCR_UNIT_RATIO] = "",
        [TCR_UNIT_COUNT] = "", [TCR_UNIT_SECONDS] = "s", [TCR_UNIT_MINUTES] = "min",
        [TCR_UNIT_MG] = "mg",  [TCR_UNIT_UNMM] = "uN mm"};
    return (unsigned)unit < sizeof WORD / sizeof *WORD ? WORD[unit] : "";
}

int tcr_answer_decimals(const tcr_results *r) {
    return tcr_study_output_at(r->study, r->judge[0])->unit == TCR_UNIT_COUNT ? 1 : 3;
}

void tcr_answer_add_unit(const tcr_results *r, tcr_paragraph *line) {
    const char *unit;
    (void)tcr_results_output(r, &unit);
    if (*unit != '\0') {
        tcr_add(line, " ");
        tcr_add(line, unit);
    }
}

void tcr_answer_add_plural(tcr_paragraph *line, uint64_t count, const char *what) {
    tcr_add_count(line, (size_t)count);
    tcr_add(line, " ");
    tcr_add(line, what);
    tcr_add(line, count == 1 ? "" : "s");
}

void tcr_answer_add_output(const tcr_results *r, tcr_paragraph *line) {
    tcr_add(line, r->goal == TCR_GOAL_ZERO ? "the size of " : "");
    tcr_add(line, r->of);
    if (r->judges > 1)
        tcr_add(line, " of the worse eye");
}

/* ---- Combinations ---------------------------------------------------------------------------- */

static void value_text(const tcr_results *r, size_t factor, double value,
                       char text[TCR_KEY_VALUE_SIZE]) {
    const tcr_study_factor *f = tcr_study_factor_at(r->study, factor);
    if (f->factor.distribution == TCR_LEVELS) {
        (void)tcr_key_value_text(r->set, &f->key, value, text);
        return;
    }
    char number[TCR_NUMBER_SIZE];
    (void)tcr_number_significant(value, 4, number);
    (void)snprintf(text, TCR_KEY_VALUE_SIZE, "%s", number);
}

static bool is_told(tcr_told which, size_t factor) {
    return which.each == NULL || which.each->given[factor] == which.given;
}

static const tcr_told ALL = {NULL, false};

void tcr_answer_add_values(const tcr_results *r, tcr_paragraph *line, uint64_t point, bool keys,
                           tcr_told which, int columns) {
    double value[TCR_FACTORS_MAX];
    const char *between = "";
    tcr_paragraph words;
    if (tcr_study_points(r->study, point, 1, value) != TCR_OK)
        return;
    tcr_paragraph_begin(&words);
    for (size_t i = 0; i < r->factors; i++) {
        char text[TCR_KEY_VALUE_SIZE];
        if (!is_told(which, i))
            continue;
        value_text(r, i, value[i], text);
        tcr_add(&words, between);
        if (keys) {
            tcr_add(&words, tcr_study_factor_at(r->study, i)->key.name);
            tcr_add(&words, " ");
        }
        tcr_add(&words, text);
        between = ", ";
    }
    tcr_add_safe(line, words.text, columns); /* labels of curls are a user's text */
}

void tcr_answer_add_combination(const tcr_results *r, tcr_paragraph *line, uint64_t point,
                                bool keys, int columns) {
    tcr_answer_add_values(r, line, point, keys, ALL, columns);
}

void tcr_answer_add_names(const tcr_results *r, tcr_paragraph *line, bool brief, tcr_told which) {
    const char *between = "";
    for (size_t i = 0; i < r->factors; i++) {
        const char *name = tcr_study_factor_at(r->study, i)->key.name, *point = strrchr(name, '.');
        if (!is_told(which, i))
            continue;
        tcr_add(line, between);
        tcr_add(line, brief && point != NULL ? point + 1 : name);
        between = ", ";
    }
}

/* The heads of a row's columns, in brief where they take too much. each: what is given comes first;
 * or NULL. */
static void add_keys(const tcr_results *r, tcr_paragraph *line, const tcr_each *each) {
    tcr_paragraph words;
    for (int brief = 0; brief <= 1; brief++) {
        tcr_paragraph_begin(&words);
        if (each != NULL) {
            tcr_answer_add_names(r, &words, brief, (tcr_told){each, true});
            tcr_add(&words, ": ");
        }
        tcr_answer_add_names(r, &words, brief, (tcr_told){each, false});
        if (words.columns <= NAME_COLUMNS)
            break;
    }
    tcr_add_safe(line, words.text, NAME_COLUMNS);
}

void tcr_answer_add_range(tcr_paragraph *line, double low, double high, int decimals) {
    tcr_add_fixed(line, low, decimals, false);
    tcr_add(line, " to ");
    tcr_add_fixed(line, high, decimals, false);
}

/* ---- Best ------------------------------------------------------------------------------------ */

/* The first sentence where all combinations are ranked together. */
static void add_first(const tcr_results *r, tcr_paragraph *line, const tcr_ranked *first) {
    tcr_summary s;
    if (isnan(first->value)) {
        tcr_add(line, "No combination can be ranked: each lacks a value of ");
        tcr_add(line, r->of);
        tcr_add(line, r->has_runs ? " in one of its runs." : ".");
        return;
    }
    if (r->factors > 0) {
        tcr_add(line, "Best: ");
        tcr_answer_add_combination(r, line, r->first + first->combination, true, 600);
    } else {
        tcr_add(line, "Nothing varies (--vary KEY=LIST): the set as it is");
    }
    tcr_add(line, ", with ");
    tcr_answer_add_criterion(r, line, true);
    tcr_add(line, " ");
    tcr_add_fixed(line, first->value, tcr_answer_decimals(r), false);
    tcr_answer_add_unit(r, line);
    tcr_add(line, " of ");
    tcr_answer_add_output(r, line);
    if (r->has_runs && tcr_results_point(r, first->combination, r->scratch, &s) == TCR_OK) {
        if (r->options.best.by == TCR_BEST_WORST) {
            tcr_add(line, "; the worst of all ");
            tcr_add_count(line, s.runs);
            tcr_add(line, " runs is ");
            tcr_add_fixed(line, tcr_answer_worst(r, &s), tcr_answer_decimals(r), false);
            tcr_answer_add_unit(r, line);
        }
        tcr_add(line, "; 90 % of runs from ");
        tcr_answer_add_range(line, s.p5, s.p95, tcr_answer_decimals(r));
    }
    tcr_add(line, ".");
}

void tcr_answer_add_best(const tcr_results *r, tcr_paragraph *line) {
    const bool each = r->each.rows > 0, given = tcr_answer_is_given(r);
    if (each)
        tcr_answer_add_each(r, line);
    else if (given)
        tcr_answer_add_given(r, line);
    else
        add_first(r, line, &r->ranked[0]);
    if (!(r->beyond.share > 0.0))
        return;
    tcr_add(line, each ? " With the best of all (" : given ? " At " : " With this choice");
    if (each) {
        tcr_answer_add_row(r, line, r->first + r->ranked[0].combination);
        tcr_add(line, ")");
    } else if (given) {
        tcr_answer_add_combination(r, line, r->first + r->ranked[0].combination, true, 300);
        tcr_add(line, ",");
    }
    tcr_answer_add_beyond(r, line);
}

/* "1 other is ", "7 others are " */
static void add_others(tcr_paragraph *line, size_t count) {
    tcr_add_count(line, count);
    tcr_add(line, count == 1 ? " other is " : " others are ");
}

/* How the others stand beside the first. */
static void put_others(const tcr_results *r, tcr_table *t, const tcr_ranked *ranked, size_t n) {
    size_t of[TCR_STANDINGS] = {0};
    for (size_t i = 0; i < n; i++)
        of[ranked[i].standing]++;
    if (n < 2)
        return;
    if (of[TCR_STANDING_OPEN] > 0) {
        add_others(&t->line, of[TCR_STANDING_OPEN]);
        tcr_add(&t->line, "not told apart from it by these runs (?). ");
    }
    if (of[TCR_STANDING_ALIKE] > 0) {
        add_others(&t->line, of[TCR_STANDING_ALIKE]);
        tcr_add(&t->line, "worse by no more than ");
        tcr_add_number(&t->line, r->options.best.alike);
        tcr_answer_add_unit(r, &t->line);
        tcr_add(&t->line, " (=), which counts as no difference (assumed). ");
    }
    if (of[TCR_STANDING_NONE] > 0) {
        add_others(&t->line, of[TCR_STANDING_NONE]);
        tcr_add(&t->line, "not ranked, for want of a value. ");
    }
    if (r->has_runs && r->runs < 2)
        tcr_add(&t->line, "One run tells nothing apart.");
    else if (r->has_runs && of[TCR_STANDING_WORSE] > 0) {
        add_others(&t->line, of[TCR_STANDING_WORSE]);
        tcr_add(&t->line, "worse. All of this holds with ");
        tcr_add_number(&t->line, 100.0 * r->options.best.level);
        tcr_add(&t->line, " % confidence, for all pairs together.");
    }
    if (t->line.used > 0)
        tcr_table_end(t, 0, 2);
}

void tcr_answer_add_figures(const tcr_results *r, tcr_table *t, const tcr_ranked *row,
                            const char *mark) {
    tcr_summary s;
    tcr_add_fixed_at(&t->line, VALUE_AT, row->value, tcr_answer_decimals(r), false);
    if (r->has_runs && tcr_results_point(r, row->combination, r->scratch, &s) == TCR_OK) {
        tcr_add_to_column(&t->line, RANGE_AT);
        tcr_answer_add_range(&t->line, s.p5, s.p95, tcr_answer_decimals(r));
    }
    if (*mark != '\0') {
        tcr_add_to_column(&t->line, MARK_AT);
        tcr_add(&t->line, mark);
    }
}

static void put_row(const tcr_results *r, tcr_table *t, const tcr_ranked *row) {
    static const char *const MARK[TCR_STANDINGS] = {"", "=", "?", "", ""};
    tcr_answer_add_combination(r, &t->line, r->first + row->combination, false, NAME_COLUMNS);
    tcr_answer_add_figures(r, t, row, MARK[row->standing]);
    tcr_table_end(t, 2, 4);
}

void tcr_answer_put_heads(const tcr_results *r, tcr_table *t, const tcr_each *each) {
    tcr_table_line(t, 0, "");
    add_keys(r, &t->line, each);
    tcr_paragraph by;
    tcr_paragraph_begin(&by);
    tcr_answer_add_criterion(r, &by, false);
    tcr_add_text_at(&t->line, VALUE_AT, by.text);
    if (r->has_runs) {
        tcr_add_to_column(&t->line, RANGE_AT);
        tcr_add(&t->line, "90 % of runs");
    }
    if (each != NULL)
        tcr_add_text_at(&t->line, TCR_ANSWER_NEXT_AT, "next best");
    tcr_table_end(t, 2, 4);
}

size_t tcr_answer_room(const tcr_table *t) {
    enum { LEAST = 3, AROUND = 2 }; /* rows; lines above and below them */
    return t->lines < LINES - AROUND - LEAST ? (size_t)(LINES - AROUND - t->lines) + 1 : LEAST;
}

static void put_more(const tcr_results *r, tcr_table *t, size_t more) {
    tcr_add(&t->line, "... and ");
    tcr_add_count(&t->line, more);
    tcr_add(&t->line, r->dir != NULL ? " more, in results.csv"
                                     : " more; -o DIR writes them all to results.csv");
    tcr_table_end(t, 2, 4);
}

static void put_ranking(const tcr_results *r, tcr_table *t, const tcr_ranked *ranked, size_t n) {
    size_t rows = 0;
    tcr_answer_add_best(r, &t->line);
    tcr_table_end(t, 0, 2);
    put_others(r, t, ranked, n);
    if (n < 2 || isnan(ranked[0].value))
        return;
    tcr_answer_put_heads(r, t, NULL);
    const bool names = r->beyond.least < r->beyond.share; /* a row that is not to be missed */
    const size_t most = tcr_answer_room(t) - names;
    bool seen = !names;
    for (; rows < n && (rows < most || rows + 1 == n) && !isnan(ranked[rows].value); rows++) {
        put_row(r, t, &ranked[rows]);
        seen = seen || ranked[rows].combination == r->beyond.combination;
    }
    for (size_t i = rows; i < n && !seen; i++)
        if (ranked[i].combination == r->beyond.combination) {
            put_row(r, t, &ranked[i]);
            seen = true;
            n--;
        }
    if (rows < n)
        put_more(r, t, n - rows);
}

/* ---- The whole ------------------------------------------------------------------------------- */

static bool has_drawn(const tcr_results *r) {
    return tcr_set_drawn_count(r->set, TCR_LEFT) + tcr_set_drawn_count(r->set, TCR_RIGHT) > 0;
}

/* What a run does with the lashes of each eye: it draws those that are described. */
static const char *run_words(const tcr_results *r) {
    bool drawn = false, varied = false;
    for (int side = 0; side < TCR_SIDES; side++) {
        const bool described = tcr_set_description(r->set, (tcr_side)side) != NULL;
        drawn = drawn || described;
        varied = varied || (!described && tcr_set_lash_count(r->set, (tcr_side)side) > 0);
    }
    return !varied ? " of each, on lashes drawn anew"
           : drawn ? " of each, on lashes drawn anew or varied about the set's"
                   : " of each, on lashes varied about the set's";
}

static void put_title(const tcr_results *r, tcr_table *t) {
    const char *title = tcr_study_file_title(r->file);
    if (*title != '\0') {
        tcr_add_safe(&t->line, title, 50);
        tcr_add(&t->line, ": ");
    }
    tcr_answer_add_plural(&t->line, r->end - r->first,
                          tcr_answer_is_ranking(r) ? "combination" : "point");
    if (r->has_runs) {
        tcr_add(&t->line, ", ");
        tcr_answer_add_plural(&t->line, r->runs, "run");
        tcr_add(&t->line, run_words(r));
    }
    tcr_table_end(t, 0, 2);
}

static void put_failures(const tcr_results *r, tcr_table *t, const tcr_error *first) {
    if (r->failures.count == 0)
        return;
    tcr_table_line(t, 0, "");
    tcr_answer_add_plural(&t->line, r->failures.count, "evaluation");
    tcr_add(&t->line, " failed");
    if (first->message[0] != '\0') {
        tcr_add(&t->line, ", the first at ");
        tcr_answer_add_combination(r, &t->line, r->failures.point, true, 300);
        tcr_add(&t->line, ": ");
        tcr_add_safe(&t->line, first->message, 300);
    }
    tcr_add(&t->line, ".");
    if (first->status == TCR_E_TRAY && strstr(first->message, "tray lacks") != NULL)
        tcr_add(&t->line,
                " Add that length to the tray of the set file, or write tray: any there.");
    tcr_table_end(t, 0, 2);
}

static void put_end(const tcr_results *r, tcr_table *t, const tcr_error *first_failure) {
    put_failures(r, t, first_failure);
    tcr_table_line(t, 0, "");
    if (r->dir != NULL) {
        tcr_add(&t->line, "Results: ");
        tcr_add_safe(&t->line, r->path[TCR_RESULTS_CSV], 200);
        tcr_table_end(t, 0, 2);
    }
    if (!r->has_runs && has_drawn(r))
        tcr_table_line(t, 0, "The lashes are one sample drawn by chance; --runs tries many.");
    if (r->has_runs)
        tcr_table_line(t, 0,
                       "Runs are drawn by chance, with spreads that are assumed where none is "
                       "given: they show what may happen, not what does.");
    tcr_table_line(t, 0, tcr_table_cautions);
}

static void put_none(const tcr_results *r, tcr_table *t) {
    if (r->next != r->end)
        tcr_table_line(t, 0, "The study is not done.");
    else if (r->options.parts > 1)
        tcr_table_line(t, 0, "This is a part; --join puts the parts together and has the answer.");
    else
        tcr_table_line(t, 0, "There are too many points to rank them here; results.csv has them.");
}

tcr_status tcr_results_table(const tcr_results *r, tcr_sink sink, void *context) {
    tcr_writer writer;
    tcr_sobol_index index[TCR_FACTORS_MAX] = {0};
    tcr_sobol_variance variance = {0};
    tcr_error first_failure;
    if (r == NULL || sink == NULL)
        return TCR_E_ARGUMENT;
    tcr_table t = {.set = r->set, .writer = &writer};
    const bool has_answer = r->judges > 0 && r->next == r->end;
    tcr_status status = tcr_answer_first_failure(r, &first_failure);
    if (status == TCR_OK && has_answer && !tcr_answer_is_ranking(r))
        status = tcr_results_indices(r, LEVEL, index, &variance);
    if (status != TCR_OK)
        return status;
    tcr_writer_begin(&writer, sink, context);
    tcr_paragraph_begin(&t.line);
    put_title(r, &t);
    if (r->each.rows > 0)
        tcr_answer_put_each(r, &t);
    else if (tcr_answer_is_given(r))
        tcr_answer_put_given(r, &t);
    else if (r->ranked != NULL)
        put_ranking(r, &t, r->ranked, (size_t)(r->end - r->first));
    else if (has_answer && !tcr_answer_is_ranking(r))
        tcr_answer_put_shares(r, &t, index, &variance);
    else
        put_none(r, &t);
    put_end(r, &t, &first_failure);
    return tcr_writer_end(&writer);
}
