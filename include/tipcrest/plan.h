/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_PLAN_H
#define TCR_PLAN_H

#include <stdbool.h>
#include <stddef.h>

#include <tipcrest/error.h>
#include <tipcrest/export.h>
#include <tipcrest/limits.h>
#include <tipcrest/line.h>
#include <tipcrest/progress.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>

/*
 * A plan: which lashes of a set get an extension, what every zone and layer gets from the tray, and
 * which few lashes get something else, so that the tips come as near to the intended line as can
 * be. That is the line of tcr_intended_line, by which a check judges too: one line for two eyes, or
 * each eye's own where the set says so.
 *
 * The choice for zones and layers is proved: the bound is a figure below which no choice comes.
 */

typedef enum tcr_objective { TCR_LEAST_SQUARES = 0, TCR_LEAST_MAXIMUM = 1 } tcr_objective;

enum {
    TCR_PLAN_CURLS_MAX = 16,
    TCR_PLAN_DIAMETERS_MAX = 8,
    TCR_PLAN_FANS_MAX = 8,
    TCR_PLAN_OPTIONS_MAX = 65535, /* lengths x curls x diameters x fans x placements of a cell */
    TCR_SPREAD_MAX = 100000
};

typedef struct tcr_plan_options {
    size_t size; /* of this struct; set by tcr_plan_options_default */
    tcr_limits limits;
    double share;             /* 0.05 to 1, of the lashes of an eye to use; default 0.7, common
                                 practice */
    tcr_objective objective;  /* what is made least; default least squares */
    bool free_line;           /* the line may be shifted and tilted as a whole, of two eyes both by
                                 the same; default false */
    size_t lengths_most;      /* different lengths over both eyes, corrections included, rows of
                                 the survey not; 0, the default: no limit */
    double zone_step_most_mm; /* between neighbouring zones of a layer; default INFINITY */
    bool placement[TCR_PLACEMENTS]; /* that the artist is willing to use; default: all but the inner
                                       side */
    size_t curls;                   /* how many to choose from; 0, the default: those of the map */
    size_t curl[TCR_PLAN_CURLS_MAX]; /* indices into the set's curls */
    size_t diameters;                /* to choose from; 0, the default: that of the layering */
    double diameter_mm[TCR_PLAN_DIAMETERS_MAX];
    size_t fans;                /* to choose from; 0, the default: that of the layering */
    int fan[TCR_PLAN_FANS_MAX]; /* fibres of one base, 1 to 20 */
    size_t corrections; /* lashes at most that leave their zone's choice; SIZE_MAX, the default: the
                           fewest that bring at least 95 % of each eye's tips within the tolerance;
                           where that is out of reach, the fewest that bring as many as all would */
    bool correct_all;   /* every lash that comes nearer the line is corrected */
    /*
     * Samples of what varies, 0 to TCR_SPREAD_MAX; default 0: none. What is made least is then the
     * mean of the squares over the samples; or of all lashes the largest of the distances that
     * spread_share of the samples keep, for a line that is not free. Corrections are judged by the
     * lashes as they are.
     */
    size_t spread;
    double spread_share; /* 0.5 to 1; default 0.95, assumed */
    /* Of all long work: "lashes", "tips", "samples", "zones", "lengths", "corrections", and of
     * tcr_plan_work_new "order". Stopped, the plan is the best so far; default: none. */
    tcr_progress progress;
} tcr_plan_options;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_plan_options_init(tcr_plan_options *options, size_t size);
static inline tcr_plan_options tcr_plan_options_default(void) {
    tcr_plan_options options;
    tcr_plan_options_init(&options, sizeof options);
    return options;
}

/* What becomes of a lash. */
typedef enum tcr_use {
    TCR_USED = 0,
    TCR_USED_BY_ROW = 1,    /* its own row says what it gets, and that is kept */
    TCR_BARE_COVER = 2,     /* could carry one, but the line is covered without */
    TCR_BARE_CONDITION = 3, /* its condition */
    TCR_BARE_ROW = 4,       /* its own row says none */
    TCR_BARE_BABY = 5,      /* short or thin */
    TCR_BARE_STRAY = 6,     /* roots above the top row, or points out of the fan */
    TCR_BARE_BOND = 7,      /* too short for the bond */
    TCR_BARE_WEAK = 8       /* no length of the tray near its zone's keeps to the limits of load */
} tcr_use;
enum { TCR_USES = 9 };

