/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What INT, TERM and HUP do. */
#include "signals.h"

#include <errno.h>
#include <pthread.h>
#include <signal.h>
#include <stddef.h>

static const int CAUGHT[] = {SIGINT, SIGTERM, SIGHUP};
enum { CAUGHT_COUNT = sizeof CAUGHT / sizeof *CAUGHT };

static pthread_t main_thread;
static tcr_outputs *volatile at_work;
static volatile sig_atomic_t may_end_early, asked;

static sigset_t caught_set(void) {
    sigset_t set;
    sigemptyset(&set);
    for (int i = 0; i < CAUGHT_COUNT; i++)
        sigaddset(&set, CAUGHT[i]);
    return set;
}

static void end(int number) {
    const int code = errno;
    if (!pthread_equal(pthread_self(), main_thread)) {
        /* A thread of another library: the main one could go on making files meanwhile. */
        pthread_kill(main_thread, number);
    } else if (may_end_early && number != SIGHUP) {
        may_end_early = 0; /* a second signal ends the process */
        asked = 1;
    } else {
        tcr_outputs_abandon(at_work);
        signal(number, SIG_DFL);
        raise(number); /* held back until this handler returns */
    }
    errno = code;
}

void tcr_catch_signals(void) {
    struct sigaction before;
    const struct sigaction ours = {.sa_handler = end, .sa_mask = caught_set()};
    main_thread = pthread_self();
    for (int i = 0; i < CAUGHT_COUNT; i++)
        if (sigaction(CAUGHT[i], NULL, &before) == 0 && before.sa_handler != SIG_IGN)
            sigaction(CAUGHT[i], &ours, NULL);
}

tcr_status tcr_new_outputs(tcr_outputs **outputs) {
    const tcr_status status = tcr_outputs_new(NULL, outputs);
    if (status == TCR_OK)
        at_work = *outputs;
    return status;
}

void tcr_free_outputs(tcr_outputs *outputs) {
    const sigset_t held = caught_set();
    sigset_t before;
    pthread_sigmask(SIG_BLOCK, &held, &before);
    tcr_outputs_free(outputs);
    at_work = NULL;
    pthread_sigmask(SIG_SETMASK, &before, NULL);
}

void tcr_may_end_early(bool may) {
    if (may)
        asked = 0;
    may_end_early = may;
}

bool tcr_asked_to_end(void) { return asked != 0; }
