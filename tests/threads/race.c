/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A race on purpose: two threads count in one place without a lock. run.sh demands that it is seen,
 * for a harness that sees no race proves nothing. */
#include <pthread.h>
#include <stdio.h>

static int count;

static void *raise_count(void *unused) {
    (void)unused;
    for (int i = 0; i < 1000; i++)
        count++;
    return NULL;
}

int main(void) {
    pthread_t other;
    if (pthread_create(&other, NULL, raise_count, NULL) != 0)
        return 1;
    raise_count(NULL);
    pthread_join(other, NULL);
    printf("%d\n", count);
    return 0;
}
