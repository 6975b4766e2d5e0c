/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names of looks where a call gives one. */
#include "file/look_name.h"

tcr_status tcr_look_name_read(const char *what, const char *name, const tcr_look **look,
                              tcr_error *error) {
    enum { NAMES_MAX = 64 }; /* names that a message lists */
    const char *names[NAMES_MAX];
    size_t count, known = 0;
    *look = tcr_look_find(name);
    if (*look != NULL)
        return TCR_OK;
    const tcr_look *looks = tcr_look_catalogue(&count);
    for (size_t i = 0; i < count && known + 1 < NAMES_MAX; i++) {
        names[known++] = looks[i].name;
        if (*looks[i].other_name != '\0')
            names[known++] = looks[i].other_name;
    }
    return tcr_fail_unknown(error, TCR_E_ARGUMENT, what, name, names, known);
}
