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
#include <tipcrest/verdict.h>
#include <tipcrest/view.h>

/*
 * A check: the evaluation of a set. It finds every tip, the fitted and the intended line, the
 * deviations of the tips, and for each staggered lash a remedy.
 */

/* The line from which deviations are measured. */
typedef enum tcr_against { TCR_FITTED = 0, TCR_INTENDED = 1 } tcr_against;

/* A verdict in words for people, by the line that tips are measured from: "mostly even" of the
 * fitted one, "mostly as mapped" of the intended one. "unknown" for other values. Static storage.
 */
TCR_API const char *tcr_verdict_words(tcr_verdict verdict, tcr_against against);

/*
 * A better length for a staggered lash; curl, placement and all else stay. With a tray: a length
 * that no neighbouring size beats, few sizes from the present one; if the lash would still be
 * staggered, the best of the whole tray. Without a tray: the length nearest to the present one that
 * puts the tip on the line, or else the one that brings it closest.
 */
typedef struct tcr_remedy {
    double length_mm;    /* of the tray, or any from 3 to 30 without one; the present length if no
                            other is better */
    double deviation_mm; /* the deviation with that length */
    int sizes; /* steps of the tray from the present length, negative: shorter; 0 if no length is
                  better, and without a tray */
} tcr_remedy;

/*
 * One lash of a checked eye, in the order of the set. Numbers that a bare lash does not have are
 * NaN.
 */
typedef struct tcr_lash_result {
    tcr_status status; /* TCR_OK: carries an extension; else why not: TCR_E_BARE, TCR_E_BARE_BY_ROW
                          or TCR_E_BOND */
    tcr_choice choice;
    tcr_attachment attachment;
    tcr_stance stance; /* at the opening of the check */
    tcr_vec3 tip;      /* of the extension, or of a bare lash; eye's frame, mm */
    tcr_vec2 seen;     /* the tip in the view of the check, mm */
    double line_mm, deviation_mm, across_mm; /* from the line of 'against'; NaN if there is none */
    bool staggered;
    tcr_remedy remedy; /* of staggered lashes; else NaN and 0 */
} tcr_lash_result;

/* How far a tip moves, up or down in the view of the check, for one unit of an assumed input. */
typedef struct tcr_assumption {
    unsigned field;  /* one bit TCR_LASH_... */
    size_t count;    /* lashes of the eye with this input assumed */
    double per_unit; /* mm per rad or per mm: mean |dY| over the lashes that carry an extension;
                        NaN if none does */
} tcr_assumption;
enum { TCR_ASSUMPTIONS_MAX = 7 };

typedef struct tcr_eye_result {
    tcr_side side;
    size_t lashes;               /* all lashes of the eye */
    size_t extended;             /* lashes that carry an extension */
    const tcr_lash_result *lash; /* the results of all lashes */
    tcr_status fitted_status;    /* TCR_OK, or why there is no fitted line: TCR_E_FEW, TCR_E_ONE_X,
                                    TCR_E_NO_CONVERGENCE, or TCR_E_MISSING (not computed) */
    tcr_line fitted_line;
    tcr_evenness fitted;
    tcr_status intended_status; /* TCR_OK, or why there is no intended line: TCR_E_BOND (mean lash
                                   too short), TCR_E_FEW (no tips), TCR_E_MISSING (not computed), or
                                   the status of tcr_line_fit */
    tcr_line intended_line;
    tcr_evenness intended;
    tcr_status view_status[TCR_VIEWS]; /* of the line fitted in each view, as fitted_status */
    double view_offset_mm[TCR_VIEWS][TCR_LAYERS]; /* mean deviation of each layer from the line
                                                     fitted in that view; NaN for an empty layer */
    double largest_gap_mm; /* between neighbouring tips; NaN for fewer than two */
    bool too_few;          /* fewer than TCR_TOO_FEW tips: evenness cannot be judged */
    size_t staggered;      /* lashes farther from the line of 'against' than the tolerance */
    size_t assumptions;    /* number of assumed inputs */
    tcr_assumption assumption[TCR_ASSUMPTIONS_MAX]; /* in the order of the bits */
    tcr_verdict verdict; /* by the line of 'against'; not judged without that line, and by a fitted
                            one if too_few */
    /* The distance from nearer than which view_offset_mm shows: the distance at which its size
     * spans 3 minutes of arc, contour noise in the laboratory (line_rule.h); NaN as it is. */
    double view_shows_from_mm[TCR_VIEWS][TCR_LAYERS];
} tcr_eye_result;

