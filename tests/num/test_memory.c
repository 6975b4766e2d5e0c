/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Memory: products that overflow, and arrays that grow. Source of all: memory.h. */
#include "num/memory.h"

#include <stdint.h>

#include "support/check.h"
#include "support/memory.h"

CLAIM(a_product_that_overflows_is_refused_before_the_allocator_is_asked) {
    tcr_counted counted = {0};
    const tcr_allocator a = tcr_counted_allocator(&counted);
    /* Half of all bytes times 2 wraps round to 0, and to 2 with one item more. */
    expect_true(tcr_resize(&a, NULL, SIZE_MAX / 2 + 1, 2) == NULL);
    expect_true(tcr_resize(&a, NULL, SIZE_MAX / 2 + 2, 2) == NULL);
    expect_true(tcr_resize(&a, NULL, 2, SIZE_MAX / 2 + 2) == NULL);
    expect_count(counted.calls, 0);
}

CLAIM(no_bytes_are_a_block_all_the_same) {
    tcr_counted counted = {0};
    const tcr_allocator a = tcr_counted_allocator(&counted);
    void *items = tcr_resize(&a, NULL, 0, 8), *bytes = tcr_resize(&a, NULL, 8, 0);
    expect_true(items != NULL && bytes != NULL);
    tcr_release(&a, items);
    tcr_release(&a, bytes);
    tcr_release(&a, NULL);
    expect_count(counted.blocks, 0);
}

CLAIM(an_array_grows_only_when_it_is_full_and_keeps_what_it_has) {
    tcr_counted counted = {0};
    const tcr_allocator a = tcr_counted_allocator(&counted);
    void *array = NULL;
    size_t capacity = 0;
    for (size_t i = 0; i < 1000; i++) {
        const size_t room = capacity, calls = counted.calls;
        expect_status(tcr_grow(&a, &array, i, &capacity, sizeof i), TCR_OK);
        expect_count(counted.calls - calls, i == room);
        expect_true(capacity > i);
        expect_true(i < room || capacity >= room + room / 2);
        ((size_t *)array)[i] = i;
    }
    for (size_t i = 0; i < 1000; i++)
        expect_count(((size_t *)array)[i], i);
    tcr_release(&a, array);
    expect_count(counted.blocks, 0);
}

CLAIM(an_array_that_cannot_grow_is_unchanged) {
    int item = 7;
    void *array = &item;
    size_t capacity = SIZE_MAX / 2 + 1;
    tcr_counted counted = {.fail_at = 1};
    const tcr_allocator a = tcr_counted_allocator(&counted);
    expect_status(tcr_grow(&a, &array, capacity, &capacity, 1), TCR_E_MEMORY);
    expect_count(counted.calls, 0);
    expect_count(capacity, SIZE_MAX / 2 + 1);
    capacity = 1;
    expect_status(tcr_grow(&a, &array, 1, &capacity, sizeof item), TCR_E_MEMORY);
    expect_true(array == &item && capacity == 1);
}

int main(void) {
    static const TTest *const claims[] = {
        &a_product_that_overflows_is_refused_before_the_allocator_is_asked,
        &no_bytes_are_a_block_all_the_same,
        &an_array_grows_only_when_it_is_full_and_keeps_what_it_has,
        &an_array_that_cannot_grow_is_unchanged,
    };
    return RUN_CLAIMS("memory", claims);
}
