/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_RESULTS_NPY_H
#define TCR_RESULTS_NPY_H

/*
 * Tables for NumPy: the .npy format, version 1.0, and 2.0 where the head is too long for it
 * (https://numpy.org/doc/stable/reference/generated/numpy.lib.format.html). A table is one
 * structured array, so that a file grows row by row and numpy.load(path)["curl"] is a column. Bytes
 * are little-endian on every machine.
 */
#include <stddef.h>
#include <stdint.h>

#include <tipcrest/alloc.h>
#include <tipcrest/status.h>

typedef enum tcr_npy_kind { TCR_NPY_DOUBLE, TCR_NPY_INT, TCR_NPY_TEXT } tcr_npy_kind;

typedef struct tcr_npy_column {
    char name[80]; /* without quotes and backslashes */
    tcr_npy_kind kind;
    size_t characters; /* of a text, at most; else 0 */
} tcr_npy_column;

/* Bytes of a value, and of a row. */
size_t tcr_npy_bytes(const tcr_npy_column *column);
size_t tcr_npy_row_bytes(const tcr_npy_column *column, size_t columns);

/* The head of a file with so many rows, whose bytes are the caller's to release. TCR_E_MEMORY. */
tcr_status tcr_npy_head(const tcr_allocator *allocator, const tcr_npy_column *column,
                        size_t columns, uint64_t rows, char **head, size_t *bytes);

/* Write a value at a place in a row; each returns the place behind it. A whole number has 32 bits;
 * a text is cut at the column's characters. */
unsigned char *tcr_npy_put_double(unsigned char *at, double value);
unsigned char *tcr_npy_put_int(unsigned char *at, int32_t value);
unsigned char *tcr_npy_put_text(unsigned char *at, const tcr_npy_column *column, const char *text);

/* And read back. */
double tcr_npy_get_double(const unsigned char *at);
int32_t tcr_npy_get_int(const unsigned char *at);

#endif
