#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Holds a report against its schema.

    python3 validate.py SCHEMA REPORT...           says of each whether it keeps to it
    python3 validate.py --break SCHEMA REPORT...   breaks each in turn at each of its members and lists
                                                 what the schema lets pass

Exit status 0 when all keep to it, or nothing passes.
"""
import json
import os
import sys

import jsonschema

SHOWN = 10


def objects(value, place="report"):
    """Every object of a document with its place."""
    if isinstance(value, dict):
        yield place, value
        for name, member in value.items():
            yield from objects(member, f"{place}.{name}")
    elif isinstance(value, list):
        for index, item in enumerate(value):
            yield from objects(item, f"{place}[{index}]")


# May be absent, each by its own description: then the schema must let it go.
OPTIONAL = {"symmetry", "remedy", "load"}


def breakages(report):
    """Breaks the report in one way after the other, in place, and mends it: what was done."""
    for place, inner in list(objects(report)):
        kept = dict(inner)
        for name in kept:
            if name not in OPTIONAL:
                del inner[name]
                yield f"{place}.{name} left out"
            inner[name] = [[True]]
            yield f"{place}.{name} of another type"
            inner[name] = kept[name]
        inner["unheard_of"] = 1
        yield f"{place}.unheard_of added"
        del inner["unheard_of"]


def one_of_each(items):
    """The first of the items that have the same members of the same types."""
    kinds = {}
    for item in items:
        kinds.setdefault(tuple((name, type(member)) for name, member in item.items()), item)
    return list(kinds.values())


def shorten(report, validator, value=None):
    """Leaves one item of each kind in the lists of objects of a value, the whole report unless given,
    where the schema lets it, so that breaking it everywhere takes seconds."""
    value = report if value is None else value
    if isinstance(value, list) and value and all(isinstance(item, dict) for item in value):
        kept = value[:]
        value[:] = one_of_each(value)
        if len(value) < len(kept) and not validator.is_valid(report):
            value[:] = kept
    for inner in value.values() if isinstance(value, dict) else value:
        if isinstance(inner, (dict, list)):
            shorten(report, validator, inner)


def load(path):
    """A JSON document."""
    with open(path, encoding="utf-8") as stream:
        return json.load(stream)


def hold(validator, path):
    """Prints how one report keeps to the schema; whether it does."""
    name = os.path.basename(path)
    faults = list(validator.iter_errors(load(path)))
    for error in faults[:SHOWN]:
        place = ".".join(map(str, error.absolute_path))
        print(f"{name}: {place}: {error.message[:200]}")
    if not faults:
        print(f"{name}: keeps to the schema")
    return not faults


def break_up(validator, path):
    """Prints the ways to break a report that the schema lets pass; whether there are none."""
    report = load(path)
    if "steps" in report:
        del report["steps"][17:]  # what one curl of one length has at least
    shorten(report, validator)
    ways, passing = 0, []
    for what in breakages(report):
        ways += 1
        if validator.is_valid(report):
            passing.append(what)
    print(f"{ways} ways tried")
    for what in passing[:SHOWN]:
        print(f"passes: {what}")
    return not passing and ways > 100 and validator.is_valid(report)


def main():
    """The command line."""
    to_break = sys.argv[1] == "--break"
    schema, *reports = map(str, sys.argv[2 if to_break else 1 :])
    jsonschema.Draft202012Validator.check_schema(load(schema))
    validator = jsonschema.Draft202012Validator(load(schema))
    judge = break_up if to_break else hold
    return 0 if all([judge(validator, report) for report in reports]) else 1


if __name__ == "__main__":
    sys.exit(main())
