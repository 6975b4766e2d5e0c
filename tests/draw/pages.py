# SPDX-License-Identifier: GPL-3.0-or-later
"""The files as such: sizes that agree with what was asked, a bar that is 50 mm long in the PDF's own
content, SVG that is well formed, titles of any script that come out as text, the same bytes at any
time, colours that stay apart for colour-blind eyes and in grey.
"""

import hashlib
import html
import os
import re
import subprocess
import tempfile
import time
import unicodedata
import xml.etree.ElementTree as ElementTree

import claims
import numpy as np
import picture
import sets

VIEWS = ("front", "artist", "side", "deviations", "layers")
HEAD = os.path.join(claims.EXAMPLES, "practice-head")
LAYERED, EQUAL = os.path.join(HEAD, "layered.yaml"), os.path.join(HEAD, "equal.yaml")


def contents(name):
    """The bytes of a file."""
    with open(name, "rb") as file:
        return file.read()


# ---- Sizes


def png_claim(folder, view, width_mm, dpi):
    """PNG 1.2, 11.3.5.3: pHYs has whole pixels a metre, so the density is off by half of one."""
    with claims.claim(f"PNG of {view}, {width_mm} mm at {dpi} dpi: pixels and pHYs say that width"):
        more = ["--with", EQUAL] if view == "compare" else []
        name = claims.draw(LAYERED, view, f"{folder}/size.png", "--width", width_mm, "--dpi", dpi, *more)
        width, height, across, down, unit = picture.png_size(contents(name))
        claims.equal((down, unit), (across, 1), "pixels a metre down, unit of the metre")
        claims.near(across, dpi / 0.0254, 0.5, "whole pixels a metre")
        claims.near(1000 * width / across, width_mm, (0.5 + 0.5 * width_mm / 1000) * 25.4 / dpi,
                    "half a pixel of the width, half a pixel a metre of the density")
        claims.near(height, width * 9 / 16, 1, "a sheet of 16 : 9, both in whole pixels")


def svg_claims(folder, view, width_mm, *more):
    """SVG 1.1, sections 7.2 and 7.8: width and height carry the unit, viewBox the coordinates."""
    with claims.claim(f"SVG of {view}, {width_mm} mm: well formed, and that wide in millimetres"):
        name = claims.draw(LAYERED, view, f"{folder}/size.svg", "--width", width_mm, *more)
        root = ElementTree.parse(name).getroot()
        claims.equal(root.tag, picture.SVG + "svg")
        drawing = picture.read_svg(name)
        claims.near(drawing.width_mm, width_mm, 1e-9, "its own digits")
        claims.near(drawing.height_mm, width_mm * 9 / 16, 1e-9 * width_mm, "a sheet of 16 : 9")
        _, _, wide, high = (float(n) for n in root.get("viewBox").split())
        claims.near(wide / high, 16 / 9, 1e-9, "units as long across as down")
    with claims.claim(f"SVG of {view}, {width_mm} mm: the ground is as large as the sheet"):
        low_x, low_y, high_x, high_y = drawing.shapes[0].box()
        claims.near(low_x + low_y, 0, 1e-9, "the corner")
        claims.near(high_x, width_mm, 0.1 / 256, "cairo's rounding")
        claims.near(high_y, width_mm * 9 / 16, 0.1 / 256, "cairo's rounding")
    with claims.claim(f"SVG of {view}, {width_mm} mm: each id is given once, and none is missing"):
        given, used = picture.svg_ids(name)
        claims.true(len(given) > 20, f"only {len(given)} ids")
        claims.equal(len(set(given)), len(given))
        claims.equal(sorted(used - set(given)), [])


def dark_bar(drawing, picture_mm):
    """Of the filled boxes below the picture the longest that is not as wide as the page: top, left
    and right end. Its light stretches are one shape of several boxes."""
    bars = []
    for shape in drawing.shapes:
        low_x, low_y, high_x, _ = shape.box()
        if len(shape.runs) == 1 and shape.fill and low_y > picture_mm and high_x - low_x < 0.99 * drawing.width_mm:
            bars.append((high_x - low_x, low_y, low_x, high_x))
    return max(bars)[1:]


