/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The causes in words. Every word follows from a figure and its sign: what levelling a cause does
 * to the rms says whether the cause helps, hurts or changes little. The figures do not know why a
 * length was chosen, so no sentence says so.
 */
#include <tipcrest/why.h>

#include <math.h>
#include <stdarg.h>
#include <string.h>

#include "num/number.h"

/* By itself a cause that adds less puts the tips less than 0.1 mm off the line. */
static const double SEEN_MM2 = 0.1 * 0.1;

/* How a cause is spoken of. */
typedef struct phrase {
    const char *name;
    bool plural;
    const char *levelled; /* when it is levelled out */
    const char *absent;   /* why it plays no part, where it plays none */
    const char *because;  /* why it takes tips off the line */
} phrase;

static const phrase PHRASES[TCR_CAUSES] = {
    [TCR_CAUSE_HEIGHTS] = {"root heights", true, "with all roots at the mean lash's height",
                           "all roots are at one height", "roots are at different heights"},
    [TCR_CAUSE_SHORTENING] = {"layer shortening", false,
                              "with the bottom layer's lengths on every layer",
                              "no layer is shortened", "lengths differ from layer to layer"},
    [TCR_CAUSE_PLACEMENT] = {"placement", false, "with every extension on top",
                             "every extension is placed on top",
                             "a tip moves with the side of the lash at which its extension sits"},
    [TCR_CAUSE_ZONES] = {"zone steps", true, "with smooth, unrounded lengths along the lid",
                         "lengths do not jump from zone to zone",
                         "lengths change by jumps along the lid"},
    [TCR_CAUSE_SINGLE] = {"single choices", true, "with every lash as its zone and layer",
                          "every lash wears what its zone and layer give it",
                          "some lashes differ from their zone and layer"},
    [TCR_CAUSE_VARIATION] = {"natural variation", false, "with every lash like the mean lash",
                             "every lash grows as the mean lash does",
                             "no lash grows quite like the next"},
};

const char *tcr_cause_text(tcr_cause cause) {
    return (unsigned)cause < TCR_CAUSES ? PHRASES[cause].name : "unknown";
}

const char *tcr_cause_levelled_text(tcr_cause cause) {
    return (unsigned)cause < TCR_CAUSES ? PHRASES[cause].levelled : "unknown";
}

/* ---- What the figures say ------------------------------------------------------------ */

tcr_effect tcr_effect_of(double with_rms_mm, double without_rms_mm) {
    const double more_mm = with_rms_mm - without_rms_mm;
    return more_mm >= TCR_WHY_LITTLE_MM    ? TCR_HURTS
           : more_mm <= -TCR_WHY_LITTLE_MM ? TCR_HELPS
                                           : TCR_LITTLE;
}

static tcr_effect effect_now(const tcr_share *share, const tcr_why *why) {
    return tcr_effect_of(why->whole_rms_mm, share->without_rms_mm);
}

static tcr_effect effect_alone(const tcr_share *share, const tcr_why *why) {
    return tcr_effect_of(share->alone_rms_mm, why->bare_rms_mm);
}

bool tcr_cause_is_absent(const tcr_why *why, tcr_cause cause) {
    /* A fitted line is good to 1e-10 mm, so a mean square of deviations below 5 mm is to this. */
    static const double ROUNDING_MM2 = 1e-9;
    if (why == NULL || (unsigned)cause >= TCR_CAUSES)
        return true;
    const unsigned bit = 1u << cause;
    for (unsigned causes = 0; causes < TCR_COMBINATIONS; causes++)
        if (fabs(why->mean_square_mm2[causes | bit] - why->mean_square_mm2[causes]) > ROUNDING_MM2)
            return false;
    return true;
}

/* Whether the rule would be something new. */
static bool rule_is_new(const tcr_why *why) {
    return why->layers.lengths != TCR_LENGTHS_RULED &&
           why->layers.lengths != TCR_LENGTHS_ONE_LAYER && isfinite(why->layers.ruled_rms_mm);
}

