#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The first sentence of a study's answer on which factor matters most, from the intervals in
study.json.

    python3 shares.py STUDY.json
"""
import json
import sys


def main():
    """The command line."""
    with open(sys.argv[1], encoding="utf-8") as stream:
        answer = json.load(stream)["answer"]
    ordered = sorted(answer["indices"], key=lambda item: -item["total"][0])
    most, alone = ordered[0], max(ordered, key=lambda item: item["first"][0])
    tie = [item["key"] for item in ordered[1:] if item["total"][2] >= most["total"][1]]
    words = f"{most['key']} matters most for {answer['of']}"
    if tie or alone is not most:
        words += ", with what it does together with others"
    if tie:
        words += ", but is not told apart from " + ", ".join(tie)
    if alone is not most and alone["first"][1] > most["first"][2]:
        words += f"; by itself {alone['key']} matters more"
    print(words)


if __name__ == "__main__":
    main()
