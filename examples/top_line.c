/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The top line of a set without any file: a described eye, a map of three zones, the 12/11/10 rule.
 *
 *     cc top_line.c $(pkg-config --cflags --libs tipcrest) && ./a.out
 */
#include <stdio.h>

#include <tipcrest/tipcrest.h>

/* Fills an empty set with one eye, its lashes and its map. */
static tcr_status fill(tcr_set *set) {
    tcr_layering rule = tcr_layering_default(); /* a millimetre shorter for each layer up */
    rule.placement[TCR_MIDDLE] = TCR_OUTER_SIDE;
    rule.placement[TCR_TOP] = TCR_UNDERSIDE;

    tcr_description lashes = tcr_description_default();
    lashes.count = 100;
    lashes.seed = 7;

    const tcr_zone map[] = {
        {.to = 0.3, .length_mm = 10, .curl = "C"},
        {.to = 0.8, .length_mm = 12, .curl = "C"},
        {.to = 1.0, .length_mm = 11, .curl = "C"},
    };

    tcr_status status = tcr_set_put_layering(set, &rule);
    if (status == TCR_OK)
        status = tcr_set_add_eye(set, TCR_LEFT, NULL); /* NULL: the default lid */
    if (status == TCR_OK)
        status = tcr_set_describe(set, TCR_LEFT, &lashes);
    if (status == TCR_OK)
        status = tcr_set_put_map(set, TCR_LEFT, map, sizeof map / sizeof map[0]);
    return status;
}

static void print(const tcr_eye_result *eye) {
    printf("%zu lashes, %zu carry an extension\n", eye->lashes, eye->extended);
    for (double x = -12; x <= 12; x += 4)
        printf("at %3.0f mm the tips reach %4.1f mm\n", x, tcr_line_at(&eye->fitted_line, x));
    printf("even to %.2f mm rms, %.0f %% within %.1f mm\n", eye->fitted.upright.rms_mm,
           100 * eye->fitted.within_tolerance, eye->fitted.tolerance_mm);
}

int main(void) {
    tcr_set *set = NULL;
    tcr_check *check = NULL;
    tcr_status status = tcr_set_new(NULL, &set); /* NULL: memory by malloc */
    if (status == TCR_OK)
        status = fill(set);
    if (status == TCR_OK)
        status = tcr_check_new(set, NULL, &check, NULL);
    if (status == TCR_OK)
        status = tcr_check_eye(check, TCR_LEFT)->fitted_status; /* is there a line? */

    if (status == TCR_OK)
        print(tcr_check_eye(check, TCR_LEFT));
    else
        fprintf(stderr, "top_line: %s\n", tcr_status_text(status));
    tcr_check_free(check); /* before the set it reads */
    tcr_set_free(set);
    return status == TCR_OK ? 0 : 1;
}