typedef struct tcr_check tcr_check;

/* The parts of a check. The tips are always computed. */
enum {
    TCR_PART_FITTED = 1 << 0,   /* the fitted line and its statistics; symmetry of two eyes */
    TCR_PART_INTENDED = 1 << 1, /* the intended line and its statistics */
    TCR_PART_VIEWS = 1 << 2, /* layer offsets with the eye closed; also computes the fitted line */
    TCR_PART_REMEDIES = 1 << 3,    /* remedies of staggered lashes */
    TCR_PART_ASSUMPTIONS = 1 << 4, /* assumed inputs and their effect */
    TCR_PART_LOADS = 1 << 5, /* loads of lashes (load.h). Without figures_only they are computed
                                when they are read, with this part or without */
    TCR_PART_ALL = (1 << 6) - 1
};

typedef struct tcr_check_options {
    size_t size;         /* of this struct; set by tcr_check_options_default */
    tcr_against against; /* default fitted; its line is computed even if 'parts' omits it */
    bool has_view;       /* use 'view' instead of the set's; default false */
    tcr_view view;
    unsigned parts;               /* bits TCR_PART_...; default all */
    const tcr_line_options *line; /* for the fitted lines, read during the call; NULL, the default:
                                     those of tcr_line_options_default */
    double tolerance_mm;          /* 0.05 to 5; NaN, the default: the set's */
    bool any_length;   /* lashes wear what the rule gives, also where the tray lacks it; default
                          false: TCR_E_TRAY */
    bool figures_only; /* the figures of eyes alone, several times as fast: lashes have the status
                          TCR_E_MISSING and no numbers, and 'parts' may be TCR_PART_FITTED,
                          TCR_PART_INTENDED and TCR_PART_LOADS, else TCR_E_ARGUMENT. With
                          TCR_PART_LOADS tcr_check_load and columns of loads have their numbers. All
                          figures are the same, to the last bit. Default false */
} tcr_check_options;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_check_options_init(tcr_check_options *options, size_t size);
static inline tcr_check_options tcr_check_options_default(void) {
    tcr_check_options options;
    tcr_check_options_init(&options, sizeof options);
    return options;
}

/*
 * Evaluates a set. options may be NULL for the defaults; error may be NULL. The check reads the
 * set, which must outlive it, and uses the set's allocator. The caller frees *check.
 *
 * TCR_E_MISSING (no eye, or an eye without lashes), TCR_E_MAP (an eye without a map), TCR_E_TRAY
 * (the rule gives a length that the tray lacks; error->value is that length; never with
 * any_length), TCR_E_BOND (a lash's own row asks for an extension that cannot be bonded),
 * TCR_E_DUPLICATE, TCR_E_RANGE (an option), TCR_E_MEMORY, TCR_E_ARGUMENT. error names the eye, and
 * the lash if one lash is at fault. A missing line is no failure: its status gives the reason, and
 * the other parts are computed. Stack: below 32 kB.
 */
TCR_API tcr_status tcr_check_new(const tcr_set *set, const tcr_check_options *options,
                                 tcr_check **check, tcr_error *error);

/*
 * Runs a check again, on the same set after changes or on another set, in the memory that it has.
 * The results equal those of a new check to the last bit. An intended line is kept if its inputs
 * are equal. The check keeps its allocator. Earlier results are overwritten. After a failure the
 * check has no eyes until it succeeds again; TCR_E_ARGUMENT for a NULL check or set leaves it as it
 * was. Arguments and statuses as for tcr_check_new. Stack: below 32 kB.
 */
