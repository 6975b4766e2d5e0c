/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TIPCREST_H
#define TCR_TIPCREST_H

/*
 * libtipcrest computes how a set of eyelash extensions looks with the eye open. This header
 * includes the whole core. Files (tipcrest/file.h) and pictures (tipcrest/draw.h) have libraries of
 * their own.
 *
 * Units are millimetres, radians, milligrams and micronewton-millimetres. Comments give ranges of
 * angles in degrees. Both ends of a range belong to it unless a comment says otherwise.
 *
 * Rules for every call, unless its comment says otherwise:
 *
 *   - Pointers must not be NULL. A call with a status returns TCR_E_ARGUMENT for NULL; one without
 *     returns what its comment says, or NaN, 0 or NULL. A tcr_error may be NULL.
 *   - A failed call leaves its outputs and its objects as they were.
 *   - The caller frees an object that a _new call has made, with the matching _free, which accepts
 *     NULL. "Static storage" is never freed.
 *   - Calls on different objects may run in different threads. Several threads may read one object
 *     while none changes it.
 *
 * The core never prints, exits or keeps global state. A call needs less than 16 kB of stack unless
 * its comment or the top of its header says "Stack: below N kB": frames of GCC on x86-64 along the
 * deepest way (build-aux/stack.py), beside what the caller's callbacks and other libraries take.
 *
 * A struct of options has 'size' as its first member. Fill it with tcr_X_default(), or from other
 * languages with tcr_X_init(&x, sizeof x), which writes that many bytes. Then change members. Later
 * versions add members at the end. A program compiled against an older header passes a smaller
 * size, and the newer members take their defaults. A size of 0, or larger than the library's own,
 * is TCR_E_ARGUMENT.
 */

#include <tipcrest/alloc.h>
#include <tipcrest/check.h>
#include <tipcrest/column.h>
#include <tipcrest/curl.h>
#include <tipcrest/describe.h>
#include <tipcrest/doubts.h>
#include <tipcrest/error.h>
#include <tipcrest/extension.h>
#include <tipcrest/field.h>
#include <tipcrest/growth.h>
#include <tipcrest/lash.h>
#include <tipcrest/lesson.h>
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
