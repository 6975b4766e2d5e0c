/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_NUM_ELEMENTARY_KERNEL_H
#define TCR_NUM_ELEMENTARY_KERNEL_H

/*
 * Sine, cosine, arcsine, arctangent, logarithm and exponential of our own, inline. The C library
 * picks its own by processor, so that results would differ in their last bits from machine to
 * machine; of it only the square root, which IEEE 754 fixes, lies on the path of a result.
 *
 * All are made of additions, products, quotients and square roots of doubles, each rounded by
 * itself (-ffp-contract=off), and of integer operations that every instruction set has. There is no
 * branch: a choice takes both sides and then selects. So a compiler makes vectors of a loop over
 * them, and every lane of a vector has the bits that a single call has. Beyond the range that is
 * given with each, a result is some double or NaN, and nothing worse.
 *
 * Functions that are called from loops over columns carry TCR_LANE (inline.h).
 */

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "num/elementary.h"
#include "num/elementary_table.h"
#include "num/inline.h"

/*
 * Marks a function that loops over columns. Where configure found that it works, the compiler makes
 * it for several instruction sets, and the machine's best is chosen as the program starts. The bits
 * are the same with each, and without.
 */
#ifdef TCR_WITH_CLONES
#define TCR_CLONED __attribute__((target_clones("default", "avx2", "avx512f")))
#else
#define TCR_CLONED
#endif

/*
 * Polynomials in z by their even and odd terms, w = z^2, which takes half of Horner's steps one
 * after the other. They are written out: a loop would hide from the compiler that there are lanes
 * beside it. Every second term of t, 3 to 7 of them:
 */
TCR_LANE double tcr_terms_by_2_3(const double *t, double w) { return (t[4] * w + t[2]) * w + t[0]; }
TCR_LANE double tcr_terms_by_2_4(const double *t, double w) {
    return tcr_terms_by_2_3(t + 2, w) * w + t[0];
}
TCR_LANE double tcr_terms_by_2_5(const double *t, double w) {
    return tcr_terms_by_2_4(t + 2, w) * w + t[0];
}
TCR_LANE double tcr_terms_by_2_6(const double *t, double w) {
    return tcr_terms_by_2_5(t + 2, w) * w + t[0];
}
TCR_LANE double tcr_terms_by_2_7(const double *t, double w) {
    return tcr_terms_by_2_6(t + 2, w) * w + t[0];
}

TCR_LANE uint64_t tcr_bits(double value) {
    uint64_t bits;
    memcpy(&bits, &value, sizeof bits);
    return bits;
}

TCR_LANE double tcr_of_bits(uint64_t bits) {
    double value;
    memcpy(&value, &bits, sizeof value);
    return value;
}

/* All bits set where a number is odd, none where it is even. */
TCR_LANE uint64_t tcr_odd_mask(uint64_t number) { return UINT64_C(0) - (number & 1U); }

static const uint64_t TCR_SIGN = UINT64_C(1) << 63;

/* The smaller and the larger of two; the second where one is NaN. fmin and fmax mean calls. */
TCR_LANE double tcr_less(double a, double b) { return a < b ? a : b; }
TCR_LANE double tcr_more(double a, double b) { return a > b ? a : b; }

/* Added to a double below 2^51, it leaves the nearest whole number in the lowest bits. */
static const double TCR_TO_WHOLE = 0x1.8p52;

/*
 * Sine and cosine of an angle up to 2^16 rad. The angle less the nearest multiple of pi/2, of which
 * the products with the first two parts are exact (Cody & Waite 1980), as a sum r + rest in -pi/4
 * to pi/4.
 */