/* What an artist can change with the greatest gain: levels a cause, or follows the rule (NULL). */
static const phrase *best_change(const tcr_why *why, double *rms_mm) {
    const phrase *best = NULL;
    *rms_mm = rule_is_new(why) ? why->layers.ruled_rms_mm : (double)INFINITY;
    for (int c = 0; c < TCR_CAUSES; c++) {
        if (!tcr_cause_can_change((tcr_cause)c) || why->cause[c].without_rms_mm >= *rms_mm)
            continue;
        *rms_mm = why->cause[c].without_rms_mm;
        best = &PHRASES[c];
    }
    return best;
}

/*
 * Whether heights and shortening make up for each other: levelling either would make it worse, and
 * it is not others that they make up for. What the shortening adds at these heights, less what it
 * would add at level roots, is their interaction.
 */
static bool is_matched(const tcr_why *why) {
    const double *value = why->mean_square_mm2;
    const unsigned all = TCR_COMBINATIONS - 1u;
    const unsigned heights = 1u << TCR_CAUSE_HEIGHTS, shortening = 1u << TCR_CAUSE_SHORTENING;
    const double here = value[all] - value[all & ~shortening];
    const double level = value[all & ~heights] - value[all & ~heights & ~shortening];
    return here - level < -SEEN_MM2 &&
           effect_now(&why->cause[TCR_CAUSE_HEIGHTS], why) == TCR_HELPS &&
           effect_now(&why->cause[TCR_CAUSE_SHORTENING], why) == TCR_HELPS;
}

/* ---- Sentences ------------------------------------------------------------------------ */

/* Text being put together; what does not fit is left out. */
typedef struct words {
    char *text;
    size_t used;
} words;

static void add(words *w, const char *text) {
    const size_t room = TCR_WHY_TEXT - 1 - w->used, length = strlen(text);
    const size_t taken = length < room ? length : room;
    memcpy(w->text + w->used, text, taken);
    w->used += taken;
    w->text[w->used] = '\0';
}

/* Ends the texts of say; a plain NULL need not be a pointer there. */
#define END ((const char *)NULL)

/* Adds texts, of which END is the last. */
static void say(words *w, ...) {
    va_list texts;
    va_start(texts, w);
    for (const char *text = va_arg(texts, const char *); text != NULL;
         text = va_arg(texts, const char *))
        add(w, text);
    va_end(texts);
}

typedef struct number {
    char text[TCR_NUMBER_SIZE];
} number;

static number decimals_of(double value, int decimals) {
    number n = {""};
    tcr_number_fixed(value, decimals, n.text);
    return n;
}

static number two(double value) { return decimals_of(value, 2); }

/* Two decimals, or three where two would show another effect than the figures have. */
static int decimals_beside(double a_mm, double b_mm) {
    double a, b;
    const number shown_a = two(a_mm), shown_b = two(b_mm);
    (void)tcr_number_parse(shown_a.text, strlen(shown_a.text), &a);
    (void)tcr_number_parse(shown_b.text, strlen(shown_b.text), &b);
    const bool seems_little = lround(100.0 * fabs(a - b)) < lround(100.0 * TCR_WHY_LITTLE_MM);
    return seems_little == (tcr_effect_of(a_mm, b_mm) == TCR_LITTLE) ? 2 : 3;
}

/* "0.88 mm rms instead of 0.30" */
static void add_both(words *w, double one_mm, const char *between, double other_mm,
                     const char *after) {
    const int decimals = decimals_beside(one_mm, other_mm);
    say(w, decimals_of(one_mm, decimals).text, between, decimals_of(other_mm, decimals).text, after,
        END);
}

/* A name at the start of a sentence. */
static void add_capital(words *w, const char *name) {
    const size_t at = w->used;
    add(w, name);
    if (w->used > at && name[0] >= 'a' && name[0] <= 'z')
        w->text[at] = (char)(name[0] - 'a' + 'A');
}

static void add_rule(words *w, const tcr_why *why, const char *the) {
    number step;
    tcr_number_text(why->layers.step_mm, step.text);
    say(w, the, " rule (each layer ", step.text, " mm shorter)", END);
}

/* What the tray lacks for the rule. */
static void add_lacking(words *w, const tcr_why *why) {
    char lacking[TCR_NUMBER_SIZE], all[TCR_NUMBER_SIZE];
    if (why->layers.ruled_lacking == 0)
        return;
    tcr_number_text((double)why->layers.ruled_lacking, lacking);
    tcr_number_text((double)why->lashes, all);
    say(w, "; the tray lacks its sizes for ", lacking, " of ", all, " lashes", END);
}

