# SPDX-License-Identifier: GPL-3.0-or-later
"""The work sheet of a plan: pages of A4, a bar of 50 mm in the content, every zone's lengths, every
correction and every lash of the order in a row of its own, every bare lash with its reason, the curve of
corrections where the report says, the cautions, nothing beyond a page's edge or over another word,
the same bytes each time. All data is invented.
"""

import csv
import html
import json
import math
import os
import random
import re
import subprocess
import tempfile

import numpy as np
import yaml

import claims
import picture
import sets

CLIENT = os.path.join(claims.EXAMPLES, "client", "client.yaml")
PLACEMENT = {"top": "on top", "underside": "under", "inner-side": "inner", "outer-side": "outer"}
MIDDLE_MM = 105  # between the two columns of A4, 210 mm wide
REASON = {
    "bare-cover": "spared: the line is covered without it", "bare-condition": "its condition",
    "bare-by-row": "its row says none", "bare-baby": "short or thin", "bare-stray": "astray",
    "bare-bond": "too short for the bond",
    "bare-weak": "too short or too weak for its zone\u2019s lengths",
}
# Source: the project's own list of what a sheet for work near eyes has to say.
CAUTIONS = ("trained and, where the law asks, licensed", "local rules go before this sheet", "Lids stay closed",
            "ventilation", "ingredients", "test it on the skin, away from the eye", "active eye or lid disease",
            "acrylate or formaldehyde allergy", "Isolate", "Pain, redness or a change of sight", "doctor")


def planned(folder, name, path, *more):
    """The sheet's file and the report of the plan, whose lashes have place, layer and zone too. The
    lashes are planned as they are drawn, one by one, where they are described."""
    sheet, report, out = f"{folder}/{name}.pdf", f"{folder}/{name}.json", f"{folder}/{name}-planned"
    subprocess.run([os.environ["TIPCREST"], "plan", path, "--samples", "0", "--sheet", sheet, "--json", report,
                    "-o", out + ".yaml", *more], check=True, stdout=subprocess.DEVNULL)
    with open(report, encoding="utf-8") as file:
        plan = json.load(file)
    with open(out + ".yaml", encoding="utf-8") as file:
        maps = {eye["side"]: eye["map"] for eye in yaml.safe_load(file)["eyes"]}
    for eye in plan["eyes"]:
        with open(f"{out}-{eye['side']}.csv", encoding="utf-8") as file:
            rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
        for lash, row in zip(eye["lashes"], rows):
            if lash["id"] != row["id"]:
                raise ValueError(f"{lash['id']} in the report, {row['id']} in the survey")
            lash["u"], lash["layer"] = float(row["u"]), row["layer"]
            lash["zone"] = 1 + sum(lash["u"] >= zone["to"] for zone in maps[eye["side"]][:-1])
    return sheet, plan


def words(sheet):
    """All its text, line by line as it is laid out."""
    return " ".join(picture.pdf_text(sheet).split())


def said(extension):
    """What the sheet calls an extension."""
    return f"{extension['length_mm']:g} {extension['curl']} {PLACEMENT[extension['placement']]}"


def pages_of(sheet):
    """Width, height and words, mm, of each page."""
    found = []
    text = picture.pdf_text(sheet, "-bbox")
    for page in re.split("<page ", text)[1:]:
        width, height = (float(n) / picture.POINTS_PER_MM
                         for n in re.match(r'width="([\d.]+)" height="([\d.]+)"', page).groups())
        words_of = [picture.Word(html.unescape(match[4]), *(float(n) / picture.POINTS_PER_MM for n in match[:4]))
                    for match in re.findall(r'xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" '
                                            r'yMax="([-\d.]+)">([^<]*)<', page)]
        found.append((width, height, words_of))
    return found


def rows_of(sheet):
    """Rows of words in the order in which they are read: page, column, from above."""
    rows = []
    for _, _, found in pages_of(sheet):
        for right in (False, True):
            column = [word for word in found if (word.low_x > MIDDLE_MM) == right]
            last = None
            for word in sorted(column, key=lambda word: word.low_y + word.high_y):
                middle = (word.low_y + word.high_y) / 2
                # Rows are at least 3.2 mm apart; faces of one row differ by less in their middle.
                if last is None or middle - last > 1.2:
                    rows.append([])
                    last = middle
                rows[-1].append(word)
    return [" ".join(word.text for word in sorted(row, key=lambda word: word.low_x)) for row in rows]


