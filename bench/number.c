/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The cost of a number's text, written and read, against the C library's snprintf and strtod. These
 * serve as limits though they do a little less or more: "%.17g" always reads back but seldom has
 * the fewest digits, and strtod must find where the number ends. Items are numbers.
 */
#include "bench.h"

#include <stdint.h>

#include "num/number.h"

enum { NUMBERS = 10000, TEXT_SIZE = 40 };

typedef struct column {
    double value[NUMBERS];
    char text[NUMBERS][TCR_NUMBER_SIZE]; /* as tcr_number_text wrote them */
    size_t length[NUMBERS];
    double sum; /* keeps the compiler from leaving the work out */
} column;

static uint64_t next(uint64_t *state) { /* xorshift64*, Vigna 2016, 10.1145/2845077 */
    *state ^= *state >> 12;
    *state ^= *state << 25;
    *state ^= *state >> 27;
    return *state * UINT64_C(0x2545F4914F6CDD1D);
}

static double uniform(uint64_t *state) { return (double)(next(state) >> 11) * 0x1p-53; }

/* Millimetres as a report has them, with all their digits. */
static double computed(uint64_t *state) { return 30.0 * uniform(state) - 15.0; }

/* What people write: hundredths up to 20. */
static double measured(uint64_t *state) { return (double)(next(state) % 2000) / 100.0; }

static double whole(uint64_t *state) { return (double)(next(state) % 20); }

/* Any finite double. */
static double any(uint64_t *state) {
    double value;
    do {
        const uint64_t bits = next(state);
        memcpy(&value, &bits, sizeof value);
    } while (!isfinite(value));
    return value;
}

static void write_libc(void *context) {
    column *c = context;
    char text[TEXT_SIZE];
    for (size_t i = 0; i < NUMBERS; i++)
        c->sum += snprintf(text, sizeof text, "%.17g", c->value[i]);
}

static void write_ours(void *context) {
    column *c = context;
    char text[TCR_NUMBER_SIZE];
    for (size_t i = 0; i < NUMBERS; i++)
        c->sum += (double)tcr_number_text(c->value[i], text);
}

static void fixed_libc(void *context) {
    column *c = context;
    char text[TEXT_SIZE];
    for (size_t i = 0; i < NUMBERS; i++)
        c->sum += snprintf(text, sizeof text, "%.2f", c->value[i]);
}

static void fixed_ours(void *context) {
    column *c = context;
    char text[TCR_NUMBER_SIZE];
    for (size_t i = 0; i < NUMBERS; i++)
        c->sum += (double)tcr_number_fixed(c->value[i], 2, text);
}

static void read_libc(void *context) {
    column *c = context;
    for (size_t i = 0; i < NUMBERS; i++)
        c->sum += strtod(c->text[i], NULL);
}

static void read_ours(void *context) {
    column *c = context;
    double value = 0.0;
    for (size_t i = 0; i < NUMBERS; i++) {
        (void)tcr_number_parse(c->text[i], c->length[i], &value);
        c->sum += value;
    }
}

/* Each text reads back as its number, by strtod and by our own; fixed decimals are printf's. */
static void check_results(column *c) {
    for (size_t i = 0; i < NUMBERS; i++) {
        c->length[i] = tcr_number_text(c->value[i], c->text[i]);
        tcr_bench_expect("strtod of the text", strtod(c->text[i], NULL), c->value[i], 0.0);
        double value;
        tcr_bench_must(tcr_number_parse(c->text[i], c->length[i], &value), "tcr_number_parse");
        tcr_bench_expect("tcr_number_parse of the text", value, c->value[i], 0.0);
        if (!(fabs(value) < 1e9))
            continue;
        char theirs[TEXT_SIZE], ours[TCR_NUMBER_SIZE];
        snprintf(theirs, sizeof theirs, "%.2f", value);
        (void)tcr_number_fixed(value, 2, ours);
        tcr_bench_must(strcmp(ours, strcmp(theirs, "-0.00") == 0 ? "0.00" : theirs) == 0,
                       "tcr_number_fixed");
    }
}

static void bench_pair(const tcr_bench *bench, const char *name, column *c, void (*limit)(void *),
                       void (*work)(void *)) {
    const tcr_bench_time limit_time = tcr_bench_run(limit, c), time = tcr_bench_run(work, c);
    char row[64];
    snprintf(row, sizeof row, "%s, C library", name);
    tcr_bench_row(bench, row, NUMBERS, limit_time, NULL);
    tcr_bench_row(bench, name, NUMBERS, time, &limit_time);
}

static void bench_kind(const tcr_bench *bench, const char *kind, double (*draw)(uint64_t *)) {
    static column c;
    uint64_t state = 20260;
    for (size_t i = 0; i < NUMBERS; i++)
        c.value[i] = draw(&state);
    check_results(&c);
    char name[64];
    snprintf(name, sizeof name, "write %s", kind);
    bench_pair(bench, name, &c, write_libc, write_ours);
    snprintf(name, sizeof name, "read %s", kind);
    bench_pair(bench, name, &c, read_libc, read_ours);
    if (draw == any)
        return;
    snprintf(name, sizeof name, "write %s, 2 decimals", kind);
    bench_pair(bench, name, &c, fixed_libc, fixed_ours);
}

int main(int argc, char **argv) {
    tcr_bench bench = tcr_bench_open(argc, argv);
    bench_kind(&bench, "computed", computed);
    bench_kind(&bench, "hundredths", measured);
    bench_kind(&bench, "whole", whole);
    bench_kind(&bench, "any double", any);
    return tcr_bench_close(&bench);
}
