/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_MODEL_ATTACH_KERNEL_H
#define TCR_MODEL_ATTACH_KERNEL_H

/*
 * An extension on its natural lash, inline (model.md, section 4), in the lash's own axes. Inputs
 * are valid: public calls check them first.
 *
 * The lanes serve a single call and loops over columns alike. They take directions as unit vectors:
 * an arc turns its direction by half of its own turn, then again, so that no angle is reduced and
 * one short polynomial gives sine, cosine and sinc of the half. Of all angles only one is needed,
 * between the tangents where the bond starts. What is not as usual (see tcr_bed_is_usual and
 * others) goes by the closed form in contact_kernel.h, one lash at a time.
 */

#include <math.h>
#include <stdbool.h>

#include <tipcrest/extension.h>
#include <tipcrest/lash.h>

#include "geom/arc.h"
#include "geom/vector.h"
#include "model/contact_kernel.h"
#include "num/elementary_kernel.h"
#include "num/range.h"

/*
 * The shortest bond that holds, mm. A lash of 1.4 mm with a bond from 0.4 mm has just that, though
 * 1.4 - 0.4 falls short of 1 in doubles: within 1e-9 mm it counts as enough.
 */
#define TCR_BOND_LEAST_MM (1.0 - 1e-9)

/* How much of a lash and an extension a bond covers: c of the model, mm. */
TCR_LANE double tcr_bond_length_lane(double lash_mm, double offset_mm, double most_mm) {
    return tcr_less(most_mm, lash_mm - offset_mm);
}

TCR_SHARED double tcr_bond_length(const tcr_lash *lash, double ext_mm, const tcr_bond *bond) {
    return tcr_bond_length_lane(lash->length_mm, bond->offset_mm,
                                tcr_less(bond->length_mm, ext_mm));
}

/* ---- Arcs by directions -------------------------------------------------------------------------
 */

/* Where an arc leads, and its direction there. */
typedef struct tcr_heading {
    tcr_vec2 at, to;
} tcr_heading;

TCR_LANE tcr_vec2 tcr_turned_by(tcr_vec2 d, double cosine, double sine) {
    return (tcr_vec2){d.x * cosine - d.y * sine, d.y * cosine + d.x * sine};
}

/* On by an arc of a length, whose half turns by at most pi/4. */
TCR_LANE tcr_heading tcr_heading_on(tcr_heading from, double length_mm, double curvature) {
    const double h = 0.5 * curvature * length_mm;
    const tcr_half_turn half = tcr_half_turn_lane(h);
    const tcr_vec2 middle = tcr_turned_by(from.to, half.cosine, half.sine);
    const double chord = length_mm * half.sinc;
    return (tcr_heading){{from.at.x + chord * middle.x, from.at.y + chord * middle.y},
                         tcr_turned_by(middle, half.cosine, half.sine)};
}

TCR_LANE double tcr_dot2(tcr_vec2 a, tcr_vec2 b) { return a.x * b.x + a.y * b.y; }
TCR_LANE double tcr_cross2(tcr_vec2 a, tcr_vec2 b) { return a.x * b.y - a.y * b.x; }

/* A vector's length, and its direction; that of 0 is along x. */
TCR_LANE double tcr_size2(tcr_vec2 v) { return sqrt(v.x * v.x + v.y * v.y); }
TCR_LANE tcr_vec2 tcr_unit2(tcr_vec2 v, double size) {
    const double inverse = 1.0 / (size > 0.0 ? size : 1.0);
    return (tcr_vec2){size > 0.0 ? v.x * inverse : 1.0, v.y * inverse};
}

/* One of two, as a whole. */
TCR_LANE tcr_heading tcr_either(bool first, tcr_heading a, tcr_heading b) {
    return (tcr_heading){{first ? a.at.x : b.at.x, first ? a.at.y : b.at.y},
                         {first ? a.to.x : b.to.x, first ? a.to.y : b.to.y}};
}

/* ---- The natural lash under the bond ------------------------------------------------------------
 */

/* The stretch of a natural lash that a bond of a length covers. */
typedef struct tcr_bond_bed {
    double bond_mm;             /* c */
    double first_mm, second_mm; /* from the start of the bond to the lash's two joints */
    double curvature[3];        /* of its thirds */
    tcr_vec2 start, start_to;   /* q(s_a), and the tangent there */
    tcr_heading joint[2];       /* from the start to the lash's joints, or to the end of the bond */
    tcr_vec2 along;             /* unit, the chord's direction */
    double middle_mm;           /* the lash's diameter in the middle of the bond */
    double upright;             /* the least cosine of a tangent to the chord */
    double offset_mm, lash_mm, turn_rad;
} tcr_bond_bed;

