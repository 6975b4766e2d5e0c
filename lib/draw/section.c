/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An eye cut through at one place of the lid. */
#include "draw/section.h"

#include <math.h>

#include "draw/eye.h"
#include "draw/hair.h"
#include "draw/sheet.h"
#include "num/range.h"

static const double lid_mm = 1.5;    /* thickness of the lids, drawn: 1.8 mm at most published */
static const double cornea_mm = 7.8; /* radius, drawn */
static const double apex_mm = 0.2;   /* the cornea ends so far inside the lid's circle, drawn */
static const double pupil_mm = 1.9;  /* radius, drawn, as in eye.c */

tcr_vec2 tcr_section_circle(const tcr_section *section, double radius_mm, double angle_rad) {
    const tcr_vec2 p = {radius_mm * cos(angle_rad), radius_mm * sin(angle_rad)};
    return tcr_viewport_seen(&section->viewport, p);
}

/* A lid and lashes of a set are valid, and so are u and the opening of a picture. */
static double angle_at(const tcr_lid *lid, double u, double opening, tcr_vec3 *point) {
    (void)tcr_lid_margin(lid, u, opening, point);
    return atan2(point->y, point->z);
}

/* Where the lid's edge and the mean lashes are. */
static void pose(tcr_section *section, double opening) {
    const tcr_set *set = tcr_check_set(section->mean);
    const tcr_lid *lid = tcr_set_lid(set, section->side);
    const tcr_eye_result *eye = tcr_check_eye(section->mean, section->side);
    tcr_vec3 point = {0, 0, 0};
    section->closed_rad = angle_at(lid, section->u, 0, &point);
    section->open_rad = angle_at(lid, section->u, 1, &point);
    section->margin_rad = angle_at(lid, section->u, opening, &point);
    section->x_mm = point.x;
    section->radius_mm = hypot(point.y, point.z);
    for (size_t i = 0; i < TCR_LAYERS; i++) {
        const tcr_lash *lash = tcr_set_lash(set, section->side, i);
        (void)tcr_lash_stance(lash, lid, opening, &section->stance[i]);
        const tcr_profile profile = tcr_lash_profile(lash);
        const tcr_arc_point own = tcr_profile_at(&profile, lash->length_mm, lash->length_mm);
        const bool bare = eye->lash[i].status != TCR_OK;
        const tcr_vec3 tip = bare ? (tcr_vec3){own.x, own.y, 0} : eye->lash[i].attachment.tip;
        section->tip[i] = tcr_stance_point(&section->stance[i], tip);
    }
}

void tcr_section_of(const tcr_check *mean, tcr_side side, double u, const tcr_view *view,
                    tcr_box panel, double right, tcr_section *section) {
    *section = (tcr_section){
        .mean = mean, .side = side, .u = u, .panel = panel, .layers = TCR_EVERY_LAYER};
    pose(section, view->opening);
    section->viewport = (tcr_viewport){*view, 1, 1, {0, 0}, true};
    /* The front half of the globe, both lids, all hairs. */
    tcr_vec2 low = {-2, fmin(-8, section->radius_mm * sin(section->closed_rad) - 3)};
    tcr_vec2 high = {section->radius_mm + 1, section->radius_mm * sin(section->open_rad) + 6};
    tcr_hairs_extent(mean, side, &section->viewport, &low, &high);
    low.y -= 1.5;
    high = (tcr_vec2){high.x + 1, high.y + 2};
    const double width = panel.width - right;
    const double scale = fmin(width / (high.x - low.x), panel.height / (high.y - low.y));
    section->viewport.scale = scale;
    /* To the right, so that what room is left shows more of the globe. */
    section->viewport.origin =
        (tcr_vec2){panel.x + width - scale * high.x,
                   panel.y + panel.height / 2 + scale * (low.y + high.y) / 2};
}

/* ---- Globe and lids ---------------------------------------------------------------- */

/* An arc of a circle about the globe's middle, angles from +z up. */
static void arc(tcr_canvas *canvas, const tcr_section *section, double radius_mm, double from,
                double to) {
    const tcr_vec2 o = section->viewport.origin;
    const double r = radius_mm * section->viewport.scale;
    if (to > from)
        cairo_arc_negative(canvas->cr, o.x, o.y, r, -from, -to);
    else
        cairo_arc(canvas->cr, o.x, o.y, r, -from, -to);
}

/* Half the height at x of a ball of a radius about the eye's axis; 0 beside it. */
static double half_at(double radius, double x) { return sqrt(fmax(0, radius * radius - x * x)); }

static double globe_radius(const tcr_section *section) {
    return tcr_set_lid(tcr_check_set(section->mean), section->side)->globe_radius_mm;
}

