/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_BENCH_H
#define TCR_BENCH_H

/*
 * What every bench needs: a clock, minimum and median of many runs, one line for people and one for
 * a CSV file. A bench checks its result before it times it. It is no test: it fails where the
 * result is wrong, never where it is slow.
 */
#ifdef HAVE_CONFIG_H
#include <config.h>
#endif

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#if defined(__clang__)
#define TCR_BENCH_COMPILER __VERSION__
#elif defined(__GNUC__)
#define TCR_BENCH_COMPILER "gcc " __VERSION__
#else
#define TCR_BENCH_COMPILER "unknown"
#endif

enum { TCR_BENCH_RUNS = 101 };
static const double TCR_BENCH_RUN_S = 0.002; /* long against the clock's own steps */
static const double TCR_BENCH_WARM_S = 0.1;  /* until clock rate and caches have settled */

typedef struct tcr_bench {
    FILE *csv; /* NULL where none was asked for */
    const char *csv_path;
    const char *flags;
    char cpu[128];
} tcr_bench;

typedef struct tcr_bench_time {
    double min_s, median_s; /* of one call */
} tcr_bench_time;

/* The processor's name as Linux gives it. */
static inline void tcr_bench_cpu(char *name, size_t size) {
    snprintf(name, size, "unknown");
    FILE *info = fopen("/proc/cpuinfo", "r");
    char line[256];
    while (info != NULL && fgets(line, sizeof line, info) != NULL) {
        const char *colon = strchr(line, ':');
        if (strncmp(line, "model name", 10) != 0 || colon == NULL)
            continue;
        snprintf(name, size, "%.*s", (int)strcspn(colon + 2, "\n"), colon + 2);
        break;
    }
    if (info != NULL)
        fclose(info);
}

/* Reads [--csv FILE] and says what is measured on what. Ends the program where the call is wrong.
 */
static inline tcr_bench tcr_bench_open(int argc, char **argv) {
    tcr_bench bench = {0};
    if (argc == 3 && strcmp(argv[1], "--csv") == 0) {
        bench.csv_path = argv[2];
        bench.csv = fopen(argv[2], "w");
        if (bench.csv == NULL) {
            perror(argv[2]);
            exit(1);
        }
    } else if (argc != 1) {
        fprintf(stderr, "usage: %s [--csv FILE]\n", argv[0]);
        exit(2);
    }
#ifdef TCR_BUILD_FLAGS
    bench.flags = TCR_BUILD_FLAGS;
#else
    bench.flags = "not told";
#endif
    tcr_bench_cpu(bench.cpu, sizeof bench.cpu);
    printf("cpu: %s\ncompiler: %s\nflags: %s\n", bench.cpu, TCR_BENCH_COMPILER, bench.flags);
    printf("%-34s %8s %12s %12s %12s %7s\n", "", "items", "min ns", "median ns", "ns per item",
           "ratio");
    if (bench.csv != NULL)
        fprintf(bench.csv,
                "name,items,min_ns,median_ns,min_ns_per_item,ratio,compiler,flags,cpu\n");
    return bench;
}

static inline double tcr_bench_now(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static inline int tcr_bench_compare(const void *a, const void *b) {
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Warms up, finds how many calls fill a run, and times that many again and again. */
static inline tcr_bench_time tcr_bench_run(void (*work)(void *), void *context) {
    const double start = tcr_bench_now();
    double calls = 0.0, spent = 0.0;
    while (spent < TCR_BENCH_WARM_S) {
        work(context);
        calls += 1.0;
        spent = tcr_bench_now() - start;
    }
    const long repeat = (long)ceil(TCR_BENCH_RUN_S * calls / spent);
    double run[TCR_BENCH_RUNS];
    for (int i = 0; i < TCR_BENCH_RUNS; i++) {
        const double before = tcr_bench_now();
        for (long k = 0; k < repeat; k++)
            work(context);
        run[i] = (tcr_bench_now() - before) / (double)repeat;
    }
    qsort(run, TCR_BENCH_RUNS, sizeof run[0], tcr_bench_compare);
    return (tcr_bench_time){run[0], run[TCR_BENCH_RUNS / 2]};
}

/* One result; the ratio is of the minima, this one's to the limit's. limit may be NULL. */
static inline void tcr_bench_row(const tcr_bench *bench, const char *name, size_t items,
                                 tcr_bench_time time, const tcr_bench_time *limit) {
    char ratio[32] = "";
    if (limit != NULL)
        snprintf(ratio, sizeof ratio, "%.3f", time.min_s / limit->min_s);
    const double min = 1e9 * time.min_s, median = 1e9 * time.median_s;
    printf("%-34s %8zu %12.0f %12.0f %12.2f %7s\n", name, items, min, median, min / (double)items,
           ratio);
    if (bench->csv != NULL)
        fprintf(bench->csv, "\"%s\",%zu,%.1f,%.1f,%.3f,%s,\"%s\",\"%s\",\"%s\"\n", name, items, min,
                median, min / (double)items, ratio, TCR_BENCH_COMPILER, bench->flags, bench->cpu);
}

/* The exit status of the bench: 1 where the CSV file could not be written whole. */
static inline int tcr_bench_close(tcr_bench *bench) {
    if (bench->csv == NULL)
        return 0;
    const bool whole = !ferror(bench->csv);
    if (fclose(bench->csv) == 0 && whole)
        return 0;
    fprintf(stderr, "%s: cannot be written whole\n", bench->csv_path);
    return 1;
}

/* A call that fails, or a result that is wrong, ends the bench. */
static inline void tcr_bench_must(bool done, const char *what) {
    if (done)
        return;
    fprintf(stderr, "%s failed\n", what);
    exit(1);
}

static inline void tcr_bench_expect(const char *what, double found, double expected,
                                    double tolerance) {
    if (fabs(found - expected) <= tolerance)
        return;
    fprintf(stderr, "%s: %.17g, but expected %.17g to %g\n", what, found, expected, tolerance);
    exit(1);
}

#endif
