#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# man1.sh MANUAL FOLDER [PAGE...]: a manual page for each subcommand, FOLDER/tipcrest-check.1 and so on, out
# of the sections of tipcrest.1. Each PAGE of another program gets its heading, and the options of the
# subcommand that it names.

manual=$1
folder=$2
mkdir -p "$folder" || exit 1
shift 2
sed -n 's/^\.\\" options of //p' "$manual" | while read -r command; do
    awk -v command="$command" -v name="tipcrest\\\\-$command" '
        # The last sections of the manual hold for each command.
        function shared(heading) {
            return heading ~ /EXIT STATUS|FILES|SIGNALS|CAUTIONS/
        }
        /^\.TH/ {
            sub(/TIPCREST/, "TIPCREST\\-" toupper(command))
            print
            next
        }
        # The line of the synopsis.
        index($0, "\\fBtipcrest " command "\\fR") == 1 { synopsis = $0 }
        /^\.SH/ { within = ""; heading = $0; if (shared($0)) last = last $0 "\n"; next }
        /^\.SS/ { within = $2 == command ? "mine" : ""; next }
        within == "mine" && /^\.\\" options of/ { within = "options"; next }
        within == "options" && /^\.\\" end/ { within = "mine"; behind = 1; next }
        within == "options" { options = options $0 "\n"; next }
        within == "mine" && !behind { about = about $0 "\n"; next }
        within == "mine" { more = more $0 "\n"; next }
        shared(heading) { last = last $0 "\n" }
        END {
            brief = about
            sub(/\.\n.*/, "", brief)
            sub(/\. .*/, "", brief)
            gsub(/\n\.[A-Z]+ /, " ", brief)
            gsub(/\n/, " ", brief)
            print ".SH NAME\n" name " \\- " tolower(substr(brief, 1, 1)) substr(brief, 2)
            print ".SH SYNOPSIS\n" synopsis
            printf ".SH DESCRIPTION\n%s", about
            printf ".SH OPTIONS\n%s", options
            if (more != "") {
                sub(/^\.PP\n/, "", more)
                printf ".SH NOTES\n%s", more
            }
            printf "%s", last
            print ".SH SEE ALSO\n.BR tipcrest (1)"
        }' "$manual" >"$folder/tipcrest-$command.1" || exit 1
done

for page in "$@"; do
    name=${page##*/}
    awk -v title="$(echo "${name%.1}" | tr '[:lower:]' '[:upper:]')" -v manual="$manual" '
        function copy(from,   line, within) {
            while ((getline line <manual) > 0) {
                if (line == ".\\\" end") within = 0
                if (within) print line
                if (line == from) within = 1
            }
            close(manual)
        }
        NR == 1 {
            while ((getline line <manual) > 0) {
                if (line !~ /^\.TH/) continue
                gsub(/-/, "\\-", title)
                sub(/TIPCREST/, title, line)
                print line
            }
            close(manual)
        }
        /^\.\\" options of/ { copy($0) }
        /^\.\\"/ { next }
        { print }' "$page" >"$folder/$name" || exit 1
done
