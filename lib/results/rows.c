/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of the tables: a point in results.csv and results.npy, an evaluation in runs.npy and
 * runs.csv. */
#include "results/results.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "num/memory.h"

/* What stands behind an output with runs. */
enum { FIGURES = 4 };
static const char *const FIGURE[FIGURES] = {".mean", ".se", ".p5", ".p95"};

/* ---- Columns --------------------------------------------------------------------------------- */

/* Characters of the longest word of a factor; 0 for one of numbers. */
static size_t characters_of(const tcr_results *r, const tcr_study_factor *f) {
    size_t most = 1;
    if (f->key.words == NULL && f->key.kind != TCR_KIND_LABEL)
        return 0;
    for (size_t i = 0; i < f->factor.levels; i++) {
        char text[TCR_KEY_VALUE_SIZE];
        const size_t bytes = tcr_key_value_text(r->set, &f->key, f->factor.level[i], text);
        most = bytes > most ? bytes : most;
    }
    return most;
}

static tcr_npy_column column_of(const char *name, const char *end, tcr_npy_kind kind) {
    tcr_npy_column column = {.kind = kind};
    (void)snprintf(column.name, sizeof column.name, "%s%s", name, end);
    return column;
}

/* The columns of results.npy, which results.csv has too, then those of runs.npy. */
static void name_columns(tcr_results *r) {
    tcr_npy_column *c = r->column;
    for (size_t i = 0; i < r->factors; i++, c++) {
        const tcr_study_factor *f = tcr_study_factor_at(r->study, i);
        const size_t characters = characters_of(r, f);
        *c = column_of(f->key.name, "", characters > 0 ? TCR_NPY_TEXT : TCR_NPY_DOUBLE);
        c->characters = characters;
    }
    for (size_t o = 0; o < r->outputs; o++)
        for (int figure = 0; figure < (r->has_runs ? FIGURES : 1); figure++)
            *c++ = column_of(tcr_study_output_at(r->study, o)->name,
                             r->has_runs ? FIGURE[figure] : "", TCR_NPY_DOUBLE);
    *c++ = column_of("failed", "", TCR_NPY_INT);
    *c++ = column_of("status", "", TCR_NPY_INT);
    for (size_t o = 0; o < r->outputs; o++)
        *c++ = column_of(tcr_study_output_at(r->study, o)->name, "", TCR_NPY_DOUBLE);
}

tcr_status tcr_rows_prepare(tcr_results *r) {
    r->columns = r->factors + r->outputs * (r->has_runs ? FIGURES : 1) + 1;
    r->run_columns = 1 + r->outputs;
    r->column = tcr_resize(&r->allocator, NULL, r->columns + r->run_columns, sizeof *r->column);
    r->scratch = tcr_resize(&r->allocator, NULL, r->runs, sizeof *r->scratch);
    if (r->column == NULL || r->scratch == NULL)
        return TCR_E_MEMORY;
    name_columns(r);
    r->row_bytes = tcr_npy_row_bytes(r->column, r->columns);
    r->run_bytes = tcr_npy_row_bytes(r->column + r->columns, r->run_columns);
    r->row = tcr_resize(&r->allocator, NULL,
                        r->row_bytes > r->run_bytes ? r->row_bytes : r->run_bytes, 1);
    if (r->row == NULL)
        return TCR_E_MEMORY;
    return tcr_npy_head(&r->allocator, r->column + r->columns, r->run_columns,
                        (r->end - r->first) * r->runs, &r->head, &r->head_bytes);
}

/* ---- Beginning and end ----------------------------------------------------------------------- */

tcr_status tcr_results_fail_write(tcr_results *r, int name) {
    return tcr_fail_target(r->error, TCR_E_WRITE, r->path[name], r->grow[name].failed);
}

static void begin_csv(tcr_results *r, int i, int name) {
    tcr_writer_begin(&r->writer[i], tcr_growing_sink, &r->grow[name]);
    tcr_csv_options form = tcr_csv_options_default();
    form.decimal_comma = r->options.decimal_comma;
    (void)tcr_csv_put_begin(&r->csv[i], &r->writer[i], &form, TCR_CSV_ALL_DIGITS);
}

tcr_status tcr_rows_begin(tcr_results *r, bool new_log) {
    char *head;
    size_t bytes;
    if (!r->has_files)
        return TCR_OK;
    if (new_log)
        (void)tcr_growing_write(&r->grow[TCR_RUNS_NPY], r->head, r->head_bytes);
    if (tcr_npy_head(&r->allocator, r->column, r->columns, r->end - r->first, &head, &bytes) !=
        TCR_OK)
        return tcr_fail_memory(r->error, r->dir);
    (void)tcr_growing_write(&r->grow[TCR_RESULTS_NPY], head, bytes);
    tcr_release(&r->allocator, head);
    begin_csv(r, 0, TCR_RESULTS_CSV);
    for (size_t i = 0; i < r->columns; i++)
        tcr_csv_put_word(&r->csv[0], r->column[i].name);
    tcr_csv_put_row_end(&r->csv[0]);
    if (r->options.all) {
        begin_csv(r, 1, TCR_RUNS_CSV);
        tcr_csv_put_word(&r->csv[1], "point");
        tcr_csv_put_word(&r->csv[1], "run");
        for (size_t i = 0; i < r->factors; i++)
            tcr_csv_put_word(&r->csv[1], r->column[i].name);
        for (size_t i = 1; i < r->run_columns; i++)
            tcr_csv_put_word(&r->csv[1], r->column[r->columns + i].name);
        tcr_csv_put_row_end(&r->csv[1]);
    }
    return tcr_rows_flush(r);
}

