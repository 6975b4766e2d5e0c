# SPDX-License-Identifier: GPL-3.0-or-later
"""Known points of the model lie where they belong in the picture. Where they belong comes from the
reference (tests/reference, written from the model's text), the picture's own scale, its bar of
millimetres, and the middle of its iris; where they are is read from SVG, PDF and PNG.
"""

import itertools
import math
import os
import random
import tempfile

import claims
import numpy as np
import picture
import sets

import check as reference  # of tests/reference
import lesson
import line as topline
import model
from setfile import SetFile

# Cairo writes points of an SVG to 1/256 of its unit, 0.1 mm, and shapes of a PDF to 0.001 pt and
# better after rounding to 1/256 pt; the middle of an end is the mean of two such points.
ROUNDING_MM = {"svg": 0.1 / 256, "pdf": (1 / 256 + 0.001) / picture.POINTS_PER_MM}
IRIS_MM = 11.71  # across; Ruefer 2005, 10.1097/01.ico.0000148312.01805.53
SHEET_MM = 254.0  # wide; draw.h
READ = {"svg": picture.read_svg, "pdf": picture.read_pdf}


# ---- The model


class Hair:
    """A natural lash or a fibre: layer, is it a fibre, and points along it in the eye's frame."""

    def __init__(self, layer, fibre, points):
        self.layer, self.fibre, self.points = layer, fibre, points


def along_fibre(one, pose, j, share):
    """A point of fibre j at a share of its length; model.md, section 4."""
    attached, (root, d, v, w) = one.attachment, pose
    s = share * attached.extension.length_mm

    def straight(point):
        return root + point.real * d + point.imag * v + attached.sideways * w

    if s <= attached.c:
        return straight(attached.plane_point(s)[0])
    knee, angle = attached.plane_point(attached.c)
    rest = (attached.plane_point(s)[0] - knee) * np.exp(-1j * angle)
    tau = math.cos(angle) * d + math.sin(angle) * v
    normal = -math.sin(angle) * d + math.cos(angle) * v
    n, spread = attached.extension.fan, math.radians(attached.extension.spread_deg)
    psi = spread * (j / (n - 1) - 0.5) if n > 1 else 0.0
    return straight(knee) + rest.real * (math.cos(psi) * tau + math.sin(psi) * w) + rest.imag * normal


def hairs_of(settings, eye, opening):
    """All hairs of an eye."""
    hairs = []
    for surveyed in eye.lashes:
        one = reference.Carried(settings, eye, surveyed)
        pose = surveyed.lash.pose(eye.lid, opening)
        root, d, v, _ = pose
        spline, length = surveyed.lash.spline(), surveyed.lash.length_mm
        own = [spline.at(length * k / 8)[0] for k in range(9)]
        hairs.append(Hair(surveyed.layer, False, [root + q.real * d + q.imag * v for q in own]))
        for j in range(one.attachment.extension.fan if one.attachment else 0):
            points = [along_fibre(one, pose, j, k / 8) for k in range(9)]
            hairs.append(Hair(surveyed.layer, True, points))
    return hairs


# ---- The picture


def bar_of(drawing):
    """Sheet mm per mm of the eye, by the bar: every other millimetre of it is dark."""
    for shape in drawing.shapes:
        if len(shape.runs) not in (3, 5) or shape.fill is None:
            continue
        boxes = np.array([(*run.min(axis=0), *run.max(axis=0)) for run in shape.runs])
        wide, steps = boxes[:, 2] - boxes[:, 0], np.diff(boxes[:, 0])
        if np.ptp(boxes[:, 1]) < 0.01 and np.ptp(wide) < 0.02 and np.allclose(steps, 2 * wide[0], atol=0.02):
            return (boxes[-1, 0] - boxes[0, 0]) / (2 * (len(shape.runs) - 1))
    raise claims.Broken("found no bar of millimetres")


