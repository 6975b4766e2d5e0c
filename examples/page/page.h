/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_EXAMPLES_PAGE_H
#define TCR_EXAMPLES_PAGE_H

/*
 * What the files of the page share. They are compiled to WebAssembly as a module without imports;
 * what is marked PAGE can be called by the page. Numbers go out in one array of doubles, texts
 * ended by a NUL; both stay valid until the next call. A set lies in one of two slots. All that is
 * computed comes from the public calls of the library.
 */

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/file.h>
#include <tipcrest/tipcrest.h>

#ifdef __wasm__
#define PAGE(name) __attribute__((export_name(#name))) name
#else
#define PAGE(name) name
#endif

enum { PAGE_SLOTS = 2 };

/* The set of a slot, or NULL; the check of it. */
const tcr_set *page_set(int slot);
const tcr_set_file *page_file(int slot);
const tcr_check *page_check(int slot);

/* Where a call tells what went wrong. */
tcr_error *page_fault(void);

/* The array of numbers, with room for so many more; NULL without memory. */
double *page_numbers(size_t count);

#endif