def is_cut_of(shown, whole, side):
    """What is shown is the eye and the id, or it with dots in the middle, under which readers of PDFs
    may find the whole in two pieces."""
    shown, whole = shown.replace(" ", ""), side[0].upper() + whole
    start, dots, end = shown.partition("\u2026")
    return shown == whole or (dots and len(shown) >= 8 and whole.startswith(start) and whole.endswith(end))


def place_is(shown, u):
    """Per cent along the lid to a tenth; half of it, and 1e-3 for the digits of the survey."""
    return abs(float(shown) - 100 * u) <= 0.05 + 1e-3


ORDER = re.compile(r"(\d+) ([LR]) (\S+(?: \S+)?) (\d+) (bottom|middle|top) ([\d.]+) % (on top|under|outer|inner)"
                   r"(?: ([1-9]\d?))?(?: no\. (\d+))?$")


def order_claims(name, sheet, plan):
    """Each lash of the report's sequence has its row, in order."""
    lashes = {(eye["side"], lash["id"]): lash for eye in plan["eyes"] for lash in eye["lashes"]}
    fans = len({lash["extension"]["fan"] for lash in lashes.values() if lash["extension"]}) > 1
    rows = rows_of(sheet)
    with claims.claim(f"{name}: every lash stands once, in working order, with all that it gets"):
        found = [match.groups() for match in map(ORDER.match, rows) if match]
        claims.equal([int(row[0]) for row in found], list(range(1, len(plan["work"]["sequence"]) + 1)), "numbers")
        headings = [match.groups() for match in (re.match(r"([\d.]+) (\S+) ([\d.]+) mm, (\d+) lash(?:es)?$", row)
                                                 for row in rows) if match]
        claims.equal(sum(int(heading[3]) for heading in headings), len(found), "lashes of all tray rows")
        for row, place in zip(found, plan["work"]["sequence"]):
            lash = lashes[place["side"], place["id"]]
            _, side, shown, zone, layer, at, on, fan, correction = row
            claims.equal((side, int(zone), layer, on, bool(correction), fan if fans else None),
                         (place["side"][0].upper(), lash["zone"], lash["layer"],
                          PLACEMENT[lash["extension"]["placement"]], lash["corrected"],
                          str(lash["extension"]["fan"]) if fans else None), f"{row} for {place}")
            claims.true(is_cut_of(side + shown, place["id"], place["side"]) and place_is(at, lash["u"]), f"{row} for {place}")
    with claims.claim(f"{name}: each tray row is named above its lashes"):
        kinds = plan["work"]["rows"]
        current, number = None, 0
        for row in rows:
            heading = re.match(r"([\d.]+) (\S+) ([\d.]+) mm, \d+ lash(?:es)?(?:, continued)?$", row)
            if heading:
                current = heading.groups()
            elif ORDER.match(row):
                kind = kinds[plan["work"]["sequence"][number]["row"] - 1]
                claims.equal(current, (f"{kind['length_mm']:g}", kind["curl"], f"{kind['diameter_mm']:g}"), row)
                number += 1
        claims.equal(number, len(plan["work"]["sequence"]))
    with claims.claim(f"{name}: corrections have one number in the order and in their list"):
        marks = sorted(int(row[8]) for row in found if row[8])
        claims.equal(marks, list(range(1, plan["plan"]["corrections"] + 1)))
        for row in found:
            if row[8]:
                claims.true(any(line.startswith(f"{row[8]} {row[1]} {row[2][:4]}") for line in rows), f"no. {row[8]}")


def bare_claims(name, sheet, plan):
    """Each lash without an extension stands under its eye and reason."""
    rows = rows_of(sheet)
    with claims.claim(f"{name}: every bare lash stands once, by eye and reason, with its place"):
        shown, under = {}, None
        start = next(i for i, row in enumerate(rows) if re.match(r"Kept bare: \d+ lash", row))
        for row in rows[start:]:
            heading = re.match(r"(Right|Left) eye, (.*): (\d+) lash(?:es)?$", row)
            if heading:
                under = (heading[1].lower(), heading[2])
                claims.true(under not in shown, f"twice: {under}")
                shown[under] = []
                shown[under].append(int(heading[3]))
            elif under and re.fullmatch(r"([LR] \S+( \S+)? [\d.]+ % ?){1,3}", row):
                shown[under] += re.findall(r"([LR] \S+(?: \S+)?) ([\d.]+) %", row)
        wanted = {}
        for eye in plan["eyes"]:
            for lash in sorted(eye["lashes"], key=lambda lash: lash["u"]):
                if lash["use"] in REASON:
                    wanted.setdefault((eye["side"], REASON[lash["use"]]), []).append(lash)
        claims.equal(sorted(shown), sorted(wanted))
        claims.equal(int(re.search(r"\d+", rows[start])[0]), sum(map(len, wanted.values())), "in the heading")
        for key, lashes in wanted.items():
            claims.equal((shown[key][0], len(shown[key]) - 1), (len(lashes), len(lashes)), str(key))
            for (mark, at), lash in zip(shown[key][1:], lashes):
                claims.true(is_cut_of(mark, lash["id"], key[0]) and place_is(at, lash["u"]), f"{mark} {at} for {lash}")


