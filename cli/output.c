/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a command writes: reports into files, or one of them to standard output, and a table. */
#include "output.h"

#include <stdbool.h>
#include <string.h>

#include "common.h"

tcr_csv_options tcr_csv_options_of(const tcr_call *call) {
    tcr_csv_options options = tcr_csv_options_default();
    options.decimal_comma = tcr_value_or(&call->decimal, 0.0) != 0.0; /* point, comma */
    options.digits = (int)tcr_value_or(&call->digits, (double)options.digits);
    return options;
}

/* Adds an output, if it is asked for, and writes it whole; it is not in place yet. */
static tcr_status add_output(tcr_outputs *outputs, const tcr_output *output, const void *work,
                             tcr_error *error) {
    if (output->path == NULL)
        return TCR_OK;
    tcr_outputs_target to = {.outputs = outputs};
    tcr_status status = tcr_outputs_add(outputs, output->path, &to.index, error);
    if (status != TCR_OK)
        return status;
    status = output->write(work, tcr_outputs_sink, &to);
    if (status == TCR_E_WRITE) /* commit refuses and knows what went wrong */
        return tcr_outputs_commit(outputs, error);
    return status == TCR_OK ? TCR_OK : tcr_fill_error(error, status, output->path);
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

/* Both kinds of outputs, so that the table comes after the files are in place. */
typedef struct both {
    tcr_outputs *files, *table;
} both;

static tcr_status put_all(const both *to, const void *work, const tcr_output *reports, size_t count,
                          const tcr_output *table, tcr_error *error) {
    tcr_status status = TCR_OK;
    for (size_t i = 0; i < count && status == TCR_OK; i++)
        status = add_output(to->files, &reports[i], work, error);
    if (status == TCR_OK)
        status = add_output(to->table, table, work, error);
    if (status == TCR_OK)
        status = tcr_outputs_commit(to->files, error);
    if (status == TCR_OK)
        status = tcr_outputs_commit(to->table, error);
    return status;
}

tcr_status tcr_put_outputs(const void *work, const tcr_set_file *inputs, const tcr_output *reports,
                           size_t count, tcr_report_writer table, tcr_error *error) {
    bool prints_table = true;
    for (size_t i = 0; i < count; i++)
        if (reports[i].path != NULL && strcmp(reports[i].path, "-") == 0)
            prints_table = false;
    const tcr_output to_print = {prints_table ? "-" : NULL, table};
    both to = {NULL, NULL};
    tcr_status status = tcr_outputs_new(NULL, &to.files);
    if (status == TCR_OK)
        status = tcr_outputs_new(NULL, &to.table);
    if (status == TCR_OK)
        status = tcr_protect_inputs(to.files, inputs);
    if (status == TCR_OK && prints_table)
        status = protect(to.files, "-");
    if (status == TCR_OK)
        status = put_all(&to, work, reports, count, &to_print, error);
    else
        status = tcr_fill_error(error, TCR_E_MEMORY,
                                inputs != NULL ? tcr_set_file_input(inputs, 0) : "");
    tcr_outputs_free(to.files);
    tcr_outputs_free(to.table);
    return status;
}
