/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_MODEL_SET_DATA_H
#define TCR_MODEL_SET_DATA_H

/* What a set is made of, for the files that implement set.h. */

#include <tipcrest/set.h>

/* A lash of an eye; its id stands in the eye's text at id_at. */
typedef struct tcr_stored_lash {
    tcr_lash lash;    /* complete */
    unsigned assumed; /* bits TCR_LASH_... of the numbers that have a default */
    tcr_wish wish;
    size_t id_at;
} tcr_stored_lash;

typedef struct tcr_set_map_zones {
    tcr_zone *zone;
    size_t count;
} tcr_set_map_zones;

typedef struct tcr_stored_eye {
    bool present;
    tcr_lid lid;                     /* complete */
    unsigned lid_assumed;            /* bits TCR_LID_... */
    tcr_set_map_zones map, intended; /* intended is empty where the map itself says it */
    tcr_stored_lash *lashes;
    size_t count, capacity;
    size_t drawn;   /* of the lashes, those that nobody measured */
    bool described; /* all lashes are those of the description, none changed since */
    tcr_description description;
    char *text; /* the ids, each ended by a NUL */
    size_t text_size, text_capacity;
} tcr_stored_eye;

/* A curl with the set's own copy of all it points to. */
typedef struct tcr_stored_curl {
    tcr_curl curl;
    char label[TCR_LABEL_SIZE];
    double *length_mm;
    tcr_profile *profiles;
} tcr_stored_curl;

struct tcr_set {
    tcr_allocator allocator;
    char *title;
    tcr_subject subject;
    tcr_stored_curl **curls; /* each its own block, so that pointers to curls stay valid */
    size_t curl_count, curl_capacity;
    tcr_layering layering;
    tcr_tray tray;
    tcr_bond bond;
    tcr_view view;
    tcr_line_rule line;
    tcr_lash mean_lash; /* NaN: the eye's own */
    tcr_stored_eye eye[TCR_SIDES];
    tcr_side first;  /* of the sides to be added */
    tcr_error error; /* of the last call that changed the set, or was to */
    size_t changes;  /* made so far, by which a check or a plan knows that the set is as it was */
};

/* The eye of a side, or NULL. */
static inline const tcr_stored_eye *tcr_set_eye_of(const tcr_set *set, tcr_side side) {
    if (set == NULL || (int)side < 0 || (int)side >= TCR_SIDES || !set->eye[side].present)
        return NULL;
    return &set->eye[side];
}

/*
 * Begins a call that changes a set, which may be NULL: forgets the error of the last one and says
 * where this one's goes.
 */
tcr_error *tcr_set_begin(tcr_set *set);

/* Ends it: counts a change; a failure keeps its words, or gets those of its status. side: TCR_LEFT,
 * TCR_RIGHT or -1. Returns the status. */
tcr_status tcr_set_end(tcr_set *set, tcr_status status, int side);

/* A lash as it was given: NaN where it has a default. */
tcr_lash tcr_set_lash_as_given(const tcr_stored_lash *lash);

/* Frees what a curl or an eye holds; NULL is accepted as a curl. */
void tcr_set_curl_free(const tcr_allocator *allocator, tcr_stored_curl *curl);
void tcr_set_eye_free(const tcr_allocator *allocator, tcr_stored_eye *eye);

/* A copy of a curl with all it points to; NULL without memory. */
tcr_stored_curl *tcr_set_curl_copy(const tcr_allocator *allocator, const tcr_curl *curl);

/*
 * The length that map and layering rule give a layer of zone z, at u: depends on u only where the
 * rule blends, and is then rounded to the tray or not.
 */
double tcr_set_ruled_length(const tcr_set *set, const tcr_set_map_zones *map, size_t z,
                            tcr_layer layer, double u, bool rounded);

/* All that map and rule give a layer of a zone; the length as if the rule did not blend. */
tcr_choice tcr_set_ruled_choice(const tcr_set *set, const tcr_set_map_zones *map, size_t z,
                                tcr_layer layer);

/* The length that the map gives a layer at u, rounded. The eye must be there and have a map. */
double tcr_set_map_length(const tcr_set *set, tcr_side side, double u, tcr_layer layer);

/* The index of the tray's length nearest to a wanted one, ties to the longer; the tray has any. */
size_t tcr_tray_index(const tcr_tray *tray, double length_mm);

/* Bit i: the tray has its length i in this curl and diameter. */
uint64_t tcr_tray_lengths_of(const tcr_tray *tray, const char *curl, double diameter_mm);

/* The lengths at hand in the curl and diameter of a choice: the set's tray, or, where it tells
 * these apart, 'room', filled. NULL: the tray has nothing of these. */
const tcr_tray *tcr_set_tray_for(const tcr_set *set, const tcr_choice *choice, tcr_tray *room);

/* The curls and diameters of a tray that tells them apart, "C of 0.12 mm, D of 0.15 mm and 3 more".
 */
void tcr_tray_kinds_text(const tcr_tray *tray, char *text, size_t size);

/* A choice's length that is at hand in its curl and diameter becomes the tray's own; TCR_E_TRAY
 * where it is not. */
tcr_status tcr_set_take_length(const tcr_set *set, tcr_choice *choice);

/* A length that is in the tray becomes the tray's own; TCR_E_TRAY where it is not. */
tcr_status tcr_tray_take(const tcr_tray *tray, double *length_mm);

/* The zone of a map that holds u. */
size_t tcr_map_zone_at(const tcr_set_map_zones *map, double u);

/* What a zone gives a layer, mm: what it fixes for it, or its own length less the layers' steps. */
double tcr_set_layer_length(const tcr_set *set, const tcr_zone *zone, tcr_layer layer);

/* The map's length on a layer, interpolated between the zones' centres and not rounded. */
double tcr_set_smooth_length(const tcr_set *set, const tcr_set_map_zones *map, double u,
                             tcr_layer layer);

/* The intended map of an eye that is there: its own, or the working map. */
const tcr_set_map_zones *tcr_set_intended_map(const tcr_set *set, tcr_side side);

/* What the mean lash wears for the intended line at the centre of a zone of a map. */
tcr_choice tcr_set_intended_choice(const tcr_set *set, const tcr_set_map_zones *map, size_t z);

#endif
