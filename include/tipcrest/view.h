/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_VIEW_H
#define TCR_VIEW_H

#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/status.h>
#include <tipcrest/vector.h>

/* An eye at an opening, looked at along -z by a viewer raised by an angle (model.md, section 5). */
typedef struct tcr_view {
    double opening;    /* 0 closed to 1 open */
    double viewer_rad; /* within 80 degrees */
} tcr_view;

typedef enum tcr_named_view {
    TCR_OPEN_FRONT = 0,
    TCR_CLOSED_FRONT = 1,
    TCR_ARTIST = 2
} tcr_named_view;
enum { TCR_VIEWS = 3 };

/* The three named views at their defaults: (1, 0), (0, 0), (0, 60 degrees, assumed). */
TCR_API tcr_view tcr_view_named(tcr_named_view name);

TCR_API tcr_status tcr_view_check(const tcr_view *view,
                                  tcr_error *error); /* TCR_OK or TCR_E_RANGE */

/* Orthographic projection: X = x, Y = y cos e - z sin e, mm. */
TCR_API tcr_vec2 tcr_view_project(const tcr_view *view, tcr_vec3 point);

#endif