def first_page_claims(name, sheet, plan):
    """What the plan reaches, as its report says."""
    text = " ".join(words(sheet).split())
    told = plan["plan"]
    point = next(point for point in told["curve"] if point["corrections"] == told["corrections"])
    with claims.claim(f"{name}: the first page says what is reached and has lines to fill in"):
        reached = f"Tips off the map’s line: {told['rms_mm']:.2f} mm rms with the zones alone"
        if told["corrections"] > 0:
            many = f"{told['corrections']} correction" + ("s" if told["corrections"] > 1 else "")
            reached += f", {point['rms_mm']:.2f} mm with {many}"
        share = math.floor(1000 * point["within_tolerance"] + 1e-9) / 10  # rounded down
        whose = "the worse eye\u2019s" if len(plan["eyes"]) > 1 else "the"
        within = rf" \({share:.1f} % of {whose} tips within [\d.]+ mm\)"
        claims.true(re.search(re.escape(reached) + within, text), reached + "\n" + text[:900])
        claims.equal("not proved that none is better" in text, not told["proved"], "proved")
        claims.equal("The line is free" in text, told["free_mm"] > 0, "free")
        if told["free_mm"] > 0:
            shift, tilt = (f"{told[key]:+.{digits}f}".replace("-", "\u2212") if round(told[key], digits) else
                           f"{0:.{digits}f}" for key, digits in (("shift_mm", 2), ("tilt_deg", 1)))
            claims.true(f"shifted by {shift} mm" in text and f"tilted by {tilt}\u00b0" in text, f"{shift} {tilt}")
        kinds = {(lash["extension"]["diameter_mm"], lash["extension"]["fan"])
                 for eye in plan["eyes"] for lash in eye["lashes"] if lash["extension"]}
        one = len(kinds) == 1 and list(kinds)[0]
        claims.equal(bool(re.search(r"All [\d.]+ mm, (single|fans of)", text)), bool(one), "one kind")
        if one:
            fan = f"fans of {one[1]}" if one[1] > 1 else "single"
            claims.true(f"All {one[0]:g} mm, {fan}." in text, f"{one}")
        claims.equal("counts fibres" in text, any(fan > 1 for _, fan in kinds), "fibres")
        for want in ("Client", "Date", "By", "brow up", "A mark at each tip", "10 mm, at"):
            claims.true(want in text, f"not found: {want}")


def spread_out_claims(name, sheet):
    """No word over another. A box of pdftotext is as high as its face, about 1.36 em; ink fills it
    from about a quarter to about four fifths, which is taken here."""
    with claims.claim(f"{name}: no word lies over another"):
        for number, (_, _, found) in enumerate(pages_of(sheet), 1):
            boxes = np.array([(w.low_x + 0.05, w.low_y + 0.27 * (w.high_y - w.low_y),
                               w.high_x - 0.05, w.high_y - 0.22 * (w.high_y - w.low_y)) for w in found])
            over = ((boxes[:, None, 0] < boxes[None, :, 2]) & (boxes[None, :, 0] < boxes[:, None, 2]) &
                    (boxes[:, None, 1] < boxes[None, :, 3]) & (boxes[None, :, 1] < boxes[:, None, 3]))
            np.fill_diagonal(over, False)
            pairs = [(found[i], found[k]) for i, k in np.argwhere(over) if i < k]
            claims.true(not pairs, f"page {number}: {pairs[:3]}")


def on_line(run):
    """Points at most 0.1 mm apart along a run of a shape."""
    a, b = np.array(run[:-1]), np.array(run[1:])
    steps = np.maximum(1, (np.hypot(*(b - a).T) / 0.1).astype(int))
    number = np.repeat(np.arange(len(steps)), steps + 1)
    first = np.repeat(np.cumsum(steps + 1) - (steps + 1), steps + 1)
    share = (np.arange(len(number)) - first) / steps[number]
    return a[number] + (b - a)[number] * share[:, None]


