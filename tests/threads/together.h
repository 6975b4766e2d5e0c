/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TESTS_THREADS_TOGETHER_H
#define TCR_TESTS_THREADS_TOGETHER_H

/* Work that several threads do at once, and what each of them comes to, as bytes. */

#include <pthread.h>
#include <sched.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>

#include "support/check.h"

enum { THREADS = 4, ROUNDS = 3, KINDS_MAX = 6 };

typedef struct kept {
    char *bytes;
    size_t used, room;
    tcr_status status; /* the first that was no success */
} kept;

/* A sink; context is a kept. */
static inline int keep(void *context, const void *piece, size_t count) {
    kept *k = context;
    if (k->used + count > k->room) {
        const size_t room = 2 * (k->used + count);
        char *grown = realloc(k->bytes, room);
        if (grown == NULL)
            return -1;
        k->bytes = grown;
        k->room = room;
    }
    memcpy(k->bytes + k->used, piece, count);
    k->used += count;
    return 0;
}

static inline void note(kept *k, tcr_status status) {
    if (k->status == TCR_OK)
        k->status = status;
}

typedef void (*work)(kept *k);

typedef struct hand {
    pthread_t thread;
    work work;
    atomic_int *waiting; /* so that none begins before the last is there */
    kept rounds[ROUNDS];
} hand;

static inline void *run_hand(void *context) {
    hand *h = context;
    atomic_fetch_sub(h->waiting, 1);
    while (atomic_load(h->waiting) > 0)
        sched_yield();
    for (int i = 0; i < ROUNDS; i++)
        h->work(&h->rounds[i]);
    return NULL;
}

/* Several kinds of work at once; each must come to what it comes to alone. */
static inline void compare(const work *works, int kinds) {
    static hand hands[KINDS_MAX * THREADS];
    kept alone[KINDS_MAX] = {0};
    const int count = kinds == 1 ? THREADS : kinds * 2;
    atomic_int waiting = count;
    for (int i = 0; i < kinds; i++) {
        works[i](&alone[i]);
        expect_status(alone[i].status, TCR_OK);
        expect_true(alone[i].used > 500); /* of 180 numbers or of a report */
    }
    for (int i = 0; i < count; i++) {
        hands[i].work = works[i % kinds];
        hands[i].waiting = &waiting;
        expect_count(pthread_create(&hands[i].thread, NULL, run_hand, &hands[i]), 0);
    }
    for (int i = 0; i < count; i++)
        expect_count(pthread_join(hands[i].thread, NULL), 0);
    for (int i = 0; i < count; i++)
        for (int round = 0; round < ROUNDS; round++) {
            const kept *k = &hands[i].rounds[round];
            given("thread %d of %d, round %d", i, count, round);
            expect_status(k->status, TCR_OK);
            /* One thread and many give the same doubles, so the same text (DEVELOPERS.md). */
            expect_count(k->used, alone[i % kinds].used);
            expect_bytes(k->bytes, alone[i % kinds].bytes, k->used);
            free(k->bytes);
        }
    for (int i = 0; i < kinds; i++)
        free(alone[i].bytes);
}

#endif
