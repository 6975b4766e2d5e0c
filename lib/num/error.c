/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Errors and their messages. What a message quotes may come from files that anybody may have
 * written, so every message goes through tcr_printable as a whole.
 */
#include "num/error.h"

#include <limits.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>

#include "num/number.h"
#include "num/printable.h"

tcr_error tcr_error_none(void) {
    tcr_error error = {.status = TCR_OK};
    tcr_error_clear(&error);
    return error;
}

void tcr_error_clear(tcr_error *error) {
    error->status = TCR_OK;
    error->member = NULL;
    error->value = error->least = error->most = NAN;
    error->side = error->layer = -1;
    error->lash = error->zone = SIZE_MAX;
    error->line = error->column = 0;
    error->path[0] = error->message[0] = '\0';
}

tcr_status tcr_error_set_list(tcr_error *error, tcr_status status, const char *format,
                              va_list arguments) {
    char text[2 * sizeof error->message];
    if (error == NULL)
        return status;
    const int length = vsnprintf(text, sizeof text, format, arguments);
    tcr_error_clear(error);
    error->status = status;
    tcr_printable(length >= 0 ? text : tcr_status_text(status), INT_MAX, error->message,
                  sizeof error->message);
    return status;
}

tcr_status tcr_error_set(tcr_error *error, tcr_status status, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    tcr_error_set_list(error, status, format, arguments);
    va_end(arguments);
    return status;
}

tcr_status tcr_error_status(tcr_error *error, tcr_status status) {
    return status == TCR_OK ? TCR_OK : tcr_error_set(error, status, "%s", tcr_status_text(status));
}

void tcr_error_number(tcr_error *error, const char *member, double value, double least,
                      double most) {
    if (error == NULL)
        return;
    error->member = member;
    error->value = value;
    error->least = least;
    error->most = most;
}

tcr_status tcr_error_range(tcr_error *error, tcr_status status, const char *member, double value,
                           double least, double most) {
    char found[TCR_NUMBER_SIZE], low[TCR_NUMBER_SIZE], high[TCR_NUMBER_SIZE];
    tcr_number_text(value, found);
    tcr_number_text(least, low);
    tcr_number_text(most, high);
    if (isfinite(most))
        tcr_error_set(error, status, "%s is %s, but must be from %s to %s", member, found, low,
                      high);
    else
        tcr_error_set(error, status, "%s is %s; it is %s or more", member, found, low);
    tcr_error_number(error, member, value, least, most);
    return status;
}