def pdf_claims(folder, view, width_mm, length_mm, *more):
    """Page and check bar; a point is 25.4/72 mm (ISO 32000-1, 8.3.2.3)."""
    with claims.claim(f"PDF of {view}, {width_mm} mm: the page is that wide and has room below the picture"):
        name = claims.draw(LAYERED, view, f"{folder}/size.pdf", "--width", width_mm, *more)
        drawing = picture.read_pdf(name)
        # MediaBox has six digits after the point.
        claims.near(drawing.width_mm, width_mm, 1e-6, "digits of the page box")
        claims.within(drawing.height_mm, width_mm * 9 / 16, width_mm * 9 / 16 * 1.1, "the strip of the bar")
    with claims.claim(f"PDF of {view}, {width_mm} mm: the check bar is {length_mm} mm long in the content"):
        low_y, low_x, high_x = dark_bar(drawing, width_mm * 9 / 16)
        # Cairo rounds to 1/256 pt and writes 0.001 pt; two ends.
        claims.near(high_x - low_x, length_mm, 2 * (1 / 256 + 0.001) / picture.POINTS_PER_MM, "rounding")
        claims.within(low_x, 0, drawing.width_mm - length_mm, "on the page")
    with claims.claim(f"PDF of {view}, {width_mm} mm: it says that the bar is {length_mm} mm long"):
        text = " ".join(picture.pdf_text(name).split())
        claims.true(f"This bar is {length_mm} mm long" in text, "found:    " + text[-200:])


# ---- Text

# Script: the language of fontconfig that has it, and a title.
TITLES = {
    "markup": ("en", "<b>&</b> \"x\" & <span size='9'> &amp;"),
    "Arabic": ("ar", "تدريب الرموش"),
    "Hebrew": ("he", "אימון ריסים"),
    "Chinese": ("zh", "睫毛练习"),
    "Japanese": ("ja", "まつげの練習"),
    "Korean": ("ko", "속눈썹 연습"),
    "mixed": ("he", "Set אימון 12/11/10"),
    "accents": ("pl", "Übung für Łukasz, n° 3"),
    "Greek and Cyrillic": ("ru", "Άσκηση Ресницы"),
}


def letters(text):
    """The letters of a text in their plain form, in no order: what is drawn from right to left may
    be read back in either."""
    plain = unicodedata.normalize("NFKC", text)
    return sorted(c for c in plain if not c.isspace() and unicodedata.category(c) != "Cf")


def has_font(language):
    """Whether a font of this system covers a language; titles are no better than the fonts."""
    try:
        return subprocess.run(["fc-list", f":lang={language}"], check=True, capture_output=True).stdout != b""
    except OSError:
        return False


def title_line(name):
    """The words of the page's title: above the subtitle, beside the column of figures."""
    (width, _), words = picture.pdf_words(name)
    return "".join(w.text for w in words if w.low_y < 8 and w.low_x < 0.7 * width)


def title_claims(folder):
    """Titles come out as text."""
    for number, (script, (language, title)) in enumerate(TITLES.items()):
        path = sets.titled(folder, f"title-{number}", title)
        pdf = svg = None
        with claims.claim(f"title with {script}: is drawn without complaint"):
            pdf = claims.draw(path, "front", f"{folder}/title.pdf")
            svg = ElementTree.parse(claims.draw(path, "front", f"{folder}/title.svg")).getroot()
        if svg is None:
            continue
        on_page = f"PDF, title with {script}: comes out as text on the page"
        if has_font(language):
            with claims.claim(on_page):
                claims.equal("".join(letters(title_line(pdf))), "".join(letters(title)))
            glyph_claim(svg, script, title)
        else:
            claims.skip(on_page, f"no font for {language} here")
        with claims.claim(f"PDF, title with {script}: is the document's title"):
            told = re.search(r"<title>(.*?)</title>", picture.pdf_text(pdf, "-bbox"), re.S).group(1)
            claims.equal(html.unescape(told), title)
        with claims.claim(f"SVG, title with {script}: is the title element"):
            claims.equal(svg.find(picture.SVG + "title").text, title)
        with claims.claim(f"PNG, title with {script}: is the text chunk of the title"):
            name = claims.draw(path, "front", f"{folder}/title.png", "--width", 60)
            chunks = picture.png_chunks(contents(name))
            texts = [c.split(b"\0", 1)[1] for c in chunks.get("tEXt", []) if c.startswith(b"Title\0")]
            # PNG 1.2, iTXt: keyword, two bytes, language, translated keyword, text in UTF-8.
            texts += [c.split(b"\0", 5)[5] for c in chunks.get("iTXt", []) if c.startswith(b"Title\0\0\0")]
            claims.equal([t.decode("utf-8") for t in texts], [title])


