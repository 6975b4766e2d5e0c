/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_VIEW_H
#define TCR_VIEW_H 
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/status.h>
#include <tipcrest/vector.h>
typedef struct tcr_view {
    double opening;
    double viewer_rad;
} tcr_view;
typedef enum tcr_named_view {
    TCR_OPEN_FRONT = 0,
    TCR_CLOSED_FRONT = 1,
    TCR_ARTIST = 2
} tcr_named_view;
enum { TCR_VIEWS = 3 };
TCR_API tcr_view tcr_view_named(tcr_named_view name);
TCR_API tcr_status tcr_view_validate(const tcr_view *view, tcr_error *error);
TCR_API tcr_vec2 tcr_view_project(const tcr_view *view, tcr_vec3 point);
#define TCR_BLINK_MS 77.6
TCR_API double tcr_blink_opening(double share);
#endif
