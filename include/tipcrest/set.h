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

/*
 * A set: one or two eyes with their lids, lashes and maps, the tray, the curls and the layering
 * rule. An embedder fills it by calls and passes it to tcr_check_new (check.h), without any file.
 *
 * Several threads may read a set at once while none changes it. A call that changes a set does all
 * of its work or leaves the set as it was. Calls that add may return TCR_E_MEMORY. Values are
 * checked and copied, so the caller keeps its arguments.
 */
typedef struct tcr_set tcr_set;

/* The client's left or right. */
typedef enum tcr_side { TCR_LEFT = 0, TCR_RIGHT = 1 } tcr_side;
/* A practice head's lid does not open: reports say "as if it opened". */
typedef enum tcr_subject { TCR_CLIENT = 0, TCR_PRACTICE_HEAD = 1 } tcr_subject;
enum { TCR_SIDES = 2, TCR_LASHES_MAX = 100000, TCR_ID_SIZE_MAX = 256, TCR_TITLE_SIZE_MAX = 1024 };
/* "left" or "right", as in files; "unknown" for any other value. Static storage. */
TCR_API const char *tcr_side_text(tcr_side side);

/*
 * Makes an empty set with every default. allocator may be NULL. TCR_E_MEMORY, TCR_E_ARGUMENT. The
 * caller frees *set.
 */
TCR_API tcr_status tcr_set_new(const tcr_allocator *allocator, tcr_set **set);

/*
 * Makes a set without eyes that copies the rest of another: title, subject, curls, layering, tray,
 * bond, view, line rule and mean lash. allocator may be NULL. TCR_E_MEMORY, TCR_E_ARGUMENT. The
 * caller frees *set.
 */
TCR_API tcr_status tcr_set_new_like(const tcr_allocator *allocator, const tcr_set *from,
                                    tcr_set **set);

/*
 * Makes a copy, equal in everything but the allocator, which may be NULL. TCR_E_MEMORY,
 * TCR_E_ARGUMENT. The caller frees *set.
 */
TCR_API tcr_status tcr_set_copy(const tcr_allocator *allocator, const tcr_set *from, tcr_set **set);

/*
 * Makes a copy whose maps follow a look. The longest zone has longest_mm (3 to 30), which the tray
 * must have. Each zone takes the curl that the old map has at the zone's middle. What zones fixed
 * for a layer, and the intended map, are dropped. allocator may be NULL. TCR_E_TRAY (longest_mm),
 * TCR_E_MISSING (an eye without a map), TCR_E_MEMORY, TCR_E_ARGUMENT. The caller frees *set.
 */
TCR_API tcr_status tcr_set_new_by_look(const tcr_allocator *allocator, const tcr_set *from,
                                       const tcr_look *look, double longest_mm, tcr_set **set);
/* Frees a set with all that it holds. NULL is accepted. */
TCR_API void tcr_set_free(tcr_set *set);

/*
 * What was wrong with the last call that tried to change the set: the number with its value and
 * range, and the eye, lash or zone. After a success, TCR_OK and an empty message. Valid until the
 * next such call. NULL for NULL.
 */
TCR_API const tcr_error *tcr_set_error(const tcr_set *set);

/*
 * Sets the title: UTF-8, up to 1023 bytes, copied; default none. TCR_E_ARGUMENT (too long, not
 * UTF-8), TCR_E_MEMORY.
 */
TCR_API tcr_status tcr_set_put_title(tcr_set *set, const char *title);
/* Sets the subject; default client. TCR_E_ARGUMENT. */
TCR_API tcr_status tcr_set_put_subject(tcr_set *set, tcr_subject subject);

/*
 * Adds a curl, or replaces the one with the same label. A new set has the catalogue's curls.
 * Statuses of tcr_curl_validate; TCR_E_ARGUMENT also for a label that is not UTF-8; TCR_E_MEMORY.
 */
TCR_API tcr_status tcr_set_add_curl(tcr_set *set, const tcr_curl *curl);
/* Sets the layering rule. Statuses of tcr_layering_validate. */
TCR_API tcr_status tcr_set_put_layering(tcr_set *set, const tcr_layering *layering);
/* Sets the tray. Statuses of tcr_tray_validate. Maps already in the set are not checked again. */
TCR_API tcr_status tcr_set_put_tray(tcr_set *set, const tcr_tray *tray);
/* Sets the bond. Statuses of tcr_bond_validate. */
TCR_API tcr_status tcr_set_put_bond(tcr_set *set, const tcr_bond *bond);
/* Sets the view; default open front. Statuses of tcr_view_validate. */
TCR_API tcr_status tcr_set_put_view(tcr_set *set, const tcr_view *view);
/* Sets the line rule. Statuses of tcr_line_rule_validate. */
TCR_API tcr_status tcr_set_put_line(tcr_set *set, const tcr_line_rule *rule);

