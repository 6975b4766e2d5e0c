# SPDX-License-Identifier: GPL-3.0-or-later
"""What is in a picture, read from its file: the shapes of an SVG or a PDF in millimetres of the
sheet, y downwards, in the order in which they were drawn; the pixels and chunks of a PNG. Knows the
formats and nothing of what draws them.

SVG 1.1 as cairo writes it (expat reads it), PDF 1.x (ISO 32000-1, 8.5: path operators), PNG 1.2.
"""

import re
import struct
import subprocess
import xml.etree.ElementTree as ElementTree
import zlib
from dataclasses import dataclass, field

import numpy as np

POINTS_PER_MM = 72 / 25.4
IDENTITY = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


@dataclass
class Shape:
    """One painted path: closed or open runs of points, of curves the ends only."""

    runs: list
    fill: tuple = None  # red, green, blue, 0 to 255 each, or a string for what is no colour
    stroke: tuple = None
    alpha: float = 1.0
    width: float = 0.0

    def box(self):
        """x, y of the low and of the high corner."""
        points = np.concatenate(self.runs)
        return (*points.min(axis=0), *points.max(axis=0))


@dataclass
class Drawing:
    """The shapes of a page."""

    width_mm: float
    height_mm: float
    shapes: list = field(default_factory=list)


def times(m, n):
    """The matrix that does m first and then n, in the order of PDF and SVG: a b c d e f."""
    a, b, c, d, e, f = m
    p, q, r, s, t, u = n
    return (
        a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s,
        e * p + f * r + t, e * q + f * s + u,
    )


def moved(matrix, x, y):
    """A point through a matrix."""
    a, b, c, d, e, f = matrix
    return a * x + c * y + e, b * x + d * y + f


class Path:
    """Runs of points as they are being built."""

    def __init__(self):
        self.runs = []

    def move(self, point):
        """Begins a run."""
        self.runs.append([point])

    def line(self, point):
        """Goes on with it."""
        self.runs[-1].append(point)

    def take(self):
        """All runs of more than a point; begins anew."""
        runs = [np.array(run) for run in self.runs if len(run) > 1]
        self.runs = []
        return runs


# ---------------------------------------------------------------------------------------------
# SVG

SVG = "{http://www.w3.org/2000/svg}"
UNPAINTED = {SVG + name for name in ("defs", "symbol", "clipPath", "mask", "pattern", "linearGradient",
                                     "radialGradient", "filter", "title", "desc")}


def svg_style(element):
    """A style attribute as a dictionary."""
    pairs = [one.split(":", 1) for one in element.get("style", "").split(";") if ":" in one]
    return {key.strip(): value.strip() for key, value in pairs}


def svg_colour(text):
    """rgb(a%,b%,c%) as numbers from 0 to 255; another paint as it is, none as None."""
    if text is None or text == "none":
        return None
    parts = re.match(r"rgb\(([\d.]+)%,([\d.]+)%,([\d.]+)%\)$", text)
    return tuple(round(float(p) * 2.55) for p in parts.groups()) if parts else text


def svg_matrix(element):
    """The transform attribute; cairo writes matrix() alone."""
    text = element.get("transform")
    if text is None:
        return IDENTITY
    numbers = re.match(r"matrix\(([^)]*)\)$", text.strip()).group(1)
    return tuple(float(n) for n in numbers.replace(",", " ").split())


def svg_runs(text, matrix):
    """The runs of a path's d attribute."""
    path = Path()
    for letter, rest in re.findall(r"([MLCZHV])([^MLCZHV]*)", text):
        numbers = [float(n) for n in rest.split()]
        if letter == "M":
            path.move(moved(matrix, *numbers))
        elif letter == "L":
            path.line(moved(matrix, *numbers))
        elif letter == "C":
            path.line(moved(matrix, *numbers[4:]))
        elif letter != "Z":
            raise ValueError(f"path command {letter}")
    return path.take()


