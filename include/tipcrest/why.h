/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_WHY_H
#define TCR_WHY_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/check.h>
#include <tipcrest/export.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>

/*
 * The causes of unevenness: how much each adds to the mean square deviation from the line
 * (model.md, section 8). A cell is a zone of a layer. The extension of a lash is split into that of
 * its cell and the lash's own choice. Switching a cause off levels it on every lash:
 *
 *   root heights       all roots at the mean lash's height
 *   layer shortening   every cell as long as the bottom cell of its zone, or of the nearest zone
 *                      that has one
 *   placement          every cell on top
 *   zone steps         the cells' lengths interpolated between zone centres and not rounded
 *   single choices     every lash as its cell
 *   natural variation  pitch, yaw, roll, length, turn and diameters of the mean lash at the place
 *
 * The extension of a cell is that of map and rule. But if rows of its lashes give their extensions,
 * and the eye has no intended map, it has the median of their lengths and the most frequent of the
 * other properties. The fitted line is fitted again for every combination of causes; the intended
 * line stays.
 */
typedef enum tcr_cause {
    TCR_CAUSE_HEIGHTS = 0,
    TCR_CAUSE_SHORTENING = 1,
    TCR_CAUSE_PLACEMENT = 2,
    TCR_CAUSE_ZONES = 3,
    TCR_CAUSE_SINGLE = 4,
    TCR_CAUSE_VARIATION = 5
} tcr_cause;
enum { TCR_CAUSES = 6, TCR_COMBINATIONS = 1 << TCR_CAUSES };

/*
 * Whether an artist can change a cause. She chooses what a lash wears: lengths by layer and along
 * the lid, placement, single choices. Root heights and natural variation are how lashes grow.
 */
TCR_API bool tcr_cause_can_change(tcr_cause cause);

/* The effect of one cause on the mean square deviation, mm2; negative: it evens the line. */
typedef struct tcr_share {
    double shapley_mm2;    /* Shapley value: its mean contribution over all orders (Shapley 1953) */
    double first_in_mm2;   /* change when it is switched on first */
    double last_out_mm2;   /* its contribution when all others are on */
    double alone_rms_mm;   /* rms if it were the only cause */
    double without_rms_mm; /* rms if it alone were switched off */
} tcr_share;

/* How the lengths that the cells wear differ from layer to layer. */
typedef enum tcr_layer_lengths {
    TCR_LENGTHS_ONE_LAYER = 0, /* one layer alone wears extensions */
    TCR_LENGTHS_EQUAL = 1,     /* every cell is as long as the bottom cell of its zone */
    TCR_LENGTHS_RULED = 2,     /* shorter than that by the rule's step for each layer up */
    TCR_LENGTHS_OTHER = 3
} tcr_layer_lengths;
enum { TCR_LAYER_LENGTHS = 4 };

/*
 * What the layers' heights and lengths do. The mean lash is that at u = 1/2 with what the bottom
 * cell wears there; its tip moves in the view of the check, up where the number is positive.
 */
typedef struct tcr_why_layers {
    tcr_layer_lengths lengths;
    bool worn; /* rows give the lengths of more than half of the lashes, and no plan chose them */
    double height_mm[TCR_LAYERS]; /* mean root height of the lashes that carry an extension; NaN for
                                     an empty layer */
    double tip_by_height_mm;      /* rise of the mean lash's tip with a root 1 mm higher; NaN if it
                                     cannot bond */
    double tip_by_shorter_mm;     /* rise of that tip with an extension 1 mm shorter; NaN as above,
                                     and if that extension is shorter than 3 mm */
    double step_mm;               /* of the rule; 1 mm, common practice, if the set's step is 0 */
    double equal_rms_mm;          /* rms with the bottom cell's length on every layer */
    double ruled_rms_mm;  /* rms with that less step_mm for each layer up; NaN without lashes on the
                             bottom layer, and if an extension falls below 3 mm, a lash cannot bond
                             or the line has no fit */
    size_t ruled_lacking; /* lashes whose extension by that rule the tray lacks; 0 if ruled_rms_mm
                             is NaN, and without a tray */
} tcr_why_layers;

typedef struct tcr_why {
    size_t lashes;                            /* lashes that carry an extension */
    double mean_square_mm2[TCR_COMBINATIONS]; /* indexed by the causes switched on: bit c for cause
                                                 c */
    double whole_rms_mm, bare_rms_mm;         /* all causes on, and all off */
    tcr_share cause[TCR_CAUSES];              /* shapley_mm2 sum to whole^2 - bare^2 */
    tcr_share layering;                       /* root heights and layer shortening as one cause */
    tcr_share lengths_along;                  /* zone steps and single choices as one cause */
    tcr_why_layers layers;
    double eyes_differ_mm2; /* mean square that is left with all causes off against a line that two
                               eyes share: the difference of the eyes; NaN against any other line */
} tcr_why;

/*
 * Finds the causes for one eye of a check, against the check's own line. TCR_E_MISSING (eye), the
 * status of the line if some combination has none, TCR_E_BOND if a lash cannot bond in some
 * combination, TCR_E_MEMORY, TCR_E_ARGUMENT. Uses the check's allocator and frees what it takes.
 * Cost: 65 evaluations of the eye. Stack: below 24 kB.
 */
TCR_API tcr_status tcr_why_of(const tcr_check *check, tcr_side side, tcr_why *why);

/* ---- In words -------------------------------------------------------------------------- */

/* An rms that changes by less than this, mm, changes little; assumed. */
#define TCR_WHY_LITTLE_MM 0.05

/* What something does to the evenness of a set. */
typedef enum tcr_effect { TCR_HELPS = -1, TCR_LITTLE = 0, TCR_HURTS = 1 } tcr_effect;

/* The effect of what makes the difference of with_rms_mm and without_rms_mm (0 or more). */
TCR_API tcr_effect tcr_effect_of(double with_rms_mm, double without_rms_mm);

/*
 * Whether a cause changes nothing, whatever the others do: the set does not have it. True also for
 * a cause that does not exist and for NULL.
 */
TCR_API bool tcr_cause_is_absent(const tcr_why *why, tcr_cause cause);

/* "root heights", and "with all roots at the mean lash's height"; "unknown" for other values.
 * Static storage. */
TCR_API const char *tcr_cause_text(tcr_cause cause);
TCR_API const char *tcr_cause_levelled_text(tcr_cause cause);

/* Sentences whose words follow from the figures and their signs. */
typedef enum tcr_why_sentence {
    TCR_WHY_VERDICT = 0, /* the answer: whether the lengths by layer help, hurt or change little */
    TCR_WHY_LEVER = 1,   /* what a higher root and a shorter extension do, and the roots' heights */
    TCR_WHY_CHANGE = 2,  /* the cause that an artist can change and that costs most */
    TCR_WHY_REST = 3,    /* the other causes */
    TCR_WHY_LAYERING = 4 /* root heights and layer shortening as one cause */
} tcr_why_sentence;
enum { TCR_WHY_SENTENCES = 5, TCR_WHY_TEXT = 512 /* bytes, NUL included */ };

/*
 * Writes a sentence about one eye. text receives at most TCR_WHY_TEXT bytes, NUL included; it is
 * empty if why is NULL or the sentence is none of these. Allocates nothing.
 */
TCR_API void tcr_why_say(const tcr_why *why, tcr_why_sentence sentence, char text[TCR_WHY_TEXT]);
/* The same about one cause. */
TCR_API void tcr_why_say_cause(const tcr_why *why, tcr_cause cause, char text[TCR_WHY_TEXT]);

#endif