def glyph_claim(svg, script, title):
    """A font that lacks a script draws the same box for all of it, so letters must differ."""
    with claims.claim(f"SVG, title with {script}: its letters have shapes of their own"):
        outlines = {s.get("id"): s.find(picture.SVG + "path").get("d") for s in svg.iter(picture.SVG + "symbol")}
        # The title's baseline lies 12 to 14 mm below the top; the figures beside it begin at 180 mm.
        used = {use.get("{http://www.w3.org/1999/xlink}href")[1:] for use in svg.iter(picture.SVG + "use")
                if 120 < float(use.get("y", 0)) < 140 and float(use.get("x", 0)) < 1800}
        shapes = {outlines[i] for i in used if outlines[i]}
        # A letter of Arabic has up to four shapes, and ligatures take two letters.
        count = len(set(letters(title)))
        claims.within(len(shapes), 0.7 * count, 4 * count, f"shapes for {count} letters")


# ---- The same bytes


def digest(name):
    """Of a file's bytes."""
    return hashlib.sha256(contents(name)).hexdigest()


def repeat_claims(folder):
    """The same set gives the same bytes: second by second, by any clock and in any time zone."""
    begun, first = time.time(), {}
    kinds = [(view, ending, []) for view in VIEWS for ending in ("png", "svg", "pdf")]
    kinds += [("compare", ending, ["--with", EQUAL]) for ending in ("png", "svg", "pdf")]
    for view, ending, more in kinds:
        name = claims.draw(LAYERED, view, f"{folder}/repeat.{ending}", *more, *(["--dpi", 60] if ending == "png" else []))
        first[view, ending] = digest(name)
    time.sleep(max(0, 1.1 - (time.time() - begun)))
    surroundings = [{}, {"SOURCE_DATE_EPOCH": "86400", "TZ": "Asia/Kolkata"}]
    for number, (view, ending, more) in enumerate(kinds):
        with claims.claim(f"{ending.upper()} of {view}: the same bytes a second later"):
            given = surroundings[number % 2]
            kept = {key: os.environ.get(key) for key in given}
            os.environ.update(given)
            try:
                name = claims.draw(LAYERED, view, f"{folder}/again.{ending}", *more,
                                   *(["--dpi", 60] if ending == "png" else []))
            finally:
                for key, value in kept.items():
                    os.environ.pop(key) if value is None else os.environ.update({key: value})
            claims.equal(digest(name), first[view, ending])
    with claims.claim("PDF: no date is in it"):
        for view in VIEWS:
            data = contents(claims.draw(LAYERED, view, f"{folder}/date.pdf"))
            claims.true(b"Date" not in data and b"/ID" not in data, "found a date or an id in " + view)


# ---- Colours

# Machado, Oliveira, Fernandes 2009, 10.1109/TVCG.2009.113, severity 1.0, on linear RGB; as printed in
# their supplementary table (from memory; rows sum to 1, which a claim below checks).
BLINDNESS = {
    "protanopia": ((0.152286, 1.052583, -0.204868), (0.114503, 0.786281, 0.099216), (-0.003882, -0.048116, 1.051998)),
    "deuteranopia": ((0.367322, 0.860646, -0.227968), (0.280085, 0.672501, 0.047413), (-0.011820, 0.042940, 0.968881)),
    "tritanopia": ((1.255528, -0.076749, -0.178779), (-0.078411, 0.930809, 0.147602), (0.004733, 0.691367, 0.303900)),
}