TCR_LANE tcr_sine_cosine tcr_sine_cosine_lane(double angle_rad) {
    const double counted = angle_rad * 0x1.45f306dc9c883p-1 + TCR_TO_WHOLE; /* 2/pi */
    const double count = counted - TCR_TO_WHOLE;
    const uint64_t quarter = tcr_bits(counted);
    const double first = angle_rad - count * TCR_HALF_PI_PART[0], by = count * TCR_HALF_PI_PART[1];
    const double second = first - by;
    const double left = count * TCR_HALF_PI_PART[2] - ((first - second) - by);
    const double r = second - left, rest = (second - r) - left;
    const double z = r * r, w = z * z, half = 0.5 * z;
    const double sine_terms =
        tcr_terms_by_2_3(TCR_SINE_TERM + 1, w) * z + tcr_terms_by_2_3(TCR_SINE_TERM, w);
    const double cosine_terms =
        tcr_terms_by_2_3(TCR_COSINE_TERM + 1, w) * z + tcr_terms_by_2_3(TCR_COSINE_TERM, w);
    const double sine = r + (r * (z * sine_terms) + rest);
    const double cosine = (1.0 - half) + (w * cosine_terms - r * rest);
    /* An odd number of quarters swaps the two; the second bit is the sign. */
    const uint64_t swap = (tcr_bits(sine) ^ tcr_bits(cosine)) & tcr_odd_mask(quarter);
    const uint64_t sine_sign = (quarter << 62) & TCR_SIGN;
    const uint64_t cosine_sign = ((quarter + 1) << 62) & TCR_SIGN;
    return (tcr_sine_cosine){
        .sine = tcr_of_bits((tcr_bits(sine) ^ swap) ^ sine_sign),
        .cosine = tcr_of_bits((tcr_bits(cosine) ^ swap) ^ cosine_sign),
    };
}

/* sin(q)/q for |q| up to pi, to 2^-51: for the half turn of an arc. */
TCR_LANE double tcr_sinc_lane(double q) {
    const double z = q * q, w = z * z;
    return 1.0 +
           z * (tcr_terms_by_2_6(TCR_SINC_TERM + 1, w) * z + tcr_terms_by_2_6(TCR_SINC_TERM, w));
}

/* Sine, cosine and sin(h)/h of half a turn h of at most pi/4, to 1.5 units. */
typedef struct tcr_half_turn {
    double sine, cosine, sinc;
} tcr_half_turn;

TCR_LANE tcr_half_turn tcr_half_turn_lane(double h) {
    const double z = h * h, w = z * z;
    const double sine_terms =
        tcr_terms_by_2_3(TCR_SINE_TERM + 1, w) * z + tcr_terms_by_2_3(TCR_SINE_TERM, w);
    const double cosine_terms =
        tcr_terms_by_2_3(TCR_COSINE_TERM + 1, w) * z + tcr_terms_by_2_3(TCR_COSINE_TERM, w);
    const double sinc = 1.0 + z * sine_terms;
    return (tcr_half_turn){h * sinc, (1.0 - 0.5 * z) + w * cosine_terms, sinc};
}

/* The upper 26 bits of a double: the product of two such is exact. */
TCR_LANE double tcr_upper(double x) { return tcr_of_bits(tcr_bits(x) & ~UINT64_C(0x7FFFFFF)); }

/*
 * The arcsine of x from -1 to 1; beyond, NaN. From 1/2 on by asin x = pi/2 - 2 asin sqrt((1 -
 * x)/2), the root as a sum of its upper half and the rest.
 */
TCR_LANE double tcr_arcsine_lane(double x) {
    const double size = fabs(x), far_z = 0.5 - 0.5 * size, root = sqrt(far_z);
    const double z = size > 0.5 ? far_z : size * size;
    const double t = size > 0.5 ? root : size;
    const double w = z * z;
    const double terms =
        tcr_terms_by_2_6(TCR_ARCSINE_TERM + 1, w) * z + tcr_terms_by_2_7(TCR_ARCSINE_TERM, w);
    const double beyond = t * (z * terms);
    const double upper = tcr_upper(root);
    const double rest = (far_z - upper * upper) / tcr_more(root + upper, 1e-300);
    const double quarter = 0.5 * TCR_HALF_PI_PAIR_PART[0];
    const double far =
        quarter - ((2.0 * (beyond + rest) - TCR_HALF_PI_PAIR_PART[1]) - (quarter - 2.0 * upper));
    const double angle = size > 0.5 ? far : t + beyond;
    return tcr_of_bits(tcr_bits(angle) | (tcr_bits(x) & TCR_SIGN));
}

