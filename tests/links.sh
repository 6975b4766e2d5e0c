#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# links.sh FOLDER: the links in the Markdown files below FOLDER that lead to no file there, one a line.
# Links to the web and within a file are not looked at.

cd "$1" || exit 1
find . -name '*.md' | sort | while read -r text; do
    # shellcheck disable=SC2016 # backquotes of Markdown
    sed 's/`[^`]*`//g' "$text" | grep -o '](\([^)]*\))' | sed 's/^](//; s/)$//; s/#.*//' | sort -u |
        while read -r target; do
            case $target in '' | *:*) continue ;; esac
            [ -e "$(dirname "$text")/$target" ] || echo "$text: there is no $target"
        done
done
