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
 * rule. An embedder fills it by calls and gives it to tcr_check_new (check.h) without any file.
 *
 * A set may be read by several threads at once as long as none changes it. Each call that changes a
 * set either does all of its work or leaves the set as it was.
 */
typedef struct tcr_set tcr_set;

typedef enum tcr_side { TCR_LEFT = 0, TCR_RIGHT = 1 } tcr_side; /* the client's */
/* A practice head's lid does not open: its figures are told "as if it opened". */
typedef enum tcr_subject { TCR_CLIENT = 0, TCR_PRACTICE_HEAD = 1 } tcr_subject;
enum { TCR_SIDES = 2, TCR_LASHES_MAX = 100000, TCR_ID_SIZE_MAX = 256, TCR_TITLE_SIZE_MAX = 1024 };
/* "left" or "right", as files say it; static storage; "unknown" for any other value. */
TCR_API const char *tcr_side_text(tcr_side side);

/* A new, empty set with every default. allocator may be NULL. *set is the caller's to free. */
TCR_API tcr_status tcr_set_new(const tcr_allocator *allocator, tcr_set **set);
/* The same with what holds for the whole of another set: title, subject, curls, layering, tray,
 * bond, view, tolerance, mean lash; no eyes. */
TCR_API tcr_status tcr_set_new_like(const tcr_allocator *allocator, const tcr_set *from,
                                    tcr_set **set);
/* A copy, equal in everything but its allocator. TCR_E_ARGUMENT, TCR_E_MEMORY. *set is the
 * caller's to free. */
TCR_API tcr_status tcr_set_copy(const tcr_allocator *allocator, const tcr_set *from, tcr_set **set);
/*
 * A copy with a look for a map: its longest zone is longest_mm, and each zone has the curl that the
 * old map has at its middle. What zones fixed for a layer, and the intended map, are left out.
 * TCR_E_ARGUMENT, TCR_E_TRAY (the tray lacks longest_mm), TCR_E_MISSING (an eye without a map),
 * TCR_E_MEMORY. *set is the caller's to free.
 */
TCR_API tcr_status tcr_set_new_by_look(const tcr_allocator *allocator, const tcr_set *from,
                                       const tcr_look *look, double longest_mm, tcr_set **set);
TCR_API void tcr_set_free(tcr_set *set);

/*
 * What was wrong with the last call that was to change the set: the number by its member, value and
 * range, and which eye, lash or zone. TCR_OK and no message where it succeeded. Valid until the
 * next such call; NULL for NULL.
 */
TCR_API const tcr_error *tcr_set_error(const tcr_set *set);

/* What holds for the whole set. Values are checked and copied. */
TCR_API tcr_status tcr_set_title(tcr_set *set, const char *title);     /* UTF-8, up to 1023 bytes */
TCR_API tcr_status tcr_set_subject(tcr_set *set, tcr_subject subject); /* default: client */
TCR_API tcr_status tcr_set_add_curl(tcr_set *set,
                                    const tcr_curl *curl); /* or replaces one of the label */
TCR_API tcr_status tcr_set_layering(tcr_set *set, const tcr_layering *layering);
TCR_API tcr_status tcr_set_tray(tcr_set *set, const tcr_tray *tray);
TCR_API tcr_status tcr_set_bond(tcr_set *set, const tcr_bond *bond);
TCR_API tcr_status tcr_set_view(tcr_set *set, const tcr_view *view); /* default: open front */
TCR_API tcr_status tcr_set_line(tcr_set *set, const tcr_line_rule *rule);
/* The tolerance of the line rule alone, mm; no distance of the viewer then makes it. */
TCR_API tcr_status tcr_set_tolerance(tcr_set *set, double tolerance_mm);
/*
 * What is said of the mean lash (mean.h): a number holds at every u, NaN leaves it to the eye's own
 * lashes. u, layer and condition are not read.
 */
TCR_API tcr_status tcr_set_mean_lash(tcr_set *set, const tcr_lash *mean);

/* Adds an eye; lid may have unknown measures, or be NULL where none is known. TCR_E_DUPLICATE if
 * the side is there. */
