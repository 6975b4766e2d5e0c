/* SPDX-License-Identifier: GPL-3.0-or-later */
/* study.json: what ran, how far it is, digests, failures and the answer. */
#include "results/answer_table.h"
#include "results/results.h"

#include <math.h>

#include "file/envelope.h"

enum { RANKED_ROWS = 20 };

static const double LEVEL = 0.95;

static void put_study(tcr_json *json, const tcr_results *r) {
    tcr_json_array(json, "study");
    for (size_t i = 0; i < r->record.items; i++) {
        tcr_json_object(json, NULL);
        tcr_json_in_line(json);
        tcr_json_text(json, "key", r->record.item[i].key);
        tcr_json_text(json, "value", tcr_record_text(&r->record, i));
        tcr_json_end(json);
    }
    tcr_json_end(json);
}

static void put_progress(tcr_json *json, const tcr_results *r) {
    tcr_json_object(json, "part");
    tcr_json_in_line(json);
    tcr_json_count(json, "index", r->options.part);
    tcr_json_count(json, "of", r->options.parts);
    tcr_json_count(json, "first_point", (size_t)r->first + 1);
    tcr_json_count(json, "points", (size_t)(r->end - r->first));
    tcr_json_end(json);
    tcr_json_count(json, "points", (size_t)r->points);
    tcr_json_count(json, "runs", r->has_runs ? r->runs : 0);
    tcr_json_bool(json, "complete", r->complete);
}

static void put_digests(tcr_json *json, const tcr_results *r) {
    char plan[TCR_DIGEST_SIZE];
    tcr_record_digest(&r->record, plan);
    tcr_json_object(json, "digests");
    tcr_json_text(json, "set", tcr_record_find(&r->record, "set"));
    tcr_json_text(json, "study", plan);
    tcr_json_text(json, "results_csv", r->complete ? r->digest : NULL);
    tcr_json_end(json);
}

static void put_columns(tcr_json *json, const tcr_results *r) {
    tcr_json_array(json, "columns");
    for (size_t i = 0; i < r->columns; i++)
        tcr_json_text(json, NULL, r->column[i].name);
    tcr_json_end(json);
}

static void put_failures(tcr_json *json, const tcr_results *r) {
    tcr_json_count(json, "failed", (size_t)r->failures.count);
    tcr_json_array(json, "failures");
    for (int i = 0; i < TCR_STATUSES && r->complete; i++) {
        if (r->failures.of_status[i] == 0)
            continue;
        tcr_json_object(json, NULL);
        tcr_json_in_line(json);
        tcr_json_count(json, "status", (size_t)i);
        tcr_json_text(json, "reason", tcr_status_text((tcr_status)i));
        tcr_json_count(json, "count", (size_t)r->failures.of_status[i]);
        tcr_json_end(json);
    }
    tcr_json_end(json);
}

/* ---- The answer ------------------------------------------------------------------------------ */

static void put_interval(tcr_json *json, const char *key, const tcr_interval *interval) {
    tcr_json_array(json, key);
    tcr_json_number(json, NULL, interval->estimate);
    tcr_json_number(json, NULL, interval->low);
    tcr_json_number(json, NULL, interval->high);
    tcr_json_end(json);
}

static void put_summary(tcr_json *json, const tcr_results *r, size_t combination) {
    tcr_summary s;
    if (tcr_results_point(r, combination, r->scratch, &s) != TCR_OK)
        return;
    tcr_json_number(json, "mean", s.mean);
    tcr_json_number(json, "p5", s.p5);
    tcr_json_number(json, "p95", s.p95);
    tcr_json_number(json, "worst", tcr_answer_worst(r, &s));
}

static void put_row(tcr_json *json, const tcr_results *r, const tcr_ranked *row) {
    static const char *const STANDING[TCR_STANDINGS] = {"first", "alike", "open", "worse",
                                                        "not ranked"};
    tcr_json_object(json, NULL);
    tcr_json_in_line(json);
    tcr_json_count(json, "point", (size_t)r->first + row->combination + 1);
    tcr_json_number(json, "value", row->value);
    put_summary(json, r, row->combination);
    put_interval(json, "difference", &row->difference);
    tcr_json_text(json, "standing", STANDING[row->standing]);
    tcr_json_end(json);
}

static void put_ranking(tcr_json *json, const tcr_results *r) {
    const size_t points = (size_t)(r->end - r->first);
    tcr_json_array(json, "best");
    for (size_t i = 0; r->ranked != NULL && i < points && i < RANKED_ROWS; i++)
        put_row(json, r, &r->ranked[i]);
    tcr_json_end(json);
}

/* The best choice for each combination of the factors that no artist chooses; null where there is
 * none. */