tcr_status tcr_rows_flush(tcr_results *r) {
    if (!r->has_files)
        return TCR_OK;
    (void)tcr_writer_end(&r->writer[0]); /* failures are in the files */
    if (r->options.all)
        (void)tcr_writer_end(&r->writer[1]);
    for (int i = 0; i < TCR_GROWING; i++)
        if (tcr_results_has(r, i) && tcr_growing_flush(&r->grow[i]) != 0)
            return tcr_results_fail_write(r, i);
    return TCR_OK;
}

/* ---- Rows ------------------------------------------------------------------------------------ */

/* A whole number that may be too large for a double's digits. */
static void put_whole(tcr_csv_put *csv, uint64_t value) {
    char text[24];
    (void)snprintf(text, sizeof text, "%llu", (unsigned long long)value);
    tcr_csv_put_word(csv, text);
}

static void put_factor(const tcr_results *r, tcr_csv_put *csv, size_t i, double value) {
    char text[TCR_KEY_VALUE_SIZE];
    if (r->column[i].kind == TCR_NPY_DOUBLE) {
        tcr_csv_put_number(csv, value);
        return;
    }
    (void)tcr_key_value_text(r->set, &tcr_study_factor_at(r->study, i)->key, value, text);
    tcr_csv_put_text(csv, text); /* the label of a curl is a user's text */
}

/* The figures of an output at a point, NaN where there is none. */
static size_t figures_of(tcr_results *r, const double *value, double figure[FIGURES]) {
    tcr_summary s;
    if (!r->has_runs) {
        figure[0] = value[0];
        return 1;
    }
    (void)tcr_summarise(value, r->runs, r->outputs, r->scratch, &s);
    figure[0] = s.mean;
    figure[1] = s.se;
    figure[2] = s.p5;
    figure[3] = s.p95;
    return FIGURES;
}

/* A point: factors, outputs, how many of its evaluations failed. */
static void put_point(tcr_results *r, const double *factor, const double *value, int failed) {
    unsigned char *at = r->row;
    for (size_t i = 0; i < r->factors; i++) {
        char text[TCR_KEY_VALUE_SIZE];
        put_factor(r, &r->csv[0], i, factor[i]);
        if (r->column[i].kind == TCR_NPY_DOUBLE) {
            at = tcr_npy_put_double(at, factor[i]);
            continue;
        }
        (void)tcr_key_value_text(r->set, &tcr_study_factor_at(r->study, i)->key, factor[i], text);
        at = tcr_npy_put_text(at, &r->column[i], text);
    }
    for (size_t o = 0; o < r->outputs; o++) {
        double figure[FIGURES];
        const size_t n = figures_of(r, value + o, figure);
        for (size_t k = 0; k < n; k++) {
            tcr_csv_put_number(&r->csv[0], figure[k]);
            at = tcr_npy_put_double(at, figure[k]);
        }
    }
    put_whole(&r->csv[0], (uint64_t)failed);
    (void)tcr_npy_put_int(at, failed);
    tcr_csv_put_row_end(&r->csv[0]);
    (void)tcr_growing_write(&r->grow[TCR_RESULTS_NPY], r->row, r->row_bytes);
}

/* An evaluation, in the log and in runs.csv. */
static void put_run(tcr_results *r, const tcr_study_block *b, size_t p, size_t run, bool to_log) {
    const size_t i = p * b->runs + run;
    const double *value = b->value + i * b->outputs;
    if (to_log) {
        unsigned char *at = tcr_npy_put_int(r->row, (int32_t)b->status[i]);
        for (size_t o = 0; o < b->outputs; o++)
            at = tcr_npy_put_double(at, value[o]);
        (void)tcr_growing_write(&r->grow[TCR_RUNS_NPY], r->row, r->run_bytes);
    }
    if (!r->options.all)
        return;
    put_whole(&r->csv[1], b->first + p + 1);
    put_whole(&r->csv[1], run + 1);
    for (size_t k = 0; k < r->factors; k++)
        put_factor(r, &r->csv[1], k, b->factor[p * r->factors + k]);
    for (size_t o = 0; o < b->outputs; o++)
        tcr_csv_put_number(&r->csv[1], value[o]);
    tcr_csv_put_row_end(&r->csv[1]);
}

/* Counts the evaluations of a point that failed. */
static int count_failed(tcr_results *r, const tcr_study_block *b, size_t p) {
    tcr_failures *f = &r->failures;
    int failed = 0;
    for (size_t run = 0; run < b->runs; run++) {
        const tcr_status status = b->status[p * b->runs + run];
        if (status == TCR_OK)
            continue;
        if (f->count == 0) {
            f->point = b->first + p;
            f->run = run;
        }
        f->count++;
        f->of_status[(unsigned)status < TCR_STATUSES ? status : TCR_E_ARGUMENT]++;
        failed++;
    }
    return failed;
}

tcr_status tcr_rows_put(tcr_results *r, const tcr_study_block *b, bool to_log) {
    /* The log comes first: what it has can be made again, and what it lacks was not done. */
    for (size_t p = 0; p < b->points && r->has_files; p++)
        for (size_t run = 0; run < b->runs; run++)
            put_run(r, b, p, run, to_log);
    for (size_t p = 0; p < b->points; p++) {
        const int failed = count_failed(r, b, p);
        if (r->has_files)
            put_point(r, b->factor + p * r->factors, b->value + p * b->runs * b->outputs, failed);
    }
    tcr_answer_take(r, b);
    const tcr_status status = tcr_rows_flush(r);
    if (status == TCR_OK)
        r->next = b->first + b->points;
    return status;
}
