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
 * A plan: which lashes of a set get an extension, the choice from the tray for each zone and layer,
 * and corrections for a few lashes, so that the tips come as near to the intended line as possible.
 * It uses the same line as a check (tcr_intended_line): one line for two eyes, or one for each eye
 * if the line rule says so.
 *
 * The choice for zones and layers is proved: no choice can be better than the bound.
 */

/* What a plan minimises: the sum of squared distances from the line, or the largest distance. */
typedef enum tcr_objective { TCR_LEAST_SQUARES = 0, TCR_LEAST_MAXIMUM = 1 } tcr_objective;

enum {
    TCR_PLAN_CURLS_MAX = 16,
    TCR_PLAN_DIAMETERS_MAX = 8,
    TCR_PLAN_FANS_MAX = 8,
    TCR_PLAN_OPTIONS_MAX = 65535, /* lengths x curls x diameters x fans x placements of a cell */
    TCR_SAMPLES_MAX = 100000
};

typedef struct tcr_plan_options {
    size_t size; /* of this struct; set by tcr_plan_options_default */
    tcr_limits limits;
    double share; /* 0.05 to 1: share of an eye's lashes to use; default 0.7, common practice */
    tcr_objective objective; /* default least squares */
    double free_mm; /* 0 to 10: how far the line may move at either end, shifted and tilted as a
                       whole, for two eyes by the same amounts; default 0: it is held */
    size_t lengths_most; /* most different lengths over both eyes, with corrections, without those
                            that rows give; 0, the default: no limit */
    double zone_step_most_mm; /* 0 to INFINITY: largest difference between neighbouring zones of a
                                 layer; default INFINITY */
    bool placement[TCR_PLACEMENTS]; /* placements that may be chosen; default: all but the inner
                                       side */
    size_t curls; /* number of curls to choose from; 0, the default: those of the map */
    size_t curl[TCR_PLAN_CURLS_MAX]; /* indices into the set's curls */
    size_t diameters; /* number of diameters to choose from; 0, the default: that of the layering */
    double diameter_mm[TCR_PLAN_DIAMETERS_MAX]; /* each 0.02 to 0.3 */
    size_t fans; /* number of fans to choose from; 0, the default: that of the layering */
    int fan[TCR_PLAN_FANS_MAX]; /* fibres of one base, 1 to 20 */
    size_t corrections; /* most lashes whose extension differs from their zone's. SIZE_MAX, the
                           default: the fewest that bring at least 95 % of each eye's tips within
                           the tolerance, or, if that is out of reach, the fewest that bring as many
                           as all corrections would */
    bool correct_all;   /* correct every lash that a correction brings nearer to the line; default
                           false */
    /* Number of random samples, 0 to TCR_SAMPLES_MAX; default 0: none, the lashes of the set are
     * planned for as they are.
     *
     * Of an eye that was measured: samples of how far it is open (0.8 to 1) and of each lash's
     * pitch, yaw, height and turn about the given ones; their standard deviations are assumed.
     * Corrections do not use them.
     *
     * Of an eye whose lashes are all drawn by chance (tcr_set_drawn_count), with no row that says
     * what a lash gets: the eye as it is and further ones drawn anew by the same description, each
     * open by 0.8 to 1 and held against its own intended line. Only zones and layers are planned
     * then (zones_only of the eye).
     *
     * Least squares minimises the mean square over all samples. Least maximum minimises, over all
     * lashes that were measured and all cells that were not, the largest distance that
     * samples_share of the samples do not exceed; the line must then be held. */
    size_t samples;
    double samples_share; /* 0.5 to 1; default 0.95, assumed */
    /* Progress of all long work. Phases: "lashes", "tips", "samples", "zones", "lengths",
     * "wanting", "corrections", and "order" of tcr_plan_work_new. A stopped plan is the best so
     * far; default: none. A proof with lengths_most and many zones can take for ever: a caller
     * without patience stops by the clock, and has the bound. */
    tcr_progress progress;
    bool same_placement; /* all zones of a layer, over both eyes, have the same placement
                            (layer_placement of the result), but where a zone fixes one, or
                            its lashes can carry no length so; corrections are free; default false:
                            each zone its own */
} tcr_plan_options;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_plan_options_init(tcr_plan_options *options, size_t size);
static inline tcr_plan_options tcr_plan_options_default(void) {
    tcr_plan_options options;
    tcr_plan_options_init(&options, sizeof options);
    return options;
}

