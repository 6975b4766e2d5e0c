/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_FILE_LAYOUT_H
#define TCR_FILE_LAYOUT_H

/*
 * Text for people: one paragraph is put together, then written in lines of at most 80 columns. What
 * does not fit into a paragraph's 2 kB is left out.
 */
#include <stdbool.h>
#include <stddef.h>

#include "file/writer.h"

enum { TCR_TABLE_COLUMNS = 80 };

typedef struct tcr_paragraph {
    char text[2048];
    size_t used;
    int columns;
} tcr_paragraph;

void tcr_paragraph_begin(tcr_paragraph *paragraph);

void tcr_add(tcr_paragraph *paragraph, const char *text); /* text of our own */
/* A user's text, made safe for a terminal and cut to 'columns' columns. */
void tcr_add_safe(tcr_paragraph *paragraph, const char *text, int columns);
void tcr_add_count(tcr_paragraph *paragraph, size_t count);
/* A number with the fewest digits that read back as the same double. */
void tcr_add_number(tcr_paragraph *paragraph, double number);
/* A number with 0 to 9 decimals; "-" if it is not finite. sign: also writes a plus. */
void tcr_add_fixed(tcr_paragraph *paragraph, double number, int decimals, bool sign);
/* A bound: up, never below the number, or down, never above it. */
void tcr_add_bound(tcr_paragraph *paragraph, double number, int decimals, bool up);
/* A size beside a limit of it, in two decimals or in three where that decides (num/number.h); a
 * sign counts as in tcr_add_fixed. */
void tcr_add_beside(tcr_paragraph *paragraph, double number, double limit, bool sign);
/* A number that a user gave, or that follows from one: as it was written, or to the nearest
 * hundredth where it has more decimals (below 0.1 to two digits): the same wherever it is named. */
void tcr_add_given(tcr_paragraph *paragraph, double number);
/* A share as whole per cent, never too much: "94 %" for 0.949. */
void tcr_add_share(tcr_paragraph *paragraph, double share);
/* Blanks up to a column, counted from 0, with what was added since a column pushed to its right. */
void tcr_add_to_column(tcr_paragraph *paragraph, int column);
void tcr_add_text_at(tcr_paragraph *paragraph, int right, const char *text); /* of our own, ASCII */
void tcr_add_fixed_at(tcr_paragraph *paragraph, int right, double number, int decimals, bool sign);

/* How many lines it takes, each after 'first' or 'next' blanks. */
int tcr_paragraph_lines(const tcr_paragraph *paragraph, int first, int next);

/* Writes it, each line after 'first' or 'next' blanks, and begins anew. */
void tcr_paragraph_end(tcr_paragraph *paragraph, tcr_writer *writer, int first, int next);

#endif
