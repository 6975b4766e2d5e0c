/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The cost of the project's own elementary functions over columns, against the C library's, one
 * number after the other. Sine and cosine together also against SLEEF's of 3.5 units without fused
 * multiply-adds, for each instruction set that the machine has. Loops over columns as in the
 * library, compiled for the machine's best set and, beside it, for each alone.
 */
#include "bench.h"

/* sleef.h declares what the flags of the whole file allow; here single functions have more, which
 * clang does not let them pass on. */
#if defined(TCR_WITH_SLEEF) && defined(__x86_64__) && !defined(__clang__)
#include <immintrin.h>
typedef struct sleef_2 {
    __m128d x, y;
} sleef_2;
typedef struct sleef_4 {
    __m256d x, y;
} sleef_4;
typedef struct sleef_8 {
    __m512d x, y;
} sleef_8;
sleef_2 Sleef_cinz_sincosd2_u35sse2(__m128d);
sleef_4 Sleef_cinz_sincosd4_u35avx(__m256d);
sleef_8 Sleef_cinz_sincosd8_u35avx512fnofma(__m512d);
#else
#undef TCR_WITH_SLEEF
#endif

#include "num/elementary_kernel.h"

enum { N = 1000 }; /* a multiple of 8 */

static double x[N], out[2][N];

static void fill(void) {
    for (int i = 0; i < N; i++)
        x[i] = 0.0005 + 3.0 * i / N;
}

#define LOOPS(name, attribute)                                                                     \
    attribute static void sines_##name(void *unused) {                                             \
        (void)unused;                                                                              \
        for (int i = 0; i < N; i++) {                                                              \
            const tcr_sine_cosine of = tcr_sine_cosine_lane(x[i]);                                 \
            out[0][i] = of.sine;                                                                   \
            out[1][i] = of.cosine;                                                                 \
        }                                                                                          \
    }                                                                                              \
    attribute static void logarithms_##name(void *unused) {                                        \
        (void)unused;                                                                              \
        for (int i = 0; i < N; i++)                                                                \
            out[0][i] = tcr_logarithm_lane(x[i]);                                                  \
    }                                                                                              \
    attribute static void exponentials_##name(void *unused) {                                      \
        (void)unused;                                                                              \
        for (int i = 0; i < N; i++)                                                                \
            out[0][i] = tcr_exponential_lane(x[i]);                                                \
    }                                                                                              \
    attribute static void arcsines_##name(void *unused) {                                          \
        (void)unused;                                                                              \
        for (int i = 0; i < N; i++)                                                                \
            out[0][i] = tcr_arcsine_lane(x[i] / 3.0);                                              \
    }                                                                                              \
    attribute static void angles_##name(void *unused) {                                            \
        (void)unused;                                                                              \
        for (int i = 0; i < N; i++)                                                                \
            out[0][i] = tcr_angle_lane(x[i], x[N - 1 - i] - 1.0);                                  \
    }

LOOPS(plain, )
#if defined(__x86_64__) && defined(__GNUC__)
LOOPS(avx2, __attribute__((target("avx2"))))
LOOPS(avx512, __attribute__((target("avx512f"))))
#endif

static void sines_libm(void *unused) {
    (void)unused;
    for (int i = 0; i < N; i++) {
        out[0][i] = sin(x[i]);
        out[1][i] = cos(x[i]);
    }
}

static void logarithms_libm(void *unused) {
    (void)unused;
    for (int i = 0; i < N; i++)
        out[0][i] = log(x[i]);
}

static void exponentials_libm(void *unused) {
    (void)unused;
    for (int i = 0; i < N; i++)
        out[0][i] = exp(x[i]);
}

static void arcsines_libm(void *unused) {
    (void)unused;
    for (int i = 0; i < N; i++)
        out[0][i] = asin(x[i] / 3.0);
}

static void angles_libm(void *unused) {
    (void)unused;
    for (int i = 0; i < N; i++)
        out[0][i] = atan2(x[i], x[N - 1 - i] - 1.0);
}

#ifdef TCR_WITH_SLEEF
static void sines_sleef_sse2(void *unused) {
    (void)unused;
    for (int i = 0; i < N; i += 2) {
        const sleef_2 of = Sleef_cinz_sincosd2_u35sse2(_mm_loadu_pd(x + i));
        _mm_storeu_pd(out[0] + i, of.x);
        _mm_storeu_pd(out[1] + i, of.y);
    }
}