def iris_of(drawing, scale, viewer_deg=0.0):
    """Boxes of the discs as large as an iris, flattened by a raised viewer, in the order of x."""
    flat = math.cos(math.radians(viewer_deg))
    found = []
    for shape in drawing.shapes:
        low_x, low_y, high_x, high_y = shape.box()
        wide = (high_x - low_x) / scale
        if isinstance(shape.fill, str) and abs(wide - IRIS_MM) < 0.5 and abs(high_y - low_y - flat * (high_x - low_x)) < 0.01:
            found.append((low_x, low_y, high_x, high_y))
    return sorted(found)


def is_mark(run):
    """A triangle or an upright square at a tip; in a PDF its rim is a shape of its own."""
    edges = np.diff(np.vstack([run, run[:1]]), axis=0)
    edges = edges[np.abs(edges).max(axis=1) > 1e-6]
    return len(edges) < 4 or (len(edges) == 4 and (np.abs(edges) < 1e-6).any(axis=1).all())


def strokes_of(drawing):
    """Shapes that can be a hair's outline, there along one side and back along the other: index,
    colour, start, and the middles of all further edges. One of these is the blunt end; the others
    lie half a hair's width off its middle, so that none of them can be taken for it."""
    found = []
    for i, shape in enumerate(drawing.shapes):
        if len(shape.runs) != 1 or not isinstance(shape.fill, tuple) or shape.stroke is not None:
            continue
        run = shape.runs[0]
        if len(run) > 4 and np.array_equal(run[0], run[-1]):
            run = run[:-1]
        if len(run) >= 4 and shape.alpha == 1 and not is_mark(run):
            found.append((i, shape.fill, (run[0] + run[-1]) / 2, (run[1:] + run[:-1]) / 2))
    return found


class Seen:
    """Where the eye's points are on the sheet: scale, mirror, origin, view."""

    def __init__(self, scale, mirror, origin, viewer_deg, profile=False):
        self.scale, self.mirror, self.origin = scale, mirror, np.array(origin)
        self.viewer_deg, self.profile = viewer_deg, profile

    def on(self, x, y):
        """A point as seen, on the sheet."""
        return self.origin + self.scale * np.array([self.mirror * x, -y])

    def at(self, point):
        """A point of the eye's frame on the sheet."""
        if self.profile:
            return self.on(point[2], point[1])
        return self.on(*model.seen(point, self.viewer_deg))


def matched(hairs, strokes, seen, tolerance):
    """For each hair the stroke that begins and ends where it does; a claim is broken without. Two
    hairs may lie on each other, but never share a stroke."""
    starts = np.array([start for _, _, start, _ in strokes])
    left, pairs = np.ones(len(strokes), bool), []
    for hair in hairs:
        wanted = np.concatenate([seen.at(hair.points[0]), seen.at(hair.points[-1])])
        off = np.abs(starts - wanted[:2]).max(axis=1)
        for i in np.flatnonzero(off <= tolerance):
            off[i] = max(off[i], np.abs(strokes[i][3] - wanted[2:]).max(axis=1).min())
        off[~left] = np.inf
        best = int(off.argmin())
        if not off[best] <= tolerance:
            raise claims.Broken(
                f"found:    no hair from {wanted[:2]} to {wanted[2:]} mm; the nearest, from "
                f"{starts[best]}, is {off[best]} mm off\n"
                f"expected: one within {tolerance} mm ({hair.layer}, fibre {hair.fibre})")
        left[best] = False
        pairs.append((hair, strokes[best]))
    return pairs


def colours_of(pairs):
    """The colours of hairs by layer, those of natural lashes under None."""
    colours = {}
    for hair, stroke in pairs:
        colours.setdefault(hair.layer if hair.fibre else None, set()).add(stroke[1])
    return colours


