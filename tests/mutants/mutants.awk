# SPDX-License-Identifier: GPL-3.0-or-later
# For tests/mutants.sh: reads the lists of mutants, whose form README.md beside this file shows.
#
#     awk -v mode=MODE [-v name=NAME] -v tree=FOLDER -f mutants.awk LIST...
#
# list     prints a line 'name file test equivalent' for each mutant; equivalent is yes or no
# stale    prints what is wrong with the lists in the tree
# apply    prints the file of a mutant, changed
# spread   prints lines and mutants of each file of lib/ and cli/, from 'LINES FILE' on stdin

function wrong(what) { print FILENAME ":" FNR ": " what >"/dev/stderr"; faults++ }

FNR == 1 { part = "" }
/^#/ || /^$/ { next }
/^@ / {
    if (NF != 4) wrong("not '@ NAME FILE TEST'")
    if ($2 in file) wrong("a second mutant " $2)
    part = $2
    order[++count] = part
    file[part] = $3
    test[part] = $4
    next
}
/^- / && part != "" && !(part in from) { from[part] = substr($0, 3); next }
/^\+( |$)/ && (part in from) && !(part in to) { to[part] = substr($0, 3); next }
/^= / && (part in to) { equivalent[part] = substr($0, 3); next }
{ wrong("no part of a mutant") }

# How often a text stands in a line.
function times(line, text,    n, at) {
    for (n = 0; (at = index(line, text)) > 0; n++)
        line = substr(line, at + 1)
    return n
}

# Reads a file of the tree once.
function lines_of(path,    n, line) {
    if (path in lines)
        return lines[path]
    while ((getline line <(tree "/" path)) > 0)
        text[path, ++n] = line
    close(tree "/" path)
    return lines[path] = n + 0
}

function places(m,    i, n, found) {
    n = lines_of(file[m])
    for (i = 1; i <= n; i++)
        found += times(text[file[m], i], from[m])
    return found + 0
}

function complain(m, what) { print m ": " what; faults++ }

function stale(m,    found, source) {
    if (!(m in to)) {
        complain(m, "has no line that begins with +")
        return
    }
    found = places(m)
    if (found != 1)
        complain(m, "its text stands " found " times in " file[m] ", and must stand there once: " from[m])
    source = test[m] ~ /\.(sh|py)$/ ? test[m] : test[m] ".c"
    if (lines_of(source) == 0)
        complain(m, "there is no test " test[m])
}

function apply(m,    i, n, at, line) {
    if (!(m in to) || places(m) != 1)
        exit 1
    n = lines_of(file[m])
    for (i = 1; i <= n; i++) {
        line = text[file[m], i]
        if ((at = index(line, from[m])) > 0)
            line = substr(line, 1, at - 1) to[m] substr(line, at + length(from[m]))
        print line
    }
}

function spread(    line, part, m, i) {
    for (i = 1; i <= count; i++)
        mutants[file[order[i]]]++
    while ((getline line <"-") > 0) {
        split(line, part, " ")
        printf "%5d lines %3d mutants  %s\n", part[1], mutants[part[2]], part[2]
        sum += part[1]
    }
    printf "%5d lines %3d mutants  in all, one for %d lines\n", sum, count, count ? sum / count : 0
}

END {
    if (mode == "list")
        for (i = 1; i <= count; i++)
            print order[i], file[order[i]], test[order[i]], order[i] in equivalent ? "yes" : "no"
    if (mode == "stale")
        for (i = 1; i <= count; i++)
            stale(order[i])
    if (mode == "apply")
        apply(name)
    if (mode == "spread")
        spread()
    exit faults > 0
}
