/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_FAULTS_PLACES_H
#define TCR_TESTS_FAULTS_PLACES_H

/*
 * Memory that fails for what takes it by malloc() and its like: the linker puts __wrap_malloc() and
 * others before what this project's own objects call, not before what libraries do, of which some
 * end the process without memory.
 */
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#if defined __GLIBC__
#include <execinfo.h>
#endif

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *block, size_t size);
void __real_free(void *block);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *block, size_t size);
void __wrap_free(void *block);

/* Allocations come by the thousand from few places. A place is where the calls lead through that
 * end in one; each fails the first time that it is come by, one more in each run. */
enum { PLACES_MAX = 4000, DEPTH = 24 };

static struct {
    bool armed;
    bool failed;    /* in this run */
    uint64_t calls; /* in this run, where they have no other number */
    size_t places;
    uint64_t place[PLACES_MAX];
    long blocks; /* taken and not given back, in armed calls */
} memory;

#if defined __GLIBC__
static uint64_t place_of_call(void) {
    void *caller[DEPTH];
    uint64_t sum = 14695981039346656037u; /* FNV-1a over the return addresses */
    const int depth = backtrace(caller, DEPTH);
    for (int i = 0; i < depth; i++)
        sum = (sum ^ (uint64_t)(uintptr_t)caller[i]) * 1099511628211u;
    return sum;
}
#else
/* Where nobody tells by which calls it was come: the number of the allocation in its run. */
static uint64_t place_of_call(void) { return ++memory.calls; }
#endif

static bool fails_here(void) {
    if (!memory.armed || memory.failed || memory.places == PLACES_MAX)
        return false;
    const uint64_t sum = place_of_call();
    for (size_t i = 0; i < memory.places; i++)
        if (memory.place[i] == sum)
            return false;
    memory.place[memory.places++] = sum;
    memory.failed = true;
    return true;
}

void *__wrap_malloc(size_t size) {
    if (fails_here())
        return NULL;
    memory.blocks += memory.armed;
    return __real_malloc(size);
}

void *__wrap_calloc(size_t count, size_t size) {
    if (fails_here())
        return NULL;
    memory.blocks += memory.armed;
    return __real_calloc(count, size);
}

void *__wrap_realloc(void *block, size_t size) {
    if (fails_here())
        return NULL;
    memory.blocks += memory.armed && block == NULL;
    return __real_realloc(block, size);
}

void __wrap_free(void *block) {
    memory.blocks -= memory.armed && block != NULL;
    __real_free(block);
}

#endif
