#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# completion.sh TABLE: prints the completion for bash, from the lines of tests/cli/table in the file
# TABLE. 'make completion' puts the result in place of cli/tipcrest.bash.

awk -F '\t' '
    BEGIN {
        print "# SPDX-License-Identifier: GPL-3.0-or-later"
        print "# shellcheck shell=bash"
        print "# Completion of tipcrest for bash. Made by build-aux/completion.sh from the table of options."
        print ""
        print "_tipcrest() {"
        print "    local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD - 1]}"
        print "    local command=${COMP_WORDS[1]-} options=\"\" words=\"\" list=\"\" file=\"\""
        print "    local at=$COMP_CWORD"
        print "    # The other program has no subcommand."
        print "    if [ \"${COMP_WORDS[0]##*/}\" = tipcrest-study-mpi ]; then"
        print "        command=study"
        print "        at=$((at + 1))"
        print "    fi"
        print "    COMPREPLY=()"
    }
    $1 == "command" {
        commands = commands " " $2
        takes[$2] = $3
        next
    }
    {
        options[$1] = options[$1] " " $2
        if ($3 == "file") files[$1] = files[$1] (files[$1] != "" ? " | " : "") $2
        else if ($3 == "text") texts[$1] = texts[$1] (texts[$1] != "" ? " | " : "") $2
        else if ($3 == "words") {
            given = "words=\"" $5 "\""
            if ($4 != "-") given = given " list=" ($4 == "," ? "," : "\"" $4 "\"")
            cases[$1] = cases[$1] "        " $2 ") " given " ;;\n"
        }
    }
    END {
        sub(/^ /, "", commands)
        print "    if [ \"$at\" -eq 1 ]; then"
        print "        words=\"" commands " help --help --version\""
        print "        mapfile -t COMPREPLY < <(compgen -W \"$words\" -- \"$cur\")"
        print "        return"
        print "    fi"
        print "    case $command in"
        print "    help)"
        print "        words=\"" commands "\""
        print "        ;;"
        count = split(commands, name, " ")
        for (i = 1; i <= count; i++) {
            command = name[i]
            sub(/^ /, "", options[command])
            print "    " command ")"
            print "        options=\"" options[command] " --help\""
            print "        case $prev in"
            printf "%s", cases[command]
            if (command in files) print "        " files[command] ") file=yes ;;"
            if (command in texts) print "        " texts[command] ") return ;;"
            print "        *) file=" (takes[command] == "none" ? "\"\"" : "yes") " ;;"
            print "        esac"
            print "        ;;"
        }
        print "    esac"
        print "    if [ -n \"$words\" ]; then"
        print "        local front=\"\""
        print "        if [ -n \"$list\" ]; then"
        print "            case $cur in *\"$list\"*) front=${cur%\"$list\"*}$list ;; esac"
        print "        fi"
        print "        mapfile -t COMPREPLY < <(compgen -P \"$front\" -W \"$words\" -- \"${cur#\"$front\"}\")"
        print "        return"
        print "    fi"
        print "    case $cur in"
        print "    -*)"
        print "        mapfile -t COMPREPLY < <(compgen -W \"$options\" -- \"$cur\")"
        print "        return"
        print "        ;;"
        print "    esac"
        print "    if [ -n \"$file\" ]; then"
        print "        compopt -o filenames 2>/dev/null"
        print "        mapfile -t COMPREPLY < <(compgen -f -- \"$cur\")"
        print "    fi"
        print "}"
        print "complete -F _tipcrest tipcrest tipcrest-study-mpi"
    }' "$1"