/* What the plan does with a lash, and why. */
typedef enum tcr_use {
    TCR_USED = 0,
    TCR_USED_BY_ROW = 1,    /* its own row gives its extension, which is kept */
    TCR_BARE_COVER = 2,     /* suitable, but the line is covered without it */
    TCR_BARE_CONDITION = 3, /* its condition is not suitable */
    TCR_BARE_ROW = 4,       /* its own row says "none" */
    TCR_BARE_BABY = 5,      /* shorter or thinner than the limits */
    TCR_BARE_STRAY = 6,     /* roots above the limit, or points out of the fan */
    TCR_BARE_BOND = 7,      /* too short for the bond */
    TCR_BARE_WEAK = 8       /* no tray length near its zone's stays within the load limits */
} tcr_use;
enum { TCR_USES = 9 };

/* A lash of a planned eye, in the order of the set. */
typedef struct tcr_plan_lash {
    tcr_use use;
    bool corrected;           /* differs from its zone */
    tcr_choice choice;        /* of used lashes */
    double deviation_mm;      /* from the planned line with this choice; NaN if bare */
    double zone_deviation_mm; /* from the planned line with its zone's choice */
    double better_mm;  /* from the planned line with the best correction; NaN if no correction is
                          nearer */
    tcr_choice better; /* the best correction, made or not */
} tcr_plan_lash;

/* A cell: a layer of a zone of one eye with used lashes. */
typedef struct tcr_plan_cell {
    tcr_side side;
    size_t zone;
    tcr_layer layer;
    size_t lashes; /* of an eye of zones_only the mean over the samples, rounded so that its cells
                      add up to its own mean, rounded */
    tcr_choice choice;
    double rms_mm; /* of its lashes from the planned line, or of its samples from theirs */
} tcr_plan_cell;

/* Traits by which a lash that wants another size can be told. */
typedef enum tcr_trait {
    TCR_TRAIT_HEIGHT = 0, /* of its root, mm */
    TCR_TRAIT_PITCH = 1,  /* rad; up */
    TCR_TRAIT_LENGTH = 2, /* mm */
    TCR_TRAIT_TURN = 3    /* rad; how far it curls */
} tcr_trait;
enum { TCR_TRAITS = 4 };

/* What a lash may want in place of its zone's size. */
typedef enum tcr_plan_want { TCR_WANTS_SHORTER = 0, TCR_WANTS_LONGER = 1 } tcr_plan_want;
enum { TCR_PLAN_WANTS = 2 };

/* The lashes of all samples that want the same. */
typedef struct tcr_plan_wanting {
    double share;             /* of the lashes with an extension, 0 to 1 */
    double apart[TCR_TRAITS]; /* mean difference from the lashes of their zone and layer, in the
                                 unit of the trait; NaN where there are none */
    double in_sd[TCR_TRAITS]; /* no unit: the same over the standard deviation there; NaN where that
                                 is 0 */
} tcr_plan_wanting;

enum { TCR_PLAN_WANTING_SIZE = 200 };

/*
 * How to recognise them, in words: "natural tip 0.4 mm (3.1°) lower, root 0.13 mm lower", the
 * traits that tell most, at most two, from half a standard deviation on; "nothing tells them by
 * itself"; "" where fewer than one lash in a hundred wants the same. lash_mm (above 0, not checked)
 * is the length of a natural lash, for how far its tip moves with its pitch: tcr_plan_lash_mm.
 * UTF-8. "" for a NULL.
 */
TCR_API void tcr_plan_wanting_text(const tcr_plan_wanting *wanting, double lash_mm,
                                   char text[TCR_PLAN_WANTING_SIZE]);

/* The natural length of the lashes of an eye that nobody measured, as it is described, mm; the
 * default of a description where there is none. */
TCR_API double tcr_plan_lash_mm(const tcr_set *set, tcr_side side);

/*
 * What the zones alone come to over the samples of an eye that nobody measured. A lash wants
 * another size where it cannot carry its zone's, or where its tip lies beyond the tolerance with it
 * and another size, all else alike, brings it nearer.
 */
typedef struct tcr_plan_over {
    double rms_mm, p95_mm, max_mm; /* from the line of each sample */
    double within_tolerance;       /* share of tips, 0 to 1 */
    double within_sized;           /* share: the same where each lash has the size that it wants */
    size_t tips;                   /* of all samples */
    /* What map and rule as they stand come to with the same lashes, whatever the limits and the
     * tray, and on the map's own line; NaN where none can have it. */
    double mapped_rms_mm;
    double mapped_within;  /* share of tips, 0 to 1 */
    double mapped_beyond;  /* share of these with more than the limits let the lash carry */
    double mapped_lacking; /* share of these with a length that the tray lacks */
    tcr_plan_wanting wants[TCR_PLAN_WANTS];
} tcr_plan_over;

