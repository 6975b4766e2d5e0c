/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CLI_WORK_H
#define TCR_CLI_WORK_H

/* What commands that evaluate a set do alike: it is read, evaluated in the view of the call, and
 * what was found goes into reports, a picture and a table. */

#include <tipcrest/check.h>
#include <tipcrest/file.h>

#include "call.h"
#include "output.h"
#include "picture.h"

/* A set file and its check; all NULL before it is read. */
typedef struct tcr_checked_set {
    tcr_set_file *file;
    tcr_check *check;
} tcr_checked_set;

/* Reads a set file and evaluates it against the line of the call; with_view: in the view of the
 * call where it gives one, each of its two numbers for itself. Free it also after a failure. */
tcr_status tcr_read_checked(const tcr_call *call, const char *path, bool with_view,
                            tcr_checked_set *set, tcr_error *error);
void tcr_free_checked(tcr_checked_set *set);

/* The view of a call; what the call does not give stays as it was. */
void tcr_view_of(const tcr_call *call, tcr_view *view);

/* What the writers of such a command get. */
typedef struct tcr_work {
    const tcr_call *call;
    tcr_checked_set set;
    const char *view; /* of the picture */
    bool full;        /* the whole table */
    tcr_picture_look look;
} tcr_work;

/* The whole of a command: reports and the picture in a view, if asked for, and the table. An exit
 * status. */
int tcr_report_set(const tcr_call *call, const char *view, const tcr_report_file *reports,
                   size_t count, tcr_report_writer table);

#endif