/* Whether the bond starts on the first third, and no tangent turns away from the chord by more than
 * a right angle. */
TCR_LANE bool tcr_bed_is_usual(const tcr_bond_bed *bed) {
    return (bed->first_mm >= 0.0) & (bed->upright >= 0.0);
}

/* The lengths of a stretch from the start of a bond that lie on the three thirds. */
TCR_LANE tcr_vec3 tcr_bed_parts(const tcr_bond_bed *bed, double length_mm) {
    const double first = tcr_less(length_mm, bed->first_mm);
    const double third = tcr_more(length_mm - bed->second_mm, 0.0);
    return (tcr_vec3){first, tcr_more(tcr_less(length_mm, bed->second_mm) - bed->first_mm, 0.0),
                      third};
}

/* The bed of a bond from offset_mm on that starts on the first third; else 'start' and what
 * follows from it is wrong, and tcr_bed_is_usual says so. */
TCR_LANE tcr_bond_bed tcr_bond_bed_lane(double lash_mm, double turn_rad, double root_mm,
                                        double tip_mm, double offset_mm, double bond_mm) {
    const double third = lash_mm * (1.0 / 3.0), per_mm = 1.0 / lash_mm, mean = turn_rad * per_mm;
    tcr_bond_bed bed = {
        .bond_mm = bond_mm,
        .first_mm = third - offset_mm,
        .second_mm = 2.0 * third - offset_mm,
        .curvature = {mean * (4.0 / 3.0), mean, mean * (2.0 / 3.0)},
        .middle_mm = root_mm + (tip_mm - root_mm) * per_mm * (offset_mm + bond_mm / 2.0),
        .offset_mm = offset_mm,
        .lash_mm = lash_mm,
        .turn_rad = turn_rad,
    };
    const tcr_heading root = {{0.0, 0.0}, {1.0, 0.0}};
    const tcr_heading start = tcr_heading_on(root, offset_mm, bed.curvature[0]);
    bed.start = start.at;
    bed.start_to = start.to;
    const tcr_vec3 part = tcr_bed_parts(&bed, bond_mm);
    const tcr_heading from = {{0.0, 0.0}, start.to};
    const tcr_heading first = tcr_heading_on(from, part.x, bed.curvature[0]);
    const tcr_heading second = tcr_heading_on(first, part.y, bed.curvature[1]);
    const tcr_heading end = tcr_heading_on(second, part.z, bed.curvature[2]);
    bed.joint[0] = first;
    bed.joint[1] = second;
    bed.along = tcr_unit2(end.at, tcr_size2(end.at));
    bed.upright = tcr_less(tcr_less(tcr_dot2(start.to, bed.along), tcr_dot2(first.to, bed.along)),
                           tcr_less(tcr_dot2(second.to, bed.along), tcr_dot2(end.to, bed.along)));
    return bed;
}

/* The bed of any bond. */
TCR_SHARED tcr_bond_bed tcr_bond_bed_of(const tcr_lash *lash, double offset_mm, double bond_mm) {
    tcr_bond_bed bed = tcr_bond_bed_lane(lash->length_mm, lash->turn_rad, lash->root_diameter_mm,
                                         lash->tip_diameter_mm, offset_mm, bond_mm);
    if (bed.first_mm >= 0.0)
        return bed;
    const tcr_profile natural = tcr_lash_profile_kernel(lash->turn_rad);
    const tcr_arc_point start = tcr_arc_walk(&natural, lash->length_mm, offset_mm).point;
    const tcr_arc_point end = tcr_arc_walk(&natural, lash->length_mm, offset_mm + bond_mm).point;
    const tcr_vec2 chord = {end.x - start.x, end.y - start.y};
    const tcr_sine_cosine to = tcr_sine_cosine_lane(start.angle_rad);
    bed.start = (tcr_vec2){start.x, start.y};
    bed.start_to = (tcr_vec2){to.cosine, to.sine};
    bed.along = tcr_unit2(chord, tcr_size2(chord));
    return bed;
}

/* ---- The extension over the bond and beyond -----------------------------------------------------
 */

