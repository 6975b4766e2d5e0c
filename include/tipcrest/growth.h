/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_GROWTH_H
#define TCR_GROWTH_H

#include <tipcrest/export.h>
#include <tipcrest/lash.h>
#include <tipcrest/status.h>

/*
 * Growth of the shape (model.md, section 3). Hair comes out of the skin tip first. A lash that has
 * reached the share q of its final length therefore has the turn and the diameters of the outer q
 * of the full-grown lash: a young lash is straighter and thinner. With T and D the turn and root
 * diameter of the full-grown lash,
 *
 *     turn = T tau(q),    root diameter = tip diameter + (D - tip diameter) q.
 *
 * Growth changes length_mm, turn_rad and root_diameter_mm. All other members stay: place,
 * direction, tip diameter, final length, layer and condition. An unknown turn or root diameter
 * (NaN) stays unknown and so keeps its default at every length. The caller sets the condition for
 * the new length.
 *
 * The calls keep no state, allocate nothing and may run in any thread. An output may be the same
 * object as an input. A failed call leaves its output as it was.
 */

/*
 * tau(q): the share of a natural lash's turn that lies in its outer q. q (share, any; cut to 0 to
 * 1) is a part of the length, measured from the tip. tau rises from 0 to 1. NaN gives NaN.
 */
TCR_API double tcr_lash_turn_share(double q);

/*
 * The full-grown lash of a lash measured while it grew. Its length is final_length_mm (1 to 20 mm).
 * Its turn is turn / tau(q), kept within -60 to 200 degrees. Its root diameter is tip diameter +
 * (root diameter - tip diameter) / q, kept within 0.02 to 0.2 mm. q is length / final length. A
 * lash of its final length or longer is its own full-grown lash.
 *
 * TCR_E_ARGUMENT if a pointer is NULL, TCR_E_RANGE if the length or final length is unknown, or the
 * status of tcr_lash_validate.
 */
TCR_API tcr_status tcr_lash_full_grown(const tcr_lash *lash, tcr_lash *full);

/*
 * The lash at another length. Let q be its present share of full->length_mm (at most 1), q' the new
 * share, and T and D the turn and root diameter of 'full'. The grown lash has turn + T (tau(q') -
 * tau(q)) and root diameter + (D - tip diameter) (q' - q). It is valid: its turn is kept within -60
 * to 200 degrees, its root diameter within 0.02 to 0.2 mm and not below the tip's. This thickens
 * very short hair, so grow longer lashes from 'full' and not from such hair. Two steps to greater
 * lengths equal one.
 *
 * 'full' is the full-grown lash, from tcr_lash_full_grown, or from tcr_describe_lash with
 * TCR_PHASES_NONE. A follicle keeps it from one cycle to the next: the next lash at any length is
 * tcr_lash_grow(full, full, length_mm, &next).
 *
 * length_mm (0.3 to full->length_mm) may be below the lash's own length.
 *
 * TCR_E_ARGUMENT if a pointer is NULL, TCR_E_RANGE if length_mm is out of range, or the status of
 * tcr_lash_validate for either lash.
 */
TCR_API tcr_status tcr_lash_grow(const tcr_lash *lash, const tcr_lash *full, double length_mm,
                                 tcr_lash *grown);

#endif
