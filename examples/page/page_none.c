/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The C library's printing knows a standard error, though nothing of the page ever writes to it.
 * With these in place of what leads to a system, the module imports nothing, and so can do nothing
 * but compute. The names are those of musl, on which wasi-libc stands.
 */
#include <stddef.h>
#include <stdint.h>

size_t __stdio_write(void *stream, const unsigned char *bytes, size_t count);
int64_t __stdio_seek(void *stream, int64_t offset, int whence);
int __stdio_close(void *stream);

size_t __stdio_write(void *stream, const unsigned char *bytes, size_t count) {
    (void)stream, (void)bytes, (void)count;
    return 0;
}

int64_t __stdio_seek(void *stream, int64_t offset, int whence) {
    (void)stream, (void)offset, (void)whence;
    return -1;
}

int __stdio_close(void *stream) {
    (void)stream;
    return -1;
}