/* What the lanes need of an extension: its first two pieces, and its tip in its own axes. */
typedef struct tcr_fibre {
    double first_mm, second_mm; /* where the first and the second piece end; the last goes on */
    double curvature[2];
    tcr_vec2 tip;
    double loss; /* of a fan: 1 less the mean cosine of its fibres' turns */
} tcr_fibre;

/* Mean of cos over the fibres' turns, 1 for a single fibre; the sines cancel. */
TCR_SHARED double tcr_fan_mean_cosine(int fan, double spread_rad) {
    if (fan < 2)
        return 1.0;
    double sum = 0.0;
    for (int j = 0; j < fan; j++)
        sum += tcr_cosine(spread_rad * ((double)j / (fan - 1) - 0.5));
    return sum / fan;
}

/* What the lanes need of a curl, of which all lengths have the shape: at a length of 1. */
typedef struct tcr_unit_curl {
    double pieces; /* a number that lanes compare */
    double share[2], turn_rad[2];
    tcr_vec2 tip;
} tcr_unit_curl;

TCR_SHARED tcr_unit_curl tcr_unit_curl_of(const tcr_profile *profile) {
    const int second = profile->pieces > 1;
    const tcr_arc_point tip = tcr_arc_walk(profile, 1.0, 1.0).point;
    return (tcr_unit_curl){
        .pieces = (double)profile->pieces,
        .share = {profile->share[0], profile->share[second]},
        .turn_rad = {profile->turn_rad[0], profile->turn_rad[second]},
        .tip = {tip.x, tip.y},
    };
}

TCR_LANE tcr_fibre tcr_fibre_of(const tcr_unit_curl *curl, double length_mm, double loss) {
    const double first = curl->share[0] * length_mm, second = curl->share[1] * length_mm;
    return (tcr_fibre){
        .first_mm = curl->pieces > 1.0 ? first : 2.0 * length_mm,
        .second_mm = curl->pieces > 2.0 ? first + second : 2.0 * length_mm,
        .curvature = {curl->turn_rad[0] / first, curl->turn_rad[1] / second},
        .tip = {curl->tip.x * length_mm, curl->tip.y * length_mm},
        .loss = loss,
    };
}

/* Where an extension parts from its lash, and what of it is free, in its own axes. */
typedef struct tcr_parting {
    double bond_mm;    /* c */
    double chord_mm;   /* of e(c) */
    tcr_vec2 along;    /* unit, the chord's direction */
    tcr_heading joint; /* where the first piece ends, or the bond */
    tcr_vec2 rest;     /* from e(c) to the tip, of a fan the mean of its fibres' */
    double upright; /* as of a bed; below 0 also where a piece turns too far for an arc at once */
} tcr_parting;

/* What is left to the tip from where a fibre parts: of a fan, shorter along the tangent. */
TCR_LANE tcr_vec2 tcr_fibre_rest(const tcr_fibre *f, tcr_heading from) {
    const tcr_vec2 rest = {f->tip.x - from.at.x, f->tip.y - from.at.y};
    const double loss = f->loss * tcr_dot2(rest, from.to);
    return (tcr_vec2){rest.x - loss * from.to.x, rest.y - loss * from.to.y};
}

/* The parting of an extension of which the bond covers no more than two pieces. */
TCR_LANE tcr_parting tcr_parting_lane(const tcr_fibre *f, double bond_mm) {
    const double first_mm = tcr_less(bond_mm, f->first_mm), second_mm = bond_mm - first_mm;
    const tcr_heading base = {{0.0, 0.0}, {1.0, 0.0}};
    const tcr_heading first = tcr_heading_on(base, first_mm, f->curvature[0]);
    const tcr_heading end = tcr_heading_on(first, second_mm, f->curvature[1]);
    const double size = tcr_size2(end.at);
    const tcr_vec2 along = tcr_unit2(end.at, size);
    const double upright =
        tcr_less(along.x, tcr_less(tcr_dot2(first.to, along), tcr_dot2(end.to, along)));
    const double turn =
        tcr_more(fabs(first_mm * f->curvature[0]), fabs(second_mm * f->curvature[1]));
    const bool usual = (bond_mm <= f->second_mm) & (turn <= 0.5 * TCR_PI);
    return (tcr_parting){
        bond_mm, size, along, first, tcr_fibre_rest(f, end), usual ? upright : -1.0};
}