static void put_each(tcr_json *json, const tcr_results *r) {
    const tcr_each *each = &r->each;
    if (each->rows == 0) {
        tcr_json_null(json, "for_each");
        return;
    }
    tcr_json_object(json, "for_each");
    tcr_json_array(json, "given");
    for (size_t i = 0; i < r->factors; i++)
        if (each->given[i])
            tcr_json_text(json, NULL, tcr_study_factor_at(r->study, i)->key.name);
    tcr_json_end(json);
    tcr_json_array(json, "best");
    for (size_t i = 0; i < each->rows; i++) {
        const tcr_each_row *row = &each->row[i];
        tcr_json_object(json, NULL);
        tcr_json_in_line(json);
        tcr_json_count(json, "point", (size_t)r->first + row->best.combination + 1);
        tcr_json_number(json, "value", row->best.value);
        put_summary(json, r, row->best.combination);
        tcr_json_count(json, "others_alike", row->alike);
        tcr_json_count(json, "others_open", row->open);
        tcr_json_count(json, "others_not_ranked", row->none);
        tcr_json_end(json);
    }
    tcr_json_end(json);
    tcr_json_end(json);
}

/* Of a grid these are the exact shares over its points; of other points there are none. */
static tcr_status put_indices(tcr_json *json, const tcr_results *r) {
    tcr_sobol_index index[TCR_FACTORS_MAX];
    tcr_sobol_variance v = {.mean = NAN, .variance = NAN, .left_share = NAN};
    const tcr_status status =
        r->factors > 0 ? tcr_results_indices(r, LEVEL, index, &v) : TCR_E_MISSING;
    tcr_json_array(json, "indices");
    for (size_t i = 0; i < r->factors && status == TCR_OK; i++) {
        tcr_json_object(json, NULL);
        tcr_json_in_line(json);
        tcr_json_text(json, "key", tcr_study_factor_at(r->study, i)->key.name);
        put_interval(json, "first", &index[i].first);
        put_interval(json, "total", &index[i].total);
        tcr_json_end(json);
    }
    tcr_json_end(json);
    tcr_json_number(json, "mean", v.mean);
    tcr_json_number(json, "variance", v.variance);
    tcr_json_number(json, "left_share", v.left_share);
    tcr_json_count(json, "missing", v.missing);
    return status == TCR_E_MISSING ? TCR_OK : status;
}

static tcr_status put_answer(tcr_json *json, const tcr_results *r) {
    static const char *const GOAL[TCR_GOALS] = {"usual", "least", "most", "zero"};
    if (r->judges == 0 || !r->complete) {
        tcr_json_null(json, "answer");
        return TCR_OK;
    }
    tcr_json_object(json, "answer");
    tcr_json_text(json, "of", r->of);
    tcr_json_bool(json, "worse_eye", r->judges > 1);
    tcr_json_text(json, "goal", GOAL[r->goal]);
    tcr_json_text(json, "by", tcr_best_by_text(r->options.best.by));
    tcr_json_number(json, "level", tcr_answer_is_ranking(r) ? r->options.best.level : LEVEL);
    tcr_json_number(json, "alike", r->options.best.alike);
    put_ranking(json, r);
    put_each(json, r);
    const tcr_status status = put_indices(json, r);
    tcr_json_end(json);
    return status;
}

tcr_status tcr_study_json_write(const tcr_results *r, tcr_sink sink, void *context) {
    tcr_writer writer;
    tcr_json json;
    tcr_writer_begin(&writer, sink, context);
    tcr_json_begin(&json, &writer);
    tcr_json_object(&json, NULL);
    tcr_envelope(&json, "study", tcr_set_file_digest(r->file->set), r->set, NULL, 0);
    put_study(&json, r);
    put_progress(&json, r);
    put_digests(&json, r);
    put_columns(&json, r);
    put_failures(&json, r);
    const tcr_status status = put_answer(&json, r);
    tcr_json_end(&json);
    const tcr_status written = tcr_writer_end(&writer);
    return status == TCR_OK ? written : status;
}

tcr_status tcr_study_json_put(tcr_results *r, bool fresh, tcr_error *error) {
    tcr_outputs *outputs;
    tcr_outputs_target to;
    tcr_status status = tcr_outputs_new(&r->allocator, &outputs);
    if (status != TCR_OK)
        return tcr_fail_memory(error, r->path[TCR_STUDY_JSON]);
    to.outputs = outputs;
    status = fresh ? tcr_outputs_add_new(outputs, r->path[TCR_STUDY_JSON], &to.index, error)
                   : tcr_outputs_add(outputs, r->path[TCR_STUDY_JSON], &to.index, error);
    if (status == TCR_OK) {
        status = tcr_study_json_write(r, tcr_outputs_sink, &to);
        if (status == TCR_OK || status == TCR_E_WRITE) /* commit knows what went wrong */
            status = tcr_outputs_commit(outputs, error);
        else
            status = tcr_results_fail(error, status, (tcr_place){r->path[TCR_STUDY_JSON], 0, 0});
    }
    tcr_outputs_free(outputs);
    return status;
}
