/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TCR_TIPCREST_H
#define TCR_TIPCREST_H

/*
 * libtipcrest: how a set of eyelash extensions looks with the eye open. This header brings in the
 * whole core; files (tipcrest/file.h) and pictures (tipcrest/draw.h) are libraries of their own.
 *
 * Millimetres, radians, milligrams, micronewton-millimetres. The core never prints, exits or keeps
 * global state; calls on different objects may run in different threads.
 */

#include <tipcrest/alloc.h>
#include <tipcrest/check.h>
#include <tipcrest/curl.h>
#include <tipcrest/describe.h>
#include <tipcrest/extension.h>
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
