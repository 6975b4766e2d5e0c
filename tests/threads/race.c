/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A race on purpose: two threads draw, and their sinks count in one place without a lock. run.sh
 * demands that it is seen, for a harness that sees no race proves nothing. */
#include <pthread.h>
#include <stdbool.h>
#include <stdio.h>

#include <tipcrest/draw.h>
#include <tipcrest/tipcrest.h>

static size_t count;
static tcr_set *set;
static pthread_barrier_t both;

/* Each thread waits for the other before it first counts: on a busy machine one would else have
 * drawn before the other begins, and a lock of the libraries below have put them in order. */
static int count_bytes(void *unused, const void *bytes, size_t more) {
    static _Thread_local bool met;
    (void)unused;
    (void)bytes;
    if (!met)
        (void)pthread_barrier_wait(&both);
    met = true;
    count += more;
    return 0;
}

static void *draw(void *status) {
    const tcr_step_picture step = tcr_step_picture_default();
    *(tcr_status *)status = tcr_step_picture_write(TCR_SVG, set, &step, NULL, count_bytes, NULL);
    return NULL;
}

int main(void) {
    pthread_t other;
    tcr_status status[2] = {TCR_E_MEMORY, TCR_E_MEMORY};
    if (pthread_barrier_init(&both, NULL, 2) != 0 || tcr_set_new(NULL, &set) != TCR_OK ||
        tcr_set_add_eye(set, TCR_LEFT, NULL) != TCR_OK ||
        pthread_create(&other, NULL, draw, &status[0]) != 0)
        return 1;
    draw(&status[1]);
    pthread_join(other, NULL);
    tcr_set_free(set);
    pthread_barrier_destroy(&both);
    printf("%zu bytes\n", count);
    return status[0] != TCR_OK || status[1] != TCR_OK;
}