def wrong_order(pairs, viewer_deg):
    """How many pairs of hairs there are of which one is wholly nearer to the viewer and yet was
    drawn first, and how many are wholly nearer."""
    e = math.radians(viewer_deg)
    depth = [[p[1] * math.sin(e) + p[2] * math.cos(e) for p in hair.points] for hair, _ in pairs]
    low, high = np.array([min(d) for d in depth]), np.array([max(d) for d in depth])
    order = np.array([stroke[0] for _, stroke in pairs])
    nearer = low[:, None] > high[None, :]
    return int((nearer & (order[:, None] < order[None, :])).sum()), int(nearer.sum())


def near_eye(strokes, seen):
    """Strokes that begin where lashes of this eye can root."""
    return [s for s in strokes
            if abs(s[2][0] - seen.origin[0]) < 16 * seen.scale and abs(s[2][1] - seen.origin[1]) < 9.5 * seen.scale]


def distance_to(run, point):
    """From a point to a polyline."""
    a, b = run[:-1], run[1:]
    d = b - a
    length = (d**2).sum(axis=1)
    share = np.clip(((point - a) * d).sum(axis=1) / np.where(length > 0, length, 1), 0, 1)
    return np.hypot(*(a + share[:, None] * d - point).T).min()


# ---- The open eye


def margin_claim(drawing, eye, opening, seen, words, rounding):
    """Corners and margin of the upper lid."""
    with claims.claim(f"{words}: the upper lid's margin and its corners lie on the model's"):
        corners = []
        for u in (1e-9, 1 - 1e-9):  # the derivative, which is not needed, has no value at 0 and 1
            corners.append(seen.at(eye.lid.point_and_tangent(u, opening)[0]))
        best = None
        for run in itertools.chain.from_iterable(s.runs for s in drawing.shapes):
            if len(run) < 40:
                continue
            off = max(np.hypot(*(run - corner).T).min() for corner in corners)
            if off > 2 * rounding + 1e-3:
                continue
            # The lash line swells away from the margin, so one of the shapes has to follow it.
            worst = max(distance_to(run, seen.at(eye.lid.point_and_tangent(u, opening)[0]))
                        for u in np.linspace(0.03, 0.97, 21))
            best = worst if best is None else min(best, worst)
        claims.true(best is not None, "found no outline with both corners of the lid")
        # 73 points along the margin, closer at its ends: chords of an arc of at most 0.6 mm and of
        # 6 mm radius stand off it by 0.6^2 / 8 / 6 = 0.0075 mm of the eye.
        claims.near(best, 0, 0.0075 * seen.scale + 2 * rounding, "chords of the outline, rounding")


def line_claims(drawing, settings, eye, opening, seen, words, rounding):
    """The fitted and the intended line, as the model has them."""
    carried = [reference.Carried(settings, eye, s) for s in eye.lashes]
    x, y = reference.tips_seen(eye.lid, carried, opening, seen.viewer_deg)
    lines = {"fitted": topline.fitted_line(x, y)[0],
             "intended": reference.intended_lines(settings, opening, seen.viewer_deg)[eye.side][0]}
    for name, line in lines.items():
        with claims.claim(f"{words}: the {name} line runs where the model has it"):
            claims.true(line is not None, "the reference has no such line")
            best = math.inf
            for shape in drawing.shapes:
                if shape.stroke is None or len(shape.runs) != 1 or len(shape.runs[0]) < 40:
                    continue
                run = (shape.runs[0] - seen.origin) / seen.scale * [seen.mirror, -1]
                inside = (run[:, 0] >= min(x)) & (run[:, 0] <= max(x))
                if inside.sum() < 40:
                    continue
                off = np.abs(run[inside, 1] - line.value(run[inside, 0])).max()
                best = min(best, off)
            # Both coordinates are rounded; lines rise by less than 3 mm in one.
            claims.near(best, 0, 4 * rounding / seen.scale + 1e-9, "rounding, mm of the eye")


HAIR_COLOURS = set()  # as the open eye shows them, for pictures that have no iris to measure from


