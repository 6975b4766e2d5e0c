/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_MODEL_NAMES_H
#define TCR_MODEL_NAMES_H

/* What files and pictures call the values of enumerations, in their order; the one copy. */
#define TCR_SIDE_NAMES "left", "right"
#define TCR_LAYER_NAMES "bottom", "middle", "top"
#define TCR_CONDITION_NAMES "suitable", "baby", "stray", "weak", "shedding"
#define TCR_PLACEMENT_NAMES "top", "underside", "inner-side", "outer-side"
#define TCR_PHASES_NAMES "A", "B", "none"
#define TCR_SUBJECT_NAMES "client", "practice-head"
#define TCR_BOOL_NAMES "false", "true"

#endif