/*
 * Sets the tolerance of the line rule, tolerance_mm (0.05 to 5), and clears the viewer's distance
 * (seen_from_mm). TCR_E_RANGE, TCR_E_ARGUMENT.
 */
TCR_API tcr_status tcr_set_put_tolerance(tcr_set *set, double tolerance_mm);

/*
 * Sets numbers of the mean lash (mean.h). A number given here holds at every u. For a NaN, the
 * eye's own lashes decide. u, layer and condition are not read. Statuses of tcr_lash_validate.
 */
TCR_API tcr_status tcr_set_put_mean_lash(tcr_set *set, const tcr_lash *mean);

/*
 * Adds an eye. lid may have unknown measures; NULL means that all are unknown. TCR_E_DUPLICATE (the
 * set has this side), TCR_E_ARGUMENT, or the status of tcr_lid_validate.
 */
TCR_API tcr_status tcr_set_add_eye(tcr_set *set, tcr_side side, const tcr_lid *lid);
/* Removes an eye with its lid, lashes and maps. TCR_E_MISSING, TCR_E_ARGUMENT. */
TCR_API tcr_status tcr_set_remove_eye(tcr_set *set, tcr_side side);

/*
 * Replaces the lid of an eye; lid as for tcr_set_add_eye. TCR_E_MISSING, or the status of
 * tcr_lid_validate.
 */
TCR_API tcr_status tcr_set_replace_lid(tcr_set *set, tcr_side side, const tcr_lid *lid);

/*
 * Sets the map of an eye: count (1 to TCR_ZONES_MAX) zones, copied. Set the tray first. TCR_E_MAP
 * ('to' does not rise, or does not end at 1), TCR_E_CURL (a label that the set lacks), TCR_E_TRAY
 * (a length that the tray lacks), TCR_E_RANGE, TCR_E_MISSING (eye), TCR_E_MEMORY, TCR_E_ARGUMENT.
 */
TCR_API tcr_status tcr_set_put_map(tcr_set *set, tcr_side side, const tcr_zone *zones,
                                   size_t count);

/*
 * Sets the intended map, if it differs from the working map. Only the intended line uses it. A
 * planned set, whose zones have new lengths, is thus still measured against the original map. NULL
 * with a count of 0 removes it. Statuses as for tcr_set_put_map.
 */
TCR_API tcr_status tcr_set_put_intended(tcr_set *set, tcr_side side, const tcr_zone *zones,
                                        size_t count);

/*
 * Adds a lash. id is 1 to 255 bytes of UTF-8, copied; tcr_set_find_duplicate tells whether ids
 * repeat. lash may have unknown numbers. wish may be NULL: nothing fixed. TCR_E_MISSING (eye),
 * TCR_E_CURL (a curl that the set lacks), TCR_E_RANGE, TCR_E_MEMORY, TCR_E_ARGUMENT (also above
 * TCR_LASHES_MAX lashes in an eye).
 */
TCR_API tcr_status tcr_set_add_lash(tcr_set *set, tcr_side side, const char *id,
                                    const tcr_lash *lash, const tcr_wish *wish);

/*
 * Adds n lashes, all or none. ids has n ids; NULL numbers them "n001", "n002", ... by their place
 * in the eye. wishes has n items or is NULL: nothing fixed. lashes may be NULL if n is 0. Statuses
 * as for tcr_set_add_lash.
 */
TCR_API tcr_status tcr_set_add_lashes(tcr_set *set, tcr_side side, size_t n, const char *const *ids,
                                      const tcr_lash *lashes, const tcr_wish *wishes);

/*
 * Replaces lash i of an eye; its id and what it fixes for itself stay. TCR_E_MISSING (eye, lash),
 * or as for tcr_set_add_lash.
 */
TCR_API tcr_status tcr_set_replace_lash(tcr_set *set, tcr_side side, size_t i,
                                        const tcr_lash *lash);

/*
 * Replaces all n lashes of an eye; their ids and what they fix for themselves stay. All or none.
 * TCR_E_MISSING (eye), TCR_E_ARGUMENT (n is not the eye's number of lashes), or as for
 * tcr_set_add_lash; the error names the lash.
 */
TCR_API tcr_status tcr_set_replace_lashes(tcr_set *set, tcr_side side, size_t n,
                                          const tcr_lash *lashes);

