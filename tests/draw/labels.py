# SPDX-License-Identifier: GPL-3.0-or-later
"""No two words overlap and none leaves the page: every view, several sets and sizes. Where the words
are is what pdftotext of poppler reads in the PDF.
"""

import os
import random
import tempfile

import claims
import numpy as np
import picture
import sets

# Of a word's box, which runs from the font's ascender to its descender, what a capital fills. Noto
# Sans rises 1.069 em and falls 0.293 em, and its capitals are 0.714 em high (its own tables), so
# that they begin at 0.26 of the box and end 0.215 above its foot; DejaVu's figures are like these.
ABOVE, BELOW = 0.26, 0.215
# Words may touch: boxes are as wide as the advance, of which a side bearing of some 0.05 em is free;
# 0.1 mm is less than that in the smallest type of a sheet 254 mm wide.
TOUCH_MM = 0.1


def inked(word):
    """Top and foot of a word's capitals."""
    high = word.high_y - word.low_y
    return word.low_y + ABOVE * high, word.high_y - BELOW * high


def faults(name, unit):
    """Words that overlap or leave the page; unit is the sheet's scale."""
    (width, height), words = picture.pdf_words(name)
    found = []
    for i, a in enumerate(words):
        top, foot = inked(a)
        if a.low_x < 0 or a.high_x > width or top < 0 or foot > height:
            found.append(f"{a.text!r} leaves the page at {a.low_x:.2f} {a.low_y:.2f} mm")
        for b in words[:i]:
            other_top, other_foot = inked(b)
            over = min(a.high_x, b.high_x) - max(a.low_x, b.low_x)
            if over > TOUCH_MM * unit and min(foot, other_foot) > max(top, other_top):
                found.append(f"{a.text!r} lies on {b.text!r} at {a.low_x:.2f} {a.low_y:.2f} mm")
    return found, words


def keep_apart(folder, path, view, width, *more):
    """The claim for one picture."""
    words = " ".join(str(w) if not str(w).startswith(folder) else os.path.basename(w) for w in more)
    with claims.claim(f"{view} of {os.path.basename(path)}, {width} mm{', ' if words else ''}{words}: "
                      "words keep apart and stay on the page"):
        output = claims.draw(path, view, f"{folder}/labels.pdf", "--width", width, *more)
        found, read = faults(output, width / 254)
        # Ours: title, figures and footer alone are more words than that.
        claims.true(len(read) > 60, f"only {len(read)} words were read")
        claims.equal(found, [])


HAIRS = {(20, 22, 31), (18, 85, 156), (208, 102, 26), (67, 41, 28)}  # layers and natural lash, style.c


def keep_off_lashes(folder, path, view, *more):
    """No label of a zone or a tip stands on a lash. Labels are white, and let 0.12 of the ground through."""
    with claims.claim(f"{view} of {os.path.basename(path)}{' '.join(('', *more))}: labels stand beside the lashes"):
        shapes = picture.read_svg(claims.draw(path, view, f"{folder}/pads.svg", *more)).shapes
        pads = [s.box() for s in shapes if s.fill == (255, 255, 255) and abs(s.alpha - 0.88) < 0.01]
        hairs = [np.concatenate(s.runs) for s in shapes if s.fill in HAIRS and s.alpha == 1 and len(s.runs[0]) >= 20]
        claims.true(len(pads) > 3 and len(hairs) > 60, f"{len(pads)} labels and {len(hairs)} hairs")
        points = np.concatenate(hairs)
        for low_x, low_y, high_x, high_y in pads:
            inside = (points > (low_x, low_y)).all(axis=1) & (points < (high_x, high_y)).all(axis=1)
            claims.true(not inside.any(), f"a lash is under the label at {low_x:.1f} {low_y:.1f} mm")


def long_names(folder):
    """Every tip off the line, with long ids, so that as many labels as can be ask for room."""
    rng = random.Random(8)
    rows = ["id,u,layer,length_mm,turn_deg,note"]
    for i in range(80):
        rows.append(f"{'long name of a lash '[:rng.randint(1, 19)].strip()} {i},{0.04 + 0.92 * i / 79:.4f},"
                    f"{sets.LAYERS[i % 3]},{rng.uniform(5.5, 10):.2f},{rng.uniform(30, 90):.1f},x")
    many = "[" + ", ".join(f"{{to: {i / 40:g}, length_mm: {8 + i % 7}, curl: DD}}" for i in range(1, 41)) + "]"
    return sets.write(folder, "long-names", {"left": (rows, many, None)},
                      "A title that goes on and on, (invented), so long that no sheet has room for it, "
                      "neither beside the figures nor above two eyes at once", ["line: {tolerance_mm: 0.1}"])


def main():
    """All claims."""
    head = os.path.join(claims.EXAMPLES, "practice-head")
    client = os.path.join(claims.EXAMPLES, "client", "client.yaml")
    layered, equal = os.path.join(head, "layered.yaml"), os.path.join(head, "equal.yaml")
    views = ("front", "artist", "side", "deviations", "layers")
    with tempfile.TemporaryDirectory() as folder:
        crowded = long_names(folder)
        for path in (layered, equal, client, crowded, sets.two_eyes(folder)):
            for view in views:
                keep_apart(folder, path, view, 254)
        for seed in range(12):
            path = sets.wild(folder, seed)
            for view in (views[seed % 5], views[(seed + 2) % 5], views[(seed + 3) % 5]):
                keep_apart(folder, path, view, (254, 60, 900)[seed % 3])
        for width in (20, 120, 2000):
            keep_apart(folder, crowded, "front", width)
            keep_apart(folder, client, "deviations", width)
        keep_apart(folder, layered, "compare", 254, "--with", equal)
        keep_apart(folder, sets.wild(folder, 2), "compare", 254, "--with", sets.wild(folder, 3))
        keep_apart(folder, crowded, "compare", 254, "--with", layered)
        for view in views:
            keep_apart(folder, client, view, 254, "--eye", "right", "--dark")
        for viewer in (-80, -40, 40, 80):
            keep_apart(folder, layered, "side", 254, "--viewer", viewer)
            keep_apart(folder, crowded, "front", 254, "--viewer", viewer, "--opening", 0.4)
            keep_apart(folder, crowded, "artist", 254, "--viewer", viewer)
        for path in (layered, client, sets.two_eyes(folder)):
            keep_off_lashes(folder, path, "artist")
            keep_off_lashes(folder, path, "artist", "--from-head")
        for path in (layered, client):  # a tip far above its line may still lie under the name of another
            keep_off_lashes(folder, path, "front")
        for place in (0.02, 0.25, 0.98):
            keep_apart(folder, client, "side", 254, "--at", place, "--opening", 0)
    claims.finish()


main()
