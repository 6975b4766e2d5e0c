# SPDX-License-Identifier: GPL-3.0-or-later
"""How the programs of the reference end: a report as JSON, or one line about what is wrong."""
import json
import sys


def print_report(program, set_path, make):
    """Prints what make() returns. The exit status: 1 for a file that cannot be read, 2 for one
    that is wrong."""
    try:
        report = make()
    except OSError as problem:
        print(f"{program}: {problem}", file=sys.stderr)
        return 1
    except (ValueError, KeyError, TypeError, StopIteration) as problem:
        print(f"{program}: {set_path}: {problem!r}", file=sys.stderr)
        return 2
    json.dump(report, sys.stdout, ensure_ascii=False, allow_nan=False, indent=1)
    print()
    return 0
