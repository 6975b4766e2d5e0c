/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PLAN_H
#define TCR_PLAN_H 
#include <stdbool.h>
#include <stddef.h>
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/limits.h>
#include <tipcrest/line.h>
#include <tipcrest/progress.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>
typedef enum tcr_objective { TCR_LEAST_SQUARES = 0, TCR_LEAST_MAXIMUM = 1 } tcr_objective;
enum {
    TCR_PLAN_CURLS_MAX = 16,
    TCR_PLAN_DIAMETERS_MAX = 8,
    TCR_PLAN_FANS_MAX = 8,
    TCR_PLAN_OPTIONS_MAX = 65535,
    TCR_SAMPLES_MAX = 100000
};
typedef struct tcr_plan_options {
    size_t size;
    tcr_limits limits;
    double share;
    tcr_objective objective;
    double free_mm;
    size_t lengths_most;
    double zone_step_most_mm;
    bool placement[TCR_PLACEMENTS];
    size_t curls;
    size_t curl[TCR_PLAN_CURLS_MAX];
    size_t diameters;
    double diameter_mm[TCR_PLAN_DIAMETERS_MAX];
    size_t fans;
    int fan[TCR_PLAN_FANS_MAX];
    size_t corrections;
    bool correct_all;
    size_t samples;
    double samples_share;
    tcr_progress progress;
    bool same_placement;
} tcr_plan_options;
TCR_API void tcr_plan_options_init(tcr_plan_options *options, size_t size);
static inline tcr_plan_options tcr_plan_options_default(void) {
    tcr_plan_options options;
    tcr_plan_options_init(&options, sizeof options);
    return options;
}
typedef enum tcr_use {
    TCR_USED = 0,
    TCR_USED_BY_ROW = 1,
    TCR_BARE_COVER = 2,
    TCR_BARE_CONDITION = 3,
    TCR_BARE_ROW = 4,
    TCR_BARE_BABY = 5,
    TCR_BARE_STRAY = 6,
    TCR_BARE_BOND = 7,
    TCR_BARE_WEAK = 8
} tcr_use;
enum { TCR_USES = 9 };
typedef struct tcr_plan_lash {
    tcr_use use;
    bool corrected;
    tcr_choice choice;
    double deviation_mm;
    double zone_deviation_mm;
    double better_mm;
    tcr_choice better;
} tcr_plan_lash;
typedef struct tcr_plan_cell {
    tcr_side side;
    size_t zone;
    tcr_layer layer;
    size_t lashes;
    tcr_choice choice;
    double rms_mm;
} tcr_plan_cell;
typedef enum tcr_trait {
    TCR_TRAIT_HEIGHT = 0,
    TCR_TRAIT_PITCH = 1,
    TCR_TRAIT_LENGTH = 2,
    TCR_TRAIT_TURN = 3
} tcr_trait;
enum { TCR_TRAITS = 4 };
typedef enum tcr_plan_want { TCR_WANTS_SHORTER = 0, TCR_WANTS_LONGER = 1 } tcr_plan_want;
enum { TCR_PLAN_WANTS = 2 };
typedef struct tcr_plan_wanting {
    double share;
    double apart[TCR_TRAITS];
    double in_sd[TCR_TRAITS];
} tcr_plan_wanting;
enum { TCR_PLAN_WANTING_SIZE = 200 };
TCR_API void tcr_plan_wanting_text(const tcr_plan_wanting *wanting, double lash_mm,
                                   char text[TCR_PLAN_WANTING_SIZE]);
