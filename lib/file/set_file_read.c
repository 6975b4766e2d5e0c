/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Set files by their paths. */
#include "file/set_file.h"

#include "num/memory.h"

tcr_status tcr_set_file_read(const char *path, const tcr_allocator *allocator, tcr_set_file **file,
                             tcr_error *error) {
    tcr_error unseen;
    tcr_allocator chosen;
    tcr_input input;
    if (error == NULL)
        error = &unseen;
    if (path == NULL || file == NULL || tcr_allocator_choose(allocator, &chosen) != TCR_OK)
        return tcr_fail(error, TCR_E_ARGUMENT, (tcr_place){path != NULL ? path : "", 0, 0}, "%s",
                        tcr_status_text(TCR_E_ARGUMENT));
    tcr_status status = tcr_input_read(&chosen, path, TCR_SET_FILE_MAX, &input, error);
    if (status != TCR_OK)
        return status;
    status = tcr_set_file_build(input.bytes, input.size, path, tcr_input_read_beside, NULL, &chosen,
                                file, error);
    tcr_input_release(&chosen, &input);
    return status;
}
