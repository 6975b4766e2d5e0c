/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_DESCRIBE_H
#define TCR_DESCRIBE_H 
#include <stddef.h>
#include <stdint.h>
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/lash.h>
#include <tipcrest/status.h>
typedef enum tcr_phases {
    TCR_PHASES_A = 0,
    TCR_PHASES_B = 1,
    TCR_PHASES_NONE = 2
} tcr_phases;
typedef enum tcr_describe_field {
    TCR_FIELD_U = 0,
    TCR_FIELD_ROW = 1,
    TCR_FIELD_HEIGHT = 2,
    TCR_FIELD_PITCH = 3,
    TCR_FIELD_YAW = 4,
    TCR_FIELD_ROLL = 5,
    TCR_FIELD_FINAL_LENGTH = 6,
    TCR_FIELD_AGE = 7,
    TCR_FIELD_TURN = 8,
    TCR_FIELD_ROOT_DIAMETER = 9,
    TCR_FIELD_STRAY = 10
} tcr_describe_field;
enum { TCR_DESCRIBE_FIELDS = 11 };
typedef struct tcr_description {
    size_t count;
    uint64_t seed;
    double gap_mm;
    double height_sd_mm;
    double pitch_rad;
    double pitch_sd_rad;
    double yaw_rad;
    double yaw_fan_rad;
    double yaw_sd_rad;
    double roll_rad;
    double roll_sd_rad;
    double length_mm;
    double length_sd_mm;
    double length_inner_share;
    double length_outer_share;
    double turn_rad;
    double turn_sd_rad;
    double root_diameter_mm;
    double root_diameter_sd_mm;
    double tip_diameter_mm;
    double stray_share;
    double stray_rise_mm;
    double baby_below_mm;
    double weak_below_mm;
    tcr_phases phases;
} tcr_description;
TCR_API tcr_description tcr_description_default(void);
TCR_API tcr_status tcr_description_validate(const tcr_description *description, tcr_error *error);
TCR_API tcr_status tcr_describe_lash(const tcr_description *description, uint32_t eye, uint32_t k,
                                     tcr_lash *lash);
typedef struct tcr_lash_draw {
    double number[TCR_DESCRIBE_FIELDS];
} tcr_lash_draw;
TCR_API tcr_status tcr_describe_draw(uint64_t seed, uint32_t eye, size_t first, size_t n,
                                     tcr_lash_draw *draw);
TCR_API tcr_status tcr_describe_lashes(const tcr_description *description, size_t first, size_t n,
                                       const tcr_lash_draw *draw, tcr_lash *lash);
#endif
