/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_VIEW_H
#define TCR_VIEW_H

#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/status.h>
#include <tipcrest/vector.h>

/*
 * A view of an eye at an opening, along -z, by a viewer raised by an angle (model.md, section 5).
 */
typedef struct tcr_view {
    double opening;    /* 0 to 1, closed to open */
    double viewer_rad; /* -80 to 80 degrees: how far the viewer is raised */
} tcr_view;

typedef enum tcr_named_view {
    TCR_OPEN_FRONT = 0,
    TCR_CLOSED_FRONT = 1,
    TCR_ARTIST = 2
} tcr_named_view;
enum { TCR_VIEWS = 3 };

/*
 * The view of a name, as (opening, viewer): open front (1, 0), closed front (0, 0), artist (0, 60
 * degrees, assumed). Open front for any other value.
 */
TCR_API tcr_view tcr_view_named(tcr_named_view name);

/* Checks a view. TCR_E_RANGE or TCR_E_ARGUMENT (NULL). error may be NULL. */
TCR_API tcr_status tcr_view_validate(const tcr_view *view, tcr_error *error);

/*
 * Projects a point of the eye's frame orthographically: X = x, Y = y cos e - z sin e, in mm, with e
 * the viewer's angle. The view is not checked. All NaN for NULL.
 */
TCR_API tcr_vec2 tcr_view_project(const tcr_view *view, tcr_vec3 point);

/*
 * The time course of an opening eye. Measured for the closing of a voluntary blink (a search-coil
 * comparison of blinks, n = 7; doc/science.md): it takes 77.6 ms, turns the lid by 43.1 degrees and
 * reaches 1289 degrees a second. The opening is that closing run backwards, and the shape in
 * between is our assumption: the smoothest course that starts and stops with neither speed nor
 * acceleration nor jerk. It reaches 35/16 of the mean speed, 1215 degrees a second.
 */
#define TCR_BLINK_MS 77.6

/*
 * How far the eye is open, 0 to 1, at a share (any; cut to 0 to 1) of that time. NaN counts as 1.
 */
TCR_API double tcr_blink_opening(double share);

#endif
