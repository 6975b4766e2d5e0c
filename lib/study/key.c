/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Keys of a set: a table says which struct stands at which path of a set file, the table of fields
 * which keys it has there. So what is not found can be told with what is there instead.
 */
#include "study/key.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <tipcrest/text.h>

#include "num/error.h"

/* A block of the set file. In its path # is the number of a zone and @ the name of a layer. */
typedef struct block {
    const char *path;
    tcr_group group;
    int what;
    bool of_eye;
    const char *stands_for; /* of a short: the path in full */
} block;

static const block BLOCKS[] = {
    {"lid", TCR_GROUP_LID, TCR_AT_LID, true, NULL},
    {"lashes.describe", TCR_GROUP_DESCRIPTION, TCR_AT_DESCRIPTION, true, NULL},
    {"map.#", TCR_GROUP_ZONE, TCR_AT_ZONE, true, NULL},
    {"map.#.@", TCR_GROUP_WISH, TCR_AT_ZONE, true, NULL},
    {"intended.#", TCR_GROUP_ZONE, TCR_AT_MEANT, true, NULL},
    {"intended.#.@", TCR_GROUP_WISH, TCR_AT_MEANT, true, NULL},
    {"layering", TCR_GROUP_LAYERING, TCR_AT_LAYERING, false, NULL},
    {"layering.placement", TCR_GROUP_PLACEMENT, TCR_AT_LAYERING, false, NULL},
    {"mean_lash", TCR_GROUP_MEAN_LASH, TCR_AT_MEAN_LASH, false, NULL},
    {"bond", TCR_GROUP_BOND, TCR_AT_BOND, false, NULL},
    {"line", TCR_GROUP_LINE, TCR_AT_LINE, false, NULL},
    {"", TCR_GROUP_VIEW, TCR_AT_VIEW, false, NULL},
    {"placement", TCR_GROUP_PLACEMENT, TCR_AT_LAYERING, false, "layering.placement"},
    {"describe", TCR_GROUP_DESCRIPTION, TCR_AT_DESCRIPTION, true, "lashes.describe"},
};
enum { BLOCK_COUNT = sizeof BLOCKS / sizeof *BLOCKS };

/* The shorts of their own. */
static const struct {
    const char *name;
    int what;
    tcr_group group; /* of the field whose range it has */
    const char *field;
    const char *note;
} SHORTS[] = {
    {"curl", TCR_AT_CURL, TCR_GROUP_ZONE, "curl", "curl of every zone"},
    {"longest_mm", TCR_AT_LONGEST, TCR_GROUP_ZONE, "length_mm",
     "longest zone; the others move along"},
    {"apart_mm", TCR_AT_APART, TCR_GROUP_DESCRIPTION, "gap_mm",
     "from the mean height of one layer to that of the next"},
};
enum { SHORT_COUNT = sizeof SHORTS / sizeof *SHORTS };

/* ---- Paths ----------------------------------------------------------------------------------- */

/* A part of a path, up to the next dot or the end. */
typedef struct part {
    const char *text;
    size_t bytes;
} part;

static part part_at(const char *text) { return (part){text, strcspn(text, ".")}; }

static bool is_part(part p, const char *word) {
    return strlen(word) == p.bytes && memcmp(p.text, word, p.bytes) == 0;
}

/* The number of a zone, from 0; -1 for any other text. */
static int zone_of(part p) {
    int number = 0;
    for (size_t i = 0; i < p.bytes; i++) {
        if (p.text[i] < '0' || p.text[i] > '9' || i > 2)
            return -1;
        number = 10 * number + (p.text[i] - '0');
    }
    return p.bytes > 0 && p.text[0] != '0' ? number - 1 : -1;
}

static int layer_of(part p) {
    for (int layer = 0; layer < TCR_LAYERS; layer++)
        if (is_part(p, tcr_layer_text((tcr_layer)layer)))
            return layer;
    return -1;
}

/* Whether a part of a path fits one of a block's; takes the zone or layer. */
static bool fits(part own, part found, tcr_key *key) {
    if (own.bytes == 1 && *own.text == '#')
        return (key->zone = zone_of(found)) >= 0;
    if (own.bytes == 1 && *own.text == '@')
        return (key->layer = layer_of(found)) >= 0;
    return own.bytes == found.bytes && memcmp(own.text, found.text, own.bytes) == 0;
}