/* A lash of a planned eye, in the order of the set. */
typedef struct tcr_plan_lash {
    tcr_use use;
    bool corrected;      /* gets something else than its zone */
    tcr_choice choice;   /* of used lashes */
    double deviation_mm; /* from the line that is planned for, with this choice; NaN where bare */
    double zone_deviation_mm; /* with its zone's choice */
    double better_mm;  /* with the correction that brings it nearest; NaN where none comes nearer */
    tcr_choice better; /* that correction, made or not */
} tcr_plan_lash;

/* A zone of a layer of an eye that holds lashes to be used. */
typedef struct tcr_plan_cell {
    tcr_side side;
    size_t zone;
    tcr_layer layer;
    size_t lashes;
    tcr_choice choice;
    double rms_mm; /* of its lashes from the line */
} tcr_plan_cell;

typedef struct tcr_plan_eye {
    size_t lashes, used, suitable;
    const tcr_plan_lash *lash;
    double gap_mm, least_gap_mm; /* along the lid's width: reached, and with every suitable lash */
    size_t uses[TCR_USES];       /* lashes by what becomes of them */
} tcr_plan_eye;

/* What a number of corrections reaches, over both eyes. */
typedef struct tcr_plan_point {
    size_t corrections;
    double rms_mm, p95_mm, max_mm; /* from the line planned for; p95, the 95th percentile, of the
                                      worse eye */
    double within_tolerance;       /* 0 to 1: tips within the tolerance, of the worse eye */
    bool enough_within;            /* at least 95 % of each eye's tips */
} tcr_plan_point;

typedef struct tcr_plan_result {
    tcr_line line[TCR_SIDES]; /* planned for, of the eyes that there are */
    double shift_mm, tilt;    /* line(X) + shift + tilt X, where the lines are free; else 0 */
    bool at_limit;            /* of shift (5 mm) or tilt (20 degrees) */
    size_t planned;           /* lashes over both eyes whose extension the plan chose */
    double rms_mm, max_mm;    /* with the zones' choices, before corrections; over these lashes and
                                 those whose row says what they get */
    double bound_mm;          /* no zones' choice comes below this: of the rms, or the maximum; with
                                 samples of expected_rms_mm, or spread_max_mm. Never above these */
    bool proved;
    bool stopped;   /* by options.progress: a choice or corrections are the best so far */
    size_t samples; /* that it was chosen by: fewer than options.spread where it was stopped */
    double expected_rms_mm; /* with samples, least squares: over them; else NaN */
    double spread_max_mm; /* with samples, least maximum: what spread_share of the samples of every
                             lash keep; else NaN */
    size_t cells;
    const tcr_plan_cell *cell;
    bool one_kind;      /* all cells have one diameter and one fan */
    size_t corrections; /* made */
    size_t points;
    const tcr_plan_point *point; /* 0 corrections, 1, ... up to all that help */
    bool enough_within; /* at least 95 % of each eye's tips lie within the tolerance, with the
                           corrections made */
} tcr_plan_result;

typedef struct tcr_plan tcr_plan;

/*
 * Plans a set, which is only read and must outlive the plan. options and error may be NULL. *plan
 * is the caller's to free. The statuses of tcr_check_new and of the intended line; TCR_E_TRAY (a
 * set without a tray); TCR_E_RANGE and TCR_E_ARGUMENT (options); TCR_E_STOPPED (before there was a
 * choice; later the result says so); TCR_E_NO_SOLUTION. The error's member says what is in the way:
 *
 *     "lashes"             error.side has no lash that could carry an extension
 *     "rows"               the row of each lash that could be used says what it gets
 *     "limits"             no option suits all lashes of the cell of error.side, zone and layer
 *     "options"            that cell has more of them (value) than TCR_PLAN_OPTIONS_MAX
 *     "zone_step_most_mm"  no choice keeps it; the message says whether lengths_most is in the way
 *                          too
 *     "lengths_most"       no choice keeps it
 *     "tray"               the set has none
 *
 * or which option is wrong. The message says what would leave a choice.
 */
TCR_API tcr_status tcr_plan_new(const tcr_set *set, const tcr_plan_options *options,
                                tcr_plan **plan, tcr_error *error);
TCR_API void tcr_plan_free(tcr_plan *plan);
TCR_API const tcr_plan_result *tcr_plan_get(const tcr_plan *plan);
/* NULL where the set lacks the eye. */
TCR_API const tcr_plan_eye *tcr_plan_get_eye(const tcr_plan *plan, tcr_side side);

/* The options that the plan was made with. */
TCR_API const tcr_plan_options *tcr_plan_get_options(const tcr_plan *plan);