static const char *does(tcr_effect effect, bool plural) {
    return effect == TCR_HELPS   ? plural ? " help" : " helps"
           : effect == TCR_HURTS ? plural ? " hurt" : " hurts"
           : plural              ? " change little"
                                 : " changes little";
}

/* ---- The answer ------------------------------------------------------------------------ */

static void say_equal(words *w, const tcr_why *why) {
    const double whole_mm = why->whole_rms_mm, ruled_mm = why->layers.ruled_rms_mm;
    add(w,
        why->layers.worn ? "All layers wear equal lengths; " : "All layers have equal lengths; ");
    add_rule(w, why, "the");
    if (isnan(ruled_mm)) {
        say(w, " cannot be followed: ", two(whole_mm).text, " mm rms.", END);
        return;
    }
    say(w, " would", does(tcr_effect_of(ruled_mm, whole_mm), true), ": ", END);
    add_both(w, ruled_mm, " mm rms with it, ", whole_mm, " mm without");
    add_lacking(w, why);
    add(w, ".");
}

/* The set with its lengths by layer, and with equal ones. */
static void say_compared(words *w, const tcr_why *why, const char *between) {
    add_both(w, why->whole_rms_mm, between, why->layers.equal_rms_mm, " mm with equal lengths");
}

/* Whether the verdict says what the rule would do, and so what the tray lacks for it. */
static bool verdict_tells_rule(const tcr_why *why) {
    return why->layers.lengths == TCR_LENGTHS_EQUAL ||
           (why->layers.lengths == TCR_LENGTHS_OTHER && rule_is_new(why) && !why->layers.worn);
}

static void say_own_lengths(words *w, const tcr_why *why, tcr_effect effect) {
    const tcr_why_layers *layers = &why->layers;
    say(w, layers->worn ? "The lengths worn on the layers" : "The layers' own lengths",
        does(effect, true), ": ", END);
    say_compared(w, why, " mm rms with them, ");
    if (verdict_tells_rule(why)) {
        say(w, ", ", two(layers->ruled_rms_mm).text, " mm by ", END);
        add_rule(w, why, "the");
        add_lacking(w, why);
    }
    add(w, ".");
}

static void say_verdict(words *w, const tcr_why *why) {
    const tcr_why_layers *layers = &why->layers;
    const tcr_effect effect = tcr_effect_of(why->whole_rms_mm, layers->equal_rms_mm);
    if (layers->lengths == TCR_LENGTHS_ONE_LAYER) {
        say(w, "Only one layer wears extensions, so no rule for layers plays a part: ",
            two(why->whole_rms_mm).text, " mm rms.", END);
    } else if (layers->lengths == TCR_LENGTHS_EQUAL) {
        say_equal(w, why);
    } else if (layers->lengths == TCR_LENGTHS_OTHER || layers->worn) {
        say_own_lengths(w, why, effect);
    } else {
        add_rule(w, why, "The");
        say(w, does(effect, false), ": ", END);
        say_compared(w, why, " mm rms with it, ");
        add(w, ".");
    }
}

/* " raises it 0.95 mm" */
static void add_move(words *w, double up_mm, const char *what) {
    if (fabs(up_mm) < 0.005)
        say(w, " moves ", what, " less than 0.01 mm", END);
    else
        say(w, up_mm > 0.0 ? " raises " : " lowers ", what, " ", two(fabs(up_mm)).text, " mm", END);
}

static void say_lever(words *w, const tcr_why *why) {
    const tcr_why_layers *layers = &why->layers;
    if (isnan(layers->tip_by_height_mm)) {
        add(w, "The mean lash in the middle of the lid is too short to bond to.");
    } else {
        add(w, "A root 1 mm higher");
        add_move(w, layers->tip_by_height_mm, "the mean lash's tip");
        add(w, "; 1 mm less length");
        if (isnan(layers->tip_by_shorter_mm))
            add(w, " cannot be worn");
        else
            add_move(w, layers->tip_by_shorter_mm, "it");
        add(w, ".");
    }
    static const char *const names[TCR_LAYERS] = {"bottom ", "middle ", "top "};
    const char *before = " Mean root heights: ";
    for (int layer = 0; layer < TCR_LAYERS; layer++) {
        if (isnan(layers->height_mm[layer]))
            continue;
        say(w, before, names[layer], two(layers->height_mm[layer]).text, END);
        before = ", ";
    }
    add(w, " mm.");
}

