/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The choice for zones and layers as an integer programme, which GLPK solves: a general-purpose
 * solver that knows nothing of chains or lengths finds the same least cost.
 */
#include "plan/assign.h"

#include <math.h>

#include <glpk.h>
#include <gsl/gsl_rng.h>

#include "support/check.h"
#include "support/make.h"

enum { CELLS = 8, OPTIONS = 12, ALL = CELLS * OPTIONS, LENGTHS = 6 };
static const double LENGTH_MM[LENGTHS] = {7.0, 8.0, 9.0, 10.0, 11.0, 12.0};

typedef struct sample {
    tcr_assign p;
    size_t first[CELLS + 1];
    int length[ALL];
    bool follows[CELLS];
    double cost[ALL];
} sample;

static void draw(gsl_rng *rng, sample *s) {
    for (size_t c = 0; c <= CELLS; c++)
        s->first[c] = c * OPTIONS;
    for (size_t c = 0; c < CELLS; c++)
        s->follows[c] = c > 0 && gsl_rng_uniform(rng) < 0.7;
    for (size_t o = 0; o < ALL; o++) {
        s->length[o] = (int)gsl_rng_uniform_int(rng, LENGTHS);
        s->cost[o] = tcr_draw_between(rng, 0.0, 4.0);
    }
    s->p = (tcr_assign){.cells = CELLS,
                        .first = s->first,
                        .length = s->length,
                        .lengths = LENGTHS,
                        .length_mm = LENGTH_MM,
                        .follows = s->follows,
                        .step_most_mm = 1.0 + (double)gsl_rng_uniform_int(rng, 2),
                        .lengths_most = 2 + gsl_rng_uniform_int(rng, 3)};
}

/* A row of the programme that is being put together. */
typedef struct row {
    int column[1 + ALL + LENGTHS];
    double value[1 + ALL + LENGTHS];
    int count;
} row;

static void term(row *r, size_t column, double value) {
    r->count++;
    r->column[r->count] = (int)column + 1; /* GLPK counts from 1 */
    r->value[r->count] = value;
}

static void add_row(glp_prob *programme, row *r, int kind, double bound) {
    const int number = glp_add_rows(programme, 1);
    glp_set_row_bnds(programme, number, kind, bound, bound);
    glp_set_mat_row(programme, number, r->count, r->column, r->value);
    r->count = 0;
}

/* Columns: 0 to ALL - 1, option o is chosen; then, length l is used. */
static void add_rows(glp_prob *programme, const sample *s) {
    row r = {.count = 0};
    for (size_t c = 0; c < CELLS; c++) {
        for (size_t o = s->first[c]; o < s->first[c + 1]; o++)
            term(&r, o, 1.0);
        add_row(programme, &r, GLP_FX, 1.0); /* one option a cell */
    }
    for (size_t o = 0; o < ALL; o++) {
        term(&r, o, 1.0);
        term(&r, ALL + (size_t)s->length[o], -1.0);
        add_row(programme, &r, GLP_UP, 0.0); /* whose length counts as used */
    }
    for (size_t l = 0; l < LENGTHS; l++)
        term(&r, ALL + l, 1.0);
    add_row(programme, &r, GLP_UP, (double)s->p.lengths_most);
    for (size_t c = 1; c < CELLS; c++)
        for (size_t o = s->first[c]; o < s->first[c + 1] && s->follows[c]; o++) {
            term(&r, o, 1.0);
            for (size_t before = s->first[c - 1]; before < s->first[c]; before++)
                if (fabs(LENGTH_MM[s->length[o]] - LENGTH_MM[s->length[before]]) >
                    s->p.step_most_mm)
                    term(&r, before, 1.0);
            add_row(programme, &r, GLP_UP, 1.0); /* neighbours that differ too much */
        }
}

/* The least cost; INFINITY where there is no choice. */
static double solved_by_glpk(const sample *s) {
    glp_prob *programme = glp_create_prob();
    glp_iocp how;
    glp_set_obj_dir(programme, GLP_MIN);
    glp_add_cols(programme, ALL + LENGTHS);
    for (int j = 1; j <= ALL + LENGTHS; j++) {
        glp_set_col_kind(programme, j, GLP_BV);
        glp_set_obj_coef(programme, j, j <= ALL ? s->cost[j - 1] : 0.0);
    }
    add_rows(programme, s);
    glp_init_iocp(&how);
    how.presolve = GLP_ON;
    how.msg_lev = GLP_MSG_OFF;
    const int failed = glp_intopt(programme, &how);
    const bool optimal = failed == 0 && glp_mip_status(programme) == GLP_OPT;
    const double cost = optimal ? glp_mip_obj_val(programme) : INFINITY;
    glp_delete_prob(programme);
    return cost;
}

CLAIM(an_integer_programme_costs_as_much) {
    gsl_rng *rng = tcr_make_rng(31);
    size_t solved = 0;
    glp_term_out(GLP_OFF);
    for (int i = 0; i < 60; i++) {
        static sample s;
        size_t choice[CELLS];
        double total = INFINITY;
        draw(rng, &s);
        const tcr_status status = tcr_assign_solve(&s.p, s.cost, choice, &total, NULL);
        given("problem %d: %s", i, tcr_status_text(status));
        const double theirs = solved_by_glpk(&s);
        /* Source: GLPK's branch and cut. */
        if (theirs < INFINITY)
            expect_near(total, theirs, 1e-7 * (1.0 + theirs), "GLPK's tolerance of an integer");
        else
            expect_status(status, TCR_E_NO_SOLUTION);
        solved += status == TCR_OK;
    }
    expect_true(solved > 30);
    glp_free_env();
    gsl_rng_free(rng);
}

int main(void) {
    static const TTest *const claims[] = {&an_integer_programme_costs_as_much};
    return RUN_CLAIMS("peer", claims);
}
