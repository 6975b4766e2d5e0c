/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_ERROR_H
#define TCR_ERROR_H 
#include <stddef.h>
#include <tipcrest/export.h>
#include <tipcrest/status.h>
typedef struct tcr_error {
    tcr_status status;
    const char *member;
    double value;
    double least, most;
    int side;
    size_t lash;
    size_t zone;
    int layer;
    unsigned long line, column;
    char path[4096];
    char message[1024];
} tcr_error;
TCR_API tcr_error tcr_error_none(void);
#endif
