/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_MODEL_CONTACT_KERNEL_H
#define TCR_MODEL_CONTACT_KERNEL_H

/*
 * How far two bonded curves come over each other, inline, in closed form for any number of pieces,
 * any turn and any place of the bond (model.md, section 4). attach_kernel.h has the usual case.
 */

#include <math.h>
#include <stdbool.h>

#include <tipcrest/profile.h>

#include "geom/arc.h"
#include "num/range.h"

/* The profile of a natural lash. */
TCR_SHARED tcr_profile tcr_lash_profile_kernel(double turn_rad) {
    const double third = 1.0 / 3.0;
    return (tcr_profile){3,
                         {third, third, third},
                         {turn_rad * (4.0 / 9.0), turn_rad * (3.0 / 9.0), turn_rad * (2.0 / 9.0)}};
}

/*
 * D(s) = f_e - f_n over the bond, followed from joint to joint of either profile: heights over the
 * two chords grow by the same step as the arcs do, with angles measured from the chords.
 */
typedef struct tcr_contact {
    double alpha_n, alpha_e; /* angles of the tangents to their chords */
    double d;                /* D so far */
    double least, most;      /* of D so far */
} tcr_contact;

TCR_SHARED void tcr_contact_note(tcr_contact *c, double d) {
    if (d < c->least)
        c->least = d;
    if (d > c->most)
        c->most = d;
}

/* Height over the chord gained along an arc of length l with turn a, entered at angle alpha to it.
 */
TCR_SHARED double tcr_arc_height(double alpha, double l, double a) {
    return l * tcr_sinc(a / 2.0) * tcr_sine(alpha + a / 2.0);
}

/* D at a share of a stretch of length l in which the two curves turn by a_n and a_e. */
TCR_SHARED double tcr_contact_at(const tcr_contact *c, double share, double l, double a_n,
                                 double a_e) {
    return c->d + tcr_arc_height(c->alpha_e, share * l, share * a_e) -
           tcr_arc_height(c->alpha_n, share * l, share * a_n);
}

/*
 * Notes D wherever a function that runs linearly from 'start' by 'change' over the stretch meets
 * offset + 2 pi k inside it.
 */
TCR_SHARED void tcr_contact_meet(tcr_contact *c, double start, double change, double offset,
                                 double l, double a_n, double a_e) {
    if (fabs(change) < 1e-300)
        return;
    const double whole = 2.0 * TCR_PI;
    const double low = fmin(start, start + change), high = fmax(start, start + change);
    for (double k = ceil((low - offset) / whole); offset + whole * k <= high; k += 1.0) {
        const double share = (offset + whole * k - start) / change;
        if (share > 0.0 && share < 1.0)
            tcr_contact_note(c, tcr_contact_at(c, share, l, a_n, a_e));
    }
}

/* One stretch between joints: D' = sin(alpha_e) - sin(alpha_n) is 0 where they are equal or sum to
 * pi. */
TCR_SHARED void tcr_contact_stretch(tcr_contact *c, double l, double a_n, double a_e) {
    tcr_contact_meet(c, c->alpha_e - c->alpha_n, a_e - a_n, 0.0, l, a_n, a_e);
    tcr_contact_meet(c, c->alpha_e + c->alpha_n, a_e + a_n, TCR_PI, l, a_n, a_e);
    c->d = tcr_contact_at(c, 1.0, l, a_n, a_e);
    c->alpha_n += a_n;
    c->alpha_e += a_e;
    tcr_contact_note(c, c->d);
}

/* Two curves that are bonded: the natural lash from the start of the bond, the extension from its
 * base on. The angles of their chords over the bond may differ from these by whole turns. */
typedef struct tcr_bonded {
    tcr_profile natural;
    double lash_mm, offset_mm, bond_mm;
    double chord_n;
    const tcr_profile *curl;
    double ext_mm;
    double chord_e;
} tcr_bonded;

/* The extremes of D over a bond. */
TCR_SHARED tcr_contact tcr_contact_over(const tcr_bonded *b) {
    const tcr_profile *natural = &b->natural, *curl = b->curl;
    const tcr_arc_place start = tcr_arc_walk(natural, b->lash_mm, b->offset_mm);
    tcr_contact contact = {start.point.angle_rad - b->chord_n, -b->chord_e, 0.0, 0.0, 0.0};
    int i = start.piece, j = 0;
    double left = b->bond_mm;
    double left_n = natural->share[i] * b->lash_mm - start.into_mm;
    double left_e = curl->share[0] * b->ext_mm;
    while (left > 0.0) {
        const bool last_n = i == natural->pieces - 1, last_e = j == curl->pieces - 1;
        /* The last pieces go on to the end of the bond, of which rounding may leave them short. */
        const double l = fmin(left, fmin(last_n ? left : left_n, last_e ? left : left_e));
        tcr_contact_stretch(&contact, l,
                            natural->turn_rad[i] * l / (natural->share[i] * b->lash_mm),
                            curl->turn_rad[j] * l / (curl->share[j] * b->ext_mm));
        left -= l;
        left_n -= l;
        left_e -= l;
        if (left_n <= 0.0 && !last_n)
            left_n = natural->share[++i] * b->lash_mm;
        if (left_e <= 0.0 && !last_e)
            left_e = curl->share[++j] * b->ext_mm;
    }
    return contact;
}

#endif