def eye_claims(drawing, settings, eye, view, seen, kind, words):
    """Hairs of one eye: where, how many, in which colours and order."""
    opening, viewer_deg = view
    rounding = ROUNDING_MM[kind]
    hairs = hairs_of(settings, eye, opening)
    strokes = near_eye(strokes_of(drawing), seen)
    pairs = []
    with claims.claim(f"{words}: each of {len(hairs)} hairs has its root and its tip where the model has them"):
        # Two rounded points; the origin and the scale are read from rounded points too.
        pairs = matched(hairs, strokes, seen, 4 * rounding)
    with claims.claim(f"{words}: no hair is drawn that is not there"):
        colours = set().union(*colours_of(pairs).values())
        HAIR_COLOURS.update(colours)
        claims.equal(sum(s[1] in colours for s in strokes), len(hairs))
    with claims.claim(f"{words}: natural lashes and each layer have a colour of their own"):
        found = colours_of(pairs)
        claims.equal({len(c) for c in found.values()}, {1})
        claims.equal(len(set().union(*found.values())), len(found))
        claims.equal(len(found), 1 + len({h.layer for h in hairs if h.fibre}))
    with claims.claim(f"{words}: a hair that is wholly nearer is drawn later"):
        wrong, nearer = wrong_order(pairs, viewer_deg)
        claims.true(nearer > 20, f"only {nearer} pairs of hairs can tell")
        claims.equal(wrong, 0)


def middle_of(shape):
    """A mark's corners, 0 for a disc's, and its middle: the box's, a triangle's two thirds down."""
    low_x, low_y, high_x, high_y = shape.box()
    corners = len({tuple(np.round(p, 4)) for p in np.concatenate(shape.runs)})
    share = 2 / 3 if corners == 3 else 1 / 2
    return corners if corners in (3, 4) else 0, np.array([(low_x + high_x) / 2, low_y + share * (high_y - low_y)])


def tip_claims(drawing, hairs, seen, words):
    """A mark at the tip of each extension, of a fan's first fibre, by which a grey print tells its layer."""
    tips = [hair for before, hair in itertools.pairwise(hairs) if hair.fibre and not before.fibre]
    marks = []
    for shape in drawing.shapes:
        low_x, low_y, high_x, high_y = shape.box()
        if isinstance(shape.fill, tuple) and shape.stroke and high_x - low_x < 1.5 and high_y - low_y < 1.5:
            corners, at = middle_of(shape)
            if abs(at[0] - seen.origin[0]) < 20 * seen.scale and at[1] < seen.origin[1] + 8 * seen.scale:
                marks.append((corners, at))
    with claims.claim(f"{words}: a mark at each tip has the shape of its layer"):
        claims.equal(len(marks), len(tips))
        shapes = {layer: set() for layer in sets.LAYERS}
        left = list(range(len(marks)))
        for hair in tips:
            off, best = min((np.abs(marks[i][1] - seen.at(hair.points[-1])).max(), i) for i in left)
            claims.near(off, 0, 4 * ROUNDING_MM["svg"], "two rounded points; the origin and the scale are too")
            shapes[hair.layer].add(marks[best][0])
            left.remove(best)
        claims.equal(shapes, {layer: {corners} for layer, corners in zip(sets.LAYERS, (0, 4, 3))
                              if any(hair.layer == layer for hair in tips)})


