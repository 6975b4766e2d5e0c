# SPDX-License-Identifier: GPL-3.0-or-later
"""The geometry of the model, sections 1 to 5, and the masses of section 9: lid, natural lash, curl,
extension, views. This is a second implementation, written from the text of the model alone and
never from the C code, so that the two can be held against each other. Plain double precision, no
attention to speed. Lengths are millimetres, masses milligrams; fields that hold degrees say so.

A plane curve is held in complex numbers: the real axis along d, the imaginary one along v.
"""
import cmath
import math
from dataclasses import dataclass

import numpy as np

LAYERS = ("bottom", "middle", "top")
PLACEMENTS = ("top", "underside", "inner-side", "outer-side")
LAYER_GAP_MM = 1.0
SHORTEST_BOND_MM = 1.0
ROUNDING_MM = 1e-9  # decimal input such as 1.7 - 0.7 falls this side or that of a limit by rounding

# Section 4: pieces (share of the length, turn in degrees), base first.
CATALOGUE = {
    "J": [(0.50, 0), (0.50, 35)],
    "B": [(0.35, 0), (0.65, 60)],
    "C": [(0.20, 0), (0.80, 90)],
    "CC": [(0.15, 0), (0.85, 110)],
    "D": [(0.10, 0), (0.90, 130)],
    "DD": [(0.05, 0), (0.95, 150)],
    "L": [(0.30, 0), (0.10, 45), (0.60, 15)],
    "M": [(0.35, 0), (0.10, 60), (0.55, 20)],
}


def unit(a):
    """A vector made one long."""
    return a / math.sqrt(a @ a)


def cross(a, b):
    """The cross product of two vectors; NumPy's own is for arrays of them, and slow for one."""
    return np.array([a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]])


# ---------------------------------------------------------------------------------------------
# Section 2: the lid


@dataclass
class Lid:
    """Section 2. The defaults are the model's; names are those of the set file."""

    fissure_width_mm: float = 27.0
    canthal_tilt_deg: float = 5.0
    inner_corner_height_mm: float = -1.5
    mrd1_mm: float = 3.5
    mrd2_mm: float = 5.2
    peak_offset_mm: float = -0.938
    fullness: float = 1.6
    globe_radius_mm: float = 12.0
    lateral_semiaxis_mm: float = 16.0

    def baseline(self, u):
        """b(u), the line of the corners, and its derivative."""
        slope = self.fissure_width_mm * math.tan(math.radians(self.canthal_tilt_deg))
        return self.inner_corner_height_mm + u * slope, slope

    def shape(self, u):
        """s(u) and its derivative: s' = s c (p/u - (1-p)/(1-u))."""
        p = 0.5 + self.peak_offset_mm / self.fissure_width_mm
        c = self.fullness
        s = ((u / p) ** p * ((1 - u) / (1 - p)) ** (1 - p)) ** c
        return s, s * c * (p / u - (1 - p) / (1 - u))

    def contour(self, u, middle_height):
        """A lid contour that passes middle_height above the pupil's centre: y(u), y'(u)."""
        b, db = self.baseline(u)
        b_mid, _ = self.baseline(0.5)
        s, ds = self.shape(u)
        s_mid, _ = self.shape(0.5)
        factor = (middle_height - b_mid) / s_mid
        return b + s * factor, db + ds * factor

    def radius(self, u):
        """rho(u), the radius of the ellipsoid's section at x(u), and its derivative."""
        x = self.fissure_width_mm * (u - 0.5)
        root = (1 - (x / self.lateral_semiaxis_mm) ** 2) ** 0.5
        rho = self.globe_radius_mm * root
        slope = -self.globe_radius_mm * x / self.lateral_semiaxis_mm**2 / root
        return rho, slope * self.fissure_width_mm

    def contour_angle(self, u, middle_height):
        """asin(y/rho) of a contour and its derivative."""
        y, dy = self.contour(u, middle_height)
        rho, drho = self.radius(u)
        return math.asin(y / rho), (dy * rho - y * drho) / (rho * math.sqrt(rho**2 - y**2))

    def point_and_tangent(self, u, opening):
        """P(u, a) and the analytic derivative dP/du."""
        open_angle, d_open = self.contour_angle(u, self.mrd1_mm)
        closed_angle, d_closed = self.contour_angle(u, -self.mrd2_mm)
        phi = closed_angle + opening * (open_angle - closed_angle)
        dphi = d_closed + opening * (d_open - d_closed)
        rho, drho = self.radius(u)
        sin, cos = math.sin(phi), math.cos(phi)
        point = np.array([self.fissure_width_mm * (u - 0.5), rho * sin, rho * cos])
        tangent = np.array(
            [self.fissure_width_mm, drho * sin + rho * cos * dphi, drho * cos - rho * sin * dphi]
        )
        return point, tangent

    def frame(self, u, opening):
        """P and the local frame t (outer corner), n (outward), b (up the lid)."""
        point, tangent = self.point_and_tangent(u, opening)
        a2, r2 = self.lateral_semiaxis_mm**2, self.globe_radius_mm**2
        t = unit(tangent)
        n = unit(point / np.array([a2, r2, r2]))
        return point, t, n, cross(n, t)

    def worst_share(self, middle_height):
        """The largest |y|/rho over 0.02 <= u <= 0.98, on a grid; from 1 on it is off the globe."""
        u = np.linspace(0.02, 0.98, 4801)
        return float(np.max(np.abs(self.contour(u, middle_height)[0]) / self.radius(u)[0]))

    def validate(self):
        """The errors of section 2."""
        if self.lateral_semiaxis_mm <= self.fissure_width_mm / 2:
            raise ValueError("lateral_semiaxis_mm must be above half of fissure_width_mm")
        if self.mrd1_mm <= -self.mrd2_mm:
            raise ValueError("mrd1_mm must be above -mrd2_mm")
        for name, height in (("mrd1_mm", self.mrd1_mm), ("mrd2_mm", -self.mrd2_mm)):
            if self.worst_share(height) >= 1:
                raise ValueError(f"{name}: this contour does not lie on the globe")


