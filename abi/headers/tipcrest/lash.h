/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LASH_H
#define TCR_LASH_H 
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/lid.h>
#include <tipcrest/profile.h>
#include <tipcrest/status.h>
#include <tipcrest/vector.h>
typedef enum tcr_layer { TCR_BOTTOM = 0, TCR_MIDDLE = 1, TCR_TOP = 2 } tcr_layer;
enum { TCR_LAYERS = 3 };
TCR_API const char *tcr_layer_text(tcr_layer layer);
typedef enum tcr_condition {
    TCR_SUITABLE = 0,
    TCR_BABY = 1,
    TCR_STRAY = 2,
    TCR_WEAK = 3,
    TCR_SHEDDING = 4
} tcr_condition;
enum { TCR_CONDITIONS = 5 };
TCR_API const char *tcr_bare_text(tcr_status status, tcr_condition condition);
enum {
    TCR_LASH_HEIGHT = 1 << 0,
    TCR_LASH_PITCH = 1 << 1,
    TCR_LASH_YAW = 1 << 2,
    TCR_LASH_ROLL = 1 << 3,
    TCR_LASH_LENGTH = 1 << 4,
    TCR_LASH_FINAL_LENGTH = 1 << 5,
    TCR_LASH_TURN = 1 << 6,
    TCR_LASH_ROOT_DIAMETER = 1 << 7,
    TCR_LASH_TIP_DIAMETER = 1 << 8,
    TCR_LASH_ALL = (1 << 9) - 1
};
typedef struct tcr_lash {
    double u;
    double height_mm;
    double pitch_rad;
    double yaw_rad;
    double roll_rad;
    double length_mm;
    double final_length_mm;
    double turn_rad;
    double root_diameter_mm;
    double tip_diameter_mm;
    tcr_layer layer;
    tcr_condition condition;
} tcr_lash;
typedef struct tcr_stance {
    tcr_vec3 root;
    tcr_vec3 along;
    tcr_vec3 up;
    tcr_vec3 out;
} tcr_stance;
TCR_API tcr_lash tcr_lash_unknown(double u, tcr_layer layer);
TCR_API tcr_lash tcr_lash_complete(const tcr_lash *lash, unsigned *assumed);
TCR_API tcr_status tcr_lash_validate(const tcr_lash *lash, tcr_error *error);
TCR_API tcr_profile tcr_lash_profile(const tcr_lash *lash);
TCR_API double tcr_lash_diameter(const tcr_lash *lash, double s_mm);
TCR_API tcr_status tcr_lash_stance(const tcr_lash *lash, const tcr_lid *lid, double opening,
                                   tcr_stance *stance);
TCR_API tcr_vec3 tcr_stance_point(const tcr_stance *stance, tcr_vec3 local);
#endif