def read_svg(name):
    """The drawing in an SVG; raises where it is not well formed or not sized in millimetres."""
    root = ElementTree.parse(name).getroot()
    if root.tag != SVG + "svg":
        raise ValueError(f"root element {root.tag}")
    sizes = [re.match(r"([\d.]+)mm$", root.get(key)).group(1) for key in ("width", "height")]
    left, top, wide, high = (float(n) for n in root.get("viewBox").split())
    drawing = Drawing(float(sizes[0]), float(sizes[1]))
    across, down = drawing.width_mm / wide, drawing.height_mm / high

    def walk(element, matrix):
        if element.tag in UNPAINTED:
            return
        matrix = times(svg_matrix(element), matrix)
        if element.tag == SVG + "path":
            style = svg_style(element)
            drawing.shapes.append(Shape(
                svg_runs(element.get("d"), matrix),
                svg_colour(style.get("fill", "black")), svg_colour(style.get("stroke")),
                float(style.get("fill-opacity", 1)), float(style.get("stroke-width", 0)),
            ))
        elif element.tag == SVG + "rect" and element.get("fill", "") != "none":
            style = svg_style(element)
            x, y, w, h = (float(element.get(k, 0)) for k in ("x", "y", "width", "height"))
            corners = [(x, y), (x + w, y), (x + w, y + h), (x, y + h)]
            drawing.shapes.append(Shape([np.array([moved(matrix, *c) for c in corners])],
                                        svg_colour(style.get("fill", "black")), None,
                                        float(style.get("fill-opacity", 1))))
        for child in element:
            walk(child, matrix)

    walk(root, (across, 0.0, 0.0, down, -left * across, -top * down))
    drawing.shapes = [shape for shape in drawing.shapes if shape.runs]
    return drawing


def svg_ids(name):
    """Ids that are given, and ids that are referred to."""
    given, used = [], set()
    for element in ElementTree.parse(name).iter():
        for key, value in element.attrib.items():
            if key == "id":
                given.append(value)
            used |= set(re.findall(r"url\(#([^)]*)\)", value))
            if key.endswith("href") and value.startswith("#"):
                used.add(value[1:])
    return given, used


# ---------------------------------------------------------------------------------------------
# PDF

TOKEN = re.compile(rb"\((?:\\.|[^\\()])*\)|<[0-9A-Fa-f\s]*>|<<|>>|[\[\]]|/[^\s/\[\]<>()]+|[^\s/\[\]<>()]+",
                   re.S)


def pdf_objects(data):
    """Pairs of an object's dictionary and its unpacked stream, which may be None."""
    for match in re.finditer(rb"\d+ 0 obj\b(.*?)(?:stream\r?\n|endobj)", data, re.S):
        stream = None
        if match.group(0).rstrip().endswith(b"stream"):
            stream = data[match.end():data.index(b"endstream", match.end())]
            if b"/FlateDecode" in match.group(1):
                stream = zlib.decompressobj().decompress(stream)
        yield match.group(1), stream


class Interpreter:
    """Runs the operators of a content stream that paint paths."""

    def __init__(self, drawing, matrix):
        self.drawing, self.path = drawing, Path()
        self.now = {"matrix": matrix, "fill": (0, 0, 0), "stroke": (0, 0, 0), "width": 1.0}
        self.kept = []

    def run(self, stream):
        """All of a stream."""
        operands = []
        for token in TOKEN.findall(stream):
            try:
                operands.append(float(token))
                continue
            except ValueError:
                pass
            if token[:1] in b"/([<":
                operands.append(token)
                continue
            self.operate(token.decode("latin-1"), operands)
            operands = []

    def point(self, x, y):
        """A point on the sheet."""
        return moved(self.now["matrix"], x, y)

    def operate(self, name, numbers):
        """One operator; those of text, clips and states of no interest do nothing."""
        now, path = self.now, self.path
        if name == "q":
            self.kept.append(dict(now))
        elif name == "Q":
            self.now = self.kept.pop()
        elif name == "cm":
            now["matrix"] = times(tuple(numbers), now["matrix"])
        elif name in ("rg", "RG"):
            now["fill" if name == "rg" else "stroke"] = tuple(round(255 * n) for n in numbers)
        elif name == "w":
            now["width"] = numbers[0]
        elif name == "m":
            path.move(self.point(*numbers))
        elif name == "l":
            path.line(self.point(*numbers))
        elif name == "c":
            path.line(self.point(*numbers[4:]))
        elif name in ("v", "y"):
            path.line(self.point(*numbers[2:]))
        elif name == "re":
            x, y, w, h = numbers
            path.move(self.point(x, y))
            for corner in ((x + w, y), (x + w, y + h), (x, y + h)):
                path.line(self.point(*corner))
        elif name in ("f", "f*", "F", "S", "s", "B", "B*", "b", "b*"):
            runs = path.take()
            fill = now["fill"] if name[0] in "fFBb" else None
            stroke = now["stroke"] if name[0] in "SsBb" else None
            if runs:
                self.drawing.shapes.append(Shape(runs, fill, stroke, 1.0, now["width"]))
        elif name == "n":
            path.take()


