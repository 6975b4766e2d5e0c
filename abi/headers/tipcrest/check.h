/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CHECK_H
#define TCR_CHECK_H 
#include <stdbool.h>
#include <stddef.h>
#include <tipcrest/alloc.h>
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/extension.h>
#include <tipcrest/lash.h>
#include <tipcrest/line.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>
#include <tipcrest/vector.h>
#include <tipcrest/verdict.h>
#include <tipcrest/view.h>
typedef enum tcr_against { TCR_FITTED = 0, TCR_INTENDED = 1 } tcr_against;
TCR_API const char *tcr_verdict_words(tcr_verdict verdict, tcr_against against);
typedef struct tcr_remedy {
    double length_mm;
    double deviation_mm;
    int sizes;
} tcr_remedy;
typedef struct tcr_lash_result {
    tcr_status status;
    tcr_choice choice;
    tcr_attachment attachment;
    tcr_stance stance;
    tcr_vec3 tip;
    tcr_vec2 seen;
    double line_mm, deviation_mm, across_mm;
    bool staggered;
    tcr_remedy remedy;
} tcr_lash_result;
typedef struct tcr_assumption {
    unsigned field;
    size_t count;
    double per_unit;
} tcr_assumption;
enum { TCR_ASSUMPTIONS_MAX = 7 };
typedef struct tcr_eye_result {
    tcr_side side;
    size_t lashes;
    size_t extended;
    const tcr_lash_result *lash;
    tcr_status fitted_status;
    tcr_line fitted_line;
    tcr_evenness fitted;
    tcr_status intended_status;
    tcr_line intended_line;
    tcr_evenness intended;
    tcr_status view_status[TCR_VIEWS];
    double view_offset_mm[TCR_VIEWS][TCR_LAYERS];
    double largest_gap_mm;
    bool too_few;
    size_t staggered;
    size_t assumptions;
    tcr_assumption assumption[TCR_ASSUMPTIONS_MAX];
    tcr_verdict verdict;
    double view_shows_from_mm[TCR_VIEWS][TCR_LAYERS];
} tcr_eye_result;
typedef struct tcr_check tcr_check;
enum {
    TCR_PART_FITTED = 1 << 0,
    TCR_PART_INTENDED = 1 << 1,
    TCR_PART_VIEWS = 1 << 2,
    TCR_PART_REMEDIES = 1 << 3,
    TCR_PART_ASSUMPTIONS = 1 << 4,
    TCR_PART_LOADS = 1 << 5,
    TCR_PART_ALL = (1 << 6) - 1
};
typedef struct tcr_check_options {
    size_t size;
    tcr_against against;
    bool has_view;
    tcr_view view;
    unsigned parts;
    const tcr_line_options *line;
    double tolerance_mm;
    bool any_length;
    bool figures_only;
} tcr_check_options;
TCR_API void tcr_check_options_init(tcr_check_options *options, size_t size);
static inline tcr_check_options tcr_check_options_default(void) {
    tcr_check_options options;
    tcr_check_options_init(&options, sizeof options);
    return options;
}
TCR_API tcr_status tcr_check_new(const tcr_set *set, const tcr_check_options *options,
                                 tcr_check **check, tcr_error *error);
TCR_API tcr_status tcr_check_again(tcr_check *check, const tcr_set *set,
                                   const tcr_check_options *options, tcr_error *error);
TCR_API void tcr_check_free(tcr_check *check);
TCR_API const tcr_set *tcr_check_set(const tcr_check *check);
TCR_API tcr_view tcr_check_view(const tcr_check *check);
TCR_API tcr_against tcr_check_against(const tcr_check *check);
TCR_API unsigned tcr_check_parts(const tcr_check *check);
TCR_API double tcr_check_tolerance(const tcr_check *check);
TCR_API const tcr_eye_result *tcr_check_eye(const tcr_check *check, tcr_side side);
typedef struct tcr_judgement {
    tcr_verdict verdict;
    size_t lashes, tips;
    size_t staggered;
    double rms_mm;
    double within_tolerance;
} tcr_judgement;
TCR_API tcr_status tcr_check_judge(const tcr_check *check, unsigned sides,
                                   tcr_judgement *judgement);
TCR_API tcr_status tcr_check_symmetry(const tcr_check *check, tcr_symmetry *symmetry);
TCR_API tcr_status tcr_check_likeness(const tcr_check *check, tcr_likeness *likeness);
TCR_API double tcr_check_rms_off(const tcr_check *check, const tcr_line line[TCR_SIDES], bool moved,
                                 size_t *tips);
TCR_API tcr_status tcr_intended_line(const tcr_set *set, tcr_side side, const tcr_view *view,
                                     tcr_line *line);
#endif