TCR_API tcr_status tcr_check_again(tcr_check *check, const tcr_set *set,
                                   const tcr_check_options *options, tcr_error *error);
/* Frees a check, but not its set. NULL is accepted. */
TCR_API void tcr_check_free(tcr_check *check);

/* The set of the check, the caller's own. Valid until it is freed. NULL for NULL. */
TCR_API const tcr_set *tcr_check_set(const tcr_check *check);
/* The view of the check. Open front for NULL. */
TCR_API tcr_view tcr_check_view(const tcr_check *check);
/* The line from which deviations are measured. TCR_FITTED for NULL. */
TCR_API tcr_against tcr_check_against(const tcr_check *check);
/* Bits TCR_PART_... of the computed parts. 0 for NULL. */
TCR_API unsigned tcr_check_parts(const tcr_check *check);
/* The tolerance in mm. NaN for NULL. */
TCR_API double tcr_check_tolerance(const tcr_check *check);

/*
 * The result of one eye; NULL if the set lacks it or check is NULL. Valid until the check runs
 * again or is freed, or the set changes: a check whose set has changed since has no eyes until it
 * runs again, and calls that read it return TCR_E_MISSING.
 */
TCR_API const tcr_eye_result *tcr_check_eye(const tcr_check *check, tcr_side side);

/* How even some eyes of a check are together, by the line of 'against'. */
typedef struct tcr_judgement {
    tcr_verdict verdict;
    size_t lashes, tips;     /* lashes, and those that carry an extension */
    size_t staggered;        /* tips beyond the tolerance */
    double rms_mm;           /* of all tips together; NaN if not judged */
    double within_tolerance; /* share of the tips, 0 to 1; NaN if not judged */
} tcr_judgement;

/*
 * Judges eyes together; 'sides' has a bit 1 << side for each. One that the set lacks is passed
 * over; one that cannot be judged makes the verdict "not judged". TCR_E_MISSING (no such eye),
 * TCR_E_ARGUMENT; *judgement is then unchanged.
 */
TCR_API tcr_status tcr_check_judge(const tcr_check *check, unsigned sides,
                                   tcr_judgement *judgement);

/*
 * The symmetry of the two fitted lines. TCR_E_MISSING (one eye), TCR_E_FEW (a line is missing),
 * TCR_E_COMMON (no common range), TCR_E_ARGUMENT.
 */
TCR_API tcr_status tcr_check_symmetry(const tcr_check *check, tcr_symmetry *symmetry);

/*
 * How alike the two eyes are by that symmetry and the tolerance of the check. Statuses of
 * tcr_check_symmetry; TCR_E_FEW also if an eye has too few tips to judge. *likeness is then
 * unchanged.
 */
TCR_API tcr_status tcr_check_likeness(const tcr_check *check, tcr_likeness *likeness);

/*
 * The root mean square distance, mm, of all tips of a check from given lines (for example a
 * plan's), in the view of the check. line has a line for each side; that of a missing eye is not
 * read. If 'moved', both lines are first shifted and tilted together by the straight line that fits
 * the distances best. tips receives the number of tips and may be NULL. Returns NaN if there is no
 * tip or if check or line is NULL.
 */
TCR_API double tcr_check_rms_off(const tcr_check *check, const tcr_line line[TCR_SIDES], bool moved,
                                 size_t *tips);

/*
 * The intended line of an eye in a view (model.md, section 7), as checks and plans use it.
 * TCR_E_MISSING (eye), TCR_E_MAP (no map), TCR_E_BOND (the mean lash cannot bond), TCR_E_RANGE
 * (view), TCR_E_ARGUMENT, or the status of tcr_line_fit. Stack: below 32 kB.
 */
TCR_API tcr_status tcr_intended_line(const tcr_set *set, tcr_side side, const tcr_view *view,
                                     tcr_line *line);

#endif
