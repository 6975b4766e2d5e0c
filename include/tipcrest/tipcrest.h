/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TIPCREST_H
#define TCR_TIPCREST_H

/*
 * libtipcrest: how a set of eyelash extensions looks with the eye open. This header brings in the
 * whole core; files (tipcrest/file.h) and pictures (tipcrest/draw.h) are libraries of their own.
 *
 * Millimetres, radians, milligrams, micronewton-millimetres. The core never prints, exits or keeps
 * global state; calls on different objects may run in different threads.
 *
 * A struct of options has 'size' as its first member. Make it with its default, tcr_X_default(), or
 * from other languages with tcr_X_init(&x, sizeof x), which fills that many bytes; then change
 * members. Later versions add members at the end: a program that was compiled against an older
 * header passes the smaller size that it knows, and the rest has its default. A size that is larger
 * than the library's own comes from a newer program, or from one that set none: TCR_E_ARGUMENT.
 */

#include <tipcrest/alloc.h>
#include <tipcrest/check.h>
#include <tipcrest/column.h>
#include <tipcrest/curl.h>
#include <tipcrest/describe.h>
#include <tipcrest/error.h>
#include <tipcrest/extension.h>
#include <tipcrest/field.h>
#include <tipcrest/growth.h>
#include <tipcrest/lash.h>
#include <tipcrest/lid.h>
#include <tipcrest/limits.h>
#include <tipcrest/line.h>
#include <tipcrest/line_rule.h>
#include <tipcrest/load.h>
#include <tipcrest/look.h>
#include <tipcrest/map.h>
#include <tipcrest/mean.h>
#include <tipcrest/plan.h>
#include <tipcrest/profile.h>
#include <tipcrest/progress.h>
#include <tipcrest/random.h>
#include <tipcrest/set.h>
#include <tipcrest/status.h>
#include <tipcrest/step.h>
#include <tipcrest/tips.h>
#include <tipcrest/vector.h>
#include <tipcrest/version.h>
#include <tipcrest/view.h>
#include <tipcrest/why.h>

#endif