def read_pdf(name, of=1):
    """The drawing on the first page of a PDF that has so many."""
    with open(name, "rb") as file:
        data = file.read()
    objects = list(pdf_objects(data))
    pages = [words for words, _ in objects if re.search(rb"/Type\s*/Page\b", words)]
    if len(pages) != of:
        raise ValueError(f"{len(pages)} pages")
    box = re.search(rb"/MediaBox\s*\[\s*([^\]]*)\]", pages[0]).group(1)
    left, low, right, high = (float(n) for n in box.split())
    number = re.search(rb"/Contents\s+(\d+) 0 R", pages[0]).group(1)
    content = re.search(rb"\b" + number + rb" 0 obj\b(.*?)stream\r?\n", data, re.S)
    end = data.index(b"endstream", content.end())
    stream = zlib.decompressobj().decompress(data[content.end():end])
    mm = 1 / POINTS_PER_MM
    drawing = Drawing((right - left) * mm, (high - low) * mm)
    Interpreter(drawing, (mm, 0, 0, -mm, -left * mm, high * mm)).run(stream)
    return drawing


def read_gif(name):
    """The frames of a GIF89a as they are shown, each with its delay in hundredths of a second, and how
    often it is repeated (0: without end). Written from the format's specification; one palette, no
    interlacing, frames that stay."""
    with open(name, "rb") as file:
        data = file.read()
    if data[:6] != b"GIF89a" or data[-1:] != b";":
        raise ValueError("no GIF89a")
    width, height, flags = struct.unpack_from("<HHB", data, 6)
    colours = np.frombuffer(data, np.uint8, 3 * 2 ** ((flags & 7) + 1), 13).reshape(-1, 3)
    at, canvas = 13 + colours.size, np.zeros((height, width, 3), np.uint8)
    frames, delay, clear, repeats = [], 0, None, None

    def blocks(at):
        content = b""
        while data[at]:
            content += data[at + 1:at + 1 + data[at]]
            at += 1 + data[at]
        return content, at + 1

    while data[at] != 0x3B:
        if data[at] == 0x21:
            content, end = blocks(at + 2)
            if data[at + 1] == 0xF9:
                flags, delay, transparent = struct.unpack("<BHB", content)
                clear = transparent if flags & 1 else None
            elif content.startswith(b"NETSCAPE2.0"):
                repeats = struct.unpack("<H", content[12:14])[0]
            at = end
        else:
            left, top, wide, high, flags = struct.unpack_from("<HHHHB", data, at + 1)
            if flags:
                raise ValueError("own palette or interlaced")
            content, at_end = blocks(at + 11)
            index = np.array(unpack_gif(content, data[at + 10], wide * high)).reshape(high, wide)
            drawn = np.ones(index.shape, bool) if clear is None else index != clear
            canvas[top:top + high, left:left + wide][drawn] = colours[index[drawn]]
            frames.append((canvas.copy(), delay))
            at = at_end
    return frames, repeats


def unpack_gif(content, bits, count):
    """GIF's variant of LZW: codes grow to 12 bits, the lowest bit first."""
    clear = 1 << bits
    table, size, found, before, buffer, held = None, bits + 1, bytearray(), None, 0, 0
    for byte in content:
        buffer |= byte << held
        held += 8
        while held >= size:
            code, buffer, held = buffer & ((1 << size) - 1), buffer >> size, held - size
            if code == clear:
                table, size, before = [bytes([i]) for i in range(clear)] + [b"", b""], bits + 1, None
                continue
            if code == clear + 1 or len(found) >= count:
                return found[:count]
            if before is None:
                entry = table[code]
            else:
                entry = table[code] if code < len(table) else before + before[:1]
                if len(table) < 4096:
                    table.append(before + entry[:1])
                if len(table) == 1 << size and size < 12:
                    size += 1
            found += entry
            before = entry
    return found[:count]


