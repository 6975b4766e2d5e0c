/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * YAML by libyaml's event parser, which feeds a tree. Of YAML only what a set file needs is let in:
 * no anchors, aliases, tags or further documents.
 */
#include <string.h>

#include <yaml.h>

#include "file/tree.h"
#include "file/yaml_problem.h"

static tcr_place place_of(const tcr_tree_builder *build, yaml_mark_t mark) {
    return (tcr_place){build->tree->path, mark.line + 1, mark.column + 1};
}

/* Anchors and tags come with the event of the node that they stand before. */
static tcr_status refuse_extras(const tcr_tree_builder *build, const yaml_event_t *event,
                                const yaml_char_t *anchor, const yaml_char_t *tag) {
    const tcr_place place = place_of(build, event->start_mark);
    if (anchor != NULL)
        return tcr_fail(build->error, TCR_E_CONTENT, place,
                        "names with & (anchors) are not used in set files; put a text that begins "
                        "with & in quotes");
    if (tag != NULL)
        return tcr_fail(build->error, TCR_E_CONTENT, place,
                        "types with ! (tags) are not used in set files; put a text that begins "
                        "with ! in quotes");
    return TCR_OK;
}

static tcr_status add_scalar(tcr_tree_builder *build, const yaml_event_t *event) {
    const size_t bytes = event->data.scalar.length;
    const tcr_status status =
        refuse_extras(build, event, event->data.scalar.anchor, event->data.scalar.tag);
    if (status != TCR_OK)
        return status;
    char *text = tcr_tree_room(build, bytes);
    if (text == NULL)
        return tcr_fail_memory(build->error, build->tree->path);
    memcpy(text, event->data.scalar.value, bytes);
    return tcr_tree_add_scalar(build, bytes, event->data.scalar.style != YAML_PLAIN_SCALAR_STYLE,
                               place_of(build, event->start_mark));
}

static tcr_status open_level(tcr_tree_builder *build, const yaml_event_t *event, tcr_node_kind kind,
                             const yaml_char_t *anchor, const yaml_char_t *tag) {
    const tcr_status status = refuse_extras(build, event, anchor, tag);
    return status == TCR_OK ? tcr_tree_open(build, kind, place_of(build, event->start_mark))
                            : status;
}

static tcr_status start_document(tcr_tree_builder *build, const yaml_event_t *event) {
    const tcr_place place = place_of(build, event->start_mark);
    if (build->tree->node_count > 0)
        return tcr_fail(
            build->error, TCR_E_CONTENT, place,
            "a second document begins here; a set file is one, without a line --- in between");
    if (event->data.document_start.tag_directives.start !=
        event->data.document_start.tag_directives.end)
        return tcr_fail(build->error, TCR_E_CONTENT, place,
                        "lines with %%TAG are not used in set files");
    return TCR_OK;
}

static tcr_status take(tcr_tree_builder *build, const yaml_event_t *event) {
    switch (event->type) {
    case YAML_DOCUMENT_START_EVENT:
        return start_document(build, event);
    case YAML_ALIAS_EVENT:
        return tcr_fail(build->error, TCR_E_CONTENT, place_of(build, event->start_mark),
                        "references with * (aliases) are not used in set files; put a text that "
                        "begins with * in quotes");
    case YAML_SCALAR_EVENT:
        return add_scalar(build, event);
    case YAML_SEQUENCE_START_EVENT:
        return open_level(build, event, TCR_NODE_LIST, event->data.sequence_start.anchor,
                          event->data.sequence_start.tag);
    case YAML_MAPPING_START_EVENT:
        return open_level(build, event, TCR_NODE_MAPPING, event->data.mapping_start.anchor,
                          event->data.mapping_start.tag);
    case YAML_SEQUENCE_END_EVENT:
    case YAML_MAPPING_END_EVENT:
        tcr_tree_close(build);
        return TCR_OK;
    default:
        return TCR_OK;
    }
}

tcr_status tcr_tree_read(const tcr_allocator *allocator, const char *bytes, size_t size,
                         const char *path, tcr_tree *tree, tcr_error *error) {
    yaml_parser_t parser;
    tcr_tree_builder build = tcr_tree_begin(allocator, path, tree, error);
    if (!yaml_parser_initialize(&parser))
        return tcr_fail_memory(error, path);
    yaml_parser_set_input_string(&parser, (const unsigned char *)bytes, size);
    tcr_status status = TCR_OK;
    bool ended = false;
    while (status == TCR_OK && !ended) {
        yaml_event_t event;
        if (!yaml_parser_parse(&parser, &event)) {
            status = tcr_yaml_problem(&parser, bytes, size, path, error);
            break;
        }
        ended = event.type == YAML_STREAM_END_EVENT;
        status = take(&build, &event);
        yaml_event_delete(&event);
    }
    yaml_parser_delete(&parser);
    return status == TCR_OK ? tcr_tree_end(&build) : status;
}
