/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Study files: the document becomes options, factors and outputs, and what a call asks for comes
 * behind them. Values are read by the calls of study_key.h, so that a list in a file and one on a
 * command line mean the same.
 */
#include "results/study_file.h"

#include <string.h>

#include <tipcrest/version.h>

#include "file/set_file.h"
#include "num/memory.h"
#include "num/options.h"

enum { STUDY_FORMAT = 1 };

static const tcr_place NOWHERE = {"", 0, 0};

void tcr_study_ask_init(tcr_study_ask *ask, size_t size) {
    const tcr_study_ask defaults = {.varied = 0};
    tcr_options_init(ask, size, &defaults, sizeof defaults);
}

/* What reading a study file needs. */
typedef struct reading {
    tcr_set_reader reader; /* of the study file; its 'file' is not used */
    const tcr_node *root;
    tcr_study_file *file;
    const tcr_study_ask *ask;
    tcr_error *error;
} reading;

static const tcr_node *find(const reading *r, const char *key) {
    return tcr_tree_find(&r->reader.tree, r->root, key);
}

static char *copy_text(const tcr_allocator *allocator, const char *text) {
    const size_t bytes = strlen(text) + 1;
    char *copy = tcr_resize(allocator, NULL, bytes, 1);
    return copy != NULL ? memcpy(copy, text, bytes) : NULL;
}

/* Gives an error of the study library its place in the file. */
static tcr_status fail_there(const reading *r, tcr_status status, const tcr_node *node) {
    if (status == TCR_E_MEMORY)
        return tcr_fail_memory(r->error, r->reader.path);
    return status == TCR_OK ? TCR_OK
                            : tcr_fail_here(r->error, tcr_tree_place(&r->reader.tree, node));
}

/* ---- Options --------------------------------------------------------------------------------- */

/* A whole number of a study file; its range is checked again where it is used. */
static tcr_status read_count(const reading *r, const char *key, double most, double *value,
                             bool *given) {
    const tcr_field field = {
        .key = key, .kind = TCR_KIND_UINT64, .unit = TCR_UNIT_COUNT, .file = {0, most, 0}};
    const tcr_node *node = find(r, key);
    *given = node != NULL;
    return node != NULL ? tcr_read_number(&r->reader, node, &field, key, value) : TCR_OK;
}

static tcr_status read_choice(const reading *r, const char *key, const char *const *words,
                              size_t count, size_t *index) {
    const tcr_words list = {words, count};
    const tcr_node *node = find(r, key);
    return node != NULL ? tcr_read_word(&r->reader, node, key, &list, index) : TCR_OK;
}

/* How the lashes of a surveyed eye vary from run to run: those of a description's spreads that
 * lashes have by themselves. */
static tcr_status read_spread(const reading *r, tcr_description *spread) {
    static const char *const KEYS[] = {"height_sd_mm", "pitch_sd_deg", "yaw_sd_deg",
                                       "roll_sd_deg",  "turn_sd_deg",  NULL};
    const tcr_block block = {.name = "spread", .where = "in spread", .before = KEYS};
    const tcr_node *node = find(r, "spread");
    tcr_status status =
        node != NULL ? tcr_read_block(&r->reader, node, &block, NULL, NULL) : TCR_OK;
    for (size_t i = 0; node != NULL && KEYS[i] != NULL && status == TCR_OK; i++) {
        const tcr_node *value = tcr_tree_find(&r->reader.tree, node, KEYS[i]);
        const tcr_field *field = tcr_field_find(TCR_GROUP_DESCRIPTION, KEYS[i]);
        double number;
        if (value == NULL)
            continue;
        status = tcr_read_number(&r->reader, value, field, KEYS[i], &number);
        if (status == TCR_OK)
            status = tcr_field_put(field, spread, number, r->error);
    }
    return status;
}

