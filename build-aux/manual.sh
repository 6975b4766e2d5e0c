#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# manual.sh TIPCREST MANUAL: prints the manual page with its synopsis and options anew, from the help
# pages of the command TIPCREST. What stands between the lines .\" synopsis or .\" options of COMMAND
# and .\" end is replaced, the rest kept. 'make manual' puts the result in place of cli/tipcrest.1.

tipcrest=$1
manual=$2

# synopsis: one line for each command, from its usage.
synopsis() {
    for command in $("$tipcrest" --help | sed -n 's/^  \([a-z]*\)  .*/\1/p'); do
        "$tipcrest" help "$command" | sed -n '1,/^$/p' | tr -s '\n ' '  ' |
            sed 's/^usage: \([a-z]* [a-z]*\)/\\fB\1\\fR/
                s/\(-\{1,2\}[a-z][-a-z]*\)/\\fB\1\\fR/g
                s/-/\\-/g
                s/\([[ ]\)\([A-Z][^] ]*\)/\1\\fI\2\\fR/g
                s/ *$//'
        printf '\n.br\n'
    done
}

# options COMMAND: an item for each option, from the help page.
options() {
    "$tipcrest" help "$1" | awk '
        function flush() {
            if (text != "") print text
            text = ""
        }
        function roff(s) {
            gsub(/\\/, "\\e", s)
            gsub(/-/, "\\-", s)
            return s ~ /^[.\047]/ ? "\\&" s : s
        }
        /^  -/ {
            flush()
            name = $1
            value = substr($0, 3 + length(name) + 1, 19 - length(name))
            sub(/ *$/, "", value)
            print ".TP"
            if (value != "") print ".BI " roff(name) " \" " roff(value) "\""
            else print ".B " roff(name)
            text = substr($0, 23)
            text = toupper(substr(text, 1, 1)) substr(text, 2)
            text = roff(text)
            next
        }
        /^                      / && text != "" {
            text = text "\n" roff(substr($0, 23))
            next
        }
        { flush() }
        END { flush() }'
}

while IFS= read -r line; do
    case $line in
    '.\" synopsis' | '.\" options of '*) ;;
    *)
        printf '%s\n' "$line"
        continue
        ;;
    esac
    printf '%s\n' "$line"
    case $line in
    *synopsis) synopsis ;;
    *) options "${line##* }" ;;
    esac
    while IFS= read -r line && [ "$line" != '.\" end' ]; do :; done
    printf '.\\" end\n'
done <"$manual"
