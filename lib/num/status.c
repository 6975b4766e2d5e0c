/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A text for every status, and the version. */
#include <tipcrest/status.h>
#include <tipcrest/version.h>

#include <stddef.h>

static const char *const TEXT[] = {
    [TCR_OK] = "done",
    [TCR_E_ARGUMENT] = "an argument is missing or unknown",
    [TCR_E_RANGE] = "a number is not finite or out of its range",
    [TCR_E_MEMORY] = "out of memory",
    [TCR_E_MRD1] = "the open lid margin leaves the globe: mrd1 is too large for its radius",
    [TCR_E_MRD2] = "the closed lid margin leaves the globe: mrd2 is too large for its radius",
    [TCR_E_SEMIAXIS] = "the lateral semi-axis must be larger than half the fissure width",
    [TCR_E_CURL] = "a curl whose shares do not sum to 1, or that the set does not have",
    [TCR_E_BOND] = "less than 1 mm is left to bond the extension to the lash",
    [TCR_E_TRAY] = "a length that the tray lacks",
    [TCR_E_MAP] = "the zones of the map must rise to 1, and every eye needs a map",
    [TCR_E_DUPLICATE] = "given twice: an eye's side, or an id within an eye",
    [TCR_E_FEW] = "fewer than three tips: no line",
    [TCR_E_ONE_X] = "all tips stand above one place: no line",
    [TCR_E_COMMON] = "the two lines have no range in common",
    [TCR_E_BARE] = "the lash stays bare for its condition",
    [TCR_E_BARE_BY_ROW] = "the lash stays bare as its own entry asks",
    [TCR_E_MISSING] = "the set has no such eye, lash or curl",
    [TCR_E_OPEN] = "a file cannot be opened or read",
    [TCR_E_WRITE] = "a file cannot be written whole",
    [TCR_E_CONTENT] = "the content of a file is wrong",
    [TCR_E_NO_CONVERGENCE] = "an iteration did not reach its accuracy",
    [TCR_E_NO_SOLUTION] = "no choice meets all the limits",
    [TCR_E_STOPPED] = "stopped before there was a result",
    [TCR_E_FONT] = "no font found; install one, for instance fonts-dejavu-core",
};

const char *tcr_status_text(tcr_status status) {
    const size_t i = (size_t)status;
    return i < sizeof TEXT / sizeof TEXT[0] && TEXT[i] != NULL ? TEXT[i] : "unknown status";
}

const char *tcr_version(void) { return TCR_VERSION; }
