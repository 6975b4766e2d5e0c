/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_MODEL_EVALUATE_H
#define TCR_MODEL_EVALUATE_H

/*
 * The one evaluator: from a lash, what it wears, the bond, the lid and the view to the tip that is
 * seen (model.md, sections 2 to 5). Whoever asks where a tip stands comes through tcr_evaluate; who
 * asks it of a whole eye, with or without changes, through tcr_variant_evaluate.
 */

#include <tipcrest/set.h>

#include "model/lash_kernel.h"

/* How an eye is looked at, prepared once for all its lashes. */
typedef struct tcr_looking {
    tcr_lid_constants lid;
    double opening;
    double cos_viewer, sin_viewer;
} tcr_looking;

TCR_SHARED tcr_looking tcr_looking_at(const tcr_lid *lid, const tcr_view *view) {
    const tcr_sine_cosine viewer = tcr_sine_cosine_of(view->viewer_rad);
    return (tcr_looking){tcr_lid_prepare(lid), view->opening, viewer.cosine, viewer.sine};
}

/* The same lid from another view. */
TCR_SHARED void tcr_look_from(tcr_looking *at, const tcr_view *view) {
    const tcr_sine_cosine viewer = tcr_sine_cosine_of(view->viewer_rad);
    at->opening = view->opening;
    at->cos_viewer = viewer.cosine;
    at->sin_viewer = viewer.sine;
}

/* A point as the view shows it. */
TCR_SHARED tcr_vec2 tcr_project(const tcr_looking *at, tcr_vec3 p) {
    return (tcr_vec2){p.x, p.y * at->cos_viewer - p.z * at->sin_viewer};
}

/* A point in the own axes of a lash that stands, as the view shows it. */
TCR_SHARED tcr_vec2 tcr_see(const tcr_looking *at, const tcr_stance *stance, tcr_vec3 local) {
    return tcr_project(at, tcr_stance_point_kernel(stance, local));
}

/* How an extension lies on its lash, how the lash stands, and where its tip is and is seen. */
typedef struct tcr_sight {
    tcr_attachment attachment; /* of a bare lash, unset but for its tip, which is the lash's own */
    tcr_rooted rooted;
    tcr_seat seat;
    tcr_stance stance;
    tcr_vec3 tip;
    tcr_vec2 seen;
} tcr_sight;

/* What may differ from the last evaluation into the same sight; the rest of it is kept. */
enum {
    TCR_ANEW_ATTACHMENT =
        1 << 0,             /* the lash's length, turn or diameters; what it wears; the bond */
    TCR_ANEW_ROOT = 1 << 1, /* the lash's place or direction; the lid */
    TCR_ANEW_OPENING = 1 << 2,
    TCR_ANEW_ALL = (1 << 3) - 1
};

/*
 * Evaluates a lash with an extension, or bare where ext is NULL (bond is then not read). Inputs are
 * valid. TCR_OK, or TCR_E_BOND with only the stance set.
 */
TCR_SHARED tcr_status tcr_evaluate(const tcr_looking *at, const tcr_lash *lash,
                                   const tcr_extension *ext, const tcr_bond *bond, unsigned anew,
                                   tcr_sight *sight) {
    if (anew & TCR_ANEW_ROOT)
        sight->rooted = tcr_lash_rooted(lash, &at->lid);
    if (anew & (TCR_ANEW_ROOT | TCR_ANEW_OPENING)) {
        sight->seat = tcr_seat_at(&sight->rooted.place, at->opening);
        sight->stance = tcr_seat_stance(&sight->seat, &sight->rooted);
    }
    if ((anew & TCR_ANEW_ATTACHMENT) && ext == NULL)
        sight->attachment.tip = tcr_bare_tip_kernel(lash);
    if ((anew & TCR_ANEW_ATTACHMENT) && ext != NULL) {
        const tcr_status status = tcr_attach_kernel(lash, ext, bond, &sight->attachment);
        if (status != TCR_OK)
            return status;
    }
    sight->tip = tcr_seat_point(&sight->seat, &sight->rooted.aim, sight->rooted.height_mm,
                                sight->attachment.tip);
    sight->seen = tcr_project(at, sight->tip);
    return TCR_OK;
}