def front_claims(folder, path, kind, opening=None, viewer_deg=None):
    """A front view: the iris, both lids, all hairs, both lines."""
    settings = SetFile(path)
    words = f"front of {os.path.basename(path)}, {kind}"
    extra = []
    if opening is not None:
        extra += ["--opening", opening]
        words += f", opening {opening}"
    if viewer_deg is not None:
        extra += ["--viewer", viewer_deg]
        words += f", viewer {viewer_deg}"
    view = (settings.opening if opening is None else opening,
            settings.viewer_deg if viewer_deg is None else viewer_deg)
    drawing, middle, scale = None, [], 0
    with claims.claim(f"{words}: the iris is 11.71 mm wide by the bar of millimetres"):
        svg = picture.read_svg(claims.draw(path, "front", f"{folder}/front.svg", *extra))
        drawing = svg
        if kind == "pdf":
            drawing = picture.read_pdf(claims.draw(path, "front", f"{folder}/front.pdf", *extra))
        scale = bar_of(svg)
        discs = iris_of(svg, scale, view[1])
        claims.equal(len(discs), len(settings.eyes), "irises")
        for low_x, low_y, high_x, high_y in discs:
            # The bar's ends are rounded and 8 mm of the eye apart, which the iris is 1.5 times.
            claims.near((high_x - low_x) / scale, IRIS_MM, 4 * ROUNDING_MM["svg"] / scale, "rounding")
            middle.append(((low_x + high_x) / 2, (low_y + high_y) / 2))
    # From the viewer's left: the client's right eye, then the left.
    eyes = sorted(settings.eyes, key=lambda eye: eye.side != "right")
    scale = (discs[0][2] - discs[0][0]) / IRIS_MM
    if len(eyes) == 2:
        with claims.claim(f"{words}: the pupils lie level, each as far from the sheet's middle"):
            claims.near(middle[0][0] + middle[1][0], SHEET_MM, 4 * ROUNDING_MM["svg"], "rounding")
            claims.near(middle[1][1], middle[0][1], 2 * ROUNDING_MM["svg"], "rounding")
    for eye, where in zip(eyes, middle):
        # The iris lies in the plane where the globe is as wide as it; raised, it is seen lower.
        deep = math.sqrt(eye.lid.globe_radius_mm**2 - (IRIS_MM / 2) ** 2)
        where = np.array(where) + [0, scale * model.seen((0, 0, deep), view[1])[1]]
        seen = Seen(scale, 1 if eye.side == "left" else -1, where, view[1])
        name = f"{words}, {eye.side} eye"
        eye_claims(drawing, settings, eye, view, seen, kind, name)
        if kind == "svg":
            margin_claim(drawing, eye, view[0], seen, name, ROUNDING_MM[kind])
            line_claims(drawing, settings, eye, view[0], seen, name, ROUNDING_MM[kind])
            tip_claims(drawing, hairs_of(settings, eye, view[0]), seen, name)
    return drawing


# ---- The closed eye, the profile, the deviations


def centred(hairs, strokes, seen):
    """Moves the origin so that the middle of the roots is right, where a picture has no iris: then
    their distances are what is tested. The strokes must be those of the hairs alone."""
    expected = np.mean([seen.at(hair.points[0]) for hair in hairs], axis=0)
    seen.origin = seen.origin + np.mean([s[2] for s in strokes], axis=0) - expected
    return seen


def artist_claims(folder, path):
    """The closed eye from the artist's seat, 60 degrees above; model.md, section 5."""
    settings = SetFile(path)
    (eye,) = settings.eyes
    drawing = picture.read_svg(claims.draw(path, "artist", f"{folder}/artist.svg"))
    hairs = hairs_of(settings, eye, 0.0)
    scale = bar_of(drawing)
    words = f"artist of {os.path.basename(path)}"
    pairs = []
    with claims.claim(f"{words}: each of {len(hairs)} hairs lies as seen from 60 degrees above, eye closed"):
        seen = Seen(scale, 1 if eye.side == "left" else -1, (0, 0), 60.0)
        # The eye large comes first, the small one beside it after; legends last.
        strokes = [s for s in strokes_of(drawing) if s[1] in HAIR_COLOURS][:len(hairs)]
        seen = centred(hairs, strokes, seen)
        # The bar's rounded ends lie 8 mm apart, and hairs up to 15 mm from the middle.
        pairs = matched(hairs, strokes, seen, 10 * ROUNDING_MM["svg"])
    with claims.claim(f"{words}: a hair that is wholly nearer is drawn later"):
        wrong, nearer = wrong_order(pairs, 60.0)
        claims.true(nearer > 20, f"only {nearer} pairs of hairs can tell")
        claims.equal(wrong, 0)