/* The parting of any extension. */
TCR_SHARED tcr_parting tcr_parting_of(const tcr_fibre *f, const tcr_extension *ext,
                                      double bond_mm) {
    tcr_parting out = tcr_parting_lane(f, bond_mm);
    if (out.upright >= 0.0)
        return out;
    const tcr_arc_point e = tcr_arc_walk(&ext->profile, ext->length_mm, bond_mm).point;
    const tcr_sine_cosine to = tcr_sine_cosine_lane(e.angle_rad);
    const tcr_heading end = {{e.x, e.y}, {to.cosine, to.sine}};
    out.chord_mm = tcr_size2(end.at);
    out.along = tcr_unit2(end.at, out.chord_mm);
    out.rest = tcr_fibre_rest(f, end);
    return out;
}

/* ---- Contact ------------------------------------------------------------------------------------
 */

/* Where D over a bond is least, or -D; 'found' is false where the closed form has to look. */
typedef struct tcr_depth {
    double at_mm; /* 0 also where it is least at both ends */
    bool found;
} tcr_depth;

/* Where on the bond the extension's tangent leaves the lash's side, looked for from joint to joint.
 * Written out below: a loop over joints would hide that there are lanes beside it. */
typedef struct tcr_rise {
    double from_mm, from;         /* the last joint, and the difference of angles there */
    double start_mm, start, span; /* of the stretch on which it rose through 0 ... */
    double step, times;           /* ... and by how much it did; how often */
} tcr_rise;

TCR_LANE tcr_rise tcr_rise_on(tcr_rise r, double to_mm, double to) {
    const bool rises = (r.from < 0.0) & (to >= 0.0);
    return (tcr_rise){
        .from_mm = to_mm,
        .from = to,
        .start_mm = rises ? r.from_mm : r.start_mm,
        .start = rises ? r.from : r.start,
        .span = rises ? to_mm - r.from_mm : r.span,
        .step = rises ? to - r.from : r.step,
        .times = rises ? r.times + 1.0 : r.times,
    };
}

/* How far an extension's tangent turns from its base to a place on its first two pieces. */
TCR_LANE double tcr_turned_to(const tcr_fibre *f, double s_mm) {
    const double first = tcr_less(s_mm, f->first_mm);
    return f->curvature[0] * first + f->curvature[1] * (s_mm - first);
}

/* How far the extension has turned more than the lash, from the start of the bond. */
TCR_LANE double tcr_turned_more(const tcr_bond_bed *bed, const tcr_fibre *f, double s_mm) {
    const tcr_vec3 on = tcr_bed_parts(bed, s_mm);
    return tcr_turned_to(f, s_mm) -
           (bed->curvature[0] * on.x + bed->curvature[1] * on.y + bed->curvature[2] * on.z);
}

/* From the start of the bond to a place on it: on the lash, by the arc from the joint before, ...
 */
TCR_LANE tcr_vec2 tcr_bed_at(const tcr_bond_bed *bed, double s_mm) {
    const bool in_first = s_mm <= bed->first_mm, in_second = s_mm <= bed->second_mm;
    const tcr_heading start = {{0.0, 0.0}, bed->start_to};
    const tcr_heading from =
        tcr_either(in_first, start, tcr_either(in_second, bed->joint[0], bed->joint[1]));
    const double before = in_first ? 0.0 : in_second ? bed->first_mm : bed->second_mm;
    const double curvature = in_first    ? bed->curvature[0]
                             : in_second ? bed->curvature[1]
                                         : bed->curvature[2];
    return tcr_heading_on(from, s_mm - before, curvature).at;
}

/* ... and on the extension. */
TCR_LANE tcr_vec2 tcr_fibre_at(const tcr_fibre *f, const tcr_parting *parting, double s_mm) {
    const bool in_first = s_mm <= f->first_mm;
    const tcr_heading base = {{0.0, 0.0}, {1.0, 0.0}};
    return tcr_heading_on(tcr_either(in_first, base, parting->joint),
                          in_first ? s_mm : s_mm - f->first_mm,
                          in_first ? f->curvature[0] : f->curvature[1])
        .at;
}

/*
 * D = f_e - f_n, with sign +1, or its negative, with sign -1. Where no tangent turns away from its
 * chord by more than a right angle, D falls where the extension's tangent lies below the lash's,
 * and so has a least value inside the bond only where their difference of angles goes from below
 * zero to above. That is linear between joints: at most twice on four stretches. Once is usual.
 */
