/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Threads that work off tiles. The caller's thread reports progress and hands blocks on. */
#include "study/crew.h"

#include <pthread.h>
#include <signal.h>
#include <time.h>

#include <tipcrest/study.h>

#include "num/watch.h"

enum { STACK_BYTES = 1 << 20, POLL_NS = 50000000 };

typedef struct crew {
    const tcr_crew_work *work;
    pthread_mutex_t lock;
    pthread_cond_t room;           /* for the threads: a block has been handed on, or all ends */
    pthread_cond_t done;           /* for the caller: a block is done, a thread has ended */
    uint64_t next;                 /* tile */
    uint64_t finished;             /* tiles */
    uint64_t handed;               /* blocks */
    uint64_t left[TCR_CREW_AHEAD]; /* tiles of the blocks that are ahead */
    size_t threads;                /* that run */
    tcr_status status;             /* TCR_OK, or why all ends */
} crew;

static uint64_t blocks_of(const tcr_crew_work *w) {
    return (w->tiles + w->tiles_a_block - 1) / w->tiles_a_block;
}

static uint64_t tiles_of(const tcr_crew_work *w, uint64_t block) {
    const uint64_t before = block * w->tiles_a_block;
    return w->tiles - before < w->tiles_a_block ? w->tiles - before : w->tiles_a_block;
}

/* ---- A thread -------------------------------------------------------------------------------- */

/* Takes the next tile, when there is room ahead; false where there is none left. Locked. */
static bool take(crew *c, uint64_t *tile) {
    const tcr_crew_work *w = c->work;
    while (c->status == TCR_OK && c->next < w->tiles &&
           c->next / w->tiles_a_block >= c->handed + TCR_CREW_AHEAD)
        pthread_cond_wait(&c->room, &c->lock);
    if (c->status != TCR_OK || c->next == w->tiles)
        return false;
    *tile = c->next++;
    return true;
}

/* Counts a tile. Locked. */
static void count(crew *c, uint64_t tile, tcr_status status) {
    uint64_t *left = &c->left[tile / c->work->tiles_a_block % TCR_CREW_AHEAD];
    c->finished++;
    if (status == TCR_OK && --*left > 0)
        return;
    if (status != TCR_OK && c->status == TCR_OK)
        c->status = status;
    if (status != TCR_OK)
        pthread_cond_broadcast(&c->room);
    pthread_cond_signal(&c->done);
}

static void *be_thread(void *context) {
    crew *c = context;
    const tcr_crew_work *w = c->work;
    void *own = NULL;
    uint64_t tile;
    tcr_status status = w->begin(w->context, &own);
    pthread_mutex_lock(&c->lock);
    if (status != TCR_OK && c->status == TCR_OK)
        c->status = status;
    while (take(c, &tile)) {
        pthread_mutex_unlock(&c->lock);
        status = w->tile(w->context, own, tile);
        pthread_mutex_lock(&c->lock);
        count(c, tile, status);
    }
    c->threads--;
    pthread_cond_broadcast(&c->room);
    pthread_cond_signal(&c->done);
    pthread_mutex_unlock(&c->lock);
    w->end(w->context, own);
    return NULL;
}

/* ---- The caller ------------------------------------------------------------------------------ */

static double share_of(const crew *c) { return (double)c->finished / (double)c->work->tiles; }

/* Waits for news, but not long. Locked. */
static void wait_for_news(crew *c) {
    struct timespec until;
    (void)clock_gettime(CLOCK_MONOTONIC, &until);
    until.tv_nsec += POLL_NS;
    if (until.tv_nsec >= 1000000000) {
        until.tv_nsec -= 1000000000;
        until.tv_sec++;
    }
    (void)pthread_cond_timedwait(&c->done, &c->lock, &until);
}

static void stop(crew *c, tcr_status status) {
    if (c->status == TCR_OK)
        c->status = status;
    pthread_cond_broadcast(&c->room);
}

/* Hands on the next block. Locked, but not meanwhile. */
static void hand_on(crew *c) {
    const tcr_crew_work *w = c->work;
    pthread_mutex_unlock(&c->lock);
    const bool goes_on = w->hand_on == NULL || w->hand_on(w->context, c->handed);
    pthread_mutex_lock(&c->lock);
    const uint64_t reused = c->handed + TCR_CREW_AHEAD;
    if (reused < blocks_of(w))
        c->left[reused % TCR_CREW_AHEAD] = tiles_of(w, reused);
    c->handed++;
    pthread_cond_broadcast(&c->room);
    if (!goes_on)
        stop(c, TCR_E_STOPPED);
}