/* Whether a path goes through a block; *leaf is then what is left of it. */
static bool goes_through(const block *b, const char *path, tcr_key *key, const char **leaf) {
    const char *own = b->path;
    key->zone = key->layer = -1;
    while (*own != '\0') {
        const part mine = part_at(own), found = part_at(path);
        if (!fits(mine, found, key) || path[found.bytes] != '.')
            return false;
        own += mine.bytes + (own[mine.bytes] == '.');
        path += found.bytes + 1;
    }
    *leaf = path;
    return true;
}

/* ---- Whether a set has it -------------------------------------------------------------------- */

/* Zones of the map, or of the intended map, in the eyes of 'sides': the least number. */
static size_t zones_in(const tcr_set *set, unsigned sides, int what) {
    size_t least = TCR_ZONES_MAX;
    for (int side = 0; side < TCR_SIDES; side++) {
        size_t count;
        if ((sides >> side & 1u) == 0)
            continue;
        if (what == TCR_AT_ZONE)
            (void)tcr_set_map(set, (tcr_side)side, &count);
        else
            (void)tcr_set_intended(set, (tcr_side)side, &count);
        least = count < least ? count : least;
    }
    return least;
}

static bool all_described(const tcr_set *set, unsigned sides) {
    for (int side = 0; side < TCR_SIDES; side++)
        if ((sides >> side & 1u) && tcr_set_description(set, (tcr_side)side) == NULL)
            return false;
    return true;
}

/* Where the bond starts is a lash's own, in a survey. */
static bool may_be_in_zone(const tcr_field *field) { return field->bit != TCR_FIX_FROM_SKIN; }

static unsigned sides_of(const tcr_set *set) {
    unsigned sides = 0;
    for (int side = 0; side < TCR_SIDES; side++)
        if (tcr_set_has_eye(set, (tcr_side)side))
            sides |= 1u << side;
    return sides;
}

/* The zone of a key in one eye. */
static const tcr_zone *zone_in(const tcr_set *set, tcr_side side, const tcr_key *key) {
    size_t count;
    const tcr_zone *zones = key->what == TCR_AT_ZONE ? tcr_set_map(set, side, &count)
                                                     : tcr_set_intended(set, side, &count);
    return &zones[key->zone];
}

static double label_index(const tcr_set *set, const char *label) {
    size_t index;
    return tcr_set_find_curl(set, label, &index) == TCR_OK ? (double)index : NAN;
}

/* The struct that has a key, in one eye or the whole set; NULL where a zone does not fix it. */
static const void *object_in(const tcr_set *set, tcr_side side, const tcr_key *key) {
    switch (key->what) {
    case TCR_AT_LID:
        return tcr_set_lid(set, side);
    case TCR_AT_DESCRIPTION:
        return tcr_set_description(set, side);
    case TCR_AT_LAYERING:
        return tcr_set_layering(set);
    case TCR_AT_MEAN_LASH:
        return tcr_set_mean_lash(set);
    case TCR_AT_BOND:
        return tcr_set_bond(set);
    case TCR_AT_LINE:
        return tcr_set_line(set);
    case TCR_AT_VIEW:
        return tcr_set_view(set);
    default:
        break;
    }
    const tcr_zone *zone = zone_in(set, side, key);
    if (key->layer < 0)
        return zone;
    const tcr_wish *wish = &zone->layer[key->layer];
    return (wish->fixed & key->field->bit) != 0 ? wish : NULL;
}

static double value_in(const tcr_set *set, tcr_side side, const tcr_key *key) {
    const void *object = object_in(set, side, key);
    if (object == NULL)
        return NAN;
    if (key->kind == TCR_KIND_LABEL)
        return label_index(set, (const char *)object + key->field->offset);
    return tcr_field_value(key->field, object);
}