def linear(rgb):
    """sRGB to linear light, IEC 61966-2-1."""
    c = np.array(rgb, float) / 255
    return np.where(c <= 0.04045, c / 12.92, ((c + 0.055) / 1.055) ** 2.4)


def lab(light):
    """CIE 1976 L*a*b* of linear sRGB, white D65."""
    matrix = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
    ratio = matrix @ np.clip(light, 0, 1) / (matrix @ np.ones(3))
    f = np.where(ratio > 216 / 24389, np.cbrt(ratio), (24389 / 27 * ratio + 16) / 116)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


def layer_colours(folder, ground):
    """The colours of the three layers, bottom to top, as a set with one layer alone shows each: the
    colour of its marks in the plot of deviations."""
    colours = []
    for index, layer in enumerate(sets.LAYERS):
        rows = ["id,u,layer,length_mm"] + [f"n{i},{0.1 + 0.04 * i:.2f},{layer},8" for i in range(20)]
        path = sets.write(folder, f"one-{layer}", {"left": (rows, sets.MAP, None)})
        drawing = picture.read_svg(claims.draw(path, "deviations", f"{folder}/colour.svg", *ground))
        marks = {}
        for shape in drawing.shapes:
            low_x, _, high_x, _ = shape.box()
            if isinstance(shape.fill, tuple) and shape.stroke and 1 < high_x - low_x < 3:
                marks[shape.fill] = marks.get(shape.fill, 0) + 1
        colour, count = max(marks.items(), key=lambda one: one[1])
        claims.true(count >= 20, f"{count} marks on the {layer} layer ({index})")
        colours.append(colour)
    return colours


def colour_claims(folder):
    """The layers stay apart, and from skin and paper, for everybody."""
    with claims.claim("the matrices of colour-blindness leave white white"):
        for matrix in BLINDNESS.values():
            claims.near(float(np.abs(np.sum(matrix, axis=1) - 1).max()), 0, 2e-6, "six printed digits")
    for ground in ([], ["--dark"]):
        colours = []
        with claims.claim(f"{' '.join(ground) or 'light'}: each layer has one colour, of three"):
            colours = layer_colours(folder, ground)
            claims.equal(len(set(colours)), 3)
        for name, matrix in {"everybody": np.eye(3), **BLINDNESS}.items():
            with claims.claim(f"{' '.join(ground) or 'light'}: layers are told apart, {name}"):
                seen = [lab(np.array(matrix) @ linear(c)) for c in colours]
                apart = min(float(np.linalg.norm(a - b)) for i, a in enumerate(seen) for b in seen[:i])
                # 2.3 is the just noticeable difference (Mahy 1994); ours: ten times it for thin lines.
                claims.within(apart, 23, 200, "CIE 1976 colour difference")
        with claims.claim(f"{' '.join(ground) or 'light'}: layers are told apart in grey print"):
            grey = sorted(float(lab(linear(c))[0]) for c in colours)
            # Ours, no source: 15 steps of L* are told apart at a glance.
            claims.within(min(np.diff(grey)), 15, 100, "steps of L*")


def main():
    """All claims."""
    with tempfile.TemporaryDirectory() as folder:
        for view, width, dpi in (("front", 254, 160), ("front", 20, 10), ("side", 333.3, 72), ("compare", 100, 300),
                                 ("deviations", 61, 1200), ("artist", 2000, 30), ("layers", 254, 96)):
            png_claim(folder, view, width, dpi)
        for view, width in (("front", 254), ("front", 20), ("artist", 333.3), ("deviations", 2000), ("side", 120),
                            ("layers", 60)):
            svg_claims(folder, view, width)
        svg_claims(folder, "compare", 297, "--with", EQUAL)
        for view, width, length in (("front", 254, 50), ("side", 100, 50), ("layers", 420, 50), ("artist", 70, 50),
                                    ("deviations", 69, 10), ("front", 20, 10), ("deviations", 2000, 50)):
            pdf_claims(folder, view, width, length)
        pdf_claims(folder, "compare", 297, 50, "--with", EQUAL, "--dark")
        title_claims(folder)
        repeat_claims(folder)
        colour_claims(folder)
    claims.finish()


main()
