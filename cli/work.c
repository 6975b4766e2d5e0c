/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A set is read, evaluated and reported. */
#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

#include "work.h"

#include <string.h>

#include "common.h"

void tcr_view_of(const tcr_call *call, tcr_view *view) {
    if (call->opening.count > 0)
        tcr_field_put(tcr_field_find(TCR_GROUP_VIEW, "opening"), view, call->opening.number[0],
                      NULL);
    if (call->viewer.count > 0)
        tcr_field_put(tcr_field_find(TCR_GROUP_VIEW, "viewer_deg"), view, call->viewer.number[0],
                      NULL);
}

tcr_status tcr_read_checked(const tcr_call *call, const char *path, bool with_view,
                            tcr_checked_set *set, tcr_error *error) {
    tcr_check_options options = tcr_check_options_default();
    tcr_status status = tcr_set_file_read(path, NULL, &set->file, error);
    if (status != TCR_OK)
        return status;
    options.has_view = true;
    options.view = *tcr_set_view(tcr_set_file_set(set->file));
    if (with_view)
        tcr_view_of(call, &options.view);
    if (call->seen_from.count > 0)
        options.tolerance_mm = tcr_tolerance_from(call->seen_from.number[0]);
    options.against = (tcr_against)tcr_value_or(&call->against, (double)options.against);
    return tcr_set_file_check(set->file, &options, &set->check, error);
}

void tcr_free_checked(tcr_checked_set *set) {
    tcr_check_free(set->check);
    tcr_set_file_free(set->file);
}

#ifdef TCR_WITH_DRAW
static tcr_status write_picture(const void *work, tcr_sink sink, void *context) {
    const tcr_work *of = work;
    return tcr_picture_write(of->view, of->look.format, of->set.check, &of->look.options, sink,
                             context);
}
#else
#define write_picture NULL
#endif

int tcr_report_set(const tcr_call *call, const char *view, const tcr_report_file *reports,
                   size_t count, tcr_report_writer table) {
    enum { REPORTS_MAX = 4 };
    tcr_report_file all[REPORTS_MAX];
    tcr_work work = {.call = call, .view = view, .full = call->full.text != NULL};
    tcr_error error;
    int exit_status = tcr_part_reports(call);
    if (exit_status == TCR_EXIT_DONE)
        exit_status = tcr_picture_understand(call, "--picture", &call->picture, &work.look);
    if (exit_status != TCR_EXIT_DONE)
        return exit_status;
    memcpy(all, reports, count * sizeof *reports);
    all[count] = (tcr_report_file){call->picture.text, write_picture, TCR_REPLACE_ANY};
    tcr_status status = tcr_read_checked(call, call->set, true, &work.set, &error);
    if (status == TCR_OK)
        status = tcr_put_outputs(&work, work.set.file, all, count + 1, table, &error);
    tcr_free_checked(&work.set);
    return status == TCR_OK ? TCR_EXIT_DONE : tcr_say_error(&error);
}
