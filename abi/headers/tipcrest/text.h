/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TEXT_H
#define TCR_TEXT_H 
#include <stdbool.h>
#include <stddef.h>
#include <tipcrest/export.h>
enum { TCR_NUMBER_SIZE = 32 };
TCR_API size_t tcr_number_text(double value, char text[TCR_NUMBER_SIZE]);
TCR_API bool tcr_number_parse(const char *text, size_t length, double *value);
TCR_API bool tcr_number_parse_comma(const char *text, size_t length, double *value);
TCR_API int tcr_printable(const char *text, int columns, char *out, size_t size);
TCR_API const char *tcr_suggest(const char *text, size_t bytes, const char *const *known,
                                size_t count);
#endif
