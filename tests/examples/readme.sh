#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# What README.md quotes is what the command prints. Every block between ``` must have the command that
# prints it in a comment on the line before, <!-- COMMAND -->, and equal its output word for word.
# Lines that are indented are commands to type. The tables and sentences with figures of the examples
# are compared with the same commands.

. "$TIPCREST_SOURCE/tests/tap.sh"
source=$(cd "$TIPCREST_SOURCE" && pwd) || exit 1
work=$(mktemp -d) || exit 1
readme=$source/README.md

# The commands run as a reader types them: in a folder with build/ and examples/.
mkdir "$work/build" "$work/blocks" && ln -s "$source/examples" "$work/examples" &&
    ln -s "$TIPCREST" "$work/build/tipcrest" && ln -s "$TIPCREST_BUILD/examples" "$work/build/examples" &&
    cd "$work" || exit 1

# ---- Blocks -----------------------------------------------------------------------------------

# blocks/N has the text of block N, blocks/N.command its command, if it has one.
awk '
    /^```/ {
        inside = !inside
        if (inside) {
            file = "blocks/" (++count)
            printf "" >file
            if (before ~ /^<!-- .* -->$/)
                print substr(before, 6, length(before) - 9) >(file ".command")
        }
        next
    }
    inside { print >file; next }
    /^    / { print >"indented" }
    { before = $0 }
    END { print count + 0 >"count"; print inside + 0 >"open" }
' "$readme" || exit 1
equal 'README.md: every block ends' "$(cat open)" 0
equal 'README.md: indented lines are commands, and outputs stand between ```' \
    "$(grep -v '^    \(sh\|build/tipcrest\|mkdir\|export\) ' indented)" ''

block=0
while [ "$block" -lt "$(cat count)" ]; do
    block=$((block + 1))
    quoted=blocks/$block
    claim="README.md quotes block $block word for word, \"$(head -n 1 "$quoted")\""
    if [ ! -e "$quoted.command" ]; then
        not_ok "$claim" 'the line before it must be <!-- COMMAND -->, the command that prints it'
        continue
    fi
    if grep -q 'tipcrest study' "$quoted.command" &&
        "$TIPCREST" study x 2>&1 | grep -q 'built without studies'; then
        skip "$claim" 'built without studies'
        continue
    fi
    status=0
    sh -e "$quoted.command" >out 2>err </dev/null || status=$?
    if difference=$(diff -u "$quoted" out) && [ "$status" = 0 ] && [ ! -s err ]; then
        ok "$claim: $(cat "$quoted.command")"
    else
        not_ok "$claim: $(cat "$quoted.command")" "exit $status" "$(cat err)" "$difference"
    fi
done
equal 'blocks were found' "$([ "$block" -gt 0 ] && echo yes)" yes

# ---- Figures ----------------------------------------------------------------------------------

# quotes TEXT: README.md has it.
text=$(cat "$readme")
quotes() { contains "README.md: $1" "$text" "${1:-nothing was printed}"; }

# figures_of SET: evenness, share, tips that stick out, and the offsets of the layers, open and from the
# artist's seat.
figures_of() {
    build/tipcrest check "examples/practice-head/$1.yaml" </dev/null | sed -n '
        1s/^.*: \([0-9.]*\) mm rms; \([0-9]*\) % .*; \([0-9]*\) of 81 tips.*/\1 \2 \3/p
        s/^ *eye open, from the front *\([-+0-9.]*\) *\([-+0-9.]*\) *\([-+0-9.]*\) .*/\1 \2 \3/p
        s/^ *artist.s seat .*) *\([-+0-9.]*\) *\([-+0-9.]*\) *\([-+0-9.]*\) .*/\1 \2 \3/p' |
        tr '\n' ' ' | sed 's/-/−/g'
}
# shellcheck disable=SC2046 # nine figures each
set -- $(figures_of layered) $(figures_of equal)
equal 'the table of two sets has nine figures of each' $# 18
[ $# -eq 18 ] || set -- - - - - - - - - - - - - - - - - - -
quotes "| evenness, rms | $1 mm | ${10} mm |"
quotes "| within half a millimetre of the line | $2 % | ${11} % |"
quotes "| bottom, middle, top layer off the line, eye open | $4, $5, $6 mm | ${13}, ${14}, ${15} mm |"
quotes "| the same from the artist's seat | $7, $8, $9 mm | ${16}, ${17}, ${18} mm |"
quotes "| tips of 81 that stick out | $3 | ${12} |"

# row LABEL PRINTED: the figures of a row of step at the distances that README.md gives.
row() {
    awk -v label="$1" -v printed="$2" '
        /^    layers apart, mm/ { for (i = 1; i <= (n = NF - 3); i++) apart[i] = $(i + 3) }
        index($0, "    " printed "  ") == 1 {
            for (i = 1; i <= n; i++)
                figure[apart[i]] = $(NF - n + i)
            line = "| " label " |"
            count = split("0.0 0.4 0.8 1.0 1.2 1.6", wanted)
            for (i = 1; i <= count; i++)
                line = line " " figure[wanted[i]] " |"
            print line
        }' steps
}
build/tipcrest step examples/practice-head/layered.yaml >steps </dev/null
quotes "$(row 'equal lengths' 'equal lengths')"
quotes "$(row '12/11/10' '1 mm less a layer')"
quotes "$(row 'the best sizes' 'best of the tray')"

# says SENTENCE OUTPUT PART...: a sentence of README.md and the parts of an output that it rests on.
says() {
    quotes "$1"
    sentence=$1 output=$(tr -s ' \n' '  ' <"$2")
    shift 2
    for part; do
        contains "README.md: $sentence: as the command prints" "$output" "$part"
    done
}
client=examples/client/client.yaml
build/tipcrest plan "$client" >planned </dev/null
build/tipcrest plan "$client" --samples 0 >sample </dev/null
says 'The rule beats equal lengths from 0.64 mm on.' steps '1 mm less beats equal from 0.64 mm apart'
says 'tips 0.58 mm (rms) off the line that the map intends' planned "Expect off the map's line: 0.58 mm rms"
says 'about 4 lashes in 10 that will want another size' planned 'About 4 in 10 lashes will want another size'
says '0.53 mm with the zones alone, 0.34 mm with 37 corrections' sample "Off the map's line: 0.34 mm rms" \
    'With the zones alone it is 0.53 mm; 37 lashes differ from their zone'

cd / && rm -rf "$work"
finish