static tcr_status read_options(const reading *r, tcr_study_options *o) {
    static const char *const AGAINST[] = {"fitted", "intended"};
    const char *designs[TCR_DESIGNS];
    double number = 0.0;
    size_t design = (size_t)o->design, against = (size_t)o->against;
    bool given = false;
    for (int i = 0; i < TCR_DESIGNS; i++)
        designs[i] = tcr_design_text((tcr_design_kind)i);
    tcr_status status = read_choice(r, "design", designs, TCR_DESIGNS, &design);
    if (status == TCR_OK)
        status = read_choice(r, "against", AGAINST, 2, &against);
    if (status == TCR_OK)
        status = read_count(r, "points", (double)TCR_DESIGN_POINTS_MAX, &number, &given);
    if (status == TCR_OK && given)
        o->points = (uint64_t)number;
    if (status == TCR_OK)
        status = read_count(r, "scramblings", TCR_SCRAMBLINGS_MAX, &number, &given);
    if (status == TCR_OK && given)
        o->scramblings = (size_t)number;
    if (status == TCR_OK)
        status = read_count(r, "runs", TCR_RUNS_MAX, &number, &given);
    if (status == TCR_OK && given)
        o->runs = (size_t)number;
    if (status == TCR_OK) /* whole numbers that doubles tell apart */
        status = read_count(r, "seed", 9007199254740992.0, &number, &given);
    if (status == TCR_OK && given)
        o->seed = (uint64_t)number;
    o->design = (tcr_design_kind)design;
    o->against = (tcr_against)against;
    return status == TCR_OK ? read_spread(r, &o->spread) : status;
}

static void ask_options(const tcr_study_ask *ask, tcr_study_options *o) {
    o->design = ask->has_design ? ask->design : o->design;
    o->points = ask->has_points ? ask->points : o->points;
    o->scramblings = ask->has_scramblings ? ask->scramblings : o->scramblings;
    o->runs = ask->has_runs ? ask->runs : o->runs;
    o->seed = ask->has_seed ? ask->seed : o->seed;
}

/* ---- Factors --------------------------------------------------------------------------------- */

/* The levels of a factor from one text, into memory of the caller's. */
static tcr_status parse_levels(const reading *r, const tcr_key *key, const char *text,
                               double **level, size_t *levels) {
    const tcr_set *set = tcr_set_file_set(r->file->set);
    *level = NULL;
    tcr_status status = tcr_key_parse_levels(set, key, text, NULL, 0, levels, r->error);
    if (status != TCR_OK)
        return status;
    *level = tcr_resize(&r->file->allocator, NULL, *levels, sizeof **level);
    if (*level == NULL)
        return tcr_fail_memory(r->error, "");
    return tcr_key_parse_levels(set, key, text, *level, *levels, levels, r->error);
}

static tcr_status add_levels(const reading *r, const char *name, const char *text) {
    tcr_key key;
    double *level = NULL;
    size_t levels = 0;
    tcr_status status = tcr_key_find(tcr_set_file_set(r->file->set), name, &key, r->error);
    if (status == TCR_OK)
        status = parse_levels(r, &key, text, &level, &levels);
    const tcr_factor factor = {.key = name, .level = level, .levels = levels};
    if (status == TCR_OK)
        status = tcr_study_add_factor(r->file->study, &factor, r->error);
    tcr_release(&r->file->allocator, level);
    return status;
}

/* The items of a list as one text with commas between; each is read by itself first, so that a
 * fault has its place. */
static tcr_status join_list(const reading *r, const tcr_key *key, const tcr_node *list,
                            char **joined) {
    const tcr_tree *tree = &r->reader.tree;
    size_t bytes = 0;
    for (const tcr_node *i = tcr_tree_child(tree, list); i != NULL; i = tcr_tree_next(tree, i))
        bytes += i->bytes + 1;
    char *text = *joined = tcr_resize(&r->file->allocator, NULL, bytes + 1, 1);
    if (text == NULL)
        return tcr_fail_memory(r->error, tree->path);
    for (const tcr_node *i = tcr_tree_child(tree, list); i != NULL; i = tcr_tree_next(tree, i)) {
        double value;
        const char *item = tcr_tree_text(tree, i);
        if (i->kind != TCR_NODE_SCALAR)
            return tcr_fail_at(&r->reader, i, "%s needs numbers or words in its list", key->name);
        const tcr_status status =
            tcr_key_parse(tcr_set_file_set(r->file->set), key, item, i->bytes, &value, r->error);
        if (status != TCR_OK)
            return fail_there(r, status, i);
        if (text > *joined)
            *text++ = ',';
        memcpy(text, item, i->bytes);
        text += i->bytes;
    }
    *text = '\0';
    return TCR_OK;
}