def head_claims(folder, path):
    """From the head of the couch: the same eye turned by half a turn, its words upright."""
    settings = SetFile(path)
    hairs = sum(len(hairs_of(settings, eye, 0.0)) for eye in settings.eyes)
    up, turned = (picture.read_svg(claims.draw(path, "artist", f"{folder}/{name}.svg", *more))
                  for name, more in (("up", ()), ("turned", ("--from-head",))))
    words = f"artist of {os.path.basename(path)}, from the head"
    with claims.claim(f"{words}: each of {hairs} hairs is turned about one middle"):
        starts, others = (np.array([s[2] for s in strokes_of(drawing) if s[1] in HAIR_COLOURS][:hairs])
                          for drawing in (up, turned))
        claims.equal(len(others), hairs)
        claims.near(np.ptp(starts + others, axis=0).max(), 0, 4 * ROUNDING_MM["svg"], "rounding of two points each")
    with claims.claim(f"{words}: the words run from left to right"):
        _, found = picture.pdf_words(claims.draw(path, "artist", f"{folder}/turned.pdf", "--from-head"))
        corners = [(a, b) for a, b in itertools.pairwise(found) if a.text in ("inner", "outer") and b.text == "corner"]
        claims.equal(len(corners), 2 * len(settings.eyes), "named corners")
        claims.true(all(a.high_x < b.low_x for a, b in corners), "they run from right to left")


def side_claims(folder, path, u):
    """The profile: the mean lash at each layer's mean height, with what the rule gives it at u."""
    settings = SetFile(path)
    (eye,) = settings.eyes
    drawing = picture.read_svg(claims.draw(path, "side", f"{folder}/side.svg", "--at", u))
    scale = bar_of(drawing)
    hairs = []
    for index, layer in enumerate(sets.LAYERS):
        lash = eye.mean_lash.at(u)
        heights = lesson.layer_heights(eye)
        lash.height_mm += heights[index] - heights[0]
        surveyed = type("Surveyed", (), {"lash": lash, "layer": layer, "asked": {},
                                         "condition": "suitable", "id": layer})
        one = reference.Carried(settings, eye, surveyed)
        pose = lash.pose(eye.lid, 1.0)
        root, d, v, _ = pose
        own = [lash.spline().at(lash.length_mm * k / 8)[0] for k in range(9)]
        hairs.append(Hair(layer, False, [root + q.real * d + q.imag * v for q in own]))
        hairs.append(Hair(layer, True, [along_fibre(one, pose, 0, k / 8) for k in range(9)]))
    with claims.claim(f"side of {os.path.basename(path)} at {u}: three lashes and their extensions "
                      "root and end where the model has them"):
        strokes = [s for s in strokes_of(drawing) if s[1] in HAIR_COLOURS][:6]
        claims.equal(len(strokes), 6)
        seen = centred(hairs, strokes, Seen(scale, 1, (0, 0), 0.0, profile=True))
        matched(hairs, strokes, seen, 10 * ROUNDING_MM["svg"])


