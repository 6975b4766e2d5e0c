/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A plan without any file: what each zone and layer of a described eye gets for the look "cat", and
 * how near to the line that the look asks for the tips then come.
 *
 *     cc plan_eye.c $(pkg-config --cflags --libs tipcrest) && ./a.out
 */
#include <stdio.h>

#include <tipcrest/tipcrest.h>

/* Fills an empty set with one eye, its lashes, and the look as its map. */
static tcr_status fill(tcr_set *set) {
    const tcr_look *look = tcr_look_find("cat");
    double length_mm[TCR_LOOK_ZONES_MAX];
    tcr_zone map[TCR_LOOK_ZONES_MAX] = {{.to = 0.0}};
    tcr_description lashes = tcr_description_default();
    lashes.count = 100;
    lashes.seed = 7;

    tcr_status status = tcr_look_lengths(look, 12, tcr_set_tray(set), length_mm);
    for (size_t z = 0; z < look->zones; z++)
        map[z] = (tcr_zone){
            .to = tcr_look_zone_end(z, look->zones), .length_mm = length_mm[z], .curl = "C"};
    if (status == TCR_OK)
        status = tcr_set_add_eye(set, TCR_LEFT, NULL); /* NULL: the default lid */
    if (status == TCR_OK)
        status = tcr_set_describe(set, TCR_LEFT, &lashes);
    if (status == TCR_OK)
        status = tcr_set_put_map(set, TCR_LEFT, map, look->zones);
    return status;
}

static void print(const tcr_set *set, const tcr_plan *plan) {
    const tcr_plan_result *r = tcr_plan_result_of(plan);
    for (size_t c = 0; c < r->cells; c++) {
        const tcr_plan_cell *cell = &r->cell[c];
        printf("zone %zu, %s: %g mm %s, %s\n", cell->zone + 1, tcr_layer_text(cell->layer),
               cell->choice.length_mm, tcr_set_curl(set, cell->choice.curl)->label,
               tcr_placement_text(cell->choice.placement));
    }
    printf("the zones alone: %.2f mm rms, and no choice comes below %.2f\n", r->rms_mm,
           r->bound_mm);
    const tcr_plan_point *last = &r->point[r->points - 1];
    printf("with %zu corrections: %.2f mm\n", last->corrections, last->rms_mm);
}

int main(void) {
    tcr_set *set = NULL;
    tcr_plan *plan = NULL;
    tcr_error error = tcr_error_none(); /* says what is in the way where there is no plan */
    tcr_plan_options options = tcr_plan_options_default();
    options.correct_all = true;
    tcr_status status = tcr_set_new(NULL, &set); /* NULL: memory by malloc */
    if (status == TCR_OK)
        status = fill(set);
    if (status == TCR_OK)
        status = tcr_plan_new(set, &options, &plan, &error);

    if (status == TCR_OK)
        print(set, plan);
    else
        fprintf(stderr, "plan_eye: %s\n",
                error.status == status ? error.message : tcr_status_text(status));
    tcr_plan_free(plan); /* before the set it reads */
    tcr_set_free(set);
    return status == TCR_OK ? 0 : 1;
}
