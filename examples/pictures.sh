#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Makes the pictures of README.md anew: sh examples/pictures.sh [TIPCREST]
#
# TIPCREST is the command to make them with, build/tipcrest unless given.

cd "$(dirname "$0")/.." || exit 1
tipcrest=${1:-build/tipcrest}
if ! command -v "$tipcrest" >/dev/null; then
    echo "pictures.sh: there is no $tipcrest; sh examples/first-set.sh builds it" >&2
    exit 1
fi

pictures=examples/pictures
layered=examples/practice-head/layered.yaml
equal=examples/practice-head/equal.yaml

# Few points an inch, so that they load fast. draw NAME VIEW SET [OPTION...]
draw() {
    name=$1 view=$2 set=$3
    shift 3
    "$tipcrest" draw "$set" --view "$view" --dpi 90 -o "$pictures/$name.png" "$@" || exit
    echo "$pictures/$name.png"
}

mkdir -p "$pictures" || exit 1
draw front front "$layered"
draw compare compare "$equal" --with "$layered"
draw artist artist "$layered"
draw side side "$layered"
draw deviations deviations "$equal"
draw why why "$layered"
draw lesson lesson "$layered"
"$tipcrest" step "$layered" --picture "$pictures/step.png" >/dev/null || exit
echo "$pictures/step.png"

for study in curls placement lid pitch; do
    "$tipcrest" study "examples/studies/$study.yaml" --picture "$pictures/study-$study.png" --dpi 90 \
        >/dev/null || exit
    echo "$pictures/study-$study.png"
done

# A plan: the zones of a client whom nobody measured, on the work sheet, and a plan for the one sample
# of her lashes that is drawn, before and after.
client=examples/client/client.yaml
folder=$(mktemp -d) || exit 1
trap 'rm -rf "$folder"' EXIT
"$tipcrest" plan "$client" --sheet "$folder/sheet.pdf" >/dev/null || exit
"$tipcrest" plan "$client" --samples 0 -o "$folder/my-plan.yaml" >/dev/null || exit
draw plan compare "$client" --with "$folder/my-plan.yaml"
if command -v pdftoppm >/dev/null; then
    pdftoppm -png -r 90 -f 1 -singlefile "$folder/sheet.pdf" "$pictures/work-sheet" || exit
    echo "$pictures/work-sheet.png"
else
    echo 'pictures.sh: there is no pdftoppm; work-sheet.png stays as it is' >&2
fi
