/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DRAW_VIEWPORT_H
#define TCR_DRAW_VIEWPORT_H

#include <stdbool.h>

#include <tipcrest/lid.h>
#include <tipcrest/status.h>
#include <tipcrest/vector.h>
#include <tipcrest/view.h>

/* Where an eye stands on the sheet, and the outlines that its picture is built from. */
typedef struct tcr_viewport {
    tcr_view view;
    double scale;    /* sheet mm per mm of the eye */
    double mirror;   /* 1: x runs to the right, a left eye; -1: a right eye */
    tcr_vec2 origin; /* where the eye's seen (0, 0) lies on the sheet */
    bool profile;    /* seen along x from the outer side instead: z runs to the right, y up */
} tcr_viewport;

/* A point of the eye's frame, or one already seen (tcr_view_project), on the sheet, y downwards. */
tcr_vec2 tcr_viewport_point(const tcr_viewport *viewport, tcr_vec3 point);
tcr_vec2 tcr_viewport_seen(const tcr_viewport *viewport, tcr_vec2 seen);
/* A point of the eye's frame as it is seen, mm of the eye, y upwards. */
tcr_vec2 tcr_viewport_project(const tcr_viewport *viewport, tcr_vec3 point);
/* How near to the viewer a point is, mm; larger is nearer. */
double tcr_viewport_depth(const tcr_viewport *viewport, tcr_vec3 point);

/* Curves from the inner to the outer corner, on the sheet. */
enum { TCR_CONTOUR = 73 };
typedef struct tcr_eye_shape {
    tcr_vec2 upper[TCR_CONTOUR]; /* the upper lid's margin */
    tcr_vec2 lower[TCR_CONTOUR]; /* the lower lid's edge */
    tcr_vec2 crease[TCR_CONTOUR];
    bool open;          /* whether any eye shows between the lids */
    tcr_vec2 low, high; /* corners of the box around upper and lower, on the sheet */
} tcr_eye_shape;

/* The lid is one of a set and the view one of a picture, so both are valid. */
void tcr_eye_shape_of(const tcr_lid *lid, const tcr_viewport *viewport, tcr_eye_shape *shape);

/* A contour moved down the sheet (up where negative), most in its middle and not at all at its
 * corners. */
void tcr_contour_moved(const tcr_vec2 contour[TCR_CONTOUR], double by, tcr_vec2 moved[TCR_CONTOUR]);

#endif