/*
 * Replaces what lash i fixes for itself; NULL means nothing. Statuses as for tcr_set_replace_lash.
 */
TCR_API tcr_status tcr_set_replace_wish(tcr_set *set, tcr_side side, size_t i,
                                        const tcr_wish *wish);

/*
 * Adds all lashes of a described eye, with ids "n001", "n002", ... by their place in the eye, and
 * marks them as drawn at random. Statuses of tcr_description_validate, TCR_E_MISSING (eye),
 * TCR_E_MEMORY, TCR_E_ARGUMENT.
 */
TCR_API tcr_status tcr_set_describe(tcr_set *set, tcr_side side,
                                    const tcr_description *description);

/*
 * Removes all lashes of an eye, with their ids; lid and maps stay. TCR_E_MISSING (eye),
 * TCR_E_ARGUMENT.
 */
TCR_API tcr_status tcr_set_remove_lashes(tcr_set *set, tcr_side side);

/*
 * Marks `count` lashes of an eye as drawn at random, not measured; reports then say so.
 * TCR_E_MISSING (eye), TCR_E_RANGE (more than the eye's lashes), TCR_E_ARGUMENT.
 */
TCR_API tcr_status tcr_set_mark_drawn(tcr_set *set, tcr_side side, size_t count);

/*
 * Looks for an id used twice in an eye. TCR_OK if there is none. TCR_E_DUPLICATE with the index of
 * the first lash that repeats an earlier id. TCR_E_MISSING (eye), TCR_E_MEMORY, TCR_E_ARGUMENT.
 * Cost: n log n at most.
 */
TCR_API tcr_status tcr_set_find_duplicate(const tcr_set *set, tcr_side side, size_t *index);

/*
 * Getters. They accept a NULL set and, for an eye or a lash that the set lacks, return NULL, 0 or
 * false unless a comment says otherwise. Pointers stay valid until the set is changed or freed.
 */

/* The title; "" if none was set. */
TCR_API const char *tcr_set_title(const tcr_set *set);
/* The subject. */
TCR_API tcr_subject tcr_set_subject(const tcr_set *set);

/*
 * The number of eyes. sides receives their sides in the order in which they were added; it may be
 * NULL.
 */
TCR_API size_t tcr_set_eyes(const tcr_set *set, tcr_side sides[TCR_SIDES]);
/* Whether the set has an eye. */
TCR_API bool tcr_set_has_eye(const tcr_set *set, tcr_side side);
/* The number of lashes of an eye. */
TCR_API size_t tcr_set_lash_count(const tcr_set *set, tcr_side side);

/*
 * How many of these were drawn at random and not measured (tcr_set_describe, tcr_set_mark_drawn).
 */
TCR_API size_t tcr_set_drawn_count(const tcr_set *set, tcr_side side);

/*
 * The description of an eye whose lashes are all those of one tcr_set_describe, none changed or
 * added since; else NULL.
 */
TCR_API const tcr_description *tcr_set_description(const tcr_set *set, tcr_side side);

/*
 * Lash i, complete: with defaults for its unknown numbers. To change a lash, start from
 * tcr_set_given_lash.
 */
TCR_API const tcr_lash *tcr_set_lash(const tcr_set *set, tcr_side side, size_t i);
/*
 * All lashes of an eye as tcr_set_lash has them: lash 0; lash i lies i * stride bytes behind it.
 * stride receives the bytes, 0 where there is no lash; it may be NULL.
 */
TCR_API const tcr_lash *tcr_set_lashes(const tcr_set *set, tcr_side side, size_t *stride);
/* Lash i as it was given: NaN for unknown numbers. TCR_E_MISSING, TCR_E_ARGUMENT. */
TCR_API tcr_status tcr_set_given_lash(const tcr_set *set, tcr_side side, size_t i, tcr_lash *lash);
/* Bits TCR_LASH_... of the numbers of lash i that are at their default. */
TCR_API unsigned tcr_set_assumed(const tcr_set *set, tcr_side side, size_t i);
/* The id of lash i. */
TCR_API const char *tcr_set_id(const tcr_set *set, tcr_side side, size_t i);
/* What lash i fixes for itself. */
TCR_API const tcr_wish *tcr_set_wish(const tcr_set *set, tcr_side side, size_t i);
/* The lid of an eye, complete: with defaults for its unknown measures. */
TCR_API const tcr_lid *tcr_set_lid(const tcr_set *set, tcr_side side);
/* The lid as it was given: NaN for unknown measures. TCR_E_MISSING, TCR_E_ARGUMENT. */
TCR_API tcr_status tcr_set_given_lid(const tcr_set *set, tcr_side side, tcr_lid *lid);
/* Bits TCR_LID_... of the measures that are at their default. */
TCR_API unsigned tcr_set_lid_assumed(const tcr_set *set, tcr_side side);
/* The greatest zone length of all maps, mm; NaN if there is no map. */
TCR_API double tcr_set_longest_mm(const tcr_set *set);
/* The map of an eye. count receives its number of zones and may be NULL. */
TCR_API const tcr_zone *tcr_set_map(const tcr_set *set, tcr_side side, size_t *count);

