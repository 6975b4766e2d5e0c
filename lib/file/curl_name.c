/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Labels of curls where a map or a row names one. */
#include "file/curl_name.h"

#include <string.h>

enum { SUGGESTED_FROM = 64 }; /* labels that are looked at for what was perhaps meant */

static tcr_status fail_unknown(const tcr_set *set, const char *name, const char *text, size_t bytes,
                               tcr_place place, tcr_error *error) {
    const char *labels[SUGGESTED_FROM];
    tcr_list list = {0};
    tcr_quoted found;
    const size_t count = tcr_set_curl_count(set);
    for (size_t i = 0; i < count; i++) {
        const char *label = tcr_set_curl(set, i)->label;
        tcr_quoted shown; /* the file's own labels may hold anything */
        const char *safe = tcr_quote(&shown, label, strlen(label));
        shown.text[strlen(safe) - 1] = '\0';
        tcr_list_add(&list, safe + 1);
        if (i < SUGGESTED_FROM)
            labels[i] = label;
    }
    const char *meant =
        tcr_suggest(text, bytes, labels, count < SUGGESTED_FROM ? count : SUGGESTED_FROM);
    tcr_quote(&found, text, bytes);
    if (meant != NULL)
        return tcr_fail(
            error, TCR_E_CONTENT, place,
            "%s %s is not in the catalogue; did you mean %s? One of %s, or define it under curls",
            name, found.text, meant, list.text);
    return tcr_fail(error, TCR_E_CONTENT, place,
                    "%s %s is not in the catalogue; one of %s, or define it under curls%s", name,
                    found.text, list.text, tcr_curly_note(text, bytes));
}

tcr_status tcr_curl_name_read(const tcr_set *set, const char *name, const char *text, size_t bytes,
                              char label[TCR_LABEL_SIZE], tcr_place place, tcr_error *error) {
    char copy[TCR_LABEL_SIZE] = {0}; /* to its end, for zones are compared whole */
    size_t index;
    if (bytes == 0 || bytes >= sizeof copy || memchr(text, '\0', bytes) != NULL)
        return fail_unknown(set, name, text, bytes, place, error);
    memcpy(copy, text, bytes);
    if (tcr_set_find_curl(set, copy, &index) != TCR_OK)
        return fail_unknown(set, name, text, bytes, place, error);
    memcpy(label, copy, sizeof copy);
    return TCR_OK;
}