/* The value that a key has in all of its eyes. */
static double value_now(const tcr_set *set, const tcr_key *key) {
    double now = NAN;
    bool first = true;
    if (key->what == TCR_AT_LONGEST)
        return tcr_set_longest_mm(set);
    if (key->what == TCR_AT_CURL || key->what == TCR_AT_APART)
        return NAN;
    for (int side = 0; side < TCR_SIDES; side++) {
        if (key->sides != 0 && (key->sides >> side & 1u) == 0)
            continue;
        const double value = value_in(set, (tcr_side)side, key);
        now = first || value == now ? value : NAN;
        first = false;
        if (key->sides == 0)
            break;
    }
    return now;
}

/* Takes over what the table says of a field. */
static void describe(const tcr_set *set, tcr_key *key, const tcr_field *field) {
    const bool label = field->kind == TCR_KIND_LABEL;
    key->field = field;
    key->kind = field->kind;
    key->unit = field->unit;
    key->least = label ? 0.0 : field->file.least;
    key->most = label ? (double)tcr_set_curl_count(set) - 1.0 : field->file.most;
    key->words = field->words;
    key->note = field->note;
}

/* ---- Finding --------------------------------------------------------------------------------- */

static tcr_status fail(tcr_error *error, const char *key, const char *why) {
    return tcr_error_set(error, TCR_E_MISSING, "the set has no key \"%.*s\"%s%s", 2 * TCR_KEY_SIZE,
                         key, *why != '\0' ? "; " : "", why);
}

/* "its keys are offset_mm, length_mm, glue_mm", as many as there is room for. */
static void list_keys(const char *const *known, size_t count, char *why, size_t room) {
    static const char MORE[] = ", ...";
    size_t used = (size_t)snprintf(why, room, "its keys are ");
    for (size_t i = 0; i < count; i++) {
        const size_t more = i + 1 < count ? sizeof MORE : 1;
        const bool fits = used + strlen(known[i]) + 2 + more <= room;
        used += (size_t)snprintf(why + used, room - used, "%s%s", i > 0 && fits ? ", " : "",
                                 fits ? known[i] : MORE);
        if (!fits)
            return;
    }
}

/* A path whose last key is not in its block. */
static tcr_status fail_leaf(tcr_error *error, const char *key, const char *leaf, const block *b) {
    size_t count;
    const tcr_field *fields = tcr_fields(b->group, &count);
    const char *known[64], *meant;
    char why[160] = "";
    for (size_t i = 0; i < count; i++)
        known[i] = fields[i].key;
    meant = tcr_suggest(leaf, strlen(leaf), known, count);
    if (meant != NULL)
        (void)snprintf(why, sizeof why, "did you mean %.*s%s?", (int)(leaf - key), key, meant);
    else
        list_keys(known, count, why, sizeof why);
    return fail(error, key, why);
}

/* The field of a group whose key is a path, or a path with its unit left off ("step"); NULL: none.
 */
static const tcr_field *find_leaf(tcr_group group, const char *path) {
    const size_t bytes = strlen(path);
    size_t count;
    const tcr_field *fields = tcr_fields(group, &count);
    for (size_t i = 0; i < count; i++)
        if (strncmp(fields[i].key, path, bytes) == 0 &&
            (fields[i].key[bytes] == '\0' || fields[i].key[bytes] == '_'))
            return &fields[i];
    return NULL;
}

/* A path that goes through no block: the one that it nearly begins with, or the block of its field.
 */
static tcr_status fail_path(tcr_error *error, const char *key, const char *path) {
    static const char *const FIRST[] = {"curl",     "longest_mm", "apart_mm",   "placement",
                                        "describe", "layering",   "mean_lash",  "bond",
                                        "line",     "opening",    "viewer_deg", "eyes",
                                        "lid",      "lashes",     "map",        "intended"};
    const part first = part_at(path);
    char why[160] = "";
    for (int i = 0; i < BLOCK_COUNT && first.bytes > 0; i++) {
        if (strcmp(BLOCKS[i].path, path) == 0) {
            (void)snprintf(why, sizeof why, "write %s.%s, or another key of it", key,
                           tcr_fields(BLOCKS[i].group, NULL)->key);
            return fail(error, key, why);
        }
        const tcr_field *meant = find_leaf(BLOCKS[i].group, path);
        if (meant == NULL || strchr(BLOCKS[i].path, '#') != NULL)
            continue;
        (void)snprintf(why, sizeof why, "did you mean %s%s%s?", BLOCKS[i].path,
                       *BLOCKS[i].path != '\0' ? "." : "", meant->key);
        return fail(error, key, why);
    }
    const char *meant = tcr_suggest(first.text, first.bytes, FIRST, sizeof FIRST / sizeof *FIRST);
    if (meant != NULL && !is_part(first, meant))
        (void)snprintf(why, sizeof why, "did you mean %.*s%s%s?", (int)(path - key), key, meant,
                       path + first.bytes);
    else if (is_part(first, "map") || is_part(first, "intended"))
        (void)snprintf(why, sizeof why, "zones have numbers from 1, as in %.*s.2.length_mm",
                       (int)first.bytes, path);
    else if (is_part(first, "eyes"))
        (void)snprintf(why, sizeof why, "write eyes.left or eyes.right, then the key of the eye");
    else
        (void)snprintf(why, sizeof why,
                       "a key is the path in a set file, such as layering.step_mm");
    return fail(error, key, why);
}

