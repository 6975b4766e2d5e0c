/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Even cover. For a largest gap g the fewest lashes are found by going from the first to the last
 * one that lies within g, again and again; more lashes never widen a gap, so the least g is found
 * by halving, over doubles as such, and is exact.
 *
 * A choice is then a path of so many links from the first lash to the last, none longer than g.
 * Weak lashes and squared gaps, in this order, cost what a link costs; as the square is convex,
 * crossing links cost no more than nested ones (the Monge inequality), whence
 * - the best predecessor of a lash moves on with it, and a layer of the dynamic programme, all
 * paths of k links, takes n log n by halving;
 * - the least cost is convex in the number of links, so that a price on links finds it (Aggarwal,
 *   Schieber & Tokuyama 1994, "Finding a minimum-weight k-link path in graphs with the concave
 * Monge property", 10.1007/BF02574380). Weak lashes alone are counted, so prices are whole numbers.
 * This takes n log n time and memory for n, and serves where the layers would take too much.
 */
#include "plan/cover.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "num/memory.h"

typedef struct problem {
    const double *place;
    const bool *weak; /* or NULL */
    size_t n;
    size_t links; /* of the path, one less than lashes wanted */
    double gap;   /* the longest link */
} problem;

static size_t weak_at(const problem *p, size_t i) { return p->weak != NULL && p->weak[i]; }

/* ---- The least largest gap ----------------------------------------------------------------------
 */

/* The last lash that a link from a lash reaches. */
static size_t reach(const problem *p, size_t from, double gap) {
    size_t to = from;
    while (to + 1 < p->n && p->place[to + 1] - p->place[from] <= gap)
        to++;
    return to;
}

static bool links_suffice(const problem *p, double gap) {
    size_t at = 0;
    for (size_t k = 0; k < p->links && at + 1 < p->n; k++)
        at = reach(p, at, gap);
    return at + 1 == p->n;
}

static double least_gap(const problem *p) {
    /* Doubles that are not negative are in the order of their bits. */
    double gap = fabs(p->place[p->n - 1] - p->place[0]);
    uint64_t low = 0, high;
    memcpy(&high, &gap, sizeof gap);
    while (low < high) {
        const uint64_t middle = low + (high - low) / 2;
        memcpy(&gap, &middle, sizeof gap);
        if (links_suffice(p, gap))
            high = middle;
        else
            low = middle + 1;
    }
    memcpy(&gap, &high, sizeof gap);
    return gap;
}

/* ---- Layer by layer: weak lashes, then squares --------------------------------------------------
 */

typedef struct cost {
    size_t weak;
    double squares; /* of gaps as shares of the line */
} cost;

/* Paths of k links end at the lashes from low[k] to high[k], if they are to go on to the end. */
typedef struct layers {
    const problem *p;
    size_t width; /* lashes of a layer, at most */
    double line;
    size_t *low, *high; /* links + 1 */
    cost *before, *now; /* width each, from low[k] on */
    uint32_t *from;     /* links x width: the lash before */
} layers;

static void bound_layers(const layers *l) {
    const problem *p = l->p;
    size_t at = 0;
    for (size_t k = 0; k <= p->links; k++) {
        const size_t room = p->n - 1 - (p->links - k);
        l->high[k] = at < room ? at : room;
        at = reach(p, at, p->gap);
    }
    at = p->n - 1;
    for (size_t k = p->links + 1; k-- > 0;) {
        l->low[k] = at > k ? at : k;
        const size_t to = at;
        while (at > 0 && p->place[to] - p->place[at - 1] <= p->gap)
            at--;
    }
}

/* The best way to reach lash j by k links, its last but one between first and last. */
static size_t best_before(const layers *l, size_t k, size_t j, size_t first, size_t last) {
    const problem *p = l->p;
    const size_t low = first > l->low[k - 1] ? first : l->low[k - 1];
    size_t i = last < l->high[k - 1] ? last : l->high[k - 1], best = SIZE_MAX;
    i = i < j ? i : j - 1;
    cost least = {0, 0.0};
    for (;; i--) {
        if (best != SIZE_MAX && !(p->place[j] - p->place[i] <= p->gap))
            break;
        const double share = l->line > 0.0 ? (p->place[j] - p->place[i]) / l->line : 0.0;
        cost c = l->before[i - l->low[k - 1]];
        c.weak += weak_at(p, j);
        c.squares += share * share;
        if (best == SIZE_MAX || c.weak < least.weak ||
            (c.weak == least.weak && c.squares < least.squares)) {
            best = i;
            least = c;
        }
        if (i == low)
            break;
    }
    l->now[j - l->low[k]] = least;
    l->from[(k - 1) * l->width + (j - l->low[k])] = (uint32_t)best;
    return best;
}

/* Lashes j_first to j_last of layer k: the middle one first, it bounds the others. As deep as
 * log2 of the layer's width. */
static void fill_layer(const layers *l, size_t k, size_t j_first, size_t j_last, size_t first,
                       size_t last) {
    const size_t middle = j_first + (j_last - j_first) / 2;
    const size_t best = best_before(l, k, middle, first, last);
    if (middle > j_first)
        fill_layer(l, k, j_first, middle - 1, first, best);
    if (middle < j_last)
        fill_layer(l, k, middle + 1, j_last, best, last);
}

static void run_layers(layers *l, bool *use) {
    const problem *p = l->p;
    bound_layers(l);
    l->now[0] = (cost){weak_at(p, 0), 0.0};
    for (size_t k = 1; k <= p->links; k++) {
        cost *swap = l->before;
        l->before = l->now;
        l->now = swap;
        fill_layer(l, k, l->low[k], l->high[k], 0, p->n - 1);
    }
    memset(use, 0, p->n * sizeof *use);
    size_t j = p->n - 1;
    for (size_t k = p->links; k > 0; k--) {
        use[j] = true;
        j = l->from[(k - 1) * l->width + (j - l->low[k])];
    }
    use[j] = true;
}

static tcr_status choose_by_layers(const problem *p, const tcr_allocator *a, bool *use) {
    layers l = {.p = p, .width = p->n - p->links, .line = p->place[p->n - 1] - p->place[0]};
    size_t *bounds = tcr_resize(a, NULL, p->links + 1, 2 * sizeof *bounds);
    cost *costs = tcr_resize(a, NULL, l.width, 2 * sizeof *costs);
    l.from = tcr_resize(a, NULL, p->links * l.width, sizeof *l.from);
    const bool enough = bounds != NULL && costs != NULL && l.from != NULL;
    if (enough) {
        l.low = bounds;
        l.high = bounds + p->links + 1;
        l.before = costs;
        l.now = costs + l.width;
        run_layers(&l, use);
    }
    tcr_release(a, bounds);
    tcr_release(a, costs);
    tcr_release(a, l.from);
    return enough ? TCR_OK : TCR_E_MEMORY;
}

/* ---- A price on links: weak lashes alone --------------------------------------------------------
 */

typedef struct priced {
    const problem *p;
    int64_t *total;         /* n: least cost of a path to each lash */
    uint32_t *from, *queue; /* n each */
    uint32_t *few, *many;   /* n each: lashes of the paths of fewest and of most links */
    size_t few_links, many_links;
} priced;

/*
 * The path of least weak lashes + price x links, of equal ones that of the fewest links, or of the
 * most. Both in one number: UNIT is more than links there can be, and n squared times it fits.
 * The least total within reach is the front of a queue that rises. Returns the links.
 */
static size_t cheapest(const priced *w, int64_t price, bool fewest, uint32_t *path) {
    enum { UNIT = 1 << 20 };
    const problem *p = w->p;
    const int64_t link = price * UNIT + (fewest ? 1 : -1);
    size_t front = 0, back = 0;
    w->total[0] = 0;
    for (size_t j = 1; j < p->n; j++) {
        while (back > front && w->total[w->queue[back - 1]] >= w->total[j - 1])
            back--;
        w->queue[back++] = (uint32_t)(j - 1);
        while (!(p->place[j] - p->place[w->queue[front]] <= p->gap))
            front++;
        w->from[j] = w->queue[front];
        w->total[j] = w->total[w->from[j]] + link + (weak_at(p, j) ? UNIT : 0);
    }
    size_t links = 0;
    for (size_t j = p->n - 1; j > 0; j = w->from[j])
        links++;
    size_t k = links;
    for (size_t j = p->n - 1; k > 0; j = w->from[j])
        path[k--] = (uint32_t)j;
    path[0] = 0;
    return links;
}

/*
 * Two cheapest paths, one with too few links, one with too many: the long one's beginning and the
 * short one's end, joined where a link of the long one lies within one of the short one, make a
 * path of the number between, and what is left over makes another; together they cost no more.
 */
static void splice(const priced *w, size_t links, bool *use) {
    const size_t ahead = links - w->few_links;
    size_t i = 0;
    while (i + 1 < w->few_links && w->many[i + ahead + 1] > w->few[i + 1])
        i++;
    for (size_t k = 0; k <= i + ahead; k++)
        use[w->many[k]] = true;
    for (size_t k = i + 1; k <= w->few_links; k++)
        use[w->few[k]] = true;
}

/* Of rising prices, the least at which a path of so few links is among the cheapest. A price of -1
 * makes every lash worth while, and one of n + 1 none that is not needed. */
static void run_priced(priced *w, bool *use) {
    const problem *p = w->p;
    int64_t low = -1, high = (int64_t)p->n + 1;
    while (low < high) {
        const int64_t middle = low + (high - low) / 2;
        if (cheapest(w, middle, true, w->few) <= p->links)
            high = middle;
        else
            low = middle + 1;
    }
    w->few_links = cheapest(w, high, true, w->few);
    w->many_links = cheapest(w, high, false, w->many);
    memset(use, 0, p->n * sizeof *use);
    if (w->many_links == p->links)
        for (size_t k = 0; k <= p->links; k++)
            use[w->many[k]] = true;
    else if (w->few_links == p->links)
        for (size_t k = 0; k <= p->links; k++)
            use[w->few[k]] = true;
    else
        splice(w, p->links, use);
}

static tcr_status choose_by_price(const problem *p, const tcr_allocator *a, bool *use) {
    priced w = {.p = p};
    w.total = tcr_resize(a, NULL, p->n, sizeof *w.total);
    w.from = tcr_resize(a, NULL, p->n, 4 * sizeof *w.from);
    const bool enough = w.total != NULL && w.from != NULL;
    if (enough) {
        w.queue = w.from + p->n;
        w.few = w.queue + p->n;
        w.many = w.few + p->n;
        run_priced(&w, use);
    }
    tcr_release(a, w.total);
    tcr_release(a, w.from);
    return enough ? TCR_OK : TCR_E_MEMORY;
}

/* ---- The call -----------------------------------------------------------------------------------
 */

static void measure(const problem *p, const bool *use, tcr_cover *cover) {
    *cover = (tcr_cover){0};
    size_t last = 0;
    for (size_t i = 0; i < p->n; i++) {
        if (i > 0)
            cover->least_gap_mm = fmax(cover->least_gap_mm, p->place[i] - p->place[i - 1]);
        if (!use[i])
            continue;
        if (cover->used > 0)
            cover->gap_mm = fmax(cover->gap_mm, p->place[i] - p->place[last]);
        last = i;
        cover->used++;
        cover->weak += weak_at(p, i);
    }
}

static tcr_status check_places(const double *place, size_t n) {
    for (size_t i = 0; i < n; i++)
        if (!isfinite(place[i]) || (i > 0 && place[i] < place[i - 1]))
            return TCR_E_RANGE;
    return n > 0 && !isfinite(place[n - 1] - place[0]) ? TCR_E_RANGE : TCR_OK;
}

tcr_status tcr_cover_choose(const double *place_mm, const bool *is_weak, size_t n, size_t wanted,
                            const tcr_allocator *allocator, bool *use, tcr_cover *cover) {
    tcr_allocator a;
    if (cover == NULL || (n > 0 && (place_mm == NULL || use == NULL)) || n > TCR_COVER_MOST)
        return TCR_E_ARGUMENT;
    tcr_status status = tcr_allocator_choose(allocator, &a);
    if (status == TCR_OK)
        status = check_places(place_mm, n);
    if (status != TCR_OK)
        return status;
    wanted = wanted > 2 ? wanted : 2;
    problem p = {.place = place_mm, .weak = is_weak, .n = n, .links = wanted - 1};
    if (wanted >= n) {
        for (size_t i = 0; i < n; i++)
            use[i] = true;
    } else {
        p.gap = least_gap(&p);
        status = n - p.links > TCR_COVER_SQUARES_MOST / wanted ? choose_by_price(&p, &a, use)
                                                               : choose_by_layers(&p, &a, use);
    }
    if (status == TCR_OK)
        measure(&p, use, cover);
    return status;
}
