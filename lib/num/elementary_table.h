/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Made by build-aux/elementary-table.py; not to be edited. */
#ifndef TCR_NUM_ELEMENTARY_TABLE_H
#define TCR_NUM_ELEMENTARY_TABLE_H

/* Minimax polynomials P, lowest term first, with the error that they alone leave in the function.
 */

/* sin(r) = r + r z P(z), z = r^2, |r| up to pi/4; error 2^-57.9. */
static const double TCR_SINE_TERM[6] = {-0x1.5555555555548p-3,  0x1.111111110f730p-7,
                                        -0x1.a01a019be91b1p-13, 0x1.71de35551fd30p-19,
                                        -0x1.ae5e4b76cb775p-26, 0x1.5d8b50d70b834p-33};

/* cos(r) = 1 - z/2 + z^2 P(z), z = r^2, |r| up to pi/4; error 2^-63.9. */
static const double TCR_COSINE_TERM[6] = {0x1.555555555554bp-5,  -0x1.6c16c16c15014p-10,
                                          0x1.a01a019c8ef97p-16, -0x1.27e4f7f166ab5p-22,
                                          0x1.1ee9dbabc3e7dp-29, -0x1.8fa66f821644ap-37};

/* sin(q)/q = 1 + z P(z), z = q^2, |q| up to pi; its error is absolute; error 2^-60.6. */
static const double TCR_SINC_TERM[12] = {
    -0x1.5555555555555p-3,  0x1.11111111110f2p-7,  -0x1.a01a01a019060p-13, 0x1.71de3a552ceddp-19,
    -0x1.ae64566cb241ap-26, 0x1.61245dcab460ap-33, -0x1.ae7e69d41d5cfp-41, 0x1.950a4b454d8f0p-49,
    -0x1.2bab13026c09ep-57, 0x1.ead22f9366d7fp-67, 0x1.0380c209964fbp-72,  -0x1.450209c55ce90p-78};

/* asin(x) = x + x z P(z), z = x^2, |x| up to 1/2; error 2^-57.7. */
static const double TCR_ARCSINE_TERM[13] = {
    0x1.5555555555577p-3, 0x1.333333332e130p-4, 0x1.6db6db72127c5p-5, 0x1.f1c71a94e90cap-6,
    0x1.6e8bdee18776fp-6, 0x1.1c49f042ea857p-6, 0x1.ca1f9001cb9b7p-7, 0x1.758575cef8ed5p-7,
    0x1.613ce2db0e702p-7, 0x1.e5f31fa0ea417p-9, 0x1.639bfeaa78fdap-6, -0x1.57fab5359941bp-6,
    0x1.0b451377ff25bp-5};

/* atan(t) = t + t z P(z), z = t^2, |t| up to tan(pi/8); error 2^-58.9. */
static const double TCR_ARCTANGENT_TERM[11] = {
    -0x1.555555555553dp-2, 0x1.9999999995864p-3, -0x1.24924922ad1edp-3, 0x1.c71c70e5efa36p-4,
    -0x1.745cf8d8699c9p-4, 0x1.3b1118d0e5564p-4, -0x1.10ebb4ded0f4cp-4, 0x1.df0f1ae1b8933p-5,
    -0x1.9cd1f535cb9f1p-5, 0x1.37d3fd933be33p-5, -0x1.2567cf342c8e8p-6};

/* log((1 + s)/(1 - s)) = 2 s + s z P(z), z = s^2, |s| up to tan(pi/8)^2; error 2^-59.5. */
static const double TCR_LOGARITHM_TERM[7] = {
    0x1.5555555555592p-1, 0x1.999999997ff51p-2, 0x1.24924941dcef1p-2, 0x1.c71c52184db4cp-3,
    0x1.74663c1707095p-3, 0x1.39a1fe076f0f2p-3, 0x1.2f02ec896b33fp-3};

/* exp(r) = 1 + r + r^2 P(r), |r| up to log(2)/2; error 2^-56.4. */
static const double TCR_EXPONENTIAL_TERM[10] = {
    0x1.0000000000005p-1,  0x1.5555555555507p-3,  0x1.5555555551c0bp-5,  0x1.1111111126418p-7,
    0x1.6c16c1808c95dp-10, 0x1.a01a012b5212cp-13, 0x1.a019a29f4c0f6p-16, 0x1.71df2ebea11adp-19,
    0x1.28a65d293a9f1p-22, 0x1.ad627d6977db4p-26};

/* pi/2 as a sum; products of its first two with whole numbers below 2^20 are exact. */
static const double TCR_HALF_PI_PART[3] = {0x1.921fb54400000p+0, 0x1.0b4611a600000p-34,
                                           0x1.3198a2e037073p-69};

/* pi/2 in two. */
static const double TCR_HALF_PI_PAIR_PART[2] = {0x1.921fb54400000p+0, 0x1.0b4611a626331p-34};

/* log(2) as a sum; the product of its first with any exponent is exact. */
static const double TCR_LOG_2_PART[2] = {0x1.62e42fefa3800p-1, 0x1.ef35793c76730p-45};

#endif