def deviation_claims(folder, path):
    """The plot of deviations: by the band of the tolerance as its scale, every tip by its layer."""
    settings = SetFile(path)
    report = reference.check(path)["eyes"][0]
    layer_of = {s.id: s.layer for s in settings.eyes[0].lashes}
    drawing = picture.read_svg(claims.draw(path, "deviations", f"{folder}/deviations.svg"))
    wanted = {layer: sorted(lash["deviation_mm"] for lash in report["lashes"]
                            if lash["extension"] and layer_of[lash["id"]] == layer)
              for layer in sets.LAYERS}
    with claims.claim(f"deviations of {os.path.basename(path)}: a mark for each tip, as high as its deviation"):
        (band,) = [s for s in drawing.shapes if len(s.runs) == 2 and s.alpha < 0.2]
        box = band.box()
        zero, per_mm = (box[1] + box[3]) / 2, (box[3] - box[1]) / 2 / settings.tolerance_mm
        marks = {}
        for shape in drawing.shapes:
            low_x, _, high_x, _ = shape.box()
            if isinstance(shape.fill, tuple) and shape.stroke and 1.55 < high_x - low_x < 3 and high_x < box[2]:
                marks.setdefault(shape.fill, []).append((zero - middle_of(shape)[1][1]) / per_mm)
        found = sorted((sorted(m) for m in marks.values()), key=len)
        expected = sorted((d for d in wanted.values() if d), key=len)
        claims.equal([len(m) for m in found], [len(d) for d in expected])
        off = max(np.abs(np.array(m) - d).max() for m, d in zip(found, expected))
        claims.near(off, 0, 4 * ROUNDING_MM["svg"] / per_mm, "rounding of marks and of the band")
    with claims.claim(f"deviations of {os.path.basename(path)}: a small mark beside the mean of each layer"):
        ends = band.runs[0][:, 0].max(), band.runs[1][:, 0].min()  # of the points, of the bars
        small = sorted((zero - middle_of(shape)[1][1]) / per_mm for shape in drawing.shapes
                       if isinstance(shape.fill, tuple) and shape.stroke and ends[0] < shape.box()[0]
                       and shape.box()[2] < ends[1])
        means = sorted(float(np.mean(d)) for d in expected)
        claims.equal(len(small), len(means))
        claims.near(np.abs(np.array(small) - means).max(), 0, 4 * ROUNDING_MM["svg"] / per_mm, "rounding")


def common_scale_claims(folder):
    """Two eyes that differ in width and in how even they are: their plots can be laid on each other."""
    eyes = {side: (sets.rows_of(random.Random(8), 40, spread=spread), sets.MAP, {"fissure_width_mm": width})
            for side, spread, width in (("left", 0.2, 24), ("right", 2.5, 30))}
    path = sets.write(folder, "unlike", eyes)
    report = {eye["side"]: eye for eye in reference.check(path)["eyes"]}
    drawing = picture.read_svg(claims.draw(path, "deviations", f"{folder}/unlike.svg"))
    bands = sorted((s.box() for s in drawing.shapes if len(s.runs) == 2 and s.alpha < 0.2), key=lambda b: b[0])
    with claims.claim("deviations of two eyes: one scale of deviations, one of X"):
        claims.equal(len(bands), 2)
        heights = [b[3] - b[1] for b in bands]
        claims.near(heights[0], heights[1], 4 * ROUNDING_MM["svg"], "four rounded points")
        per_mm = []
        for side, band in zip(("right", "left"), bands):  # as the viewer sees them
            marks = []
            for shape in drawing.shapes:
                low_x, low_y, high_x, high_y = shape.box()
                if (isinstance(shape.fill, tuple) and shape.stroke and 1.55 < high_x - low_x < 3
                        and band[0] < low_x and high_x < band[2] and high_y < 85):
                    marks.append((low_x + high_x) / 2)
            tips = [lash["tip_mm"][0] for lash in report[side]["lashes"] if lash["extension"]]
            claims.equal(len(marks), len(tips), side)
            per_mm.append((max(marks) - min(marks)) / (max(tips) - min(tips)))
        # A range of 20 mm and more, whose two ends are rounded.
        claims.near(per_mm[0], per_mm[1], 4 * ROUNDING_MM["svg"] / 20, "rounding")


# ---- Pixels


def rises_at(row, x, step, level):
    """Where the lightness along a row, from x by step, first rises through level."""
    i = int(math.floor(x))
    while row[i + step] < level:
        i += step
    return i + 0.5 + step * (level - row[i]) / (row[i + step] - row[i])