TCR_API tcr_status tcr_set_add_eye(tcr_set *set, tcr_side side, const tcr_lid *lid);
/* Takes an eye out with all it holds. TCR_E_MISSING. */
TCR_API tcr_status tcr_set_remove_eye(tcr_set *set, tcr_side side);
/* Puts a lid in place of an eye's. TCR_E_MISSING, or as tcr_lid_check. */
TCR_API tcr_status tcr_set_replace_lid(tcr_set *set, tcr_side side, const tcr_lid *lid);
/*
 * The map of an eye, 1 to TCR_ZONES_MAX zones. TCR_E_MAP (order, last 'to' not 1), TCR_E_CURL
 * (label not in the set), TCR_E_TRAY (a length the tray lacks: give the tray first), TCR_E_RANGE,
 * TCR_E_MISSING (eye).
 */
TCR_API tcr_status tcr_set_map(tcr_set *set, tcr_side side, const tcr_zone *zones, size_t count);
/*
 * The intended map, if it differs from the working map: the intended line is then made of it, and
 * nothing else. So a planned set, whose zones have lengths of their own, is still measured against
 * what was asked for. NULL and 0 take it away. Statuses as of tcr_set_map.
 */
TCR_API tcr_status tcr_set_intend(tcr_set *set, tcr_side side, const tcr_zone *zones, size_t count);
/*
 * Adds a lash. id: 1 to 255 bytes of UTF-8, copied; whether ids are unique is checked by
 * tcr_set_find_duplicate. wish may be NULL. TCR_E_CURL if it names a curl the set lacks.
 */
TCR_API tcr_status tcr_set_add_lash(tcr_set *set, tcr_side side, const char *id,
                                    const tcr_lash *lash, const tcr_wish *wish);
/*
 * Adds n lashes, all or none. ids: n ids as above, or NULL for "l001", "l002", ... by number in the
 * eye. wishes: n wishes, or NULL for none. Statuses as of tcr_set_add_lash.
 */
TCR_API tcr_status tcr_set_add_lashes(tcr_set *set, tcr_side side, size_t n, const char *const *ids,
                                      const tcr_lash *lashes, const tcr_wish *wishes);
/* Puts a lash, or what lash i wears (NULL: nothing of its own), in place of lash i's. It keeps its
 * id. TCR_E_MISSING (eye, lash), or as tcr_set_add_lash. */
TCR_API tcr_status tcr_set_replace_lash(tcr_set *set, tcr_side side, size_t i,
                                        const tcr_lash *lash);
TCR_API tcr_status tcr_set_replace_wish(tcr_set *set, tcr_side side, size_t i,
                                        const tcr_wish *wish);
/* Adds all lashes of a described eye, with ids "l001", "l002", ... by number. */
TCR_API tcr_status tcr_set_describe(tcr_set *set, tcr_side side,
                                    const tcr_description *description);
/* Says of how many lashes of an eye, all at most, the numbers are drawn by chance and not measured:
 * reports then say so. TCR_E_MISSING (eye), TCR_E_RANGE. */
TCR_API tcr_status tcr_set_mark_drawn(tcr_set *set, tcr_side side, size_t count);

/*
 * Looks for an id used twice in an eye: TCR_OK if there is none, TCR_E_DUPLICATE with the index of
 * the first lash that repeats an earlier id. Sorts a copy: n log n.
 */
TCR_API tcr_status tcr_set_find_duplicate(const tcr_set *set, tcr_side side, size_t *index);

/* What a set holds. Pointers stay valid until the set is changed or freed. */
TCR_API const char *tcr_set_get_title(const tcr_set *set); /* "" where none was given */
TCR_API tcr_subject tcr_set_get_subject(const tcr_set *set);
/* How many eyes there are, and their sides in the order in which they were added; sides may be
 * NULL. */
TCR_API size_t tcr_set_get_eyes(const tcr_set *set, tcr_side sides[TCR_SIDES]);
TCR_API bool tcr_set_has_eye(const tcr_set *set, tcr_side side);
TCR_API size_t tcr_set_lash_count(const tcr_set *set, tcr_side side);
/* How many of these were drawn by chance, by tcr_set_describe or as tcr_set_mark_drawn says: none
 * of their numbers was measured. 0 where there is no such eye. */