def pdf_text(name, *options):
    """What pdftotext reads in a PDF."""
    return subprocess.run(["pdftotext", *options, name, "-"], check=True, capture_output=True,
                          encoding="utf-8").stdout


@dataclass
class Word:
    """A word with its box, mm."""

    text: str
    low_x: float
    low_y: float
    high_x: float
    high_y: float


def pdf_words(name):
    """Width and height of the page and its words."""
    page = ElementTree.fromstring(pdf_text(name, "-bbox"))
    xhtml = "{http://www.w3.org/1999/xhtml}"
    sheet = page.find(f".//{xhtml}page")
    words = []
    for element in sheet.iter(xhtml + "word"):
        numbers = [float(element.get(k)) / POINTS_PER_MM for k in ("xMin", "yMin", "xMax", "yMax")]
        words.append(Word(element.text or "", *numbers))
    return [float(sheet.get(key)) / POINTS_PER_MM for key in ("width", "height")], words


# ---------------------------------------------------------------------------------------------
# PNG


@dataclass
class Png:
    """Pixels as rows of red, green, blue, 0 to 255, and chunks by their type."""

    pixels: np.ndarray
    chunks: dict


def png_chunks(data):
    """The chunks of a PNG by type; raises where a check sum is wrong."""
    if data[:8] != b"\x89PNG\r\n\x1a\n":
        raise ValueError("no PNG")
    chunks, at = {}, 8
    while at < len(data):
        (count,) = struct.unpack(">I", data[at:at + 4])
        kind, content = data[at + 4:at + 8], data[at + 8:at + 8 + count]
        (check,) = struct.unpack(">I", data[at + 8 + count:at + 12 + count])
        if check != zlib.crc32(kind + content):
            raise ValueError(f"check sum of {kind!r}")
        chunks.setdefault(kind.decode("ascii"), []).append(content)
        at += 12 + count
    if "IEND" not in chunks:
        raise ValueError("no IEND")
    return chunks


def paeth(left, above, corner):
    """The predictor of filter type 4 (PNG, 9.4)."""
    guess = left + above - corner
    pick = np.array([abs(guess - left), abs(guess - above), abs(guess - corner)])
    return np.choose(pick.argmin(axis=0), [left, above, corner])


def unfiltered(kind, line, above):
    """A row without its filter; both rows are pixels by channels."""
    if kind == 0:
        return line
    if kind == 2:
        return (line + above) & 255
    if kind == 1:
        return np.cumsum(line, axis=0) & 255
    left, corner = np.zeros_like(line[0]), np.zeros_like(line[0])
    for i, up in enumerate(above):
        guess = (left + up) // 2 if kind == 3 else paeth(left, up, corner)
        left = line[i] = (line[i] + guess) & 255
        corner = up
    return line


def png_size(data):
    """Width, height, pixels a metre across and down, and their unit."""
    chunks = png_chunks(data)
    return (*struct.unpack(">II", chunks["IHDR"][0][:8]), *struct.unpack(">IIB", chunks["pHYs"][0]))


def read_png(name):
    """A PNG of 8 bits a channel, not interlaced."""
    with open(name, "rb") as file:
        chunks = png_chunks(file.read())
    width, height, depth, colour, _, _, interlaced = struct.unpack(">IIBBBBB", chunks["IHDR"][0])
    channels = {2: 3, 6: 4}[colour]
    if depth != 8 or interlaced:
        raise ValueError("another kind of PNG")
    raw = np.frombuffer(zlib.decompress(b"".join(chunks["IDAT"])), np.uint8)
    raw = raw.reshape(height, 1 + width * channels)
    rows = np.zeros((height, width, channels), np.int32)
    above = np.zeros((width, channels), np.int32)
    for y in range(height):
        line = raw[y, 1:].reshape(width, channels).astype(np.int32)
        above = rows[y] = unfiltered(raw[y, 0], line, above)
    return Png(rows[:, :, :3], chunks)