def pixel_claims(folder, path, dpi):
    """The same picture as PNG: the iris to half a pixel, tips in the colours of their layers."""
    settings = SetFile(path)
    (eye,) = settings.eyes
    drawing = picture.read_svg(claims.draw(path, "front", f"{folder}/pixels.svg", "--plain"))
    scale = bar_of(drawing)
    low_x, low_y, high_x, high_y = iris_of(drawing, scale)[0]
    png = picture.read_png(claims.draw(path, "front", f"{folder}/pixels.png", "--plain", "--dpi", dpi))
    per_mm = dpi / 25.4
    grey = png.pixels @ np.array([0.2126, 0.7152, 0.0722])  # weights of Rec. 709
    with claims.claim(f"PNG at {dpi} dpi: the iris is 11.71 mm wide to half a pixel"):
        middle = (low_x + high_x) / 2 * per_mm
        radius = IRIS_MM / 2 * scale * per_mm
        row = grey[int((low_y + high_y) / 2 * per_mm)]
        for step in (-1, 1):
            edge = middle + step * radius
            reach = 5 * dpi / 300  # beyond the blur, within the dark rim and the white
            level = (row[int(edge - step * reach)] + row[int(edge + step * reach)]) / 2
            found = rises_at(row, edge - step * reach, step, level)
            claims.near(step * (found - middle), radius, 0.5, "half a pixel")
    colours = {}
    for shape in strokes_of(drawing):
        colours.setdefault(shape[1], shape)
    hairs = hairs_of(settings, eye, settings.opening)
    seen = Seen((high_x - low_x) / IRIS_MM, 1 if eye.side == "left" else -1,
                ((low_x + high_x) / 2, (low_y + high_y) / 2), settings.viewer_deg)
    with claims.claim(f"PNG at {dpi} dpi: fibres have the colour of their layer where the model has them"):
        pairs = matched(hairs, near_eye(strokes_of(drawing), seen), seen, 4 * ROUNDING_MM["svg"])
        last = {i: None for i in range(len(pairs))}
        shown = 0
        for hair, stroke in pairs:
            if not hair.fibre:
                continue
            # 6/8 out along it: beyond the natural lash and the shine, and still wide. Hairs that
            # cross may cover it, so one pixel around it of that colour is enough.
            x, y = seen.at(hair.points[6]) * per_mm
            around = png.pixels[int(y) - 1:int(y) + 2, int(x) - 1:int(x) + 2].reshape(-1, 3)
            shown += np.abs(around - np.array(stroke[1])).max(axis=1).min() <= 12
        fibres = sum(hair.fibre for hair, _ in pairs)
        claims.true(len(last) == len(hairs), "hairs lost")
        # Ours: crossing neighbours cover less than one in ten here.
        claims.within(shown, 0.9 * fibres, fibres, f"of {fibres} fibres")


def main():
    """All claims."""
    with tempfile.TemporaryDirectory() as folder:
        layered = os.path.join(claims.EXAMPLES, "practice-head", "layered.yaml")
        two, fans = sets.two_eyes(folder), sets.fans(folder)
        front_claims(folder, layered, "svg")
        front_claims(folder, layered, "pdf")
        front_claims(folder, two, "svg")
        front_claims(folder, two, "pdf", 0.7, -20)
        front_claims(folder, fans, "svg", 0.6, 30)
        artist_claims(folder, layered)
        head_claims(folder, layered)
        artist_claims(folder, fans)
        side_claims(folder, layered, 0.5)
        side_claims(folder, layered, 0.2)
        deviation_claims(folder, layered)
        deviation_claims(folder, fans)
        common_scale_claims(folder)
        pixel_claims(folder, layered, 160)
        pixel_claims(folder, layered, 300)
    claims.finish()


main()
