/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What signals do that end the command. Some are sent, by a terminal or by who is waiting; others
 * come of a fault in the process itself: GLib aborts when memory runs out, and what lies below it
 * may read what it did not get.
 */
#include "signals.h"

#include <errno.h>
#include <pthread.h>
#include <signal.h>
#include <stddef.h>

static const int SENT[] = {SIGINT, SIGTERM, SIGHUP, SIGQUIT, SIGXCPU};
static const int FAULTS[] = {SIGABRT, SIGTRAP, SIGSEGV, SIGBUS, SIGILL, SIGFPE};
enum { SENT_COUNT = sizeof SENT / sizeof *SENT, FAULT_COUNT = sizeof FAULTS / sizeof *FAULTS };

static pthread_t main_thread;
static tcr_outputs *volatile at_work;
static volatile sig_atomic_t may_end_early, asked;

static sigset_t sent_set(void) {
    sigset_t set;
    sigemptyset(&set);
    for (int i = 0; i < SENT_COUNT; i++)
        sigaddset(&set, SENT[i]);
    return set;
}

/* Calls nothing but what POSIX lets a handler call. */
static void end_now(int number) {
    tcr_outputs_abandon(at_work);
    signal(number, SIG_DFL);
    raise(number); /* held back until the handler returns */
}

static void end(int number) {
    const int code = errno;
    if (!pthread_equal(pthread_self(), main_thread)) {
        /* A thread of another library: the main one could go on making files meanwhile. */
        pthread_kill(main_thread, number);
    } else if (may_end_early && (number == SIGINT || number == SIGTERM)) {
        may_end_early = 0; /* a second signal ends the process */
        asked = 1;
    } else {
        end_now(number);
    }
    errno = code;
}

/* A signal that something else handles, or that is ignored, is left alone. */
static void handle(int number, void (*handler)(int), int flags) {
    struct sigaction before;
    const struct sigaction ours = {.sa_handler = handler, .sa_mask = sent_set(), .sa_flags = flags};
    if (sigaction(number, NULL, &before) == 0 && before.sa_handler == SIG_DFL)
        sigaction(number, &ours, NULL);
}

void tcr_catch_signals(void) {
    static char room[65536]; /* for a handler when the stack is full */
    const stack_t stack = {.ss_sp = room, .ss_size = sizeof room};
    main_thread = pthread_self();
    const int flags = sigaltstack(&stack, NULL) == 0 ? SA_ONSTACK : 0;
    for (int i = 0; i < SENT_COUNT; i++)
        handle(SENT[i], end, 0);
    for (int i = 0; i < FAULT_COUNT; i++)
        handle(FAULTS[i], end_now, flags);
}

tcr_status tcr_new_outputs(tcr_outputs **outputs) {
    const tcr_status status = tcr_outputs_new(NULL, outputs);
    if (status == TCR_OK)
        at_work = *outputs;
    return status;
}

void tcr_free_outputs(tcr_outputs *outputs) {
    const sigset_t held = sent_set();
    sigset_t before;
    pthread_sigmask(SIG_BLOCK, &held, &before);
    at_work = NULL; /* a fault may come while it goes */
    tcr_outputs_free(outputs);
    pthread_sigmask(SIG_SETMASK, &before, NULL);
}

void tcr_may_end_early(bool may) {
    if (may)
        asked = 0;
    may_end_early = may;
}

bool tcr_asked_to_end(void) { return asked != 0; }
