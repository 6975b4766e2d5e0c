/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Mean lashes, put together by the same calls that any host has. */
#include "draw/mean.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <tipcrest/mean.h>
#include <tipcrest/tips.h>

static const double lowest_mm = -2.0, highest_mm = 8.0; /* a root: lash.h */

static tcr_status add_eye(const tcr_set *from, tcr_side side, tcr_set *to) {
    size_t zones;
    const tcr_zone *map = tcr_set_map(from, side, &zones);
    const tcr_status status = tcr_set_add_eye(to, side, tcr_set_lid(from, side));
    return status == TCR_OK ? tcr_set_put_map(to, side, map, zones) : status;
}

static tcr_lash mean_lash(const tcr_mean_lash *mean, const tcr_layer_heights *heights, double u,
                          int layer) {
    tcr_lash lash = tcr_mean_lash_at(mean, u);
    lash.layer = (tcr_layer)layer;
    lash.height_mm += heights->height_mm[layer] - heights->height_mm[TCR_BOTTOM];
    lash.height_mm = fmin(fmax(lash.height_mm, lowest_mm), highest_mm);
    return lash;
}

/* Adds a lash; one that the tray has no length for is added anew as bare by a rebuild. */
static tcr_status add_lashes(const tcr_set *from, tcr_side side, const tcr_layer_heights *heights,
                             const double (*u)[TCR_LAYERS], size_t n, const tcr_set *asked,
                             tcr_set *to) {
    tcr_mean_lash mean;
    (void)tcr_mean_lash_of(from, side, &mean); /* the eye is there */
    for (size_t i = 0, added = 0; i < n * TCR_LAYERS; i++) {
        const size_t layer = i % TCR_LAYERS;
        if (isnan(u[i / TCR_LAYERS][layer]))
            continue;
        const tcr_lash lash = mean_lash(&mean, heights, u[i / TCR_LAYERS][layer], (int)layer);
        const tcr_wish bare = {.fixed = TCR_FIX_BARE};
        tcr_choice choice;
        const bool lacks =
            asked != NULL && tcr_set_choice(asked, side, added, &choice) == TCR_E_TRAY;
        char id[32];
        snprintf(id, sizeof id, "%zu", added++);
        const tcr_status status = tcr_set_add_lash(to, side, id, &lash, lacks ? &bare : NULL);
        if (status != TCR_OK)
            return status;
    }
    return TCR_OK;
}

/* asked: a set made without it, which knows what the tray lacks; or NULL. */
static tcr_status build(const tcr_set *from, tcr_side side, const tcr_layer_heights *heights,
                        const double (*u)[TCR_LAYERS], size_t n, const tcr_set *asked,
                        tcr_set **set) {
    tcr_set *made = NULL;
    tcr_status status = tcr_set_new_like(NULL, from, &made);
    if (status == TCR_OK)
        status = add_eye(from, side, made);
    if (status == TCR_OK)
        status = add_lashes(from, side, heights, u, n, asked, made);
    if (status == TCR_OK)
        *set = made;
    else
        tcr_set_free(made);
    return status;
}

tcr_layer_heights tcr_mean_heights(const tcr_picture *picture, tcr_side side) {
    const tcr_picture_options *o = &picture->options;
    tcr_layer_heights heights;
    (void)tcr_layer_heights_of(picture->set, side, &heights); /* the eye is there */
    return o->has_apart ? tcr_layer_heights_apart(&heights, o->apart_mm) : heights;
}

tcr_status tcr_mean_set(const tcr_set *from, tcr_side side, const tcr_layer_heights *heights,
                        const double (*u)[TCR_LAYERS], size_t n, tcr_set **set) {
    tcr_set *first = NULL;
    tcr_status status = build(from, side, heights, u, n, NULL, &first);
    if (status == TCR_OK)
        status = build(from, side, heights, u, n, first, set);
    tcr_set_free(first);
    return status;
}

static double where_roots_are(double u) { return fmin(fmax(u, TCR_ROOTS_FROM), TCR_ROOTS_TO); }

tcr_status tcr_mean_map(const tcr_set *from, tcr_side side, const tcr_bare_layers *bare,
                        tcr_set **set) {
    enum { PLACES = 18 }; /* as many lashes a layer as keep apart on a sheet */
    double u[TCR_ZONES_MAX + PLACES][TCR_LAYERS]; /* at most one more a zone than its share */
    size_t zones, n = 0;
    const tcr_zone *map = tcr_set_map(from, side, &zones);
    tcr_layer_heights heights;
    (void)tcr_layer_heights_of(from, side, &heights); /* the eye is there */
    for (size_t k = 0; k < zones; k++) {
        const double start = where_roots_are(k > 0 ? map[k - 1].to : 0);
        const double width = where_roots_are(map[k].to) - start;
        const size_t places = (size_t)fmax(1, round(PLACES * width));
        for (size_t i = 0; i < places; i++, n++)
            for (size_t layer = 0; layer < TCR_LAYERS; layer++)
                u[n][layer] = bare->of[k][layer]
                                  ? NAN
                                  : start + width * ((double)(TCR_LAYERS * i + layer) + 0.5) /
                                                (double)(TCR_LAYERS * places);
    }
    return tcr_mean_set(from, side, &heights, u, n, set);
}

tcr_status tcr_mean_seen(const tcr_set *set, tcr_side side, double u, const tcr_view *view,
                         tcr_vec2 *root, tcr_vec2 *tip) {
    tcr_mean_lash mean;
    tcr_status status = tcr_mean_lash_of(set, side, &mean);
    if (status != TCR_OK)
        return status;
    const tcr_lash lash = tcr_mean_lash_at(&mean, u);
    const tcr_extension ext = tcr_set_intended_extension(set, side, u);
    const tcr_lid *lid = tcr_set_lid(set, side);
    tcr_stance stance;
    tcr_vec3 at;
    status = tcr_tip(lid, view->opening, &lash, &ext, tcr_set_bond(set), &at);
    if (status == TCR_OK)
        status = tcr_lash_stance(&lash, lid, view->opening, &stance);
    if (status != TCR_OK)
        return status;
    *root = tcr_view_project(view, stance.root);
    *tip = tcr_view_project(view, at);
    return TCR_OK;
}