TCR_API double tcr_plan_lash_mm(const tcr_set *set, tcr_side side);
typedef struct tcr_plan_over {
    double rms_mm, p95_mm, max_mm;
    double within_tolerance;
    double within_sized;
    size_t tips;
    double mapped_rms_mm;
    double mapped_within;
    double mapped_beyond;
    double mapped_lacking;
    tcr_plan_wanting wants[TCR_PLAN_WANTS];
} tcr_plan_over;
typedef struct tcr_plan_reach {
    double asked_mm;
    double given_mm;
    unsigned limits;
    bool at_hand;
    double lowered_mm;
} tcr_plan_reach;
typedef struct tcr_plan_eye {
    size_t lashes, used, suitable;
    const tcr_plan_lash *lash;
    double gap_mm,
        least_gap_mm;
    size_t uses[TCR_USES];
    bool zones_only;
    tcr_plan_over over;
    tcr_plan_reach reach;
} tcr_plan_eye;
typedef struct tcr_plan_point {
    size_t corrections;
    double rms_mm, p95_mm, max_mm;
    double within_tolerance;
    bool enough_within;
} tcr_plan_point;
typedef struct tcr_plan_result {
    tcr_line line[TCR_SIDES];
    double end_mm[2];
    double shift_mm;
    double tilt;
    bool at_limit;
    size_t planned;
    double rms_mm, max_mm;
    double bound_mm;
    bool proved;
    bool stopped;
    size_t samples;
    double expected_rms_mm;
    double samples_max_mm;
    double client_rms_mm[2];
    double clients_nearer_as_mapped;
    size_t cells;
    const tcr_plan_cell *cell;
    bool one_kind;
    size_t corrections;
    size_t points;
    const tcr_plan_point *point;
    bool enough_within;
    tcr_placement layer_placement[TCR_LAYERS];
    double by_layer_mm, by_zone_mm;
} tcr_plan_result;
typedef struct tcr_plan tcr_plan;
TCR_API tcr_status tcr_plan_new(const tcr_set *set, const tcr_plan_options *options,
                                tcr_plan **plan, tcr_error *error);
TCR_API void tcr_plan_free(tcr_plan *plan);
TCR_API const tcr_plan_result *tcr_plan_result_of(const tcr_plan *plan);
TCR_API const tcr_plan_point *tcr_plan_point_made(const tcr_plan *plan);
TCR_API const tcr_plan_eye *tcr_plan_eye_of(const tcr_plan *plan, tcr_side side);
enum { TCR_PLAN_REACH_SIZE = 640 };
TCR_API void tcr_plan_reach_text(const tcr_plan *plan, char text[TCR_PLAN_REACH_SIZE]);
TCR_API bool tcr_plan_fits(const tcr_plan *plan, const tcr_set *set);
TCR_API const tcr_plan_options *tcr_plan_options_of(const tcr_plan *plan);
TCR_API tcr_status tcr_plan_apply(const tcr_plan *plan, tcr_set **planned);
typedef struct tcr_plan_pace {
    size_t size;
    double setting_s;
    double distance_mm;
    double lash_s;
    double change_s;
    double eye_change_s;
    double preparation_min;
    double loss_share;
    double drop_min;
} tcr_plan_pace;
TCR_API void tcr_plan_pace_init(tcr_plan_pace *pace, size_t size);
static inline tcr_plan_pace tcr_plan_pace_default(void) {
    tcr_plan_pace pace;
    tcr_plan_pace_init(&pace, sizeof pace);
    return pace;
}
typedef struct tcr_plan_row {
    double length_mm;
    size_t curl;
    double diameter_mm;
    size_t lashes;
    size_t fibres;
    size_t with_loss;
} tcr_plan_row;
typedef struct tcr_plan_place {
    tcr_side side;
    size_t lash;
    size_t row;
} tcr_plan_place;
typedef enum tcr_plan_order {
    TCR_ORDER_FOUND = 0,
    TCR_ORDER_NOT_FOUND = 1,
    TCR_ORDER_CROWD = 2,
    TCR_ORDER_NARROW = 3,
    TCR_ORDER_TOO_MANY = 4
} tcr_plan_order;
typedef struct tcr_plan_work {
    const tcr_plan_pace *pace;
    size_t places;
    const tcr_plan_place *place;
    bool stopped;
    size_t still_soft;
    tcr_plan_order order;
    size_t conflicts;
    size_t crowd, crowd_needs, apart;
    size_t changes;
    size_t eye_changes;
    size_t least_changes;
    size_t rows;
    const tcr_plan_row *row;
    size_t fibres, with_loss;
    double placing_min, minutes;
    size_t drops, refreshes;
    const tcr_plan *plan;
    size_t lashes;
} tcr_plan_work;
TCR_API tcr_status tcr_plan_work_new(const tcr_plan *plan, const tcr_plan_pace *pace,
                                     tcr_plan_work **work);
TCR_API void tcr_plan_work_free(tcr_plan_work *work);
#endif
