/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The main function of a fuzz target that was built without libFuzzer: runs every file that is
 * given. Names go to standard output before their turn comes, so that the last one is the culprit.
 * A file that takes longer than a minute counts as endless.
 */
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#include "fuzz/target.h"

enum { SECONDS_MAX = 600 };

/* The bytes of a file, in a block of just their size; NULL on failure. */
static uint8_t *read_file(const char *path, size_t *size) {
    FILE *file = fopen(path, "rb");
    uint8_t *bytes = NULL;
    if (file == NULL)
        return NULL;
    const long end = fseek(file, 0, SEEK_END) == 0 ? ftell(file) : -1;
    if (end >= 0 && fseek(file, 0, SEEK_SET) == 0)
        bytes = malloc(end > 0 ? (size_t)end : 1);
    *size = (size_t)end;
    if (bytes != NULL && fread(bytes, 1, *size, file) != *size) {
        free(bytes);
        bytes = NULL;
    }
    fclose(file);
    return bytes;
}

int main(int argc, char **argv) {
    for (int i = 1; i < argc; i++) {
        size_t size;
        uint8_t *bytes = read_file(argv[i], &size);
        if (bytes == NULL) {
            fprintf(stderr, "%s: cannot be read\n", argv[i]);
            return 1;
        }
        printf("%s\n", argv[i]);
        fflush(stdout);
        alarm(SECONDS_MAX);
        LLVMFuzzerTestOneInput(bytes, size);
        alarm(0);
        free(bytes);
    }
    return 0;
}
