/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_CHECK_H
#define TCR_CHECK_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/alloc.h>
#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/extension.h>
#include <tipcrest/lash.h>
#include <tipcrest/line.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>
#include <tipcrest/vector.h>
#include <tipcrest/view.h>

/*
 * The main job: a set evaluated. Where every tip stands, the fitted and the intended line, how far
 * the tips stray, which lashes stick out and what to do about them.
 */

typedef enum tcr_against { TCR_FITTED = 0, TCR_INTENDED = 1 } tcr_against;

/*
 * What brings a staggered lash to the line, keeping curl, placement and everything else: a length
 * whose neighbours in the tray come no nearer, few sizes from the present one; where the lash would
 * be staggered there too, the nearest of the whole tray. Without a tray, the length nearest to the
 * present one that puts the tip on the line, or else the one that comes nearest.
 */
typedef struct tcr_remedy {
    double length_mm;    /* of the tray, or any from 3 to 30 where the set has none; the present
                            length where no other does better */
    double deviation_mm; /* what then is left */
    int sizes; /* steps of the tray from the present length, negative shorter; 0 where none does
                  better, and without a tray */
} tcr_remedy;

/* One lash of a checked eye, in the order of the set. NaN where a bare lash has no such number. */
typedef struct tcr_lash_result {
    tcr_status bare; /* TCR_OK: carries an extension; else why not: _BARE, _BARE_BY_ROW or _BOND */
    tcr_choice choice;
    tcr_attachment attachment;
    tcr_stance stance; /* at the opening of the check */
    tcr_vec3 tip;      /* of the extension, or the lash's own where it is bare; eye's frame, mm */
    tcr_vec2 seen;     /* the tip in the view of the check, mm */
    double line_mm, deviation_mm, across_mm; /* from the line chosen by 'against' */
    bool staggered;
    tcr_remedy remedy; /* for staggered lashes */
} tcr_lash_result;

/* How much one unit of an input that was assumed moves a tip, up or down, in the view of the check.
 */
typedef struct tcr_assumption {
    unsigned field;  /* one of the bits TCR_LASH_... */
    size_t count;    /* lashes of the eye for which it was assumed */
    double per_unit; /* mean |dY|, mm per rad or per mm, over the lashes that carry an extension;
                        NaN if none does */
} tcr_assumption;
enum { TCR_ASSUMPTIONS_MAX = 7 };

typedef struct tcr_eye_result {
    tcr_side side;
    size_t lashes;   /* in all */
    size_t extended; /* that carry an extension */
    const tcr_lash_result *lash;
    tcr_status fitted_status; /* TCR_OK, or why there is no fitted line: TCR_E_FEW, TCR_E_ONE_X, or
                                 TCR_E_MISSING where it was not asked for */
    tcr_line fitted_line;
    tcr_evenness fitted;
    tcr_status intended_status; /* TCR_OK, or why there is none: TCR_E_BOND (mean lash too short),
                                   TCR_E_FEW (no tips), TCR_E_MISSING (not asked for) */
    tcr_line intended_line;
    tcr_evenness intended;
    tcr_status view_status[TCR_VIEWS];            /* as fitted_status, of the line in each view */
    double view_offset_mm[TCR_VIEWS][TCR_LAYERS]; /* from the line fitted in that view; NaN for an
                                                     empty layer */
    double largest_gap_mm;                        /* NaN below two tips */
    bool too_few;                                 /* fewer than 12 tips: too few to judge */
    size_t staggered;
    size_t assumptions;
    tcr_assumption assumption[TCR_ASSUMPTIONS_MAX]; /* in the order of the bits */
} tcr_eye_result;

typedef struct tcr_check tcr_check;

/* What a check computes beside where the tips stand. */
enum {
    TCR_PART_FITTED = 1 << 0,      /* the fitted line and its figures; symmetry of two eyes */
    TCR_PART_INTENDED = 1 << 1,    /* the intended line and its figures */
    TCR_PART_VIEWS = 1 << 2,       /* layer offsets with the eye closed; needs the fitted line */
    TCR_PART_REMEDIES = 1 << 3,    /* what to do about staggered lashes */
    TCR_PART_ASSUMPTIONS = 1 << 4, /* what was assumed, and what that moves */
    TCR_PART_ALL = (1 << 5) - 1
};