def overdrawn_claims(name, sheet):
    """No hair, rule or frame runs through the letters of a word of the first page. In the glyphs'
    boxes the ink lies as in spread_out_claims."""
    with claims.claim(f"{name}: no line runs through a word of the first page"):
        _, _, found = pages_of(sheet)[0]
        boxes = np.array([(w.low_x + 0.1, w.low_y + 0.27 * (w.high_y - w.low_y),
                           w.high_x - 0.1, w.high_y - 0.25 * (w.high_y - w.low_y)) for w in found])
        over = set()
        for shape in picture.read_pdf(sheet, of=len(pages_of(sheet))).shapes:
            lines = [on_line(run) for run in shape.runs if len(run) > 1]
            if not lines:
                continue
            points = np.concatenate(lines)
            low, high = points.min(axis=0), points.max(axis=0)
            for i in np.nonzero((boxes[:, :2] < high).all(axis=1) & (boxes[:, 2:] > low).all(axis=1))[0]:
                if ((points > boxes[i, :2]) & (points < boxes[i, 2:])).all(axis=1).any():
                    over.add(found[i].text)
        claims.true(not over, f"drawn over: {sorted(over)[:9]}")


def last_page_claims(name, sheet):
    """Half of a last page is filled, or the sheet has no page that its lists could leave."""
    with claims.claim(f"{name}: the last page is half filled"):
        found = pages_of(sheet)
        if len(found) > 2:
            top, foot = 11 + 8, 297 - 15  # draw/work_sheet.h
            ends = [max((w.high_y for w in found[-1][2] if (w.low_x > MIDDLE_MM) == right and w.high_y < foot),
                        default=top) for right in (False, True)]
            # Ours: a heading or a table that would not fit may leave a tenth of the left column free.
            share = ((foot - top if ends[1] > top + 5 else ends[0] - top) + ends[1] - top) / 2 / (foot - top)
            claims.true(share >= 0.45, f"{share:.2f} of it is filled")


def curve_page(folder, sheet):
    """The drawing and the words of the page with the curve, and the box of its title."""
    for number, (_, _, found) in enumerate(pages_of(sheet), 1):
        text = " ".join(word.text for word in found)
        if "corrections; the bar:" in text:
            alone = f"{folder}/curve.pdf"
            subprocess.run(["pdfseparate", "-f", str(number), "-l", str(number), sheet, alone], check=True)
            return picture.read_pdf(alone), found
    raise claims.Broken("no page with a curve")


def scale_of(pairs):
    """The line through pairs of place and number, and how far they lie off it."""
    place, number = np.array(pairs).T
    slope, start = np.polyfit(number, place, 1)
    return slope, start, np.abs(start + slope * number - place).max()


def curve_claims(name, folder, sheet, plan):
    """Scales from the numbers beside the rules, and nothing from the code that draws."""
    told = plan["plan"]
    near = 0.05  # mm; asked for: far below the width of a line (0.5 mm), above cairo's rounding
    with claims.claim(f"{name}: the curve lies where the report says, the bar at the corrections made"):
        drawing, found = curve_page(folder, sheet)
        title = next(word for word in found if word.text == "Distance" and word.high_x < 210)
        foot = next(word for word in found if word.text == "corrections;")
        lines = [shape.runs[0] for shape in drawing.shapes
                 if shape.stroke and len(shape.runs) == 1 and shape.runs[0][:, 1].min() > title.high_y - 1
                 and shape.runs[0][:, 1].max() < foot.high_y
                 and title.low_x - 1 < shape.runs[0][:, 0].min() < title.low_x + 90]
        # A number stands beside its rule: the face's middle lies less than 1 mm off it.
        numbers = [word for word in found if re.fullmatch(r"[\d.]+", word.text)]
        up, across = [], []
        for run in (run for run in lines if len(run) == 2):
            (x0, y0), (x1, y1) = run
            for word in numbers:
                middle = (word.low_y + word.high_y) / 2, (word.low_x + word.high_x) / 2
                if y0 == y1 and abs(x1 - x0) > 40 and abs(middle[0] - y0) < 1 and 0 < x0 - word.high_x < 3:
                    up.append((y0, float(word.text)))
                if x0 == x1 and abs(y1 - y0) < 1.2 and abs(middle[1] - x0) < 0.3 and 0 < word.high_y - y1 < 5:
                    across.append((x0, float(word.text)))
        y_slope, y_start, y_off = scale_of(up)
        x_slope, x_start, x_off = scale_of(across)
        claims.true(y_off < near and x_off < near, f"rules off their scale: {y_off} {x_off}")
        curves = [run for run in lines if len(run) > 2]
        claims.equal(len(curves), 2, "curves")
        many = np.array([point["corrections"] for point in told["curve"]])
        for run, key in zip(curves, ("p95_abs_mm", "rms_mm")):
            # Points on the way straight to the next one need not be written.
            x = x_start + x_slope * many
            y = y_start + y_slope * np.array([point[key] for point in told["curve"]])
            claims.near(np.abs(np.interp(x, *run.T) - y).max(), 0, near, f"the curve off the points of {key}")
            claims.near(np.abs(run[[0, -1], 0] - x[[0, -1]]).max(), 0, near, f"ends of {key}")
            off = np.hypot(run[:, None, 0] - x, run[:, None, 1] - y).min(axis=1)
            claims.near(off.max(), 0, near, f"a corner of the curve off every point of {key}")
        bars = [run for run in lines if len(run) == 2 and run[0][0] == run[1][0] and abs(run[0][1] - run[1][1]) > 20]
        claims.equal(len(bars), 1, "bars")
        claims.near(bars[0][0][0], x_start + x_slope * told["corrections"], near, "the bar")


