/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_FAULTS_FAILING_H
#define TCR_TESTS_FAULTS_FAILING_H

/*
 * Each public call of core and files to which memory fails: the n-th allocation, for every n, once
 * and from then on. The call then says TCR_E_MEMORY, has leaked nothing, has left its outputs and
 * its object as they were, and works when it is made again.
 *
 * Where calls take no allocator they get the counting one all the same: the linker puts
 * __wrap_tcr_allocator_choose() in the place of tcr_allocator_choose(). What goes behind the
 * allocator is counted too, except while libyaml works, which has malloc() alone.
 */
#include <stdatomic.h>
#include <stdio.h>
#include <string.h>
#include <sys/mman.h>

#include <yaml.h>

#include "num/memory.h"
#include "support/check.h"

/* ---- Memory that fails --------------------------------------------------------------- */

static struct {
    /* Compilers take it that malloc() looks at nothing of ours. */
    volatile bool armed, inside, in_yaml; /* inside: the allocator itself; in_yaml: libyaml */
    size_t calls, fail_at;                /* fail_at 0: none fails */
    bool lasts;
    size_t failures;
    long blocks;
    volatile size_t behind; /* allocations of anyone else while armed */
} memory;

static void *resize(void *context, void *block, size_t bytes) {
    (void)context;
    if (memory.armed) {
        memory.calls++;
        if (memory.fail_at != 0 &&
            (memory.lasts ? memory.calls >= memory.fail_at : memory.calls == memory.fail_at)) {
            memory.failures++;
            return NULL;
        }
    }
    memory.inside = true;
    void *moved = realloc(block, bytes);
    memory.inside = false;
    if (moved != NULL && block == NULL)
        memory.blocks++;
    return moved;
}

static void release(void *context, void *block) {
    (void)context;
    memory.blocks--;
    free(block);
}

static const tcr_allocator FAILING = {resize, release, NULL};

tcr_status __real_tcr_allocator_choose(const tcr_allocator *given, tcr_allocator *chosen);
tcr_status __wrap_tcr_allocator_choose(const tcr_allocator *given, tcr_allocator *chosen);
tcr_status __wrap_tcr_allocator_choose(const tcr_allocator *given, tcr_allocator *chosen) {
    return __real_tcr_allocator_choose(given != NULL ? given : &FAILING, chosen);
}

static void note_behind(void) {
    if (memory.armed && !memory.inside && !memory.in_yaml)
        memory.behind++;
}

#define WRAP_YAML(result, name, parameters, arguments)                                             \
    result __real_##name parameters;                                                               \
    result __wrap_##name parameters;                                                               \
    result __wrap_##name parameters {                                                              \
        memory.in_yaml = true;                                                                     \
        result done = __real_##name arguments;                                                     \
        memory.in_yaml = false;                                                                    \
        return done;                                                                               \
    }
WRAP_YAML(int, yaml_parser_initialize, (yaml_parser_t * parser), (parser))
WRAP_YAML(int, yaml_parser_parse, (yaml_parser_t * parser, yaml_event_t *event), (parser, event))

#if defined __SANITIZE_ADDRESS__
#define WITH_SANITIZER 1
#elif defined __has_feature
#if __has_feature(address_sanitizer)
#define WITH_SANITIZER 1
#endif
#endif

#ifdef WITH_SANITIZER
int __sanitizer_install_malloc_and_free_hooks(void (*on_malloc)(const volatile void *, size_t),
                                              void (*on_free)(const volatile void *));
static void on_malloc(const volatile void *block, size_t bytes) {
    (void)block;
    (void)bytes;
    note_behind();
}
static void on_free(const volatile void *block) { (void)block; }
static bool watch_behind(void) {
    return __sanitizer_install_malloc_and_free_hooks(on_malloc, on_free) != 0;
}
#elif defined __GLIBC__
/* Ours stand before the C library's, for everyone in the process. */
void *__libc_malloc(size_t bytes);
void *__libc_calloc(size_t count, size_t bytes);
void *__libc_realloc(void *block, size_t bytes);
void *malloc(size_t bytes) {
    note_behind();
    return __libc_malloc(bytes);
}
void *calloc(size_t count, size_t bytes) {
    note_behind();
    return __libc_calloc(count, bytes);
}
void *realloc(void *block, size_t bytes) {
    note_behind();
    return __libc_realloc(block, bytes);
}
static bool watch_behind(void) { return true; }
#else
static bool watch_behind(void) { return false; }
#endif

/* ---- Making a call fail -------------------------------------------------------------- */

/* The sum over all claims, each of which is a process. */
static atomic_size_t *all_failures;

/* Made around the one call that is looked at, so that what a trial needs besides finds memory. */
static void arm(void) { memory.armed = true; }
static void disarm(void) { memory.armed = false; }

/*
 * A trial: makes what a call needs, makes the call between arm() and disarm(), looks at what it
 * left, and frees all; returns the status of the call.
 */
typedef tcr_status trial(void);

/* Lets each allocation of a call fail, and at last none; says how many failed. */
static void fail_each(const char *name, trial *try_it, size_t least) {
    size_t failures = 0, calls = 0;
    for (int lasts = 0; lasts < 2; lasts++)
        for (size_t n = 1;; n++) {
            memset(&memory, 0, sizeof memory);
            memory.fail_at = n;
            memory.lasts = lasts;
            given("%s, allocation %zu, %s", name, n, lasts ? "lasting" : "once");
            const tcr_status status = try_it();
            expect_true(!memory.armed);
            expect_count(memory.blocks, 0);
            expect_count(memory.behind, 0);
            failures += memory.failures;
            calls = memory.calls;
            expect_status(status, memory.failures > 0 ? TCR_E_MEMORY : TCR_OK);
            if (memory.failures == 0)
                break;
        }
    given("%s allocates %zu times", name, calls);
    expect_true(calls >= least);
    *all_failures += failures;
    printf("# %s: %zu allocations, %zu failures injected\n", name, calls, failures);
    fflush(stdout);
}

/* Runs a table of claims and prints the sum of failures; the value is main's exit status. */
#define RUN_FAILURES(topic, claims) run_failures(topic, claims, sizeof(claims) / sizeof *(claims))
static int run_failures(const char *topic, const TTest *const *claims, size_t count) {
    all_failures =
        mmap(NULL, sizeof *all_failures, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
    if (all_failures == MAP_FAILED)
        return 1;
    const int status = tcr_run_claims(topic, claims, count);
    printf("# %s: failures injected in all: %zu allocations\n", topic, (size_t)*all_failures);
    return status;
}

#endif
