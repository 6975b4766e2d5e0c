/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words of a call that say which set is evaluated and how it is seen. */
#include "view.h"

#include <string.h>

#include "common.h"
#include "num/range.h"

int tcr_view_understand(const char *command, const tcr_view_words *words,
                        tcr_check_options *options) {
    if (words->set == NULL || *words->set == '\0')
        return tcr_say_wrong("%s needs a set file: %s %s SET", command, tcr_program(), command);
    if (strcmp(words->set, "-") == 0)
        return tcr_say_wrong("%s reads a set from a file, not from standard input, because "
                             "surveys lie beside it",
                             command);
    *options = tcr_check_options_default();
    if (words->against != NULL && strcmp(words->against, "intended") == 0)
        options->against = TCR_INTENDED;
    else if (words->against != NULL && strcmp(words->against, "fitted") != 0)
        return tcr_say_wrong("--against is \"%s\"; it is fitted or intended", words->against);
    double degrees = 0.0;
    if (words->opening != NULL &&
        !tcr_option_number("--opening", words->opening, 0.0, 1.0,
                           "a number from 0 (closed) to 1 (open)", &options->view.opening))
        return TCR_EXIT_WRONG;
    if (words->viewer != NULL && !tcr_option_number("--viewer", words->viewer, -80.0, 80.0,
                                                    "a number of degrees from -80 to 80", &degrees))
        return TCR_EXIT_WRONG;
    options->view.viewer_rad = degrees * TCR_DEG;
    return TCR_EXIT_DONE;
}

tcr_status tcr_view_evaluate(const tcr_view_words *words, const tcr_set_file *file,
                             const tcr_check_options *options, tcr_check **check,
                             tcr_file_error *error) {
    tcr_check_options complete = *options;
    complete.view = *tcr_set_get_view(tcr_set_file_set(file));
    if (words->opening != NULL)
        complete.view.opening = options->view.opening;
    if (words->viewer != NULL)
        complete.view.viewer_rad = options->view.viewer_rad;
    complete.has_view = true;
    return tcr_set_file_check(file, &complete, check, error);
}
