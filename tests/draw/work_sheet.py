# SPDX-License-Identifier: GPL-3.0-or-later
"""The work sheet of a plan: pages of A4, a bar of 50 mm in the content, every zone's lengths, every
correction and every lash of the order as text, the cautions, nothing beyond a page's edge, the same
bytes each time. All data is invented.
"""

import json
import os
import re
import subprocess
import tempfile

import claims
import picture
import sets

CLIENT = os.path.join(claims.EXAMPLES, "client", "client.yaml")
PLACEMENT = {"top": "top", "underside": "under", "inner-side": "inner", "outer-side": "outer"}
# Source: the project's own list of what a sheet for work near eyes has to say.
CAUTIONS = ("trained and, where the law asks, licensed", "local rules go before this sheet", "Lids stay closed",
            "ventilation", "ingredients", "test a little first", "active eye or lid disease",
            "acrylate or formaldehyde allergy", "Isolate", "Pain, redness or a change of sight", "doctor")


def planned(folder, name, path, *more):
    """The sheet's file and the report of the plan."""
    sheet, report = f"{folder}/{name}.pdf", f"{folder}/{name}.json"
    subprocess.run([os.environ["TIPCREST"], "plan", path, "--sheet", sheet, "--json", report, *more],
                   check=True, stdout=subprocess.DEVNULL)
    with open(report, encoding="utf-8") as file:
        return sheet, json.load(file)


def words(sheet):
    """All its text, line by line as it is laid out."""
    return " ".join(picture.pdf_text(sheet).split())


def said(extension):
    """What the sheet calls an extension."""
    return f"{extension['length_mm']:g} {extension['curl']} {PLACEMENT[extension['placement']]}"


def pages_of(sheet):
    """Width, height and words with their boxes, points, of each page."""
    text = subprocess.run(["pdftotext", "-bbox", sheet, "-"], check=True, capture_output=True, encoding="utf-8").stdout
    found = []
    for page in re.split("<page ", text)[1:]:
        width, height = (float(n) for n in re.match(r'width="([\d.]+)" height="([\d.]+)"', page).groups())
        boxes = re.findall(r'xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)"', page)
        found.append((width, height, [tuple(float(n) for n in box) for box in boxes]))
    return found


def page_claims(name, sheet):
    """A4 (ISO 216), and all words within a rim of 5 mm, which printers leave white."""
    rim = 5 * picture.POINTS_PER_MM
    with claims.claim(f"{name}: pages of A4, portrait, no word beyond the rim"):
        pages = pages_of(sheet)
        claims.true(len(pages) >= 2, f"{len(pages)} pages")
        for width, height, boxes in pages:
            claims.near(width / picture.POINTS_PER_MM, 210, 1e-3, "digits of the page box")
            claims.near(height / picture.POINTS_PER_MM, 297, 1e-3, "digits of the page box")
            for box in boxes:
                claims.within(box[0], rim, width - rim, f"left end of {box}")
                claims.within(box[2], rim, width - rim, f"right end of {box}")
                claims.within(box[1], rim, height - rim, f"top of {box}")
                claims.within(box[3], rim, height - rim, f"foot of {box}")
    with claims.claim(f"{name}: it says how many pages there are"):
        claims.true(f"page {len(pages)} of {len(pages)}" in words(sheet), "no last page named")


def lines_of(sheet):
    """Words side by side on the page, row by row, blanks as one."""
    return [" ".join(line.split()) for line in picture.pdf_text(sheet, "-layout").splitlines()]


def content_claims(name, sheet, plan):
    """What the plan gives is what the sheet says."""
    text = words(sheet)
    lines = lines_of(sheet)
    with claims.claim(f"{name}: what every zone's layers get stands in a row of its zone"):
        for eye in plan["eyes"]:
            for zone in {cell["zone"] for cell in eye["cells"]}:
                given = {cell["layer"]: said(cell["extension"]) for cell in eye["cells"] if cell["zone"] == zone}
                row = " ".join(given.get(layer, "no lash") for layer in ("bottom", "middle", "top"))
                claims.true(any(re.search(rf"(^| ){zone} [\d.]+ % {re.escape(row)}( |$)", line) for line in lines),
                            f"no row: {eye['side']} zone {zone}: {row}")
    with claims.claim(f"{name}: every correction stands there with its lash"):
        for eye in plan["eyes"]:
            for lash in (lash for lash in eye["lashes"] if lash["corrected"]):
                gets = re.escape(said(lash["extension"]))
                claims.true(any(re.search(rf" {re.escape(lash['id'])} \d+ (bottom|middle|top) \d+ % {gets}( |$)", line)
                                for line in lines), f"no row: {lash['id']} gets {gets}")
    with claims.claim(f"{name}: what to lay out sums to the lashes"):
        claims.equal(sum(row["lashes"] for row in plan["work"]["rows"]), plan["work"]["lashes"])
        for row in plan["work"]["rows"]:
            want = f"{row['length_mm']:g} {row['curl']} {row['diameter_mm']:g} {row['lashes']} {row['with_loss']}"
            claims.true(any(want in line for line in lines), f"no row: {want}")
    with claims.claim(f"{name}: the cautions are there"):
        for caution in CAUTIONS:
            claims.true(caution in text, f"not found: {caution}")
    with claims.claim(f"{name}: limits and paces are called assumed"):
        claims.true("Limits of this plan: 10 and 20, assumed" in text and "for loss (assumed)" in text, text[-600:])


def bar_claims(name, sheet):
    """A point is 25.4/72 mm (ISO 32000-1, 8.3.2.3)."""
    with claims.claim(f"{name}: the check bar is 50 mm long in the content, and says so"):
        bars = []
        for shape in picture.read_pdf(sheet, of=len(pages_of(sheet))).shapes:
            low_x, low_y, high_x, high_y = shape.box()
            if shape.fill and len(shape.runs) == 1 and abs(high_y - low_y - 1.4) < 0.02:
                bars.append(high_x - low_x)
        claims.equal(len(bars), 1, "bars 1.4 mm thick")
        # Cairo rounds to 1/256 pt and writes 0.001 pt; two ends.
        claims.near(bars[0], 50, 2 * (1 / 256 + 0.001) / picture.POINTS_PER_MM, "rounding")
        claims.true("This bar is 50 mm long" in words(sheet), "not said")


def main():
    """All claims."""
    with tempfile.TemporaryDirectory() as folder:
        long_rtl = "\u05d0\u05d9\u05de\u05d5\u05df \u05e8\u05d9\u05e1\u05d9\u05dd " * 20
        cases = (("client", CLIENT, ()), ("every correction", CLIENT, ("--corrections", "all")),
                 ("one eye of 20", sets.few(folder, "few", lambda i: True, 20), ()),
                 ("two eyes of 300", sets.two_eyes(folder, 300), ()),
                 ("long title from right to left", sets.titled(folder, "title", long_rtl), ()))
        for name, path, more in cases:
            sheet, plan = planned(folder, name.replace(" ", "-"), path, *more)
            page_claims(name, sheet)
            content_claims(name, sheet, plan)
            bar_claims(name, sheet)
        with claims.claim("the same plan gives the same bytes"):
            first, second = planned(folder, "first", CLIENT)[0], planned(folder, "second", CLIENT)[0]
            with open(first, "rb") as one, open(second, "rb") as other:
                claims.true(one.read() == other.read(), "they differ")
    claims.finish()


main()