TCR_API size_t tcr_set_drawn_count(const tcr_set *set, tcr_side side);
/* Complete: defaults stand in for what is not known. To change a lash, take it as it was given. */
TCR_API const tcr_lash *tcr_set_get_lash(const tcr_set *set, tcr_side side, size_t i);
/* The lash as it was given: NaN where a default stands in. TCR_E_MISSING, TCR_E_ARGUMENT. */
TCR_API tcr_status tcr_set_given_lash(const tcr_set *set, tcr_side side, size_t i, tcr_lash *lash);
/* Bits TCR_LASH_... of the numbers of a lash that have a default; 0 for no such lash. */
TCR_API unsigned tcr_set_assumed(const tcr_set *set, tcr_side side, size_t i);
TCR_API const char *tcr_set_get_id(const tcr_set *set, tcr_side side, size_t i);
TCR_API const tcr_wish *tcr_set_get_wish(const tcr_set *set, tcr_side side, size_t i);
/* Complete, as it was given (NaN where a default stands in), and bits TCR_LID_... of the defaults.
 */
TCR_API const tcr_lid *tcr_set_get_lid(const tcr_set *set, tcr_side side);
TCR_API tcr_status tcr_set_given_lid(const tcr_set *set, tcr_side side, tcr_lid *lid);
TCR_API unsigned tcr_set_lid_assumed(const tcr_set *set, tcr_side side);
/* The longest length of all maps, mm; NaN where there is none. */
TCR_API double tcr_set_longest_mm(const tcr_set *set);
TCR_API const tcr_zone *tcr_set_get_map(const tcr_set *set, tcr_side side, size_t *count);
/* The map of tcr_set_intend; NULL and 0 where the eye has none. */
TCR_API const tcr_zone *tcr_set_get_intended(const tcr_set *set, tcr_side side, size_t *count);
TCR_API const tcr_layering *tcr_set_get_layering(const tcr_set *set);
TCR_API const tcr_tray *tcr_set_get_tray(const tcr_set *set);
TCR_API const tcr_bond *tcr_set_get_bond(const tcr_set *set);
TCR_API const tcr_view *tcr_set_get_view(const tcr_set *set);
TCR_API const tcr_line_rule *tcr_set_get_line(const tcr_set *set);
/* The tolerance, mm, from the viewer's distance where that is given. NaN for NULL. */
TCR_API double tcr_set_get_tolerance(const tcr_set *set);
TCR_API const tcr_lash *tcr_set_get_mean_lash(const tcr_set *set);
TCR_API size_t tcr_set_curl_count(const tcr_set *set);
TCR_API const tcr_curl *tcr_set_get_curl(const tcr_set *set, size_t i);
TCR_API tcr_status tcr_set_find_curl(const tcr_set *set, const char *label, size_t *index);
/* The zone that holds u, as an index into the map. */
TCR_API size_t tcr_set_zone_at(const tcr_set *set, tcr_side side, double u);
/* How many lashes root in a zone's layer. */
TCR_API size_t tcr_set_lashes_in(const tcr_set *set, tcr_side side, size_t zone, tcr_layer layer);

/* What is glued to a lash once row, zone and rule are put together. */
typedef struct tcr_choice {
    double length_mm;
    size_t curl; /* index into the set's curls */
    double diameter_mm;
    int fan;
    double spread_rad;
    tcr_placement placement;
    double moved_out_mm; /* the bond starts this much farther from the skin than the set's bond: 0
                            unless the lash's own row says where */
} tcr_choice;

/*
 * The extension that lash i is to carry. TCR_E_BARE (its condition) or TCR_E_BARE_BY_ROW when none;
 * TCR_E_TRAY when the rule gives a length that the tray lacks (choice->length_mm then holds it).
 */
TCR_API tcr_status tcr_set_choice(const tcr_set *set, tcr_side side, size_t i, tcr_choice *choice);
/* The extension, with the profile of its curl at its length. The choice is one of this set's. */
TCR_API tcr_extension tcr_set_extension(const tcr_set *set, const tcr_choice *choice);
/* The bond of what a lash wears: the set's, or where its own row says that it starts. */
TCR_API tcr_bond tcr_set_bond_of(const tcr_set *set, const tcr_choice *choice);
/*
 * The extension of the intended line at u: by the intended map, or else the map, the zone's curl
 * and diameter on the bottom layer, the bottom lengths blended between zone centres and not
 * rounded, one fibre, on top. The eye must be there and have a map.
 */
TCR_API tcr_extension tcr_set_intended_extension(const tcr_set *set, tcr_side side, double u);

#endif
