/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_SET_H
#define TCR_SET_H 
#include <stdbool.h>
#include <stddef.h>
#include <tipcrest/alloc.h>
#include <tipcrest/curl.h>
#include <tipcrest/describe.h>
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/extension.h>
#include <tipcrest/lash.h>
#include <tipcrest/lid.h>
#include <tipcrest/line_rule.h>
#include <tipcrest/look.h>
#include <tipcrest/map.h>
#include <tipcrest/status.h>
#include <tipcrest/view.h>
typedef struct tcr_set tcr_set;
typedef enum tcr_side { TCR_LEFT = 0, TCR_RIGHT = 1 } tcr_side;
typedef enum tcr_subject { TCR_CLIENT = 0, TCR_PRACTICE_HEAD = 1 } tcr_subject;
enum { TCR_SIDES = 2, TCR_LASHES_MAX = 100000, TCR_ID_SIZE_MAX = 256, TCR_TITLE_SIZE_MAX = 1024 };
TCR_API const char *tcr_side_text(tcr_side side);
TCR_API tcr_status tcr_set_new(const tcr_allocator *allocator, tcr_set **set);
TCR_API tcr_status tcr_set_new_like(const tcr_allocator *allocator, const tcr_set *from,
                                    tcr_set **set);
TCR_API tcr_status tcr_set_copy(const tcr_allocator *allocator, const tcr_set *from, tcr_set **set);
TCR_API tcr_status tcr_set_new_by_look(const tcr_allocator *allocator, const tcr_set *from,
                                       const tcr_look *look, double longest_mm, tcr_set **set);
TCR_API void tcr_set_free(tcr_set *set);
TCR_API const tcr_error *tcr_set_error(const tcr_set *set);
TCR_API tcr_status tcr_set_put_title(tcr_set *set, const char *title);
TCR_API tcr_status tcr_set_put_subject(tcr_set *set, tcr_subject subject);
TCR_API tcr_status tcr_set_add_curl(tcr_set *set, const tcr_curl *curl);
TCR_API tcr_status tcr_set_put_layering(tcr_set *set, const tcr_layering *layering);
TCR_API tcr_status tcr_set_put_tray(tcr_set *set, const tcr_tray *tray);
TCR_API tcr_status tcr_set_put_bond(tcr_set *set, const tcr_bond *bond);
TCR_API tcr_status tcr_set_put_view(tcr_set *set, const tcr_view *view);
TCR_API tcr_status tcr_set_put_line(tcr_set *set, const tcr_line_rule *rule);
TCR_API tcr_status tcr_set_put_tolerance(tcr_set *set, double tolerance_mm);
TCR_API tcr_status tcr_set_put_mean_lash(tcr_set *set, const tcr_lash *mean);
TCR_API tcr_status tcr_set_add_eye(tcr_set *set, tcr_side side, const tcr_lid *lid);
TCR_API tcr_status tcr_set_remove_eye(tcr_set *set, tcr_side side);
TCR_API tcr_status tcr_set_replace_lid(tcr_set *set, tcr_side side, const tcr_lid *lid);
TCR_API tcr_status tcr_set_put_map(tcr_set *set, tcr_side side, const tcr_zone *zones,
                                   size_t count);
TCR_API tcr_status tcr_set_put_intended(tcr_set *set, tcr_side side, const tcr_zone *zones,
                                        size_t count);
TCR_API tcr_status tcr_set_add_lash(tcr_set *set, tcr_side side, const char *id,
                                    const tcr_lash *lash, const tcr_wish *wish);
TCR_API tcr_status tcr_set_add_lashes(tcr_set *set, tcr_side side, size_t n, const char *const *ids,
                                      const tcr_lash *lashes, const tcr_wish *wishes);
TCR_API tcr_status tcr_set_replace_lash(tcr_set *set, tcr_side side, size_t i,
                                        const tcr_lash *lash);
TCR_API tcr_status tcr_set_replace_lashes(tcr_set *set, tcr_side side, size_t n,
                                          const tcr_lash *lashes);
TCR_API tcr_status tcr_set_replace_wish(tcr_set *set, tcr_side side, size_t i,
                                        const tcr_wish *wish);