typedef struct tcr_check_options {
    size_t size;         /* of this struct; set by tcr_check_options_default */
    tcr_against against; /* default fitted; its line is computed even if 'parts' leaves it out */
    bool has_view;       /* use 'view' in place of the set's own */
    tcr_view view;
    unsigned parts;               /* bits TCR_PART_...; default all */
    const tcr_line_options *line; /* of the fitted lines; NULL, the default: the contract's */
    double tolerance_mm;          /* 0.05 to 5; NaN, the default: the set's */
} tcr_check_options;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_check_options_init(tcr_check_options *options, size_t size);
static inline tcr_check_options tcr_check_options_default(void) {
    tcr_check_options options;
    tcr_check_options_init(&options, sizeof options);
    return options;
}

/*
 * Evaluates a set. options and error may be NULL. The set is only read and must outlive the check.
 * TCR_E_MISSING (no eye, or an eye without a lash), TCR_E_MAP (an eye without a map), TCR_E_TRAY,
 * TCR_E_BOND (a lash whose own entry asks for an extension that cannot be bonded), TCR_E_DUPLICATE,
 * TCR_E_MEMORY. The error names the eye, and the lash where it is one lash's fault; for TCR_E_TRAY
 * its value is the length that the rule gives. A line that cannot be had is no failure: its status
 * says why, and all other parts are there. *check is the caller's to free. Uses the set's
 * allocator.
 */
TCR_API tcr_status tcr_check_new(const tcr_set *set, const tcr_check_options *options,
                                 tcr_check **check, tcr_error *error);
/*
 * The same check run again on the same set, changed, or on another one, in the memory that it has:
 * the results are those of a new check to the last bit. An intended line whose inputs are equal is
 * kept. Earlier results are overwritten; after a failure the check has no eyes until it succeeds
 * again. Where the two sets differ in their allocators, the check keeps its own. TCR_E_ARGUMENT for
 * NULL, which leaves the check as it was.
 */
TCR_API tcr_status tcr_check_again(tcr_check *check, const tcr_set *set,
                                   const tcr_check_options *options, tcr_error *error);
TCR_API void tcr_check_free(tcr_check *check);

TCR_API const tcr_set *tcr_check_set(const tcr_check *check);
TCR_API tcr_view tcr_check_view(const tcr_check *check);
TCR_API tcr_against tcr_check_against(const tcr_check *check);
TCR_API unsigned tcr_check_parts(const tcr_check *check); /* bits TCR_PART_...: what was computed */
TCR_API double tcr_check_tolerance(const tcr_check *check); /* mm */
/* The result of one eye, or NULL if the set lacks it. Valid until the check is freed. */
TCR_API const tcr_eye_result *tcr_check_eye(const tcr_check *check, tcr_side side);
/* TCR_OK with the symmetry of two eyes, or TCR_E_MISSING (one eye), TCR_E_FEW (a line is missing),
 * TCR_E_COMMON. */
TCR_API tcr_status tcr_check_symmetry(const tcr_check *check, tcr_symmetry *symmetry);

/*
 * How far the tips of all eyes of a check lie off lines, for example a plan's, in the view of the
 * check: root mean square, mm. line: by side; that of an eye that is not there is not read. moved:
 * the lines are first moved and tilted alike to suit the tips, by the straight line of least
 * squares through their distances. tips receives how many tips there are, and may be NULL. NaN
 * where there are none, or for NULL.
 */
TCR_API double tcr_check_rms_off(const tcr_check *check, const tcr_line line[TCR_SIDES], bool moved,
                                 size_t *tips);

/*
 * The intended line of an eye in a view (model.md, section 7), as checks and plans have it.
 * TCR_E_MISSING (eye), TCR_E_MAP, TCR_E_BOND (the mean lash cannot bond), or as tcr_line_fit.
 */
TCR_API tcr_status tcr_intended_line(const tcr_set *set, tcr_side side, const tcr_view *view,
                                     tcr_line *line);

#endif