/* Takes "eyes.SIDE." off a path; the eyes that it is about. */
static tcr_status take_side(const tcr_set *set, const char **path, unsigned *sides,
                            tcr_error *error) {
    const char *key = *path;
    *sides = sides_of(set);
    if (strncmp(key, "eyes.", 5) != 0)
        return TCR_OK;
    const part side = part_at(key + 5);
    for (int s = 0; s < TCR_SIDES; s++) {
        if (!is_part(side, tcr_side_text((tcr_side)s)) || side.text[side.bytes] != '.')
            continue;
        if (!tcr_set_has_eye(set, (tcr_side)s))
            return fail(error, key, "it has no such eye");
        *sides = 1u << s;
        *path = side.text + side.bytes + 1;
        return TCR_OK;
    }
    return fail_path(error, key, key);
}

/* Whether a set has what a key is about. */
static tcr_status check_there(const tcr_set *set, const tcr_key *key, const char *name,
                              tcr_error *error) {
    char why[120];
    if (key->what == TCR_AT_DESCRIPTION && !all_described(set, key->sides))
        return fail(error, name, "its lashes come from a survey and are not described");
    if (key->what != TCR_AT_ZONE && key->what != TCR_AT_MEANT)
        return TCR_OK;
    const size_t zones = zones_in(set, key->sides, key->what);
    if (zones == 0 && key->what == TCR_AT_MEANT)
        return fail(error, name, "it has no intended map");
    if ((size_t)key->zone >= zones) {
        (void)snprintf(why, sizeof why, "the map has %zu zones", zones);
        return fail(error, name, why);
    }
    if (key->layer >= 0 && !may_be_in_zone(key->field))
        return fail(error, name, "from_skin_mm is a lash's own; bond.offset_mm is for all");
    return TCR_OK;
}

static bool find_short(const tcr_set *set, const char *name, tcr_key *key) {
    for (int i = 0; i < SHORT_COUNT; i++)
        if (strcmp(SHORTS[i].name, name) == 0) {
            *key = (tcr_key){.what = SHORTS[i].what, .zone = -1, .layer = -1};
            describe(set, key, tcr_field_find(SHORTS[i].group, SHORTS[i].field));
            key->note = SHORTS[i].note;
            key->sides = sides_of(set);
            (void)snprintf(key->name, sizeof key->name, "%s", name);
            key->now = value_now(set, key);
            return true;
        }
    return false;
}

static void name_key(tcr_key *key, const char *name, const char *path, const char *leaf,
                     const block *b) {
    if (b->stands_for == NULL)
        (void)snprintf(key->name, sizeof key->name, "%s", name);
    else
        (void)snprintf(key->name, sizeof key->name, "%.*s%s.%s", (int)(path - name), name,
                       b->stands_for, leaf);
}

