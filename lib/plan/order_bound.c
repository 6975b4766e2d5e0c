/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What no working order can do. Any last + 1 lashes that follow each other lie apart. Lashes that
 * are neighbours in x are put into groups in which all are near each other; of a such groups at
 * most a lashes lie apart, so that of n places at most a floor(n / (last + 1)) + min(a, n mod (last
 * + 1)) are for them. One group, a crowd, is the simplest case.
 */
#include "plan/order_data.h"

/* For each of m lashes of one eye, by x: how many from it on, at least one, are all near each
 * other.
 */
static void find_groups(const tcr_order_problem *p, const uint16_t *line, size_t m,
                        uint16_t *length) {
    size_t end = 0;
    for (size_t i = 0; i < m; i++) {
        end = end > i ? end : i + 1;
        for (bool joins = true; joins && end < m; end += joins)
            for (size_t k = i; joins && k < end; k++)
                joins = tcr_order_near(p, line[k], line[end]);
        length[i] = (uint16_t)(end - i);
    }
}

/* The most lashes that the given number of groups, one behind the other, hold; 0 if no lash
 * starts that many groups. */
static size_t most_in_groups(const uint16_t *length, size_t m, size_t groups, uint16_t *end) {
    size_t most = 0;
    for (size_t i = 0; i < m; i++) { /* end[i]: of one group less, from i on */
        const size_t from = groups == 1 ? i : end[i];
        if (from >= m)
            continue;
        end[i] = (uint16_t)(from + length[from]);
        most = end[i] - i > most ? end[i] - i : most;
    }
    return most;
}

static size_t groups_of_all(const uint16_t *length, size_t m) {
    size_t groups = 0;
    for (size_t i = 0; i < m; i += length[i])
        groups++;
    return groups;
}

static size_t places_for(const tcr_order_problem *p, size_t groups) {
    const size_t left = p->n % (p->last + 1);
    return groups * (p->n / (p->last + 1)) + (groups < left ? groups : left);
}

/* Takes an eye's groups into the order's figures. */
static void bound_eye(const tcr_order_problem *p, const uint16_t *line, size_t m,
                      tcr_order *order) {
    uint16_t *length = p->scratch, *end = p->scratch + p->n;
    find_groups(p, line, m, length);
    for (size_t groups = 1; groups == 1 || groups <= p->last; groups++) {
        const size_t held = most_in_groups(length, m, groups, end);
        if (groups == 1 && held > order->crowd)
            order->crowd = held;
        if (held > places_for(p, groups) && order->none == TCR_ORDER_NO_PROOF)
            order->none = groups == 1 ? TCR_ORDER_CROWDED : TCR_ORDER_CLOSE;
        if (held == 0)
            break;
    }
    order->apart += groups_of_all(length, m);
}

/* How often a row must be taken up; not at all where it has no lash. */
static size_t takings(const tcr_order_problem *p, size_t row) {
    uint16_t *own = p->scratch, *length = p->scratch + p->n;
    size_t lashes = 0, apart = 0;
    for (int eye = 0; eye < 2; eye++) {
        size_t m = 0;
        for (size_t i = eye == 0 ? 0 : p->second_eye; i < (eye == 0 ? p->second_eye : p->n); i++)
            if (p->row[p->line[i]] == row)
                own[m++] = p->line[i];
        find_groups(p, own, m, length);
        lashes += m;
        apart += groups_of_all(length, m);
    }
    if (apart == 0)
        return 0;
    return apart <= p->last ? (lashes + apart - 1) / apart : 1;
}

void tcr_order_bound(const tcr_order_problem *p, tcr_order *order) {
    *order = (tcr_order){.crowd = p->n > 0};
    bound_eye(p, p->line, p->second_eye, order);
    bound_eye(p, p->line + p->second_eye, p->n - p->second_eye, order);
    order->crowd_needs = order->crowd > 0 ? (order->crowd - 1) * (p->last + 1) + 1 : 0;
    if (order->none == TCR_ORDER_NO_PROOF && order->apart <= p->last &&
        p->n > places_for(p, order->apart))
        order->none = TCR_ORDER_CLOSE;
    for (size_t row = 0; row < p->rows; row++)
        order->least_changes += takings(p, row);
    order->least_changes -= p->rows > 0;
}