TCR_LANE tcr_depth tcr_contact_at_lane(const tcr_bond_bed *bed, const tcr_fibre *f,
                                       const tcr_parting *parting, double sign) {
    const double c = bed->bond_mm;
    /* The directions at the start, from the chords. */
    const tcr_vec2 lash = {tcr_dot2(bed->start_to, bed->along),
                           tcr_cross2(bed->along, bed->start_to)};
    const tcr_vec2 own = {parting->along.x, -parting->along.y};
    const double start = tcr_angle_lane(tcr_cross2(lash, own), tcr_dot2(lash, own));
    /* The joints in turn. */
    const double one = tcr_less(bed->first_mm, c), two = tcr_less(bed->second_mm, c);
    const double own_joint = tcr_less(f->first_mm, c);
    const double a = tcr_less(one, own_joint), b = tcr_more(one, tcr_less(two, own_joint));
    const double last = tcr_more(two, own_joint);
    tcr_rise rise = {.from = sign * start, .step = 1.0};
    rise = tcr_rise_on(rise, a, sign * (start + tcr_turned_more(bed, f, a)));
    rise = tcr_rise_on(rise, b, sign * (start + tcr_turned_more(bed, f, b)));
    rise = tcr_rise_on(rise, last, sign * (start + tcr_turned_more(bed, f, last)));
    rise = tcr_rise_on(rise, c, sign * (start + tcr_turned_more(bed, f, c)));
    return (tcr_depth){rise.start_mm - rise.start * rise.span / rise.step,
                       (rise.times <= 1.0) & tcr_bed_is_usual(bed) & (parting->upright >= 0.0)};
}

/* The least value, from where it is. */
TCR_LANE double tcr_contact_least_lane(const tcr_bond_bed *bed, const tcr_fibre *f,
                                       const tcr_parting *parting, double sign, double at_mm) {
    const double height = tcr_cross2(parting->along, tcr_fibre_at(f, parting, at_mm)) -
                          tcr_cross2(bed->along, tcr_bed_at(bed, at_mm));
    return tcr_less(sign * height, 0.0);
}

/* +1 on top, -1 underneath, 0 at the sides; and -1 at the inner side, +1 at the outer. */
TCR_LANE double tcr_placement_upward(tcr_placement placement) {
    return placement == TCR_ON_TOP ? 1.0 : placement == TCR_UNDERSIDE ? -1.0 : 0.0;
}
TCR_LANE double tcr_placement_outward(tcr_placement placement) {
    return placement == TCR_INNER_SIDE ? -1.0 : placement == TCR_OUTER_SIDE ? 1.0 : 0.0;
}

/* The least of D, or of -D, over any bond. */
TCR_SHARED double tcr_contact_least(const tcr_bond_bed *bed, const tcr_extension *ext,
                                    const tcr_fibre *f, const tcr_parting *parting, double sign) {
    const tcr_depth depth = tcr_contact_at_lane(bed, f, parting, sign);
    if (depth.found)
        return tcr_contact_least_lane(bed, f, parting, sign, depth.at_mm);
    const tcr_contact all = tcr_contact_over(&(tcr_bonded){
        .natural = tcr_lash_profile_kernel(bed->turn_rad),
        .lash_mm = bed->lash_mm,
        .offset_mm = bed->offset_mm,
        .bond_mm = bed->bond_mm,
        .chord_n = tcr_angle_lane(bed->along.y, bed->along.x),
        .curl = &ext->profile,
        .ext_mm = ext->length_mm,
        .chord_e = tcr_angle_lane(parting->along.y, parting->along.x),
    });
    return sign > 0.0 ? all.least : -all.most;
}

/* ---- Attachment ---------------------------------------------------------------------------------
 */

/* The base, moved along the chord's normal and along w, and the tip, in the lash's own axes. */
typedef struct tcr_laid {
    tcr_vec3 base, part, tip;
} tcr_laid;

/* By which an extension's own axes are turned on a bed. */
TCR_LANE tcr_vec2 tcr_turn_on(const tcr_bond_bed *bed, const tcr_parting *parting) {
    return (tcr_vec2){tcr_dot2(parting->along, bed->along), tcr_cross2(parting->along, bed->along)};
}

