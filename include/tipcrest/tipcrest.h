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
 * A struct of options has 'size' as its first member and may grow at its end from one version to
 * the next. A program that was compiled against an older header goes on as it was: make the struct
 * with its default, then change members. tcr_X_default() is inline, so that it has the size that
 * the calling program knows; tcr_X_init(&x, sizeof x), for other languages, fills that many bytes
 * and not one more: sizeof as the caller has it, never a number that was handed on. What a struct
 * does not have has its default. Accepted is every size from that of the first release to that of
 * the running library. A larger one comes from a newer program, whose new members an older library
 * could only pass over in silence: it is TCR_E_ARGUMENT, even where they are all zero.
 */

#include <tipcrest/alloc.h>
#include <tipcrest/check.h>
#include <tipcrest/curl.h>
#include <tipcrest/describe.h>
#include <tipcrest/error.h>
#include <tipcrest/extension.h>
#include <tipcrest/field.h>
#include <tipcrest/lash.h>
#include <tipcrest/lid.h>
#include <tipcrest/line.h>
#include <tipcrest/load.h>
#include <tipcrest/look.h>
#include <tipcrest/map.h>
#include <tipcrest/plan.h>
#include <tipcrest/profile.h>
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