# ---------------------------------------------------------------------------------------------
# Section 3: arc splines and the natural lash


class ArcSpline:
    """Section 3: pieces (length, curvature) joined with a common tangent, from 0 at angle 0."""

    def __init__(self, pieces):
        self.pieces = pieces
        self.length = math.fsum(length for length, _ in pieces)

    @classmethod
    def from_profile(cls, profile, length):
        """Pieces (share, turn in degrees) stretched to a length: fL long, curvature a/(fL)."""
        return cls([(f * length, math.radians(a) / (f * length)) for f, a in profile])

    def at(self, s):
        """Point (complex) and tangent angle at arc length s."""
        point, angle = 0j, 0.0
        last = len(self.pieces) - 1
        for index, (length, curvature) in enumerate(self.pieces):
            # The last piece takes what is left, so that rounding never cuts the tip off.
            step = s if index == last else min(s, length)
            half = curvature * step / 2
            sinc = math.sin(half) / half if half else 1.0
            point += step * sinc * cmath.exp(1j * (angle + half))
            angle += 2 * half
            s -= step
            if s <= 0:
                break
        return point, angle

    def curvature(self, s):
        """Curvature of the piece that holds s."""
        for length, curvature in self.pieces[:-1]:
            if s < length:
                return curvature
            s -= length
        return self.pieces[-1][1]

    def joints(self):
        """Arc lengths at which two pieces meet."""
        return list(np.cumsum([length for length, _ in self.pieces[:-1]]))


@dataclass
class Lash:
    """One natural lash; None for yaw means the default -10 + 20u degrees of section 3."""

    u: float
    height_mm: float = 0.0
    pitch_deg: float = -10.0
    yaw_deg: float = None
    roll_deg: float = 0.0
    length_mm: float = 7.5
    turn_deg: float = 60.0
    root_diameter_mm: float = 0.08
    tip_diameter_mm: float = 0.015
    final_length_mm: float = None  # None: not known

    def spline(self):
        """Three thirds that turn by 4/9, 3/9 and 2/9 of the total."""
        third = self.length_mm / 3
        turn = math.radians(self.turn_deg)
        return ArcSpline([(third, turn * part / 9 / third) for part in (4, 3, 2)])

    def diameter(self, s):
        """Linear taper from root to tip."""
        return self.root_diameter_mm + (self.tip_diameter_mm - self.root_diameter_mm) * (
            s / self.length_mm
        )

    def pose(self, lid, opening):
        """Root and the axes d (growth), v (the curl's side), w (outer side), roll included."""
        point, t, n, b = lid.frame(self.u, opening)
        yaw_deg = -10 + 20 * self.u if self.yaw_deg is None else self.yaw_deg
        pitch, yaw, roll = (math.radians(a) for a in (self.pitch_deg, yaw_deg, self.roll_deg))
        d = (
            math.cos(pitch) * math.cos(yaw) * n
            + math.cos(pitch) * math.sin(yaw) * t
            + math.sin(pitch) * b
        )
        v = unit(b - (b @ d) * d)
        w = cross(v, d)
        return (
            point + self.height_mm * b,
            d,
            math.cos(roll) * v + math.sin(roll) * w,
            math.cos(roll) * w - math.sin(roll) * v,
        )

    def tip(self, lid, opening):
        """The tip of the bare lash."""
        root, d, v, _ = self.pose(lid, opening)
        q, _ = self.spline().at(self.length_mm)
        return root, root + q.real * d + q.imag * v