/* The iris as far as it is cut, from its rim to the pupil. */
static void iris(tcr_canvas *canvas, const tcr_section *section, double plane, double rim) {
    cairo_t *cr = canvas->cr;
    const double pupil = half_at(pupil_mm, section->x_mm);
    for (int way = -1; way <= 1; way += 2) {
        const tcr_vec2 a = tcr_viewport_seen(&section->viewport, (tcr_vec2){plane, way * rim});
        const tcr_vec2 b = tcr_viewport_seen(&section->viewport, (tcr_vec2){plane, way * pupil});
        cairo_move_to(cr, a.x, a.y);
        cairo_line_to(cr, b.x, b.y);
    }
    tcr_canvas_colour(canvas, canvas->style->iris_outer);
    cairo_set_line_width(cr, 0.3 * section->viewport.scale);
    cairo_stroke(cr);
}

/* The water behind the cornea and, behind the iris, the lens: sizes only drawn. */
static void clear_parts(tcr_canvas *canvas, const tcr_section *section, double plane, double rim,
                        tcr_vec2 dome_middle, double dome) {
    const double s = section->viewport.scale, angle = asin(rim / dome);
    const double half = 0.78 * rim, thick = 0.42 * half;
    const tcr_vec2 at = tcr_viewport_seen(&section->viewport, (tcr_vec2){plane - thick - 0.2, 0});
    cairo_t *cr = canvas->cr;
    cairo_new_path(cr);
    cairo_arc(cr, dome_middle.x, dome_middle.y, dome * s, -angle, angle);
    cairo_close_path(cr);
    cairo_save(cr);
    cairo_translate(cr, at.x, at.y);
    cairo_scale(cr, thick * s, half * s);
    cairo_new_sub_path(cr);
    cairo_arc(cr, 0, 0, 1, 0, 2 * TCR_PI);
    cairo_restore(cr);
    tcr_canvas_colour(canvas, canvas->style->clear);
    cairo_fill_preserve(cr);
    tcr_canvas_colour(canvas, canvas->style->sclera_edge);
    cairo_set_line_width(cr, 0.25);
    cairo_stroke(cr);
}

/* White of the eye, and before the iris the cornea: a ball about the axis, cut where the lid is. */
static void globe(tcr_canvas *canvas, const tcr_section *section) {
    cairo_t *cr = canvas->cr;
    const tcr_style *style = canvas->style;
    const double s = section->viewport.scale, ball = section->radius_mm - lid_mm;
    const double rim = half_at(TCR_IRIS_DIAMETER_MM / 2, section->x_mm);
    const double dome = half_at(cornea_mm, section->x_mm);
    const bool clear = rim > 0.5 && dome > rim && ball > rim;
    const double limbus = clear ? asin(rim / ball) : 0;
    const double middle = globe_radius(section) - apex_mm - cornea_mm;
    const tcr_vec2 front = tcr_viewport_seen(&section->viewport, (tcr_vec2){middle, 0});
    cairo_new_path(cr);
    arc(canvas, section, ball, limbus, 2 * TCR_PI - limbus);
    if (clear) {
        cairo_arc_negative(cr, front.x, front.y, dome * s, asin(rim / dome), -asin(rim / dome));
    }
    cairo_close_path(cr);
    tcr_canvas_colour(canvas, style->sclera);
    cairo_fill_preserve(cr);
    tcr_canvas_colour(canvas, style->sclera_edge);
    cairo_set_line_width(cr, 0.5);
    cairo_stroke(cr);
    if (clear) {
        clear_parts(canvas, section, half_at(ball, rim), rim, front, dome);
        iris(canvas, section, half_at(ball, rim), rim);
    }
}

/* Adds the skin of a lid from its edge to the fold, and on to the panel's border as brow or cheek.
 */
static void skin_of_lid(tcr_canvas *canvas, const tcr_section *section, double edge, double fold,
                        double bulge_mm) {
    const tcr_box p = section->panel;
    const double border = fold > edge ? p.y - 2 : p.y + p.height + 2;
    const tcr_vec2 out = tcr_section_circle(section, section->radius_mm, fold);
    const double bulge = bulge_mm * section->viewport.scale, down = (border - out.y) / 3;
    arc(canvas, section, section->radius_mm, edge, fold);
    cairo_curve_to(canvas->cr, out.x + bulge, out.y + 0.4 * down, out.x + 0.8 * bulge,
                   out.y + 2 * down, out.x + bulge, border);
}