/*
 * The intended map of tcr_set_put_intended; NULL and a count of 0 if the eye has none. count may be
 * NULL.
 */
TCR_API const tcr_zone *tcr_set_intended(const tcr_set *set, tcr_side side, size_t *count);
/* The layering rule. */
TCR_API const tcr_layering *tcr_set_layering(const tcr_set *set);
/* The tray. */
TCR_API const tcr_tray *tcr_set_tray(const tcr_set *set);
/* The bond. */
TCR_API const tcr_bond *tcr_set_bond(const tcr_set *set);
/* The view. */
TCR_API const tcr_view *tcr_set_view(const tcr_set *set);
/* The line rule. */
TCR_API const tcr_line_rule *tcr_set_line(const tcr_set *set);
/* The tolerance in mm, from the viewer's distance if that is given. NaN for NULL. */
TCR_API double tcr_set_tolerance(const tcr_set *set);
/* The numbers of tcr_set_put_mean_lash: NaN for those not given. NULL for NULL. */
TCR_API const tcr_lash *tcr_set_mean_lash(const tcr_set *set);
/* The number of curls. */
TCR_API size_t tcr_set_curl_count(const tcr_set *set);
/* Curl i; NULL if there is none. */
TCR_API const tcr_curl *tcr_set_curl(const tcr_set *set, size_t i);
/* Finds a curl by its label and gives its index. TCR_E_CURL if the set lacks it, TCR_E_ARGUMENT. */
TCR_API tcr_status tcr_set_find_curl(const tcr_set *set, const char *label, size_t *index);
/*
 * The index of the zone that holds u (share, any) in the map of an eye; 0 also if there is no map.
 */
TCR_API size_t tcr_set_zone_at(const tcr_set *set, tcr_side side, double u);
/* The number of lashes of one layer in a zone. Cost: one pass over the lashes. */
TCR_API size_t tcr_set_lashes_in(const tcr_set *set, tcr_side side, size_t zone, tcr_layer layer);

/*
 * The extension of a lash, after its own row, its zone and the rule are combined. Units and ranges
 * as in tcr_extension.
 */
typedef struct tcr_choice {
    double length_mm;
    size_t curl; /* index into the set's curls */
    double diameter_mm;
    int fan;
    double spread_rad;
    tcr_placement placement;
    double moved_out_mm; /* added to the bond's distance from the skin; 0 unless the lash's own row
                            gives that distance */
} tcr_choice;

/*
 * The extension for lash i. TCR_E_BARE (its condition), TCR_E_BARE_BY_ROW (its own row), TCR_E_TRAY
 * (the rule gives a length that the tray lacks; choice is then written and choice->length_mm is
 * that length), TCR_E_MAP (no map), TCR_E_MISSING (eye, lash), TCR_E_ARGUMENT. It does not test the
 * bond.
 */
TCR_API tcr_status tcr_set_choice(const tcr_set *set, tcr_side side, size_t i, tcr_choice *choice);

/*
 * The extension of a choice, with the profile of its curl at its length. The choice's numbers are
 * not checked. All 0, which tcr_extension_validate refuses, for NULL and for a curl that the set
 * lacks.
 */
TCR_API tcr_extension tcr_set_extension(const tcr_set *set, const tcr_choice *choice);
/*
 * The bond of a choice: the set's, moved out by moved_out_mm, which is not checked. All 0, which
 * tcr_bond_validate refuses, for NULL.
 */
TCR_API tcr_bond tcr_set_bond_of(const tcr_set *set, const tcr_choice *choice);

/*
 * The extension of the intended line at u (share, 0 to 1), from the intended map or else the map.
 * It has the zone's curl and diameter on the bottom layer. Its length is interpolated between zone
 * centres from the bottom lengths, not rounded. It is one fibre, on top. u is not checked. All 0,
 * which tcr_extension_validate refuses, for NULL, an eye that the set lacks and an eye without a
 * map.
 */
TCR_API tcr_extension tcr_set_intended_extension(const tcr_set *set, tcr_side side, double u);

#endif