def page_claims(name, sheet):
    """A4 (ISO 216), and all words within a rim of 5 mm, which printers leave white."""
    rim = 5
    with claims.claim(f"{name}: pages of A4, portrait, no word beyond the rim"):
        pages = pages_of(sheet)
        claims.true(len(pages) >= 1, f"{len(pages)} pages")
        for width, height, found in pages:
            claims.near(width, 210, 1e-3, "digits of the page box")
            claims.near(height, 297, 1e-3, "digits of the page box")
            for word in found:
                claims.within(word.low_x, rim, width - rim, f"left end of {word}")
                claims.within(word.high_x, rim, width - rim, f"right end of {word}")
                claims.within(word.low_y, rim, height - rim, f"top of {word}")
                claims.within(word.high_y, rim, height - rim, f"foot of {word}")
    with claims.claim(f"{name}: it says how many pages there are"):
        claims.true(f"page {len(pages)} of {len(pages)}" in words(sheet), "no last page named")


def lines_of(sheet):
    """Words side by side on the page, row by row, blanks as one."""
    return [" ".join(line.split()) for line in picture.pdf_text(sheet, "-layout").splitlines()]


def content_claims(name, sheet, plan):
    """What the plan gives is what the sheet says."""
    text = words(sheet)
    lines, rows = lines_of(sheet), rows_of(sheet)
    with claims.claim(f"{name}: what every zone's layers get stands in a row of its zone"):
        for eye in plan["eyes"]:
            for zone in {cell["zone"] for cell in eye["cells"]}:
                given = {cell["layer"]: said(cell["extension"]) for cell in eye["cells"] if cell["zone"] == zone}
                rooted = {lash["layer"] for lash in eye["lashes"] if lash["zone"] == zone}
                row = " ".join(given.get(layer, "bare" if layer in rooted else "no lash")
                               for layer in ("bottom", "middle", "top"))
                claims.true(any(re.search(rf"(^| ){zone} [\d.]+ % {re.escape(row)}( |$)", line) for line in lines),
                            f"no row: {eye['side']} zone {zone}: {row}")
    with claims.claim(f"{name}: every correction stands there with its lash"):
        for eye in plan["eyes"]:
            for lash in (lash for lash in eye["lashes"] if lash["corrected"]):
                gets = re.escape(said(lash["extension"]))
                found = (re.match(rf"\d+ ([LR] \S+(?: \S+)?) (\d+) (\w+) ([\d.]+) % {gets}( |$)", row) for row in rows)
                claims.true(any(row and is_cut_of(row[1], lash["id"], eye["side"]) and int(row[2]) == lash["zone"]
                                and row[3] == lash["layer"] and place_is(row[4], lash["u"]) for row in found),
                            f"no row: {lash['id']} gets {gets}")
    with claims.claim(f"{name}: what to lay out sums to the lashes"):
        claims.equal(sum(row["lashes"] for row in plan["work"]["rows"]), plan["work"]["lashes"])
        for row in plan["work"]["rows"]:
            want = f"{row['length_mm']:g} {row['curl']} {row['diameter_mm']:g} {row['lashes']} {row['with_loss']}"
            claims.true(any(want in line for line in lines), f"no row: {want}")
    with claims.claim(f"{name}: the cautions are there"):
        first = " ".join(word.text for word in pages_of(sheet)[0][2])
        for caution in (*CAUTIONS, "Before you begin"):
            claims.true(caution in first, f"not found on the first page: {caution}")
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


def many_zones(folder):
    """Two eyes of 120 lashes in 64 zones, the most there may be."""
    rng = random.Random(8)
    zones = "[" + ", ".join(f"{{to: {(k + 1) / 64:.6g}, length_mm: {9 + k % 4}, curl: C}}" for k in range(64)) + "]"
    return sets.write(folder, "zones", {side: (sets.rows_of(rng, 120), zones, None) for side in ("left", "right")},
                      "Many zones (invented)")