/*
 * The angle of a vector, -pi to pi; 0 for the vector 0. Neither component is above 1e140 or differs
 * from 0 by less than 1e-140. By the smaller component over the larger and, where that is above
 * tan(pi/8), by the angle to the diagonal; the quotient is a sum of its upper half and the rest.
 * The result lies 'eighths' times pi/4 further or back.
 */
TCR_LANE double tcr_angle_lane(double y, double x) {
    const double ay = fabs(y), ax = fabs(x);
    const double less = tcr_less(ay, ax), most = tcr_more(tcr_more(ay, ax), 1e-300);
    const double diagonal = less > most * 0x1.a827999fcef32p-2 ? 1.0 : 0.0; /* tan(pi/8) */
    const double away = diagonal * most, more = diagonal * less;
    const double over = less - away, over_rest = (less - over) - away;
    const double under = most + more, under_rest = (most - under) + more;
    const double inverse = 1.0 / under, upper = tcr_upper(over * inverse);
    const double under_upper = tcr_upper(under);
    const double rest = (((over - upper * under_upper) - upper * (under - under_upper)) +
                         (over_rest - upper * under_rest)) *
                        inverse;
    const double t = upper + rest, z = t * t, w = z * z;
    const double terms =
        tcr_terms_by_2_5(TCR_ARCTANGENT_TERM + 1, w) * z + tcr_terms_by_2_6(TCR_ARCTANGENT_TERM, w);
    const double beyond = rest + t * (z * terms);
    const double steep = ay > ax ? 2.0 - diagonal : diagonal;
    const double eighths = x < 0.0 ? 4.0 - steep : steep;
    const double back = ay > ax ? -1.0 : 1.0, way = x < 0.0 ? -back : back;
    const double first = eighths * (0.5 * TCR_HALF_PI_PAIR_PART[0]) + way * upper;
    const double lost = (eighths * (0.5 * TCR_HALF_PI_PAIR_PART[0]) - first) + way * upper;
    const double angle =
        first + (lost + (eighths * (0.5 * TCR_HALF_PI_PAIR_PART[1]) + way * beyond));
    return tcr_of_bits(tcr_bits(angle) ^ (tcr_bits(y) & TCR_SIGN));
}

/* The natural logarithm of a positive number that is neither infinite nor below 2^-1022. */
TCR_LANE double tcr_logarithm_lane(double x) {
    /* x = 2^k m with m from sqrt(1/2) to sqrt(2) */
    const uint64_t root_half = UINT64_C(0x3FE6A09E667F3BCD), one = UINT64_C(1023) << 52;
    const uint64_t above = tcr_bits(x) - root_half, raised = (above + one) >> 52;
    const double k = tcr_of_bits(raised | tcr_bits(0x1p52)) - (0x1p52 + 1023.0);
    const double m = tcr_of_bits((above & ((UINT64_C(1) << 52) - 1)) + root_half);
    /* log m by s = f/(2 + f), of which f - f^2/2 is the exact part. */
    const double f = m - 1.0, s = f / (2.0 + f), z = s * s, w = z * z;
    const double rest = z * (tcr_terms_by_2_3(TCR_LOGARITHM_TERM + 1, w) * z +
                             tcr_terms_by_2_4(TCR_LOGARITHM_TERM, w));
    const double half = 0.5 * f * f;
    return k * TCR_LOG_2_PART[0] - ((half - (s * (half + rest) + k * TCR_LOG_2_PART[1])) - f);
}

/* e to the power of x, |x| up to 700. */
TCR_LANE double tcr_exponential_lane(double x) {
    const double counted = x * 0x1.71547652b82fep+0 + TCR_TO_WHOLE; /* 1/log(2) */
    const double count = counted - TCR_TO_WHOLE;
    const double r = (x - count * TCR_LOG_2_PART[0]) - count * TCR_LOG_2_PART[1];
    const double z = r * r;
    const double rest = tcr_terms_by_2_5(TCR_EXPONENTIAL_TERM + 1, z) * r +
                        tcr_terms_by_2_5(TCR_EXPONENTIAL_TERM, z);
    const double power = tcr_of_bits((tcr_bits(counted) + 1023) << 52);
    return power * (1.0 + (r + z * rest));
}

#endif
