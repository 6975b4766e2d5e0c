/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a command writes: reports into files, or one of them to standard output, and a table. */
#include "output.h"

#include <string.h>

#include "common.h"
#include "signals.h"

tcr_csv_options tcr_csv_options_of(const tcr_call *call) {
    tcr_csv_options options = tcr_csv_options_default();
    options.decimal_comma = tcr_value_or(&call->decimal, 0.0) != 0.0; /* point, comma */
    options.digits = (int)tcr_value_or(&call->digits, (double)options.digits);
    return options;
}

/* Whether a value is the name of standard output. */
static bool is_standard_output(const tcr_value *value) {
    return value->text != NULL && strcmp(value->text, "-") == 0;
}

int tcr_part_reports(const tcr_call *call) {
    if (is_standard_output(&call->json) && is_standard_output(&call->csv))
        return tcr_say_wrong("only one of --json and --csv can go to standard output; give the "
                             "other a file");
    return TCR_EXIT_DONE;
}

static tcr_status add_path(tcr_outputs *outputs, const tcr_report_file *output, size_t *index,
                           tcr_error *error) {
    switch (output->replace) {
    case TCR_REPLACE_OWN:
        return tcr_outputs_add_sealed(outputs, output->path, index, error);
    case TCR_REPLACE_NONE:
        return tcr_outputs_add_new(outputs, output->path, index, error);
    default:
        return tcr_outputs_add(outputs, output->path, index, error);
    }
}

/* Adds an output, if it is asked for, and writes it whole; it is not in place yet. */
static tcr_status add_output(tcr_outputs *outputs, const tcr_work_output *report,
                             tcr_error *error) {
    const char *path = report->output.path;
    if (path == NULL)
        return TCR_OK;
    tcr_outputs_target to = {.outputs = outputs};
    tcr_status status = add_path(outputs, &report->output, &to.index, error);
    if (status != TCR_OK)
        return status;
    status = report->output.write(report->work, tcr_outputs_sink, &to);
    if (status == TCR_OK) /* many reports have more files than there are descriptors */
        status = tcr_outputs_finish(outputs, to.index);
    if (status == TCR_E_WRITE) /* commit refuses and knows what went wrong */
        return tcr_outputs_commit(outputs, error);
    return status == TCR_OK ? TCR_OK : tcr_fill_error(error, status, path);
}

static void say_leftover(void *context, const char *path, size_t count) {
    (void)context;
    if (count == 1)
        tcr_say("%s is left over from a run that was killed; remove it if no other tipcrest is at "
                "work there",
                path);
    else
        tcr_say("%s and %zu more like it are left over from runs that were killed; remove them "
                "if no other tipcrest is at work there",
                path, count - 1);
}

tcr_status tcr_commit_outputs(tcr_outputs *outputs, tcr_error *error) {
    tcr_outputs_leftovers(outputs, say_leftover, NULL);
    return tcr_outputs_commit(outputs, error);
}

/* What is not there needs no protection. */
static tcr_status protect(tcr_outputs *outputs, const char *path) {
    return tcr_outputs_protect(outputs, path) == TCR_E_MEMORY ? TCR_E_MEMORY : TCR_OK;
}

tcr_status tcr_protect_inputs(tcr_outputs *outputs, const tcr_set_file *inputs) {
    const size_t count = inputs != NULL ? tcr_set_file_input_count(inputs) : 0;
    tcr_status status = TCR_OK;
    for (size_t i = 0; i < count && status == TCR_OK; i++)
        status = protect(outputs, tcr_set_file_input(inputs, i));
    return status;
}

size_t tcr_input_paths(const tcr_set_file *file, const char *path[TCR_INPUTS_MAX]) {
    const size_t count = file != NULL ? tcr_set_file_input_count(file) : 0;
    for (size_t i = 0; i < count && i < TCR_INPUTS_MAX; i++)
        path[i] = tcr_set_file_input(file, i);
    return count < TCR_INPUTS_MAX ? count : TCR_INPUTS_MAX;
}

/* Both kinds of outputs, so that the table comes after the files are in place. */
typedef struct both {
    tcr_outputs *files, *table;
} both;

static tcr_status put_all(const both *to, const tcr_work_output *reports, size_t count,
                          const tcr_work_output *table, tcr_error *error) {
    tcr_status status = TCR_OK;
    for (size_t i = 0; i < count && status == TCR_OK; i++)
        status = add_output(to->files, &reports[i], error);
    if (status == TCR_OK)
        status = add_output(to->table, table, error);
    if (status == TCR_OK)
        status = tcr_commit_outputs(to->files, error);
    if (status == TCR_OK)
        status = tcr_outputs_commit(to->table, error);
    return status;
}

tcr_status tcr_put_outputs_beside(const void *work, const char *const *inputs, size_t input_count,
                                  const tcr_work_output *reports, size_t count,
                                  tcr_report_writer table, tcr_error *error) {
    bool prints_table = true;
    for (size_t i = 0; i < count; i++)
        if (reports[i].output.path != NULL && strcmp(reports[i].output.path, "-") == 0)
            prints_table = false;
    const tcr_work_output to_print = {{prints_table ? "-" : NULL, table, TCR_REPLACE_ANY}, work};
    both to = {NULL, NULL};
    tcr_status status = tcr_new_outputs(&to.files);
    if (status == TCR_OK)
        status = tcr_outputs_new(NULL, &to.table);
    for (size_t i = 0; i < input_count && status == TCR_OK; i++)
        status = protect(to.files, inputs[i]);
    if (status == TCR_OK && prints_table)
        status = protect(to.files, "-");
    if (status == TCR_OK)
        status = put_all(&to, reports, count, &to_print, error);
    else
        status = tcr_fill_error(error, TCR_E_MEMORY, input_count > 0 ? inputs[0] : "");
    tcr_free_outputs(to.files);
    tcr_outputs_free(to.table);
    return status;
}

tcr_status tcr_put_outputs(const void *work, const tcr_set_file *inputs,
                           const tcr_report_file *reports, size_t count, tcr_report_writer table,
                           tcr_error *error) {
    const char *path[TCR_INPUTS_MAX];
    tcr_work_output own[TCR_REPORTS_MAX];
    const size_t paths = tcr_input_paths(inputs, path);
    for (size_t i = 0; i < count && i < TCR_REPORTS_MAX; i++)
        own[i] = (tcr_work_output){reports[i], work};
    return tcr_put_outputs_beside(work, path, paths, own, count, table, error);
}
