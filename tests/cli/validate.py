#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Holds a report against its schema.

    python3 validate.py SCHEMA REPORT...           says of each whether it keeps to it
    python3 validate.py --break SCHEMA REPORT...   breaks each in turn at each of its members and lists
                                                 what the schema lets pass

Exit status 0 when all keep to it, or nothing passes.
"""
import copy
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
    """Copies of the report, each wrong in one way: (what was done, the copy)."""
    count = sum(1 for _ in objects(report))
    for index in range(count):
        _, target = list(objects(report))[index]
        for name in list(target) + [None]:
            for what in ("left out", "of another type") if name else ("added",):
                if what == "left out" and name in OPTIONAL:
                    continue
                broken = copy.deepcopy(report)
                place, inner = list(objects(broken))[index]
                if name is None:
                    inner["unheard_of"] = 1
                elif what == "left out":
                    del inner[name]
                else:
                    inner[name] = [[True]]
                yield f"{place}.{name or 'unheard_of'} {what}", broken


def one_of_each(items):
    """The first of the objects that have the same members."""
    kinds = {}
    for item in items:
        kinds.setdefault(tuple(item), item)
    return list(kinds.values())


def shortened(report):
    """The report with few lashes or steps, so that breaking it everywhere takes seconds."""
    for eye in report.get("eyes", []):
        if isinstance(eye["lashes"], list):
            eye["lashes"] = one_of_each(eye["lashes"])
    if "steps" in report:
        del report["steps"][17:]  # what one curl of one length has at least
    return report


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
    ways = list(breakages(shortened(load(path))))
    passing = [what for what, broken in ways if validator.is_valid(broken)]
    print(f"{len(ways)} ways tried")
    for what in passing[:SHOWN]:
        print(f"passes: {what}")
    return not passing and len(ways) > 100


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