TCR_API tcr_status tcr_set_describe(tcr_set *set, tcr_side side,
                                    const tcr_description *description);
TCR_API tcr_status tcr_set_remove_lashes(tcr_set *set, tcr_side side);
TCR_API tcr_status tcr_set_mark_drawn(tcr_set *set, tcr_side side, size_t count);
TCR_API tcr_status tcr_set_find_duplicate(const tcr_set *set, tcr_side side, size_t *index);
TCR_API const char *tcr_set_title(const tcr_set *set);
TCR_API tcr_subject tcr_set_subject(const tcr_set *set);
TCR_API size_t tcr_set_eyes(const tcr_set *set, tcr_side sides[TCR_SIDES]);
TCR_API bool tcr_set_has_eye(const tcr_set *set, tcr_side side);
TCR_API size_t tcr_set_lash_count(const tcr_set *set, tcr_side side);
TCR_API size_t tcr_set_drawn_count(const tcr_set *set, tcr_side side);
TCR_API const tcr_description *tcr_set_description(const tcr_set *set, tcr_side side);
TCR_API const tcr_lash *tcr_set_lash(const tcr_set *set, tcr_side side, size_t i);
TCR_API const tcr_lash *tcr_set_lashes(const tcr_set *set, tcr_side side, size_t *stride);
TCR_API tcr_status tcr_set_given_lash(const tcr_set *set, tcr_side side, size_t i, tcr_lash *lash);
TCR_API unsigned tcr_set_assumed(const tcr_set *set, tcr_side side, size_t i);
TCR_API const char *tcr_set_id(const tcr_set *set, tcr_side side, size_t i);
TCR_API const tcr_wish *tcr_set_wish(const tcr_set *set, tcr_side side, size_t i);
TCR_API const tcr_lid *tcr_set_lid(const tcr_set *set, tcr_side side);
TCR_API tcr_status tcr_set_given_lid(const tcr_set *set, tcr_side side, tcr_lid *lid);
TCR_API unsigned tcr_set_lid_assumed(const tcr_set *set, tcr_side side);
TCR_API double tcr_set_longest_mm(const tcr_set *set);
TCR_API const tcr_zone *tcr_set_map(const tcr_set *set, tcr_side side, size_t *count);
TCR_API const tcr_zone *tcr_set_intended(const tcr_set *set, tcr_side side, size_t *count);
TCR_API const tcr_layering *tcr_set_layering(const tcr_set *set);
TCR_API const tcr_tray *tcr_set_tray(const tcr_set *set);
TCR_API const tcr_bond *tcr_set_bond(const tcr_set *set);
TCR_API const tcr_view *tcr_set_view(const tcr_set *set);
TCR_API const tcr_line_rule *tcr_set_line(const tcr_set *set);
TCR_API double tcr_set_tolerance(const tcr_set *set);
TCR_API const tcr_lash *tcr_set_mean_lash(const tcr_set *set);
TCR_API size_t tcr_set_curl_count(const tcr_set *set);
TCR_API const tcr_curl *tcr_set_curl(const tcr_set *set, size_t i);
TCR_API tcr_status tcr_set_find_curl(const tcr_set *set, const char *label, size_t *index);
TCR_API size_t tcr_set_zone_at(const tcr_set *set, tcr_side side, double u);
TCR_API size_t tcr_set_lashes_in(const tcr_set *set, tcr_side side, size_t zone, tcr_layer layer);
typedef struct tcr_choice {
    double length_mm;
    size_t curl;
    double diameter_mm;
    int fan;
    double spread_rad;
    tcr_placement placement;
    double moved_out_mm;
} tcr_choice;
TCR_API tcr_status tcr_set_choice(const tcr_set *set, tcr_side side, size_t i, tcr_choice *choice);
TCR_API tcr_extension tcr_set_extension(const tcr_set *set, const tcr_choice *choice);
TCR_API tcr_bond tcr_set_bond_of(const tcr_set *set, const tcr_choice *choice);
TCR_API tcr_extension tcr_set_intended_extension(const tcr_set *set, tcr_side side, double u);
#endif
