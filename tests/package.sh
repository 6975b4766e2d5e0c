#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Debian packages, as TAP: they build, lintian finds nothing in them, and a bare Debian installs them
# with apt, draws the first picture and computes a figure in Python. Takes root, mmdebstrap and the archive;
# without one of them the bare Debian is skipped. Ends with 'N passed, N failed'.
#
#     sh tests/package.sh

cd "$(dirname "$0")/.." || exit 1
passed=0 failed=0 skipped=0
holds() { # NAME STATUS LOG
    if [ "$2" -eq 0 ]; then
        passed=$((passed + 1)) && echo "ok - $1"
    else
        failed=$((failed + 1)) && echo "not ok - $1" && tail -n 30 "$3" | sed 's/^/#   /'
    fi
}
skip() { skipped=$((skipped + 1)) && echo "ok - $1 # SKIP $2"; }
finish() {
    echo "$passed passed, $failed failed, $skipped skipped"
    [ "$failed" -eq 0 ]
    exit
}

if ! command -v apt-get >/dev/null || ! command -v dpkg >/dev/null; then
    skip 'packages build' 'not Debian'
    finish
fi
folder=$PWD/build/packages
bare=$(mktemp -d) || exit 1
trap 'rm -rf "$bare"' EXIT
trap 'exit 1' HUP INT TERM
log=$bare/log

sh examples/package.sh "$folder" >"$log" 2>&1
holds 'packages build' $? "$log"
[ "$failed" -eq 0 ] || finish

# What has a reason is overridden beside the reason, in debian/. These packages go to no archive of
# Debian's, so there is no bug there that asks for them.
set --
for file in "$folder"/*.deb; do
    case $file in *-dbgsym_*) ;; *) set -- "$@" "$file" ;; esac
done
lintian --allow-root --fail-on error,warning --suppress-tags initial-upload-closes-no-bugs "$@" >"$log" 2>&1
holds 'lintian finds nothing in the packages' $? "$log"

if [ "$(id -u)" -ne 0 ] || ! command -v mmdebstrap >/dev/null; then
    skip 'a bare Debian draws the first picture' 'takes root and mmdebstrap'
    finish
fi
root=$bare/root
# shellcheck source=/dev/null
if ! mmdebstrap --variant=minbase "$(. /etc/os-release && echo "$VERSION_CODENAME")" "$root" >"$log" 2>&1; then
    # Without an archive there is nothing to make it of; all else is a failure.
    if grep -q 'E: Failed to fetch' "$log"; then
        skip 'a bare Debian draws the first picture' "no archive: $(grep -m 1 '^E: ' "$log")"
    else
        holds 'mmdebstrap makes a bare Debian' 1 "$log"
    fi
    finish
fi
mkdir "$root/packages"
for file in "$folder"/*.deb; do
    case $file in *-dbgsym_* | */libtipcrest-dev_*) ;; *) cp "$file" "$root/packages" ;; esac
done
chroot "$root" sh -c 'export DEBIAN_FRONTEND=noninteractive LC_ALL=C
    apt-get -qq update && apt-get -qq install -y --download-only --no-install-recommends /packages/*.deb' \
    >"$log" 2>&1
holds 'a bare Debian fetches what they need' $? "$log"
begun=$(date +%s)
chroot "$root" sh -c 'export DEBIAN_FRONTEND=noninteractive LC_ALL=C
    apt-get -qq install -y --no-install-recommends /packages/*.deb' >"$log" 2>&1
holds 'a bare Debian installs them with apt' $? "$log"
sh tests/links.sh "$root/usr/share/doc/tipcrest" >"$log" 2>&1
[ ! -s "$log" ]
holds 'the links in the texts lead to files there' $? "$log"
# shellcheck disable=SC2016 # expanded there
chroot "$root" sh -c 'cd /tmp && export LC_ALL=C HOME=/tmp &&
    tipcrest draw /usr/share/doc/tipcrest/examples/practice-head/layered.yaml --view front -o first.png' \
    >"$log" 2>&1 && [ "$(head -c 4 "$root/tmp/first.png" | tail -c 3)" = PNG ]
holds 'a bare Debian draws the first picture' $? "$log"
echo "# from apt to the picture: $(($(date +%s) - begun)) s, downloads aside"
# shellcheck disable=SC2016 # expanded there
chroot "$root" sh -c 'cd /tmp && export LC_ALL=C HOME=/tmp &&
    set=/usr/share/doc/tipcrest/examples/practice-head/layered.yaml &&
    tipcrest check "$set" --json command.json &&
    python3 -c "
import json, sys, tipcrest
check = tipcrest.Set.read(sys.argv[1]).check()
with open(sys.argv[2]) as file:
    report = json.load(file)
assert check.left.rms_mm == report[\"eyes\"][0][\"fitted\"][\"rms_mm\"] > 0, check.left
print(check.left)
" "$set" command.json' >"$log" 2>&1
holds "Python has the figures of the command there" $? "$log"
finish