/* {distribution: normal, mean: 6, sd: 1} */
static tcr_status read_distribution(const reading *r, const tcr_node *node, tcr_factor *factor) {
    static const char *const KEYS[] = {"distribution", "least", "most", "mode", "mean", "sd", NULL};
    static const char *const NEEDS[TCR_DISTRIBUTIONS][3] = {
        [TCR_UNIFORM] = {"least", "most"},
        [TCR_NORMAL] = {"mean", "sd"},
        [TCR_TRIANGULAR] = {"least", "mode", "most"}};
    const char *words[TCR_DISTRIBUTIONS - 1];
    const tcr_words list = {words, TCR_DISTRIBUTIONS - 1};
    const tcr_block block = {
        .name = "a distribution", .where = "in a distribution", .before = KEYS};
    const tcr_node *kind;
    size_t index = 0;
    for (int i = 1; i < TCR_DISTRIBUTIONS; i++)
        words[i - 1] = tcr_distribution_text((tcr_distribution)i);
    tcr_status status = tcr_read_block(&r->reader, node, &block, NULL, NULL);
    if (status == TCR_OK)
        status = tcr_read_required(&r->reader, node, "it is uniform, normal or triangular",
                                   "distribution", &kind);
    if (status == TCR_OK)
        status = tcr_read_word(&r->reader, kind, "distribution", &list, &index);
    factor->distribution = (tcr_distribution)(index + 1);
    double *const target[] = {&factor->least, &factor->most, &factor->mode, &factor->mean,
                              &factor->sd};
    for (size_t k = 1; KEYS[k] != NULL && status == TCR_OK; k++) {
        const tcr_node *value = tcr_tree_find(&r->reader.tree, node, KEYS[k]);
        const tcr_field number = {.key = KEYS[k], .file = {-1e9, 1e9, 0}};
        bool needed = false;
        for (int i = 0; i < 3; i++)
            needed |= NEEDS[index + 1][i] != NULL && strcmp(NEEDS[index + 1][i], KEYS[k]) == 0;
        if (needed && value == NULL)
            return tcr_fail_at(&r->reader, node, "%s is missing in a %s distribution", KEYS[k],
                               words[index]);
        if (value != NULL && !needed)
            return tcr_fail_at(&r->reader, value, "%s is not used in a %s distribution", KEYS[k],
                               words[index]);
        if (value != NULL)
            status = tcr_read_number(&r->reader, value, &number, KEYS[k], target[k - 1]);
    }
    return status;
}

static tcr_status read_factor(const reading *r, const tcr_node *name, const tcr_node *value) {
    const tcr_tree *tree = &r->reader.tree;
    tcr_factor factor = {.key = tcr_tree_text(tree, name)};
    tcr_key key;
    char *joined = NULL;
    tcr_status status = tcr_key_find(tcr_set_file_set(r->file->set), factor.key, &key, r->error);
    if (status != TCR_OK)
        return fail_there(r, status, name);
    if (tcr_tree_is_null(tree, value))
        return tcr_fail_at(&r->reader, value,
                           "%s has no value; give a list [8, 9, 11], a range 8:14:1 or a "
                           "distribution",
                           factor.key);
    if (value->kind == TCR_NODE_MAPPING) {
        status = read_distribution(r, value, &factor);
        if (status == TCR_OK)
            status = fail_there(r, tcr_study_add_factor(r->file->study, &factor, r->error), value);
        return status;
    }
    if (value->kind == TCR_NODE_LIST)
        status = join_list(r, &key, value, &joined);
    if (status == TCR_OK)
        status = fail_there(
            r, add_levels(r, factor.key, joined != NULL ? joined : tcr_tree_text(tree, value)),
            value);
    tcr_release(&r->file->allocator, joined);
    return status;
}

static tcr_status read_factors(const reading *r) {
    const tcr_tree *tree = &r->reader.tree;
    const tcr_node *vary = find(r, "vary"), *value;
    tcr_status status = TCR_OK;
    if (vary == NULL)
        return TCR_OK;
    if (vary->kind != TCR_NODE_MAPPING)
        return tcr_fail_at(&r->reader, vary,
                           "vary needs a line for each key, such as \"longest_mm: 8:14:1\"");
    for (const tcr_node *k = tcr_tree_child(tree, vary); k != NULL && status == TCR_OK;
         k = tcr_tree_next(tree, value)) {
        value = tcr_tree_next(tree, k);
        status = read_factor(r, k, value);
    }
    return status;
}

static tcr_status ask_factors(const reading *r) {
    tcr_status status = TCR_OK;
    for (size_t i = 0; i < r->ask->varied && status == TCR_OK; i++) {
        char key[2 * TCR_KEY_SIZE];
        const char *text = r->ask->vary[i], *equals = strchr(text, '=');
        tcr_quoted quoted;
        if (equals == NULL || equals == text || equals[1] == '\0' ||
            (size_t)(equals - text) >= sizeof key)
            return tcr_fail(r->error, TCR_E_CONTENT, NOWHERE,
                            "%s is no KEY=LIST or KEY=FROM:TO:STEP, such as longest_mm=8:14:1",
                            tcr_quote(&quoted, text, strlen(text)));
        memcpy(key, text, (size_t)(equals - text));
        key[equals - text] = '\0';
        status = add_levels(r, key, equals + 1);
    }
    return status;
}

