/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_REPORT_H
#define TCR_REPORT_H 
#include <stdbool.h>
#include <stddef.h>
#include <tipcrest/export.h>
#include <tipcrest/limits.h>
typedef struct tcr_csv_options {
    size_t size;
    bool decimal_comma;
    int digits;
} tcr_csv_options;
TCR_API void tcr_csv_options_init(tcr_csv_options *options, size_t size);
static inline tcr_csv_options tcr_csv_options_default(void) {
    tcr_csv_options options;
    tcr_csv_options_init(&options, sizeof options);
    return options;
}
typedef struct tcr_table_options {
    size_t size;
    bool full;
    const tcr_limits *limits;
} tcr_table_options;
TCR_API void tcr_table_options_init(tcr_table_options *options, size_t size);
static inline tcr_table_options tcr_table_options_default(void) {
    tcr_table_options options;
    tcr_table_options_init(&options, sizeof options);
    return options;
}
#endif