/*
 * The planned set, a new one that is the caller's to free: a copy in which zones fix their choice
 * layer by layer, corrected lashes have theirs in their row, and the lashes that the plan leaves
 * bare a "none". No lash and no condition changes, so that the intended line stays the same; the
 * map that it is made of becomes the intended map.
 */
TCR_API tcr_status tcr_plan_apply(const tcr_plan *plan, tcr_set **planned);

/*
 * The work: in which order the lashes of both eyes are done, how many extensions of each kind have
 * to lie ready, glue and minutes. All but the counts follows from paces and distances that differ
 * from artist to artist, so that each is a member here.
 */
typedef struct tcr_plan_pace {
    size_t size;        /* of this struct; set by tcr_plan_pace_default */
    double setting_s;   /* 0 to 3600: so long adhesive is soft enough to take a neighbour; default
                           120, assumed */
    double distance_mm; /* 0.01 to 50: no lash is placed nearer than this to one that is soft,
                           roots as the artist sees them; default 2, assumed */
    double lash_s;      /* 0.1 to 3600: isolate, pick up, dip, place; default 45, common
                           practice without source */
    double change_s;    /* 0 to 3600: of the tray's row; default 5, assumed */
    double preparation_min; /* 0 to 1440: before the first lash; default 20, assumed */
    double loss_share;      /* 0 to 1, of fibres dropped, bent or misplaced; default 0.1, assumed */
    double drop_min;        /* 0.1 to 1440: that a drop of glue serves; default 20, common practice
                               without source */
} tcr_plan_pace;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_plan_pace_init(tcr_plan_pace *pace, size_t size);
static inline tcr_plan_pace tcr_plan_pace_default(void) {
    tcr_plan_pace pace;
    tcr_plan_pace_init(&pace, sizeof pace);
    return pace;
}

/* A row of the tray that is needed. */
typedef struct tcr_plan_row {
    double length_mm;
    size_t curl; /* index into the set's curls */
    double diameter_mm;
    size_t lashes;
    size_t fibres;    /* lashes, each as often as its fan has fibres */
    size_t with_loss; /* fibres to lay out: with the allowance for loss, rounded up */
} tcr_plan_row;

typedef struct tcr_plan_place {
    tcr_side side;
    size_t lash; /* in the order of the set */
    size_t row;  /* of the tray, into tcr_plan_work.row */
} tcr_plan_place;

typedef enum tcr_plan_order {
    TCR_ORDER_FOUND = 0,
    TCR_ORDER_NOT_FOUND = 1, /* none was found; there may be one */
    TCR_ORDER_CROWD = 2,     /* there is none: 'crowd' lashes lie near each other, and to keep them
                                apart in time takes 'crowd_needs' lashes */
    TCR_ORDER_NARROW = 3,    /* there is none: only 'apart' lashes can lie apart from each other */
    TCR_ORDER_TOO_MANY = 4   /* more than 2000 lashes: not looked for */
} tcr_plan_order;

typedef struct tcr_plan_work {
    const tcr_plan_pace *pace; /* that was taken, with its defaults */
    size_t places;             /* every lash that gets an extension, once */
    const tcr_plan_place *place;
    bool stopped;      /* by the progress of the plan's options: the best order so far */
    size_t still_soft; /* of the lashes placed before, by setting_s and lash_s */
    tcr_plan_order order;
    size_t conflicts; /* lashes placed near a soft one: 0 where an order was found */
    size_t crowd, crowd_needs, apart;
    size_t changes;       /* of the tray's row */
    size_t least_changes; /* no order without a conflict has fewer */
    size_t rows;
    const tcr_plan_row *row; /* by length, then curl, then diameter */
    size_t fibres, with_loss;
    double placing_min, minutes; /* lashes and changes of row; with the preparation */
    size_t drops, refreshes;     /* of glue; drops after the first */
} tcr_plan_work;

/*
 * The work of a plan; pace may be NULL for the default. Reports to the progress of the plan's
 * options, whose context must still be there. *work is the caller's to free before the
 * plan, whose allocator it uses. TCR_OK also where no order keeps the distance: 'order' then says
 * why, and the order given breaks it as seldom as could be found. TCR_E_ARGUMENT, TCR_E_RANGE
 * (pace), TCR_E_MEMORY.
 */
TCR_API tcr_status tcr_plan_work_new(const tcr_plan *plan, const tcr_plan_pace *pace,
                                     tcr_plan_work **work);
TCR_API void tcr_plan_work_free(const tcr_plan *plan, tcr_plan_work *work);

#endif