TCR_LANE tcr_laid tcr_laid_lane(const tcr_bond_bed *bed, const tcr_parting *parting, double up_mm,
                                double out_mm) {
    const tcr_vec2 n = bed->along, rest = parting->rest;
    const tcr_vec2 turn = tcr_turn_on(bed, parting);
    const tcr_vec2 free = tcr_turned_by(rest, turn.x, turn.y);
    const tcr_vec3 base = {bed->start.x - n.y * up_mm, bed->start.y + n.x * up_mm, out_mm};
    const tcr_vec3 part = {base.x + parting->chord_mm * n.x, base.y + parting->chord_mm * n.y,
                           out_mm};
    return (tcr_laid){base, part, {part.x + free.x, part.y + free.y, out_mm}};
}

/* r of the model, by what it has of the extension and the glue. */
TCR_LANE double tcr_radius(double ext_mm, double glue_mm) { return ext_mm / 2.0 + glue_mm; }
TCR_LANE double tcr_clearance_by(double lash_mm, double radius_mm) {
    return lash_mm / 2.0 + radius_mm;
}

/* The extension's own axes on a bed, whatever its placement: the angles at its base and where it
 * parts. */
typedef struct tcr_lean {
    double base_rad, part_rad;
} tcr_lean;

TCR_SHARED tcr_lean tcr_lean_on(const tcr_bond_bed *bed, const tcr_extension *ext,
                                const tcr_fibre *f, const tcr_parting *parting) {
    const tcr_vec2 turn = tcr_turn_on(bed, parting);
    double turned = tcr_turned_to(f, bed->bond_mm);
    if (bed->bond_mm > f->second_mm)
        turned = tcr_arc_walk(&ext->profile, ext->length_mm, bed->bond_mm).point.angle_rad;
    const double base = tcr_angle_lane(turn.y, turn.x);
    return (tcr_lean){base, base + turned};
}

/* Lays an extension that leans like that, and parts as its bond's length says, on the bed that the
 * bond has. */
TCR_SHARED tcr_attachment tcr_attach_leaning(const tcr_bond_bed *bed, const tcr_extension *ext,
                                             const tcr_fibre *f, const tcr_parting *parting,
                                             const tcr_lean *lean, double glue_mm) {
    const double r = tcr_clearance_by(bed->middle_mm, tcr_radius(ext->diameter_mm, glue_mm));
    const double up = tcr_placement_upward(ext->placement);
    const double least = up != 0.0 ? tcr_contact_least(bed, ext, f, parting, up) : 0.0;
    const tcr_laid laid =
        tcr_laid_lane(bed, parting, up * (r - least), tcr_placement_outward(ext->placement) * r);
    return (tcr_attachment){
        .bond_mm = bed->bond_mm,
        .clearance_mm = r,
        .base_angle_rad = lean->base_rad,
        .base = laid.base,
        .part = laid.part,
        .part_angle_rad = lean->part_rad,
        .tip = laid.tip,
    };
}

/* Lays an extension, which parts as its bond's length says, on the bed that the bond has. */
TCR_SHARED tcr_attachment tcr_attach_to(const tcr_bond_bed *bed, const tcr_extension *ext,
                                        const tcr_fibre *f, const tcr_parting *parting,
                                        double glue_mm) {
    const tcr_lean lean = tcr_lean_on(bed, ext, f, parting);
    return tcr_attach_leaning(bed, ext, f, parting, &lean, glue_mm);
}

/* What the lanes need of an extension. */
TCR_SHARED tcr_fibre tcr_fibre_of_extension(const tcr_extension *ext) {
    const tcr_unit_curl curl = tcr_unit_curl_of(&ext->profile);
    return tcr_fibre_of(&curl, ext->length_mm,
                        1.0 - tcr_fan_mean_cosine(ext->fan, ext->spread_rad));
}

TCR_SHARED tcr_status tcr_attach_kernel(const tcr_lash *lash, const tcr_extension *ext,
                                        const tcr_bond *bond, tcr_attachment *out) {
    const double c = tcr_bond_length(lash, ext->length_mm, bond);
    if (c < TCR_BOND_LEAST_MM)
        return TCR_E_BOND;
    const tcr_bond_bed bed = tcr_bond_bed_of(lash, bond->offset_mm, c);
    const tcr_fibre fibre = tcr_fibre_of_extension(ext);
    const tcr_parting parting = tcr_parting_of(&fibre, ext, c);
    *out = tcr_attach_to(&bed, ext, &fibre, &parting, bond->glue_mm);
    return TCR_OK;
}

#endif
