/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_LOAD_H
#define TCR_LOAD_H 
#include <stdbool.h>
#include <stddef.h>
#include <tipcrest/check.h>
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/extension.h>
#include <tipcrest/lash.h>
#include <tipcrest/status.h>
#include <tipcrest/vector.h>
typedef struct tcr_materials {
    double hair_kg_m3;
    double fibre_kg_m3;
    double hair_e_gpa;
    double hair_g_gpa;
    double fibre_e_gpa;
    double fibre_poisson;
} tcr_materials;
TCR_API tcr_materials tcr_materials_default(void);
TCR_API tcr_status tcr_materials_validate(const tcr_materials *materials, tcr_error *error);
typedef struct tcr_load {
    double natural_mass_mg;
    double extension_mass_mg;
    double mass_ratio;
    double natural_moment_uNmm;
    double root_moment_uNmm;
    double moment_ratio;
} tcr_load;
typedef struct tcr_weight_options {
    size_t size;
    tcr_materials materials;
    tcr_vec3 gravity;
    double viewer_rad;
    double clamp_uNmm_rad;
    double what_if_clamp_uNmm_rad;
    double root_sd_mm;
} tcr_weight_options;
TCR_API void tcr_weight_options_init(tcr_weight_options *options, size_t size);
static inline tcr_weight_options tcr_weight_options_default(void) {
    tcr_weight_options options;
    tcr_weight_options_init(&options, sizeof options);
    return options;
}
typedef struct tcr_weight {
    tcr_load load;
    tcr_vec3 moment_uNmm;
    tcr_vec3 shift_mm;
    double shift_length_mm;
    double droop_mm;
    double droop_thicker_mm;
    double droop_thinner_mm;
    double droop_blink_mm;
    double droop_what_if_mm;
    bool is_linear;
} tcr_weight;
TCR_API tcr_status tcr_weight_of(const tcr_lash *lash, const tcr_stance *stance,
                                 const tcr_extension *ext, const tcr_bond *bond,
                                 const tcr_weight_options *options, tcr_weight *weight);
TCR_API tcr_status tcr_check_load(const tcr_check *check, tcr_side side, size_t lash,
                                  tcr_load *load);
TCR_API tcr_status tcr_check_weight(const tcr_check *check, tcr_side side, size_t lash,
                                    tcr_weight *weight);
typedef struct tcr_weight_most {
    size_t lashes;
    size_t lash;
    double droop_mm, droop_thinner_mm, droop_blink_mm,
        droop_what_if_mm;
    size_t not_linear;
} tcr_weight_most;
TCR_API tcr_status tcr_check_weight_most(const tcr_check *check, tcr_side side,
                                         tcr_weight_most *most);
#endif