def long_ids(folder):
    """An eye of 40 lashes whose ids are longer than any column."""
    rows = sets.rows_of(random.Random(9), 40)
    rows = rows[:1] + ["the-lash-that-is-known-by-the-number-" + row for row in rows[1:]]
    return sets.write(folder, "ids", {"right": (rows, sets.MAP, None)}, "Long ids (invented)")


def own_paces(folder):
    """The client, with two paces of its own."""
    path = f"{folder}/own-paces.yaml"
    with open(CLIENT, encoding="utf-8") as file, open(path, "w", encoding="utf-8") as own:
        own.write(file.read() + "pace: {lash_s: 60, distance_mm: 1.5}\n")
    return path


def bare_in_many_ways(folder):
    """Babies, strays, lashes that the row leaves bare, weak ones, and some that cover needs not."""
    rng = random.Random(10)
    rows = ["id,u,layer,length_mm,height_mm,condition,ext_length_mm"]
    for i in range(60):
        length = 4 if i % 10 == 1 else 8 + rng.random()
        rows.append(f"n{i},{0.05 + 0.9 * (i + 0.5) / 60:.4f},{sets.LAYERS[i % 3]},{length:.2f},"
                    f"{3.4 if i % 10 == 3 else i % 3:.1f},{'weak' if i % 10 == 5 else 'suitable'},"
                    f"{'none' if i % 10 == 7 else ''}")
    return sets.write(folder, "bare", {"left": (rows, sets.MAP, None)}, "Bare in many ways (invented)")


def drawn_claims(name, sheet, plan):
    """Lashes that nobody measured do not pass for a client's."""
    with claims.claim(f"{name}: whether the lashes are drawn by chance stands on the first page"):
        drawn = sum(eye["count"] for eye in plan["drawn"])
        told = f"NO CLIENT\u2019S SHEET: {drawn} of its lashes are drawn by chance, not measured."
        claims.equal(told in words(sheet), drawn > 0)
        claims.equal("NO CLIENT" in words(sheet), drawn > 0)


def seat_claims(name, folder, sheet, plan):
    """What the planned set wears is what its picture from the artist's seat says."""
    with claims.claim(f"{name}: the artist's view tells where each layer's extensions lie"):
        drawn = claims.draw(sheet.replace(".pdf", "-planned.yaml"), "artist", f"{folder}/seat.pdf")
        text = words(drawn)
        for layer in sets.LAYERS:
            worn = [PLACEMENT[lash["extension"]["placement"]] for eye in plan["eyes"] for lash in eye["lashes"]
                    if lash["layer"] == layer and lash["extension"]]
            counts = [f"{worn.count(place)} {place}" for place in PLACEMENT.values() if place in worn]
            claims.true(len(counts) > 1, "all lie alike, which cannot tell")
            claims.true(f"{layer}: {', '.join(counts)}" in text, f"not there: {layer}: {', '.join(counts)}")


def zones_claims(folder):
    """The sheet of zones: one page with all that zones get, and nothing lash by lash."""
    sheet = f"{folder}/zones-alone.pdf"
    _, plan = planned(folder, "zones-too", CLIENT, "--sheet-zones", sheet)
    page_claims("zones alone", sheet)
    spread_out_claims("zones alone", sheet)
    overdrawn_claims("zones alone", sheet)
    bar_claims("zones alone", sheet)
    text, lines = words(sheet), lines_of(sheet)
    with claims.claim("zones alone: one page"):
        claims.equal(len(pages_of(sheet)), 1, "pages")
    with claims.claim("zones alone: each zone and layer has what it gets, with how many lashes, and on the map"):
        for eye in plan["eyes"]:
            for zone in sorted({cell["zone"] for cell in eye["cells"]}):
                of = {cell["layer"]: cell for cell in eye["cells"] if cell["zone"] == zone}
                row = " ".join(said(of[layer]["extension"]) for layer in sets.LAYERS)
                many = " ".join(f"{of[layer]['lashes']} lash" + ("es" if of[layer]["lashes"] != 1 else "")
                                for layer in sets.LAYERS)
                named = "/".join(f"{of[layer]['extension']['length_mm']:g}" for layer in sets.LAYERS)
                claims.true(any(re.search(rf"(^| ){zone} [\d.]+ % {re.escape(row)}( |$)", line) for line in lines), row)
                claims.true(any(many in line for line in lines), many)
                claims.true(named in text.split(), f"not on the map: {named}")
        claims.true("All curl C." in text, "the curl that all have")
    with claims.claim("zones alone: no lash by lash, but who it is for and the cautions"):
        for never in ("Working order", "Corrections:", "Kept bare", "Load:", "minutes"):
            claims.true(never not in text, f"found: {never}")
        for caution in (*CAUTIONS, "NO CLIENT\u2019S SHEET", "Client", "Notes"):
            claims.true(caution in text, f"not found: {caution}")