/* An extension kept from call to call; not known at first. */
typedef struct tcr_kept_fibre {
    bool known;
    tcr_fibre fibre;
    tcr_parting parting; /* of the bond that was laid last */
} tcr_kept_fibre;

/*
 * Where a tip is seen, of a lash that stands. bed is kept from call to call as long as the lash's
 * own shape and the bond stay and cover the same stretch, and its bond_mm is 0 at first; kept as
 * long as the extension stays. TCR_OK or TCR_E_BOND.
 */
TCR_SHARED tcr_status tcr_evaluate_on(const tcr_looking *at, const tcr_lash *lash,
                                      const tcr_extension *ext, const tcr_bond *bond,
                                      const tcr_stance *stance, tcr_bond_bed *bed,
                                      tcr_kept_fibre *kept, tcr_vec2 *seen) {
    const double c = tcr_bond_length(lash, ext->length_mm, bond);
    if (c < TCR_BOND_LEAST_MM)
        return TCR_E_BOND;
    if (c != bed->bond_mm)
        *bed = tcr_bond_bed_of(lash, bond->offset_mm, c);
    if (!kept->known)
        *kept = (tcr_kept_fibre){.known = true, .fibre = tcr_fibre_of_extension(ext)};
    if (c != kept->parting.bond_mm)
        kept->parting = tcr_parting_of(&kept->fibre, ext, c);
    const tcr_attachment attachment =
        tcr_attach_to(bed, ext, &kept->fibre, &kept->parting, bond->glue_mm);
    *seen = tcr_see(at, stance, attachment.tip);
    return TCR_OK;
}

/* The same for what a set's lash wears, its own bond included. */
TCR_SHARED tcr_status tcr_evaluate_worn(const tcr_looking *at, const tcr_set *set,
                                        const tcr_lash *lash, const tcr_choice *worn, unsigned anew,
                                        tcr_sight *sight) {
    if (!(anew & TCR_ANEW_ATTACHMENT)) /* extension and bond are not read */
        return tcr_evaluate(at, lash, NULL, NULL, anew, sight);
    const tcr_extension ext = tcr_set_extension(set, worn);
    const tcr_bond bond = tcr_set_bond_of(set, worn);
    return tcr_evaluate(at, lash, &ext, &bond, anew, sight);
}

/* A lash of a set with what it wears, to be changed. */
typedef struct tcr_changed {
    size_t j; /* of the lash in its variant */
    tcr_lash lash;
    tcr_choice worn;
} tcr_changed;

/* Changes a lash or what it wears; keeps the ranges of both. */
typedef void (*tcr_change)(const void *context, tcr_changed *changed);

/*
 * The lashes of an eye that wear an extension, seen as they are or with changes: the set itself
 * stays. Arrays are the caller's, n items each.
 */
typedef struct tcr_variant {
    const tcr_set *set;
    tcr_side side;
    tcr_looking at;
    size_t n;
    size_t *index;       /* of each lash in its eye */
    tcr_choice *worn;    /* what it wears unchanged */
    tcr_sight *sight;    /* kept from one evaluation to the next */
    double *x_mm, *y_mm; /* of the tips as seen */
} tcr_variant;

/* Evaluates lash j of n with a change, which may be NULL. TCR_OK or TCR_E_BOND. */
tcr_status tcr_variant_evaluate_one(const tcr_variant *variant, size_t j, tcr_change change,
                                    const void *context, unsigned anew);

/* Evaluates all with a change. TCR_OK, or TCR_E_BOND where one cannot bond. */
tcr_status tcr_variant_evaluate(const tcr_variant *variant, tcr_change change, const void *context,
                                unsigned anew);

#endif