/* Whether an eye gets the longest length that its map asks for. */
typedef struct tcr_plan_reach {
    double asked_mm;   /* the longest of the map, on the bottom layer */
    double given_mm;   /* the longest that the plan gives */
    unsigned limits;   /* bits TCR_BEYOND_...: limits that keep asked_mm from all zones that ask for
                          it; 0 where one may have it, or where it is given */
    bool at_hand;      /* the tray has asked_mm in a curl and diameter that a zone that asks for it
                          may have */
    double lowered_mm; /* how much lower the line that two eyes share runs there than the eye's own;
                          below 0: higher; 0 where it is not shared */
} tcr_plan_reach;

typedef struct tcr_plan_eye {
    size_t lashes, used, suitable;
    const tcr_plan_lash *lash;
    double gap_mm,
        least_gap_mm;      /* largest gap along the lid: of the plan, of all suitable lashes */
    size_t uses[TCR_USES]; /* number of lashes for each tcr_use */
    bool zones_only;    /* nobody measured it and there are samples: zones and layers are planned,
                           and no lash is corrected. All above, and 'lash', is then of one sample,
                           the set's own lashes: what their zones give them, shorter where they
                           cannot carry it */
    tcr_plan_over over; /* of zones_only */
    tcr_plan_reach reach;
} tcr_plan_eye;

/* The result with a given number of corrections, over both eyes but those of zones_only. p95 is the
 * 95th percentile. */
typedef struct tcr_plan_point {
    size_t corrections;
    double rms_mm, p95_mm, max_mm; /* from the planned line; p95_mm: of the worse eye */
    double within_tolerance; /* share of tips within the tolerance, 0 to 1, of the worse eye */
    bool enough_within;      /* at least 95 % of each eye's tips are within the tolerance */
} tcr_plan_point;

typedef struct tcr_plan_result {
    tcr_line line[TCR_SIDES]; /* planned line of each eye that the set has */
    double end_mm[2];         /* X of the inner and the outer end of the lines, over both eyes */
    double shift_mm;          /* the line is line(X) + shift + tilt X if it is free; else 0 */
    double tilt;              /* no unit: see shift_mm */
    bool at_limit;            /* the line moved by options.free_mm at an end */
    size_t planned;           /* lashes over both eyes with an extension that the plan chose */
    double rms_mm, max_mm;    /* with the zones' choices, before corrections, over these lashes and
                                 those with an extension from their row; of eyes of zones_only
                                 over all samples */
    double bound_mm; /* lower bound for every choice for zones: of rms_mm or max_mm; with samples,
                        of expected_rms_mm or samples_max_mm. Never above these */
    bool proved;     /* the choice for zones is the best one */
    bool stopped;    /* options.progress stopped the work: there are fewer samples, or choice or
                        corrections are the best so far */
    size_t samples;  /* samples used; fewer than options.samples if stopped */
    double expected_rms_mm; /* with samples and least squares: rms over all samples; else NaN */
    double samples_max_mm;  /* with samples and least maximum: the distance that samples_share of
                               every lash's samples do not exceed; else NaN */
    /* Of eyes of zones_only, else NaN: the 5th and the 95th percentile, over the samples, of the
     * rms of one sample's tips; and the share of samples whose tips would lie nearer with
     * map and rule as they stand, also NaN where none can have these. */
    double client_rms_mm[2];
    double clients_nearer_as_mapped; /* share, 0 to 1 */
    size_t cells;
    const tcr_plan_cell *cell;
    bool one_kind;      /* all cells have the same diameter and fan */
    size_t corrections; /* number of corrections made */
    size_t points;
    const tcr_plan_point *point; /* for 0 corrections, 1, ... up to all that help; none where all
                                    eyes are of zones_only */
    bool enough_within; /* at least 95 % of each eye's tips are within the tolerance after the
                           corrections */
    /* One placement for each layer over all zones and both eyes that do not fix theirs: of those
     * that the fewest zones cannot carry, the one that costs the layer least with the line held and
     * any number of lengths, so the best if line and zones are not tied otherwise; the rule's for a
     * layer without such a zone. */
    tcr_placement layer_placement[TCR_LAYERS];
    /* What the zones' choices then come to, and with each zone its own placement: the rms or the
     * largest distance as it was minimised, over the samples if there are any, mm. That which the
     * plan is not made by is NaN with lengths_most or free_mm, where it would take as long as the
     * plan, after it was stopped, and where no choice keeps zone_step_most_mm. */
    double by_layer_mm, by_zone_mm;
} tcr_plan_result;

