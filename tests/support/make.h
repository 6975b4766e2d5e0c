/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_SUPPORT_MAKE_H
#define TCR_TESTS_SUPPORT_MAKE_H

/* Things to test with: extensions by the catalogue's labels, and valid things drawn at random. */

#include <gsl/gsl_rng.h>

#include <tipcrest/curl.h>
#include <tipcrest/extension.h>
#include <tipcrest/lash.h>
#include <tipcrest/lid.h>
#include <tipcrest/map.h>
#include <tipcrest/view.h>

/* A turn in degrees, in radians. */
double tcr_degrees(double degrees);

/* A single fibre of 0.15 mm with a curl of the catalogue. */
tcr_extension tcr_make_extension(const char *curl, double length_mm, tcr_placement placement);

/* A default lash with its root at a height. */
tcr_lash tcr_make_lash(double u, double height_mm);

/* Y in a view of the tip of a lash on the default lid, bonded by default; fails if there is none.
 */
double tcr_seen_height(const tcr_lash *lash, const tcr_extension *ext, const tcr_view *view);

/* A point or direction seen in a mirror at x = 0, which changes inner for outer corner. */
tcr_vec3 tcr_mirror(tcr_vec3 v);

/* A generator with a fixed seed, the caller's to free by gsl_rng_free. */
gsl_rng *tcr_make_rng(unsigned long seed);

double tcr_draw_between(gsl_rng *rng, double low, double high);
/* A profile of 1 to 8 pieces, the turn of each within the limits, degrees. */
tcr_profile tcr_draw_profile(gsl_rng *rng, double low_deg, double high_deg);
/* A valid lash from all over its ranges, long enough to carry an extension on default bonds. */
tcr_lash tcr_draw_lash(gsl_rng *rng);
/* A valid extension from all over its ranges; its profile turns by -20 to 60 degrees a piece. */
tcr_extension tcr_draw_extension(gsl_rng *rng);
tcr_bond tcr_draw_bond(gsl_rng *rng);
/* A valid lid about the default one. */
tcr_lid tcr_draw_lid(gsl_rng *rng);

/* The lash of the contract's defaults at a place. */
tcr_lash tcr_make_default_lash(double u, tcr_layer layer);

/* A wish with 0 in all that it does not fix. */
tcr_wish tcr_only_fixed(const tcr_wish *wish);

#endif
