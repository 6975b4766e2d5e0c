/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_REPORT_H
#define TCR_REPORT_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/export.h>
#include <tipcrest/limits.h>

/*
 * How reports are written. Part of libtipcrest-file.
 */

/* How CSV is written: reports and surveys alike. The survey reader takes either form. */
typedef struct tcr_csv_options {
    size_t size;        /* of this struct; set by tcr_csv_options_default */
    bool decimal_comma; /* decimal commas, and semicolons between the cells, as spreadsheets of many
                           countries expect; default false: decimal points and commas */
    int digits; /* significant digits of a number, 1 to 17; with 17 every number reads back as the
                   same double; 0, the default: 6 in reports, 17 in surveys */
} tcr_csv_options;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_csv_options_init(tcr_csv_options *options, size_t size);
static inline tcr_csv_options tcr_csv_options_default(void) {
    tcr_csv_options options;
    tcr_csv_options_init(&options, sizeof options);
    return options;
}

/* How the table of a check is written. */
typedef struct tcr_table_options {
    size_t size;              /* of this struct; set by tcr_table_options_default */
    bool full;                /* all that was found; default false: what matters most */
    const tcr_limits *limits; /* extensions beyond them are counted, such as those of
                                 tcr_set_file_plan_limits; NULL, the default: tcr_limits_default */
} tcr_table_options;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_table_options_init(tcr_table_options *options, size_t size);
static inline tcr_table_options tcr_table_options_default(void) {
    tcr_table_options options;
    tcr_table_options_init(&options, sizeof options);
    return options;
}

#endif