__attribute__((target("avx"))) static void sines_sleef_avx(void *unused) {
    (void)unused;
    for (int i = 0; i < N; i += 4) {
        const sleef_4 of = Sleef_cinz_sincosd4_u35avx(_mm256_loadu_pd(x + i));
        _mm256_storeu_pd(out[0] + i, of.x);
        _mm256_storeu_pd(out[1] + i, of.y);
    }
}

__attribute__((target("avx512f"))) static void sines_sleef_avx512(void *unused) {
    (void)unused;
    for (int i = 0; i < N; i += 8) {
        const sleef_8 of = Sleef_cinz_sincosd8_u35avx512fnofma(_mm512_loadu_pd(x + i));
        _mm512_storeu_pd(out[0] + i, of.x);
        _mm512_storeu_pd(out[1] + i, of.y);
    }
}
#endif

static void check(const char *what, double at_100, double tolerance) {
    tcr_bench_expect(what, out[0][100], at_100, tolerance);
}

typedef struct subject {
    const char *name;
    void (*libm)(void *);
    void (*own[3])(void *); /* SSE2 or whatever the machine has, AVX2, AVX-512 */
} subject;

static void measure(const tcr_bench *bench, const subject *s) {
    static const char *const sets[] = {"plain", "AVX2", "AVX-512"};
    s->libm(NULL);
    const double expected = out[0][100];
    char name[64];
    snprintf(name, sizeof name, "%s, libm", s->name);
    const tcr_bench_time limit = tcr_bench_run(s->libm, NULL);
    tcr_bench_row(bench, name, N, limit, NULL);
    for (int set = 0; set < 3; set++) {
        if (s->own[set] == NULL)
            continue;
        s->own[set](NULL);
        check(s->name, expected, 4e-16);
        snprintf(name, sizeof name, "%s, own, %s", s->name, sets[set]);
        tcr_bench_row(bench, name, N, tcr_bench_run(s->own[set], NULL), &limit);
    }
}

#if defined(__x86_64__) && defined(__GNUC__)
#define SETS(name)                                                                                 \
    {                                                                                              \
        name##_plain, __builtin_cpu_supports("avx2") ? name##_avx2 : NULL,                         \
            __builtin_cpu_supports("avx512f") ? name##_avx512 : NULL                               \
    }
#else
#define SETS(name)                                                                                 \
    { name##_plain, NULL, NULL }
#endif

/* The limit of a ratio is SLEEF on the same instruction set. */
static void measure_sleef(const tcr_bench *bench) {
#ifdef TCR_WITH_SLEEF
    void (*const sleef[])(void *) = {sines_sleef_sse2, sines_sleef_avx, sines_sleef_avx512};
    static const char *const sets[] = {"SSE2", "AVX2", "AVX-512"};
    void (*const own[])(void *) = SETS(sines);
    for (int set = 0; set < 3; set++) {
        char name[64];
        if (own[set] == NULL)
            continue;
        sleef[set](NULL);
        check("SLEEF's sine", sin(x[100]), 8e-16);
        snprintf(name, sizeof name, "sines and cosines, SLEEF, %s", sets[set]);
        const tcr_bench_time limit = tcr_bench_run(sleef[set], NULL);
        tcr_bench_row(bench, name, N, limit, NULL);
        snprintf(name, sizeof name, "sines and cosines, own, %s", sets[set]);
        tcr_bench_row(bench, name, N, tcr_bench_run(own[set], NULL), &limit);
    }
#else
    (void)bench;
    printf("SLEEF was not found: left out\n");
#endif
}

int main(int argc, char **argv) {
    tcr_bench bench = tcr_bench_open(argc, argv);
    fill();
    const subject subjects[] = {
        {"sines and cosines", sines_libm, SETS(sines)},
        {"logarithms", logarithms_libm, SETS(logarithms)},
        {"exponentials", exponentials_libm, SETS(exponentials)},
        {"arcsines", arcsines_libm, SETS(arcsines)},
        {"angles of vectors", angles_libm, SETS(angles)},
    };
    for (size_t i = 0; i < sizeof subjects / sizeof *subjects; i++)
        measure(&bench, &subjects[i]);
    measure_sleef(&bench);
    return tcr_bench_close(&bench);
}
