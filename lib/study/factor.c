/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How a factor's values are distributed: by their quantiles, so that points that fill the unit cube
 * evenly fill the factors' space evenly too. That of the normal distribution is algorithm AS 241
 * (Wichura 1988, 10.2307/2347330), accurate to 1e-16, of the distribution cut at three sd.
 */
#include <tipcrest/study_design.h>

#include <math.h>

#include "num/elementary.h"
#include "num/error.h"
#include "num/number.h"
#include "num/range.h"

const char *tcr_distribution_text(tcr_distribution distribution) {
    static const char *const TEXT[TCR_DISTRIBUTIONS] = {"levels", "uniform", "normal",
                                                        "triangular"};
    return (unsigned)distribution < TCR_DISTRIBUTIONS ? TEXT[distribution] : "unknown";
}

/* ---- Whether the numbers make sense ---------------------------------------------------------- */

static tcr_status refuse(tcr_error *error, const char *member, double value, const char *must) {
    char found[TCR_NUMBER_SIZE];
    tcr_number_text(value, found);
    tcr_error_set(error, TCR_E_RANGE, "%s is %s, but must be %s", member,
                  isfinite(value) ? found : "not finite", must);
    tcr_error_number(error, member, value, NAN, NAN);
    return TCR_E_RANGE;
}

/* Whether a number is such that no quantile overflows. */
static bool is_moderate(double value) { return tcr_within(value, -1e100, 1e100); }
#define MODERATE "finite and at most 1e100 in size"

static tcr_status validate_levels(const tcr_factor *f, tcr_error *error) {
    if (f->level == NULL || f->levels < 1 || f->levels > TCR_LEVELS_MAX)
        return tcr_error_set(error, f->level == NULL ? TCR_E_ARGUMENT : TCR_E_RANGE,
                             "a factor has 1 to %d levels", TCR_LEVELS_MAX);
    for (size_t i = 0; i < f->levels; i++)
        if (!is_moderate(f->level[i]))
            return refuse(error, "level", f->level[i], MODERATE);
    return TCR_OK;
}

tcr_status tcr_factor_validate(const tcr_factor *f, tcr_error *error) {
    if (f == NULL || (unsigned)f->distribution >= TCR_DISTRIBUTIONS)
        return tcr_error_status(error, TCR_E_ARGUMENT);
    if (f->distribution == TCR_LEVELS)
        return validate_levels(f, error);
    if (f->levels != 0)
        return tcr_error_set(error, TCR_E_ARGUMENT, "a distribution has no levels");
    if (f->distribution == TCR_NORMAL) {
        if (!is_moderate(f->mean))
            return refuse(error, "mean", f->mean, MODERATE);
        return is_moderate(f->sd) && f->sd > 0.0 ? TCR_OK : refuse(error, "sd", f->sd, "above 0");
    }
    if (!is_moderate(f->least))
        return refuse(error, "least", f->least, MODERATE);
    if (!is_moderate(f->most) || !(f->most > f->least))
        return refuse(error, "most", f->most, "above least");
    if (f->distribution == TCR_TRIANGULAR && !(f->mode >= f->least && f->mode <= f->most))
        return refuse(error, "mode", f->mode, "from least to most");
    return TCR_OK;
}

/* ---- Quantiles ------------------------------------------------------------------------------- */

static double ratio(const double num[8], const double den[8], double r) {
    double n = num[7], d = den[7];
    for (int i = 6; i >= 0; i--) {
        n = n * r + num[i];
        d = d * r + den[i];
    }
    return n / d;
}