tcr_status tcr_key_find(const tcr_set *set, const char *name, tcr_key *out, tcr_error *error) {
    tcr_key key = {0};
    if (set == NULL || name == NULL || out == NULL)
        return tcr_error_status(error, TCR_E_ARGUMENT);
    if (strnlen(name, TCR_KEY_SIZE) >= TCR_KEY_SIZE)
        return fail(error, name, "");
    if (find_short(set, name, out))
        return TCR_OK;
    const char *path = name, *leaf;
    unsigned sides;
    tcr_status status = take_side(set, &path, &sides, error);
    if (status != TCR_OK)
        return status;
    const block *nearly = NULL;
    const char *missed = NULL;
    for (int i = 0; i < BLOCK_COUNT; i++) {
        const block *b = &BLOCKS[i];
        if ((path != name && !b->of_eye) || !goes_through(b, path, &key, &leaf))
            continue;
        const tcr_field *field = tcr_field_find(b->group, leaf);
        if (field == NULL && strchr(leaf, '.') == NULL && *b->path != '\0') {
            nearly = b;
            missed = leaf;
        }
        if (field == NULL)
            continue;
        key.what = b->what;
        key.sides = b->of_eye ? sides : 0;
        describe(set, &key, field);
        name_key(&key, name, path, leaf, b);
        status = check_there(set, &key, name, error);
        if (status != TCR_OK)
            return status;
        key.now = value_now(set, &key);
        *out = key;
        return TCR_OK;
    }
    return nearly != NULL ? fail_leaf(error, name, missed, nearly) : fail_path(error, name, path);
}

/* ---- Listing --------------------------------------------------------------------------------- */

/* The path of a block with a zone and a layer. */
static void path_of(const block *b, size_t zone, int layer, char path[TCR_KEY_SIZE]) {
    size_t at = 0;
    for (const char *c = b->path; *c != '\0' && at + 8 < TCR_KEY_SIZE; c++) {
        const size_t room = TCR_KEY_SIZE - at;
        if (*c == '#')
            at += (size_t)snprintf(path + at, room, "%zu", zone + 1);
        else if (*c == '@')
            at += (size_t)snprintf(path + at, room, "%s", tcr_layer_text((tcr_layer)layer));
        else
            path[at++] = *c;
    }
    path[at] = '\0';
}

/* Takes key *i of a block if it has so many; else *i is less by its keys. */
static bool take_of_block(const tcr_set *set, const block *b, const char *before, unsigned sides,
                          size_t *i, tcr_key *key) {
    size_t count;
    const tcr_field *fields = tcr_fields(b->group, &count);
    const bool zones = strchr(b->path, '#') != NULL, layers = strchr(b->path, '@') != NULL;
    const size_t n = zones ? zones_in(set, sides, b->what) : 1;
    for (size_t zone = 0; zone < n; zone++)
        for (int layer = 0; layer < (layers ? TCR_LAYERS : 1); layer++)
            for (size_t f = 0; f < count; f++) {
                char path[TCR_KEY_SIZE], name[TCR_KEY_SIZE];
                if (layers && !may_be_in_zone(&fields[f]))
                    continue;
                if ((*i)-- > 0)
                    continue;
                path_of(b, zone, layer, path);
                const int bytes = snprintf(name, sizeof name, "%s%s%s%s", before, path,
                                           *path != '\0' ? "." : "", fields[f].key);
                return bytes < TCR_KEY_SIZE && tcr_key_find(set, name, key, NULL) == TCR_OK;
            }
    return false;
}

bool tcr_key_at(const tcr_set *set, size_t i, tcr_key *key) {
    tcr_side sides[TCR_SIDES];
    const size_t eyes = tcr_set_eyes(set, sides);
    if (set == NULL || key == NULL)
        return false;
    for (size_t e = 0; e <= eyes; e++) {
        char before[24] = "";
        if (e < eyes)
            (void)snprintf(before, sizeof before, "eyes.%s.", tcr_side_text(sides[e]));
        for (int b = 0; b < BLOCK_COUNT; b++) {
            const unsigned eye = e < eyes ? 1u << sides[e] : 0;
            if (BLOCKS[b].of_eye != (e < eyes) || BLOCKS[b].stands_for != NULL ||
                (BLOCKS[b].what == TCR_AT_DESCRIPTION && !all_described(set, eye)))
                continue;
            const size_t before_block = i;
            if (take_of_block(set, &BLOCKS[b], before, eye, &i, key))
                return true;
            if (i > before_block)
                return false;
        }
    }
    return i < SHORT_COUNT && find_short(set, SHORTS[i].name, key);
}