/* All flesh: from the lids' skin back to the panel's border; the globe then lies on it. */
static void lids(tcr_canvas *canvas, const tcr_section *section) {
    cairo_t *cr = canvas->cr;
    const tcr_style *style = canvas->style;
    const tcr_box p = section->panel;
    const double r = section->radius_mm, opening = section->viewport.view.opening;
    const double fold = 9.5 + opening * (4.3 - 9.5); /* from edge to fold, as in viewport.c */
    const double upper = section->margin_rad, lower = section->closed_rad;
    for (int ink = 0; ink < 2; ink++) {
        cairo_new_path(cr);
        const tcr_vec2 inner = tcr_section_circle(section, r - lid_mm, upper);
        cairo_move_to(cr, inner.x, inner.y);
        skin_of_lid(canvas, section, upper, upper + fold / r, 2.6);
        if (ink == 0) {
            cairo_line_to(cr, p.x - 2, p.y - 2);
            cairo_line_to(cr, p.x - 2, p.y + p.height + 2);
            cairo_line_to(cr, p.x + 2, p.y + p.height + 2);
            cairo_line_to(cr, inner.x, inner.y);
            tcr_canvas_colour(canvas, style->flesh);
            cairo_fill(cr);
        }
        const tcr_vec2 below = tcr_section_circle(section, r - lid_mm, lower);
        cairo_move_to(cr, below.x, below.y);
        skin_of_lid(canvas, section, lower, lower - 5.0 / r, 1.6);
        if (ink == 0) {
            cairo_line_to(cr, p.x - 2, p.y + p.height + 2);
            cairo_line_to(cr, p.x - 2, section->viewport.origin.y);
            tcr_canvas_colour(canvas, style->flesh);
            cairo_fill(cr);
        }
    }
    tcr_canvas_colour(canvas, tcr_rgba_faded(style->crease, 0.55));
    cairo_set_line_width(cr, 0.3);
    cairo_stroke(cr);
}

/* ---- Lashes ------------------------------------------------------------------------ */

tcr_vec2 tcr_section_bond(const tcr_section *section, tcr_layer layer, double share) {
    const tcr_set *set = tcr_check_set(section->mean);
    const tcr_lash *lash = tcr_set_lash(set, section->side, (size_t)layer);
    const tcr_lash_result *result = &tcr_check_eye(section->mean, section->side)->lash[layer];
    const tcr_extension ext = tcr_set_extension(set, &result->choice);
    const tcr_profile profile = tcr_lash_profile(lash);
    const double along = share * result->attachment.bond_mm;
    const tcr_arc_point own =
        tcr_profile_at(&profile, lash->length_mm, tcr_set_bond(set)->offset_mm + along);
    const tcr_vec3 on = tcr_attachment_fibre(&result->attachment, &ext, 0, along);
    const tcr_vec3 middle = {(own.x + on.x) / 2, (own.y + on.y) / 2, on.z / 2};
    return tcr_viewport_point(&section->viewport,
                              tcr_stance_point(&section->stance[layer], middle));
}

/* The glue about lash and extension. */
static void bond(tcr_canvas *canvas, const tcr_section *section, tcr_layer layer) {
    enum { POINTS = 13 };
    const tcr_set *set = tcr_check_set(section->mean);
    const tcr_lash *lash = tcr_set_lash(set, section->side, (size_t)layer);
    const tcr_lash_result *result = &tcr_check_eye(section->mean, section->side)->lash[layer];
    cairo_t *cr = canvas->cr;
    cairo_new_path(cr);
    for (int i = 0; i < POINTS; i++) {
        const tcr_vec2 p = tcr_section_bond(section, layer, (double)i / (POINTS - 1));
        cairo_line_to(cr, p.x, p.y);
    }
    const double across = result->attachment.clearance_mm + lash->root_diameter_mm +
                          result->choice.diameter_mm + 0.12;
    cairo_save(cr);
    cairo_set_line_width(cr, across * section->viewport.scale);
    cairo_set_line_cap(cr, CAIRO_LINE_CAP_ROUND);
    cairo_set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
    tcr_canvas_colour(canvas, canvas->style->glue);
    cairo_stroke(cr);
    cairo_restore(cr);
}

tcr_status tcr_section_draw(tcr_canvas *canvas, const tcr_section *section) {
    const tcr_eye_result *eye = tcr_check_eye(section->mean, section->side);
    const tcr_hair_choice hairs = {.layers = section->layers};
    size_t every = 1;
    tcr_sheet_paper(canvas, section->panel);
    cairo_save(canvas->cr);
    cairo_new_path(canvas->cr);
    tcr_canvas_rounded(canvas, section->panel, TCR_CORNER);
    cairo_clip(canvas->cr);
    lids(canvas, section);
    globe(canvas, section);
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        if (eye->lash[layer].status == TCR_OK && section->layers >> layer & 1u)
            bond(canvas, section, (tcr_layer)layer);
    const tcr_status status =
        tcr_hairs_draw(canvas, section->mean, section->side, &section->viewport, &hairs, &every);
    cairo_restore(canvas->cr);
    return status;
}