def recognised(want, size, lash_mm):
    """The sentence: the two traits that tell most of those that tell half a standard deviation."""
    traits = sorted((key for key in ("height", "pitch", "length", "turn") if abs(want[f"{key}_in_sd"] or 0) >= 0.5),
                    key=lambda key: -abs(want[f"{key}_in_sd"]))[:2]
    said_of = []
    for key in traits:
        apart = want[f"{key}_deg" if key in ("pitch", "turn") else f"{key}_mm"]
        rise = lash_mm * math.sin(math.radians(abs(apart)))
        said_of.append({"height": f"root {abs(apart):.2f} mm {'higher' if apart > 0 else 'lower'}",
                        "pitch": f"natural tip {rise:.1f} mm ({abs(apart):.1f}\u00b0) {'higher' if apart > 0 else 'lower'}",
                        "length": f"lash {abs(apart):.2f} mm {'longer' if apart > 0 else 'shorter'}",
                        "turn": f"curl {abs(apart):.1f}\u00b0 {'more' if apart > 0 else 'less'}"}[key])
    return f"{100 * want['share']:.0f} % want a {size} size than their zone: {', '.join(said_of)}."


def shapes_of(folder, count):
    """The number of shapes, texts aside, on the sheet of a client with this number of lashes."""
    begun, sheet = f"{folder}/begun-{count}.yaml", f"{folder}/begun-{count}.pdf"
    subprocess.run([os.environ["TIPCREST"], "begin", "-o", begun, "--count", str(count)], check=True,
                   stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    subprocess.run([os.environ["TIPCREST"], "plan", begun, "--samples", "20", "--sheet", sheet], check=True,
                   stdout=subprocess.DEVNULL)
    drawn = subprocess.run(["pdftocairo", "-svg", sheet, "-"], check=True, capture_output=True, text=True).stdout
    return len(re.findall("<path", re.sub(r"<defs>.*?</defs>", "", drawn, flags=re.S)))


def unmeasured_claims(folder):
    """A client whom nobody measured gets the sheet of zones, and it says why."""
    sheet, report = f"{folder}/unmeasured.pdf", f"{folder}/unmeasured.json"
    subprocess.run([os.environ["TIPCREST"], "plan", CLIENT, "--sheet", sheet, "--json", report], check=True,
                   stdout=subprocess.DEVNULL)
    with open(report, encoding="utf-8") as file:
        plan = json.load(file)
    page_claims("nobody measured", sheet)
    spread_out_claims("nobody measured", sheet)
    overdrawn_claims("nobody measured", sheet)
    bar_claims("nobody measured", sheet)
    text = words(sheet)
    with claims.claim("nobody measured: the sheet says so, and names no lash"):
        claims.equal(len(pages_of(sheet)), 1, "pages")
        claims.true("Nobody measured the lashes: what zones get is best on average over "
                    f"{plan['plan']['samples']} samples like them; the maps show average lashes. 11 mm is not reached in "
                    "zone 4 of the right eye, whose longest is 10 mm: " in text and "NO CLIENT" not in text, text[:900])
        claims.equal(text.count("Lashes that want another size"), len(plan["eyes"]), "headings")
        for never in ("Working order", "Corrections:", "Kept bare", "Load:"):
            claims.true(never not in text, f"found: {never}")
    with claims.claim("nobody measured: how to recognise the lashes that want another size than their zone"):
        with open(CLIENT, encoding="utf-8") as file:
            described = {eye["side"]: eye["lashes"]["describe"] for eye in yaml.safe_load(file)["eyes"]}
        for eye in plan["eyes"]:
            for key, size in (("wants_longer", "longer"), ("wants_shorter", "shorter")):
                told = recognised(eye["over_samples"][key], size, described[eye["side"]]["length_mm"])
                claims.true(told in text, f"not there: {told}")
    with claims.claim("nobody measured: each of five zones that are equally wide has its name on the map"):
        begun, named = f"{folder}/begun.yaml", f"{folder}/named.pdf"
        subprocess.run([os.environ["TIPCREST"], "begin", "-o", begun, "--lengths", "8,10,12,13,12", "--layers",
                        "13/12/11", "--curl", "D"], check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        subprocess.run([os.environ["TIPCREST"], "plan", begun, "--sheet", named], check=True, stdout=subprocess.DEVNULL)
        found = re.sub(r"is not reached in zones? [\d, and]+", "", words(named))
        claims.true("no room here" not in found, found)
        for zone in range(1, 6):
            claims.equal(len(re.findall(rf"\bzone {zone}\b", found)), 2, f"names of zone {zone}, of two eyes")
    with claims.claim("nobody measured: the maps show zones and layers, however many lashes the drawn client has"):
        claims.equal(shapes_of(folder, 60), shapes_of(folder, 240), "shapes on the sheet")
    with claims.claim("nobody measured: numbers of lashes are means"):
        claims.true("Both eyes \u00b7 about " in text, text[:200])
        for eye in plan["eyes"]:
            for cell in eye["cells"]:
                claims.true(f"about {cell['lashes']} lash" in text, f"not there: {cell['lashes']}")
    with claims.claim("nobody measured: what to lay out and how long it takes, as in the report"):
        work = plan["work"]
        rows = ", ".join(f"{row['with_loss']} of {row['length_mm']:g} {row['curl']} {row['diameter_mm']:g}"
                         for row in work["rows"])
        for told in ("To lay out", f"{rows}; {work['with_loss']} in all, with 10 % for loss (assumed).", f"About {work['minutes']:.0f} minutes"):
            claims.true(told in text, f"not there: {told}")


def main():
    """All claims."""
    with tempfile.TemporaryDirectory() as folder:
        long_rtl = "\u05d0\u05d9\u05de\u05d5\u05df \u05e8\u05d9\u05e1\u05d9\u05dd " * 20
        arabic = "\u062e\u0637\u0629 \u0627\u0644\u0631\u0645\u0648\u0634 " * 3
        cases = (("client", CLIENT, ()), ("every correction", CLIENT, ("--corrections", "all")),
                 ("one correction", CLIENT, ("--corrections", "1")), ("none", CLIENT, ("--corrections", "0")),
                 ("a free line, fans to choose", CLIENT,
                  ("--free", "--fans", "1,3", "--diameters", "0.05,0.07", "--overlength", "4")),
                 ("fans of three", sets.fans(folder), ()),
                 ("one eye of 5", sets.few(folder, "five", lambda i: True, 5), ("--share", "1")),
                 ("one eye of 20", sets.few(folder, "few", lambda i: True, 20), ()),
                 ("two eyes of 300", sets.two_eyes(folder, 300), ()), ("64 zones", many_zones(folder), ()),
                 ("long ids", long_ids(folder), ()), ("bare in many ways", bare_in_many_ways(folder), ()),
                 ("paces of its own", own_paces(folder), ()),
                 ("a title in Arabic", sets.titled(folder, "arabic", arabic), ()),
                 ("long title from right to left", sets.titled(folder, "title", long_rtl), ()))
        for name, path, more in cases:
            sheet, plan = planned(folder, re.sub("[ ,]+", "-", name), path, *more)
            page_claims(name, sheet)
            spread_out_claims(name, sheet)
            overdrawn_claims(name, sheet)
            last_page_claims(name, sheet)
            content_claims(name, sheet, plan)
            first_page_claims(name, sheet, plan)
            drawn_claims(name, sheet, plan)
            order_claims(name, sheet, plan)
            bare_claims(name, sheet, plan)
            if name in ("client", "every correction"):
                seat_claims(name, folder, sheet, plan)
            if name == "paces of its own":
                with claims.claim(f"{name}: only what is not given is called assumed or common practice"):
                    for told in (" 60 s a lash, 5 s a change of row (assumed), 20 s a change of eye (assumed).",
                                 " within 1.5 mm of one placed in the 120 s (assumed) before."):
                        claims.true(told in words(sheet), f"not there: {told}")
            if name == "one eye of 5":
                with claims.claim(f"{name}: all is on one page, since a second would have a few lines"):
                    claims.equal(len(pages_of(sheet)), 1, "pages")
            if name.startswith(("client", "every")):
                with claims.claim(f"{name}: 138 lashes take two pages more than the lists of old, at most"):
                    claims.within(len(pages_of(sheet)), 2, 4, "it was 2, measured before")
            if len(plan["plan"]["curve"]) > 2:
                curve_claims(name, folder, sheet, plan)
            bar_claims(name, sheet)
        zones_claims(folder)
        unmeasured_claims(folder)
        with claims.claim("the same plan gives the same bytes"):
            first, second = planned(folder, "first", CLIENT)[0], planned(folder, "second", CLIENT)[0]
            with open(first, "rb") as one, open(second, "rb") as other:
                claims.true(one.read() == other.read(), "they differ")
    claims.finish()


main()