static void say_change(words *w, const tcr_why *why) {
    double rms_mm;
    const phrase *best = best_change(why, &rms_mm);
    if (tcr_effect_of(why->whole_rms_mm, rms_mm) != TCR_HURTS) {
        say(w, "Of what an artist can change, nothing costs ", two(TCR_WHY_LITTLE_MM).text,
            " mm rms or more by itself.", END);
        return;
    }
    say(w, "Of what an artist can change, ", best == NULL ? "lengths by layer" : best->name,
        best == NULL || best->plural ? " cost most: " : " costs most: ", END);
    if (best == NULL)
        add_rule(w, why, "by the");
    else
        add(w, best->levelled);
    add(w, " ");
    add_both(w, rms_mm, " mm rms instead of ", why->whole_rms_mm, "");
    if (best == NULL && !verdict_tells_rule(why))
        add_lacking(w, why);
    add(w, ".");
}

/* ---- The rest -------------------------------------------------------------------------- */

/* Root heights and layer shortening, jointly first: levelling one of them alone undoes what the two
 * make of each other, so the single figures follow as a pair. */
static void say_pair(words *w, const tcr_why *why, const char *root) {
    const double both_mm = why->layering.without_rms_mm, whole_mm = why->whole_rms_mm;
    say(w, root, " heights and layer shortening", END);
    if (is_matched(why))
        add(w, " make up for each other: ");
    else
        say(w, " together", does(tcr_effect_of(whole_mm, both_mm), true), ": ", END);
    say(w, decimals_of(both_mm, decimals_beside(both_mm, whole_mm)).text,
        " mm rms with both levelled, ", two(why->cause[TCR_CAUSE_HEIGHTS].without_rms_mm).text,
        " with the roots alone levelled, ",
        two(why->cause[TCR_CAUSE_SHORTENING].without_rms_mm).text, " with the lengths alone. ",
        END);
}

/* The causes of one effect among those that are left: "Helps: root heights (0.88 without)." */
static void say_group(words *w, const tcr_why *why, tcr_effect effect, const bool *left,
                      const char *head) {
    bool any = false;
    for (int c = 0; c < TCR_CAUSES; c++) {
        const double without_mm = why->cause[c].without_rms_mm;
        if (!left[c] || effect_now(&why->cause[c], why) != effect)
            continue;
        say(w, any ? ", " : head, PHRASES[c].name, " (",
            decimals_of(without_mm, decimals_beside(without_mm, why->whole_rms_mm)).text,
            " without", END);
        add(w, effect == TCR_HURTS && !tcr_cause_can_change((tcr_cause)c) ? ", but lashes grow so)"
                                                                          : ")");
        any = true;
    }
    add(w, any ? ". " : "");
}

static void say_absent(words *w, const tcr_why *why) {
    const char *before = "No part: ";
    for (int c = 0; c < TCR_CAUSES; c++) {
        if (!tcr_cause_is_absent(why, (tcr_cause)c))
            continue;
        say(w, before, PHRASES[c].name, END);
        before = ", ";
    }
    add(w, before[0] == ',' ? "." : "");
}

static void say_rest(words *w, const tcr_why *why) {
    bool left[TCR_CAUSES];
    double rms_mm;
    const phrase *best = best_change(why, &rms_mm);
    const bool told = tcr_effect_of(why->whole_rms_mm, rms_mm) == TCR_HURTS;
    const bool pair = !tcr_cause_is_absent(why, TCR_CAUSE_HEIGHTS) &&
                      !tcr_cause_is_absent(why, TCR_CAUSE_SHORTENING);
    for (int c = 0; c < TCR_CAUSES; c++)
        left[c] = !tcr_cause_is_absent(why, (tcr_cause)c) && !(told && best == &PHRASES[c]) &&
                  !(pair && (c == TCR_CAUSE_HEIGHTS || c == TCR_CAUSE_SHORTENING));
    if (pair)
        say_pair(w, why, "Root");
    say_group(w, why, TCR_HURTS, left, told && best != NULL ? "Hurts too: " : "Hurts: ");
    say_group(w, why, TCR_HELPS, left, "Helps: ");
    say_group(w, why, TCR_LITTLE, left, "Changes little: ");
    say_absent(w, why);
}