typedef struct tcr_plan tcr_plan;

/*
 * Plans a set, which is only read and must outlive the plan. options and error may be NULL. *plan
 * is the caller's to free. The statuses of tcr_check_new and of the intended line, but that a rule
 * whose length the tray lacks stops no plan, which chooses from the tray; TCR_E_TRAY (a set without
 * a tray); TCR_E_RANGE and TCR_E_ARGUMENT (options); TCR_E_STOPPED (before there was a
 * choice; later the result says so); TCR_E_NO_SOLUTION. The error's member says what is in the way:
 *
 *     "lashes"             error.side has no lash that could carry an extension
 *     "baby_below_mm", "stray_above_mm", "offset_mm", "overlength_mm", "mass_ratio", "moment_ratio"
 *                          this limit leaves fewer than TCR_TOO_FEW (line.h) lashes of error.side
 *                          to plan, where condition and rows leave as many or more
 *     "rows"               the row of each lash that could be used says what it gets
 *     "limits"             no option suits all lashes of the cell of error.side, zone and layer
 *     "options"            that cell has more of them (value) than TCR_PLAN_OPTIONS_MAX
 *     "zone_step_most_mm"  no choice keeps it; the message says whether lengths_most is in the way
 *                          too
 *     "same_placement"     a choice keeps these two, but none with layer_placement
 *     "lengths_most"       no choice keeps it
 *     "tray"               the set has none
 *
 * or which option is wrong. The message says what would leave a choice. Stack: below 88 kB.
 */
TCR_API tcr_status tcr_plan_new(const tcr_set *set, const tcr_plan_options *options,
                                tcr_plan **plan, tcr_error *error);
/* Frees a plan, but not its set and its work. NULL is accepted. */
TCR_API void tcr_plan_free(tcr_plan *plan);
/* The result; NULL for NULL. Valid until the plan is freed. */
TCR_API const tcr_plan_result *tcr_plan_result_of(const tcr_plan *plan);

/*
 * The point of the result with as many corrections as were made; NULL for NULL, and where the
 * result has no points. Valid until the plan is freed.
 */
TCR_API const tcr_plan_point *tcr_plan_point_made(const tcr_plan *plan);

/*
 * The result for one eye; NULL if the set lacks it or plan is NULL. Valid until the plan is freed.
 */
TCR_API const tcr_plan_eye *tcr_plan_eye_of(const tcr_plan *plan, tcr_side side);

enum { TCR_PLAN_REACH_SIZE = 640 };

/*
 * Which length of the map the plan does not reach, in which zones of which eye and why, in a
 * sentence for each eye or one for both: "11 mm is not reached in zone 4 of the right eye, whose
 * longest is 10 mm: not every lash there can carry it (limit: at most 5 mm longer than the lash).";
 * "" if each is reached, if nothing that can be named is in the way, for NULL, and if the planned
 * set has changed. UTF-8. text receives at most TCR_PLAN_REACH_SIZE bytes, NUL included.
 */
TCR_API void tcr_plan_reach_text(const tcr_plan *plan, char text[TCR_PLAN_REACH_SIZE]);

/*
 * Whether the lashes, zones and curls that a plan counts are there in a set: it has the eyes of the
 * planned set, each with as many lashes and zones, and as many curls, and the planned set has not
 * changed since. Reports and sheets of a plan need it. False for NULL.
 */
TCR_API bool tcr_plan_fits(const tcr_plan *plan, const tcr_set *set);

/* The options that the plan was made with; NULL for NULL. Valid until the plan is freed. */
TCR_API const tcr_plan_options *tcr_plan_options_of(const tcr_plan *plan);

/*
 * Makes the planned set: a copy in which each zone fixes its choice layer by layer, corrected
 * lashes have theirs in their row, and each lash left bare has "none" in its row, but for eyes of
 * zones_only, whose rows stay empty. Lashes and
 * conditions stay, and the old map becomes the intended map, so the intended line stays the same.
 * TCR_E_MEMORY, TCR_E_ARGUMENT (also if the set has changed since it was planned). The caller frees
 * *planned. Stack: below 24 kB.
 */
TCR_API tcr_status tcr_plan_apply(const tcr_plan *plan, tcr_set **planned);

/*
 * The pace of the work. Paces and distances differ from artist to artist, so each is a member here.
 * From these follow the order of the lashes, glue and minutes.
 */
