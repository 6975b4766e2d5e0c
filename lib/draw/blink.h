/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_BLINK_H
#define TCR_DRAW_BLINK_H

/*
 * The time course of an opening eye. Measured for the closing of a voluntary blink (a search-coil
 * comparison of blinks, n = 7; doc/science.md): it takes 77.6 ms, turns the lid by 43.1 degrees and
 * reaches 1289 degrees a second. The opening is drawn as that closing run backwards, and the shape
 * in between is our assumption: the smoothest course that starts and stops with neither speed nor
 * acceleration nor jerk. It reaches 35/16 of the mean speed, 1215 degrees a second.
 */
#define TCR_BLINK_MS 77.6

/* How far the eye is open at a share of the time, both from 0 to 1. */
double tcr_blink_opening(double share);

#endif