def layer_height(layer):
    """Section 3: the height of a lash given by its layer alone, 0, gap, 2 gap."""
    return LAYERS.index(layer) * LAYER_GAP_MM


# ---------------------------------------------------------------------------------------------
# Section 4: curls and the attachment


def curl_profile(curl, length):
    """Pieces (share, turn) of a curl at a length. A curl measured by length is a dict from length
    to pieces: interpolated piece by piece between lengths, the nearest beyond them."""
    if not isinstance(curl, dict):
        return curl
    known = sorted(curl)
    if length <= known[0]:
        return curl[known[0]]
    for low, high in zip(known, known[1:]):
        if length <= high:
            part = (length - low) / (high - low)
            return [
                (f0 + part * (f1 - f0), a0 + part * (a1 - a0))
                for (f0, a0), (f1, a1) in zip(curl[low], curl[high])
            ]
    return curl[known[-1]]


@dataclass
class Bond:
    """Section 4: where the bond starts, how long it is, the glue between the surfaces."""

    offset_mm: float = 0.7
    length_mm: float = 3.0
    glue_mm: float = 0.03


@dataclass
class Extension:
    """What is laid on a lash; curl holds the profile or profiles, name its label."""

    length_mm: float
    name: str
    curl: object
    diameter_mm: float = 0.15
    placement: str = "top"
    fan: int = 1
    spread_deg: float = 0.0


def bond_length(bond, lash, extension):
    """c = min(bond, L_nat - s_a, L_ext)."""
    return min(bond.length_mm, lash.length_mm - bond.offset_mm, extension.length_mm)


def bond_is_too_short(c):
    """Less than 1 mm of bond leaves a lash bare."""
    return c < SHORTEST_BOND_MM - ROUNDING_MM


def clearance_range(natural, start, fibre, c):
    """Section 4, step 2: min and max over the bond of D(s) = f_e(s) - f_n(s).

    D'(s) = sin(alpha_e) - sin(alpha_n), with alpha the angle of a tangent to its own chord, so
    extremes lie where alpha_e - alpha_n = 2 pi k or alpha_e + alpha_n = pi + 2 pi k, or at a joint.
    """
    q0, _ = natural.at(start)
    chord_n = cmath.phase(natural.at(start + c)[0] - q0)
    chord_e = cmath.phase(fibre.at(c)[0])

    def height(s):
        f_n = ((natural.at(start + s)[0] - q0) * cmath.exp(-1j * chord_n)).imag
        f_e = (fibre.at(s)[0] * cmath.exp(-1j * chord_e)).imag
        return f_e - f_n

    joints = [s - start for s in natural.joints()] + fibre.joints()
    stops = [0.0] + sorted(s for s in joints if 0 < s < c) + [c]
    places = list(stops[1:-1])
    for low, high in zip(stops, stops[1:]):
        middle = (low + high) / 2
        k_n, k_e = natural.curvature(start + middle), fibre.curvature(middle)
        a_n = natural.at(start + low)[1] - chord_n
        a_e = fibre.at(low)[1] - chord_e
        for value, slope, target in ((a_e - a_n, k_e - k_n, 0.0), (a_e + a_n, k_e + k_n, math.pi)):
            places += [low + t for t in crossings(value - target, slope, high - low)]
    heights = [0.0] + [height(s) for s in places]
    return min(heights), max(heights)