/* z with a share of p below it, 0.001 < p < 0.999. */
static double normal_quantile(double p) {
    static const double A[8] = {3.3871328727963666080e0, 1.3314166789178437745e2,
                                1.9715909503065514427e3, 1.3731693765509461125e4,
                                4.5921953931549871457e4, 6.7265770927008700853e4,
                                3.3430575583588128105e4, 2.5090809287301226727e3};
    static const double B[8] = {1.0,
                                4.2313330701600911252e1,
                                6.8718700749205790830e2,
                                5.3941960214247511077e3,
                                2.1213794301586595867e4,
                                3.9307895800092710610e4,
                                2.8729085735721942674e4,
                                5.2264952788528545610e3};
    static const double C[8] = {1.42343711074968357734e0,  4.63033784615654529590e0,
                                5.76949722146069140550e0,  3.64784832476320460504e0,
                                1.27045825245236838258e0,  2.41780725177450611770e-1,
                                2.27238449892691845833e-2, 7.74545014278341407640e-4};
    static const double D[8] = {1.0,
                                2.05319162663775882187e0,
                                1.67638483018380384940e0,
                                6.89767334985100004550e-1,
                                1.48103976427480074590e-1,
                                1.51986665636164571966e-2,
                                5.47593808499534494600e-4,
                                1.05075007164441684324e-9};
    const double q = p - 0.5;
    if (fabs(q) <= 0.425)
        return q * ratio(A, B, 0.180625 - q * q);
    const double r = sqrt(-tcr_logarithm(q < 0.0 ? p : 1.0 - p));
    const double z = ratio(C, D, r - 1.6); /* r is below 5: the other tail of AS 241 is cut off */
    return q < 0.0 ? -z : z;
}

static const double BELOW_CUT = 0.0013498980316300945; /* the share below -3 sd, erfc(3/sqrt 2)/2 */

/* The quantile at u of the normal distribution cut at three sd, by symmetry exactly odd. */
static double cut_normal(double u) {
    const double from_middle = u - 0.5;
    const double half = fabs(from_middle) * (1.0 - 2.0 * BELOW_CUT);
    const double z = fmin(-normal_quantile(0.5 - half), 3.0);
    return from_middle < 0.0 ? -z : z;
}

static double triangular(const tcr_factor *f, double u) {
    const double width = f->most - f->least, rising = f->mode - f->least;
    if (u * width < rising)
        return fmin(f->least + sqrt(u * width * rising), f->mode);
    return fmax(f->most - sqrt((1.0 - u) * width * (f->most - f->mode)), f->mode);
}

double tcr_factor_value(const tcr_factor *f, double u) {
    if (f == NULL || !(u >= 0.0 && u < 1.0))
        return NAN;
    switch (f->distribution) {
    case TCR_LEVELS:
        return f->level != NULL && f->levels > 0 ? f->level[(size_t)(u * (double)f->levels)] : NAN;
    case TCR_UNIFORM:
        return tcr_cut(f->least + u * (f->most - f->least), f->least, f->most);
    case TCR_NORMAL:
        return f->mean + f->sd * cut_normal(u);
    case TCR_TRIANGULAR:
        return triangular(f, u);
    }
    return NAN;
}

/* ---- Ranges ---------------------------------------------------------------------------------- */

/* The decimals of a number as it is written, at most 12. */
static int decimals_of(double value) {
    double scale = 1.0;
    for (int d = 0; d < 12; d++, scale *= 10.0)
        if (round(value * scale) / scale == value)
            return d;
    return 12;
}

/* Rounded to decimals, as the nearest double of that decimal number. */
static double rounded(double value, int decimals) {
    double scale = 1.0;
    for (int d = 0; d < decimals; d++)
        scale *= 10.0;
    return round(value * scale) / scale;
}

size_t tcr_factor_range(double from, double to, double step, double *level, size_t room) {
    if (!isfinite(from) || !isfinite(to) || !isfinite(step) || step == 0.0)
        return 0;
    const double steps = (to - from) / step;
    if (!(steps >= 0.0) || steps + 1e-9 >= (double)TCR_LEVELS_MAX)
        return 0;
    const size_t n = (size_t)(steps + 1e-9) + 1;
    const int a = decimals_of(from), b = decimals_of(step), decimals = a > b ? a : b;
    const bool written = decimals < 12 && fabs(from) < 1e3 && fabs(to) < 1e3;
    for (size_t i = 0; i < n && i < room && level != NULL; i++) {
        const double value = from + (double)i * step;
        level[i] = written ? rounded(value, decimals) : value;
    }
    return n;
}