/* ---- One cause ------------------------------------------------------------------------- */

/* What a cause does by itself, where it does something else in the set as it is. */
static void say_contrast(words *w, const phrase *of, const tcr_share *share, const tcr_why *why) {
    const tcr_effect now = effect_now(share, why);
    add(w, " alone would put the tips ");
    add_both(w, share->alone_rms_mm, " mm rms off the line instead of ", why->bare_rms_mm,
             ", but ");
    if (now == TCR_HELPS)
        add(w,
            of->plural ? "the rest of this set suits them: " : "the rest of this set suits it: ");
    else if (now == TCR_HURTS)
        add(w, "not with the rest of this set: ");
    else
        add(w, of->plural ? "here they change little: " : "here it changes little: ");
}

static void say_share(words *w, const phrase *of, const tcr_share *share, const tcr_why *why) {
    const tcr_effect alone = effect_alone(share, why), now = effect_now(share, why);
    add_capital(w, of->name);
    if (alone != TCR_LITTLE && now != alone)
        say_contrast(w, of, share, why);
    else if (now == TCR_HURTS)
        say(w, of->plural ? " take" : " takes", " the tips off the line, because ", of->because,
            ": ", END);
    else if (now == TCR_HELPS)
        say(w, of->plural ? " bring" : " brings", " the tips to the line: ", END);
    else
        say(w, does(TCR_LITTLE, of->plural), " here: ", END);
    say(w, of->levelled, " ", END);
    add_both(w, share->without_rms_mm, " mm rms instead of ", why->whole_rms_mm, ".");
}

static void say_layering(words *w, const tcr_why *why) {
    const bool no_heights = tcr_cause_is_absent(why, TCR_CAUSE_HEIGHTS);
    const bool no_shortening = tcr_cause_is_absent(why, TCR_CAUSE_SHORTENING);
    if (no_heights && no_shortening)
        add(w, "Layering plays no part.");
    else if (no_heights)
        add(w, "Layering: here it is the shortening alone.");
    else if (no_shortening)
        add(w, "Layering: here it is the heights alone, since no layer is shortened for them.");
    else
        say_pair(w, why, "Layering: root");
}

static void say_cause(words *w, const tcr_why *why, tcr_cause cause) {
    const phrase *of = &PHRASES[cause];
    if (tcr_cause_is_absent(why, cause)) {
        add_capital(w, of->name);
        say(w, of->plural ? " play" : " plays", " no part: ", of->absent, ".", END);
    } else {
        say_share(w, of, &why->cause[cause], why);
    }
}

/* ---- Public ---------------------------------------------------------------------------- */

void tcr_why_say(const tcr_why *why, tcr_why_sentence which, char text[TCR_WHY_TEXT]) {
    static void (*const sayers[TCR_WHY_SENTENCES])(words *, const tcr_why *) = {
        [TCR_WHY_VERDICT] = say_verdict,   [TCR_WHY_LEVER] = say_lever,
        [TCR_WHY_CHANGE] = say_change,     [TCR_WHY_REST] = say_rest,
        [TCR_WHY_LAYERING] = say_layering,
    };
    if (text == NULL)
        return;
    words w = {.text = text};
    text[0] = '\0';
    if (why != NULL && (unsigned)which < TCR_WHY_SENTENCES)
        sayers[which](&w, why);
    while (w.used > 0 && text[w.used - 1] == ' ')
        text[--w.used] = '\0';
}

void tcr_why_say_cause(const tcr_why *why, tcr_cause cause, char text[TCR_WHY_TEXT]) {
    if (text == NULL)
        return;
    words w = {.text = text};
    text[0] = '\0';
    if (why != NULL && (unsigned)cause < TCR_CAUSES)
        say_cause(&w, why, cause);
}