typedef struct tcr_plan_pace {
    size_t size;        /* of this struct; set by tcr_plan_pace_default */
    double setting_s;   /* 0 to 3600: how long fresh adhesive can catch a neighbour; default 120,
                           assumed */
    double distance_mm; /* 0.01 to 50: least distance between a new lash and one that has not set,
                           between roots as the artist sees them; default 2, assumed */
    double lash_s;      /* 0.1 to 3600: time for one lash: isolate, pick up, dip, place; default 45,
                           common practice without source */
    double change_s; /* 0 to 3600: time to change to another row of the tray; default 5, assumed */
    double eye_change_s;    /* 0 to 3600: time to go on to the other eye; default 20, assumed */
    double preparation_min; /* 0 to 1440: time before the first lash; default 20, assumed */
    double loss_share; /* 0 to 1: share of fibres dropped, bent or misplaced in the work; default
                          0.1, assumed */
    double drop_min;   /* 0.1 to 1440: how long a drop of glue lasts; default 20, common practice
                          without source */
} tcr_plan_pace;

/* The defaults, in a struct of the caller's size (tipcrest.h). */
TCR_API void tcr_plan_pace_init(tcr_plan_pace *pace, size_t size);
static inline tcr_plan_pace tcr_plan_pace_default(void) {
    tcr_plan_pace pace;
    tcr_plan_pace_init(&pace, sizeof pace);
    return pace;
}

/* A row of the tray: extensions of one length, curl and diameter. */
typedef struct tcr_plan_row {
    double length_mm;
    size_t curl; /* index into the set's curls */
    double diameter_mm;
    size_t lashes;
    size_t fibres;    /* fibres of all fans */
    size_t with_loss; /* fibres to lay out: increased by the loss, rounded up */
} tcr_plan_row;

/* One lash in the working order. */
typedef struct tcr_plan_place {
    tcr_side side;
    size_t lash; /* in the order of the set */
    size_t row;  /* index into tcr_plan_work.row */
} tcr_plan_place;

/* Whether there is an order that keeps pace.distance_mm. */
typedef enum tcr_plan_order {
    TCR_ORDER_FOUND = 0,
    TCR_ORDER_NOT_FOUND = 1, /* none was found; there may be one */
    TCR_ORDER_CROWD = 2,  /* there is none: 'crowd' lashes are near each other, and spacing them in
                             time takes 'crowd_needs' lashes */
    TCR_ORDER_NARROW = 3, /* there is none: at most 'apart' lashes are far enough from each other */
    TCR_ORDER_TOO_MANY = 4 /* more than 2000 lashes: no search was made */
} tcr_plan_order;

/*
 * The work of a plan: the order of the lashes over both eyes, the extensions to lay out, glue and
 * minutes.
 */
typedef struct tcr_plan_work {
    const tcr_plan_pace *pace;   /* the pace that was used */
    size_t places;               /* lashes with an extension, each once */
    const tcr_plan_place *place; /* in working order */
    bool stopped; /* the progress of the plan's options stopped the search: the best order so far */
    size_t still_soft; /* lashes just placed that have not set, by setting_s and lash_s */
    tcr_plan_order order;
    size_t conflicts; /* lashes placed too near to one that has not set: 0 if an order was found */
    size_t crowd, crowd_needs, apart; /* see tcr_plan_order */
    size_t changes;                   /* changes to another row of the tray */
    size_t eye_changes;               /* from one eye to the other */
    size_t least_changes;             /* lower bound for every order without conflicts */
    size_t rows;
    const tcr_plan_row *row;     /* by length, then curl, then diameter */
    size_t fibres, with_loss;    /* over all rows */
    double placing_min, minutes; /* placing: lashes, changes; minutes: also preparation */
    size_t drops, refreshes;     /* drops of glue; refreshes: drops after the first */
    const tcr_plan *plan;        /* that it was made from */
    size_t lashes; /* that rows, fibres, minutes and drops count: those of the places; of an eye of
                      zones_only, of which the places are one sample's, those of its cells */
} tcr_plan_work;

/*
 * Computes the work of a plan. pace may be NULL for the default. It reports to the progress of the
 * plan's options, whose context must still be valid. It returns TCR_OK even if no order keeps the
 * distance: 'order' then gives the reason, and the given order has the fewest conflicts found.
 * TCR_E_RANGE (pace), TCR_E_MEMORY, TCR_E_ARGUMENT (also if the set has changed since it was
 * planned). It uses the plan's allocator. The caller frees *work.
 */
TCR_API tcr_status tcr_plan_work_new(const tcr_plan *plan, const tcr_plan_pace *pace,
                                     tcr_plan_work **work);
/* Frees the work of a plan, before or after the plan itself. NULL is accepted. */
TCR_API void tcr_plan_work_free(tcr_plan_work *work);

#endif