def crossings(value, slope, width):
    """All t in [0, width] where value + slope t is a whole multiple of 2 pi; none on a level line,
    where the derivative of D does not change and the ends of the piece suffice."""
    if slope == 0:
        return []
    ends = sorted((value, value + slope * width))
    first, last = math.ceil(ends[0] / (2 * math.pi)), math.floor(ends[1] / (2 * math.pi))
    found = [(2 * math.pi * k - value) / slope for k in range(first, last + 1)]
    return [t for t in found if 0 <= t <= width]


class Attachment:
    """Section 4: an extension on a lash, in the lash's plane; the pose places it in space."""

    def __init__(self, lash, extension, bond):
        self.extension = extension
        self.c = c = bond_length(bond, lash, extension)
        if bond_is_too_short(c):
            raise ValueError("less than 1 mm of bond")
        self.fibre = ArcSpline.from_profile(
            curl_profile(extension.curl, extension.length_mm), extension.length_mm
        )
        natural = lash.spline()
        q0, _ = natural.at(bond.offset_mm)
        chord_n = cmath.phase(natural.at(bond.offset_mm + c)[0] - q0)
        chord_e = cmath.phase(self.fibre.at(c)[0])
        self.base_angle = chord_n - chord_e
        self.r = (
            lash.diameter(bond.offset_mm + c / 2) / 2 + extension.diameter_mm / 2 + bond.glue_mm
        )
        low, high = clearance_range(natural, bond.offset_mm, self.fibre, c)
        along, self.sideways = {
            "top": (self.r - low, 0.0),
            "underside": (-(self.r + high), 0.0),
            "inner-side": (0.0, -self.r),
            "outer-side": (0.0, self.r),
        }[extension.placement]
        nu = 1j * cmath.exp(1j * chord_n)
        self.base = q0 + along * nu

    def plane_point(self, s):
        """The fibre's centre line at s in the (d, v) plane, before any fan opens; its angle."""
        e, angle = self.fibre.at(s)
        return self.base + e * cmath.exp(1j * self.base_angle), self.base_angle + angle

    def fibre_tips(self, root, d, v, w):
        """The tips of the fan's fibres in space."""
        knee, angle = self.plane_point(self.c)
        end, _ = self.plane_point(self.extension.length_mm)
        rest = (end - knee) * cmath.exp(-1j * angle)
        tau = math.cos(angle) * d + math.sin(angle) * v
        normal = -math.sin(angle) * d + math.cos(angle) * v
        start = root + knee.real * d + knee.imag * v + self.sideways * w
        n, spread = self.extension.fan, math.radians(self.extension.spread_deg)
        turns = [spread * (j / (n - 1) - 0.5) for j in range(n)] if n > 1 else [0.0]
        return [
            start + rest.real * (math.cos(psi) * tau + math.sin(psi) * w) + rest.imag * normal
            for psi in turns
        ]


def extension_tip(lid, opening, lash, attachment):
    """Root, and the fan's tip: the mean of its fibres' tips."""
    root, d, v, w = lash.pose(lid, opening)
    return root, sum(attachment.fibre_tips(root, d, v, w)) / attachment.extension.fan


# ---------------------------------------------------------------------------------------------
# Section 5: views

ARTIST_VIEWER_DEG = 60.0


def seen(point, viewer_deg):
    """Orthographic along z, the viewer raised by an angle: X, Y."""
    e = math.radians(viewer_deg)
    return point[0], point[1] * math.cos(e) - point[2] * math.sin(e)


# ---------------------------------------------------------------------------------------------
# Section 9: masses

HAIR_KG_M3 = 1320.0
PBT_KG_M3 = 1310.0
MG_PER_MM3 = 1e-3  # of 1 kg/m3
UN_PER_MG = 9.80665


def frustum_volume(length, d0, d1):
    """A cone cut off: (pi/12) L (d0^2 + d0 d1 + d1^2)."""
    return math.pi / 12 * length * (d0 * d0 + d0 * d1 + d1 * d1)


def natural_mass_mg(lash):
    """Linear taper, hair."""
    volume = frustum_volume(lash.length_mm, lash.root_diameter_mm, lash.tip_diameter_mm)
    return HAIR_KG_M3 * MG_PER_MM3 * volume


def extension_mass_mg(extension):
    """All fibres: nominal diameter over the first half, then linear to a tenth at the tip."""
    half, d = extension.length_mm / 2, extension.diameter_mm
    volume = frustum_volume(half, d, d) + frustum_volume(half, d, 0.1 * d)
    return PBT_KG_M3 * MG_PER_MM3 * volume * extension.fan
