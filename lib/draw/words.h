/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_WORDS_H
#define TCR_DRAW_WORDS_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/check.h>

/* The texts of a picture: numbers for readers, and sentences made of a check. No text depends on a
 * locale. */
enum { TCR_WORDS = 320 };

/*
 * A number with a fixed count of decimals (0 to 9), a true minus sign and, if asked, a plus; "–"
 * for a number that is not finite. Never "-0.00". Returns out.
 */
const char *tcr_say_number(char out[TCR_WORDS], double value, int decimals, bool plus);

/* A number of 0 or more as a bound, rounded up, as tables have it. */
const char *tcr_say_most(char out[TCR_WORDS], double value, int decimals);
/* As tcr_say_number, without plus and without zeros at its end. */
const char *tcr_say_trimmed(char out[TCR_WORDS], double value, int decimals);

/* A share as whole per cent without the sign, never too much: "94" for 0.949. */
const char *tcr_say_share(char out[TCR_WORDS], double share);

/* "top", "under", "inner" or "outer": the side of its lash. */
const char *tcr_say_placement(tcr_placement placement);

/* "on top of its lash": where an extension lies, in words. */
const char *tcr_say_laid(tcr_placement placement);

/* "Left eye". */
const char *tcr_say_side(tcr_side side);
/* What is seen: "open, seen from the front", or the view's own numbers. */
const char *tcr_say_view(char out[TCR_WORDS], const tcr_view *view);
/* The artist's seat: "closed, seen from 60° above (assumed)", or the seat's own numbers. */
/* "as everybody sees it", or for another view than the open eye from the front what it is. */
const char *tcr_say_seen(char out[TCR_WORDS], const tcr_view *view);
const char *tcr_say_seat(char out[TCR_WORDS], const tcr_view *seat);
/* What was assumed in the eyes of a check, or that nothing was. */
const char *tcr_say_assumed(char out[TCR_WORDS], const tcr_check *check);
/* The same in fewer words, where there is no room for all. */
const char *tcr_say_assumed_short(char out[TCR_WORDS], const tcr_check *check);

#endif