/* Watches the threads until all blocks are handed on, or all ends. Locked. */
static void watch(crew *c) {
    const tcr_crew_work *w = c->work;
    tcr_watch caller = {w->progress, false};
    while (c->status == TCR_OK && c->handed < blocks_of(w) && c->threads > 0) {
        while (c->status == TCR_OK && c->handed < blocks_of(w) &&
               c->left[c->handed % TCR_CREW_AHEAD] == 0)
            hand_on(c);
        if (c->status != TCR_OK || c->handed == blocks_of(w))
            break;
        wait_for_news(c);
        const double share = share_of(c);
        pthread_mutex_unlock(&c->lock);
        const bool stopped = tcr_watch_stops(&caller, w->phase, share);
        pthread_mutex_lock(&c->lock);
        if (stopped)
            stop(c, TCR_E_STOPPED);
    }
    while (c->status == TCR_OK && c->handed < blocks_of(w) &&
           c->left[c->handed % TCR_CREW_AHEAD] == 0)
        hand_on(c);
}

/* All of it in the caller's thread. */
static tcr_status work_alone(const tcr_crew_work *w) {
    tcr_watch caller = {w->progress, false};
    void *own = NULL;
    tcr_status status = w->begin(w->context, &own);
    for (uint64_t tile = 0; tile < w->tiles && status == TCR_OK; tile++) {
        status = w->tile(w->context, own, tile);
        const bool last = (tile + 1) % w->tiles_a_block == 0 || tile + 1 == w->tiles;
        if (status == TCR_OK && last && w->hand_on != NULL &&
            !w->hand_on(w->context, tile / w->tiles_a_block))
            status = TCR_E_STOPPED;
        const double share = (double)(tile + 1) / (double)w->tiles;
        if (status == TCR_OK && tile + 1 < w->tiles && tcr_watch_stops(&caller, w->phase, share))
            status = TCR_E_STOPPED;
    }
    w->end(w->context, own);
    return status;
}

/* Starts threads that take no signals: those are the host's. Returns how many run. Locked. */
static size_t start(crew *c, pthread_t *thread) {
    pthread_attr_t attributes;
    sigset_t all, before;
    size_t n = 0;
    if (pthread_attr_init(&attributes) != 0)
        return 0;
    (void)pthread_attr_setstacksize(&attributes, STACK_BYTES);
    (void)sigfillset(&all);
    (void)pthread_sigmask(SIG_SETMASK, &all, &before);
    while (n < c->work->threads && pthread_create(&thread[n], &attributes, be_thread, c) == 0)
        n++;
    (void)pthread_sigmask(SIG_SETMASK, &before, NULL);
    (void)pthread_attr_destroy(&attributes);
    return n;
}

static bool make_conditions(crew *c) {
    pthread_condattr_t monotonic;
    if (pthread_condattr_init(&monotonic) != 0)
        return false;
    bool made = pthread_condattr_setclock(&monotonic, CLOCK_MONOTONIC) == 0 &&
                pthread_cond_init(&c->done, &monotonic) == 0;
    if (made && pthread_cond_init(&c->room, NULL) != 0) {
        (void)pthread_cond_destroy(&c->done);
        made = false;
    }
    (void)pthread_condattr_destroy(&monotonic);
    return made;
}

tcr_status tcr_crew_run(const tcr_crew_work *work) {
    crew c = {.work = work, .status = TCR_OK};
    pthread_t thread[TCR_THREADS_MAX];
    if (work->tiles == 0)
        return TCR_OK;
    if (work->threads <= 1 || !make_conditions(&c))
        return work_alone(work);
    for (uint64_t b = 0; b < TCR_CREW_AHEAD && b < blocks_of(work); b++)
        c.left[b] = tiles_of(work, b);
    (void)pthread_mutex_init(&c.lock, NULL); /* cannot fail with usual attributes */
    pthread_mutex_lock(&c.lock);
    const size_t started = c.threads = start(&c, thread);
    if (started > 0)
        watch(&c);
    pthread_mutex_unlock(&c.lock);
    for (size_t i = 0; i < started; i++)
        (void)pthread_join(thread[i], NULL);
    (void)pthread_mutex_destroy(&c.lock);
    (void)pthread_cond_destroy(&c.done);
    (void)pthread_cond_destroy(&c.room);
    return started > 0 ? c.status : work_alone(work);
}
