# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck shell=sh
# shellcheck disable=SC2154 # work is the script's that sources it
# For tests of what a command leaves of files that are there before it.

# put_before OLD: makes the folder 'before' with these files. OLD names a folder of $work, or files,
# each of which then holds "old" and its own name.
put_before() {
    mkdir before || return
    if [ -n "$1" ] && [ -d "$work/$1" ]; then
        cp "$work/$1"/* before
        return
    fi
    for name in $1; do
        echo "old $name" >"before/$name"
    done
}

# plan_before: an earlier plan in $work/planned, which a plan may replace.
plan_before() {
    mkdir "$work/planned" && cd "$work/planned" || return
    "$TIPCREST" plan "$work/layered.yaml" --most-lengths 2 -o a.yaml --json a.json >"$work/out" </dev/null
    cd "$work" || return
}