/* ---- Outputs --------------------------------------------------------------------------------- */

static tcr_status read_outputs(const reading *r) {
    const tcr_tree *tree = &r->reader.tree;
    const tcr_node *list = find(r, "outputs");
    size_t count;
    if (list == NULL)
        return TCR_OK;
    tcr_status status =
        tcr_read_list(&r->reader, list, "outputs", "names of outputs", TCR_OUTPUTS_MAX, &count);
    for (const tcr_node *i = status == TCR_OK ? tcr_tree_child(tree, list) : NULL;
         i != NULL && status == TCR_OK; i = tcr_tree_next(tree, i)) {
        const char *name;
        status = tcr_read_text(&r->reader, i, "an output", "a name", &name);
        if (status == TCR_OK)
            status = fail_there(r, tcr_study_add_output(r->file->study, name, r->error), i);
    }
    return status;
}

static tcr_status add_outputs(const reading *r) {
    tcr_status status = TCR_OK;
    if (r->ask->outputs == 0)
        return r->root != NULL ? read_outputs(r) : TCR_OK;
    for (size_t i = 0; i < r->ask->outputs && status == TCR_OK; i++)
        status = tcr_study_add_output(r->file->study, r->ask->output[i], r->error);
    return status;
}

/* ---- Files ----------------------------------------------------------------------------------- */

static tcr_status make_study(reading *r) {
    tcr_study_file *file = r->file;
    ask_options(r->ask, &file->options);
    tcr_status status = tcr_study_new(&file->allocator, tcr_set_file_set(file->set), &file->options,
                                      &file->study, r->error);
    if (status == TCR_OK && r->root != NULL)
        status = read_factors(r);
    if (status == TCR_OK)
        status = ask_factors(r);
    return status == TCR_OK ? add_outputs(r) : status;
}

static tcr_status read_title(const reading *r) {
    const tcr_node *node = find(r, "title");
    const char *title;
    if (node == NULL)
        return TCR_OK;
    const tcr_status status = tcr_read_text(&r->reader, node, "title", "a text", &title);
    if (status != TCR_OK)
        return status;
    if (strlen(title) >= TCR_TITLE_SIZE_MAX)
        return tcr_fail_at(&r->reader, node, "the title is too long; it may have at most %d bytes",
                           (int)TCR_TITLE_SIZE_MAX - 1);
    r->file->title = copy_text(&r->file->allocator, title);
    return r->file->title != NULL ? TCR_OK : tcr_fail_memory(r->error, r->reader.path);
}

/* Reads the set that a study file names. */
static tcr_status read_set(const reading *r) {
    const tcr_beside beside = {"set", "study file", r->reader.path};
    const tcr_node *node;
    const char *name;
    char *path = NULL;
    tcr_status status =
        tcr_read_required(&r->reader, r->root, "a study tries the set of a set file", "set", &node);
    if (status == TCR_OK)
        status = tcr_read_text(&r->reader, node, "set", "the name of a set file", &name);
    if (status == TCR_OK)
        status = tcr_input_find_beside(&r->file->allocator, &beside, name,
                                       tcr_tree_place(&r->reader.tree, node), &path, r->error);
    if (status == TCR_OK)
        status = tcr_set_file_read(path, &r->file->allocator, &r->file->set, r->error);
    tcr_release(&r->file->allocator, path);
    return status;
}

static tcr_status read_study(reading *r) {
    static const char *const KEYS[] = {"tipcrest-study", "set",    "title",       "vary", "outputs",
                                       "design",         "points", "scramblings", "runs", "seed",
                                       "against",        "spread", NULL};
    const tcr_block block = {.name = "the study file", .where = "in a study file", .before = KEYS};
    double format = 0.0;
    bool given;
    tcr_status status = read_count(r, "tipcrest-study", 1e9, &format, &given);
    if (status == TCR_OK && format != STUDY_FORMAT)
        return tcr_fail_at(&r->reader, find(r, "tipcrest-study"),
                           "the format is %d, but this version reads format %d; a newer tipcrest "
                           "may read it",
                           (int)format, STUDY_FORMAT);
    if (status == TCR_OK)
        status = tcr_read_block(&r->reader, r->root, &block, NULL, NULL);
    if (status == TCR_OK)
        status = read_set(r);
    if (status == TCR_OK)
        status = read_options(r, &r->file->options);
    return status == TCR_OK ? read_title(r) : status;
}

/* Reads bytes as a study file if they are one, else as a set file. */
static tcr_status read_any(reading *r, const char *bytes, size_t size, const char *path) {
    tcr_study_file *file = r->file;
    const bool is_text = tcr_input_kind(bytes, size) == NULL;
    tcr_status status =
        is_text ? tcr_tree_read(&file->allocator, bytes, size, path, &r->reader.tree, r->error)
                : TCR_E_CONTENT;
    if (status == TCR_OK && r->reader.tree.nodes[0].kind == TCR_NODE_MAPPING &&
        tcr_tree_find(&r->reader.tree, &r->reader.tree.nodes[0], "tipcrest-study") != NULL) {
        r->root = &r->reader.tree.nodes[0];
        file->path = copy_text(&file->allocator, path);
        status = file->path != NULL ? read_study(r) : tcr_fail_memory(r->error, path);
    } else if (status != TCR_E_MEMORY) {
        /* What cannot be read as YAML is told by the reader of set files, which knows more. */
        status = tcr_set_file_build(bytes, size, path, tcr_input_read_beside, NULL,
                                    &file->allocator, &file->set, r->error);
    }
    if (status == TCR_OK)
        status = make_study(r);
    tcr_tree_release(&file->allocator, &r->reader.tree);
    return status;
}

tcr_status tcr_study_file_parse(const char *bytes, size_t size, const char *path,
                                const tcr_study_ask *ask, const tcr_allocator *allocator,
                                tcr_study_file **file, tcr_error *error) {
    tcr_study_file *made = tcr_resize(allocator, NULL, 1, sizeof *made);
    if (made == NULL)
        return tcr_fail_memory(error, path);
    *made = (tcr_study_file){.allocator = *allocator, .options = tcr_study_options_default()};
    reading r = {.file = made, .ask = ask, .error = error};
    r.reader = (tcr_set_reader){.allocator = &made->allocator, .path = path, .error = error};
    const tcr_status status = read_any(&r, bytes, size, path);
    if (status != TCR_OK) {
        tcr_study_file_free(made);
        return status;
    }
    *file = made;
    return TCR_OK;
}

tcr_status tcr_study_file_read(const char *path, const tcr_study_ask *given,
                               const tcr_allocator *allocator, tcr_study_file **file,
                               tcr_error *error) {
    tcr_error unread;
    tcr_allocator chosen;
    tcr_input input;
    tcr_study_ask ask = tcr_study_ask_default();
    if (error == NULL)
        error = &unread;
    if (path == NULL || file == NULL || tcr_allocator_choose(allocator, &chosen) != TCR_OK ||
        tcr_options_take(&ask, sizeof ask, given) != TCR_OK ||
        (ask.varied > 0 && ask.vary == NULL) || (ask.outputs > 0 && ask.output == NULL))
        return tcr_fail(error, TCR_E_ARGUMENT, NOWHERE, "%s", tcr_status_text(TCR_E_ARGUMENT));
    tcr_status status = tcr_input_read(&chosen, path, TCR_SET_FILE_MAX, &input, error);
    if (status != TCR_OK)
        return status;
    status = tcr_study_file_parse(input.bytes, input.size, path, &ask, &chosen, file, error);
    tcr_input_release(&chosen, &input);
    return status;
}

void tcr_study_file_free(tcr_study_file *file) {
    if (file == NULL)
        return;
    const tcr_allocator allocator = file->allocator;
    tcr_study_free(file->study);
    tcr_set_file_free(file->set);
    tcr_release(&allocator, file->path);
    tcr_release(&allocator, file->title);
    tcr_release(&allocator, file);
}

const tcr_study *tcr_study_file_study(const tcr_study_file *file) {
    return file != NULL ? file->study : NULL;
}

const tcr_set_file *tcr_study_file_set_file(const tcr_study_file *file) {
    return file != NULL ? file->set : NULL;
}

const char *tcr_study_file_title(const tcr_study_file *file) {
    if (file == NULL)
        return "";
    return file->title != NULL ? file->title : tcr_set_title(tcr_set_file_set(file->set));
}

size_t tcr_study_file_input_count(const tcr_study_file *file) {
    return file != NULL ? (file->path != NULL) + tcr_set_file_input_count(file->set) : 0;
}

const char *tcr_study_file_input(const tcr_study_file *file, size_t i) {
    if (file == NULL)
        return NULL;
    if (file->path == NULL)
        return tcr_set_file_input(file->set, i);
    return i == 0 ? file->path : tcr_set_file_input(file->set, i - 1);
}
