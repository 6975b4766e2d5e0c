# SPDX-License-Identifier: GPL-3.0-or-later
"""The described eye, section 11, with the length's law of section 10 and the growth of the shape of
section 3. Random words are those of Philox 4x32-10 (Salmon, Moraes, Dror & Shaw 2011,
10.1145/2063384.2063405); how they become numbers, and the numbers of fields and uses, are those of
include/tipcrest/random.h and describe.h, which are part of the contract.
"""
import math
from dataclasses import dataclass

from grow import DIAMETER_RANGE_MM, TURN_RANGE_DEG, reached, shape_at, within
from mean import default_yaw
from model import LAYERS, Lash

FIELDS = ("u", "row", "height", "pitch", "yaw", "roll", "final_length", "age", "turn",
          "root_diameter", "stray")
GROWTH_MM_PER_DAY = 0.12
CYCLE_DAYS = {"A": 152.0, "B": 90.0}
CYCLE_LENGTH_MM = 7.5
SHORTEST_MM = 0.3
TOP_ROW = 5
CUT_SD = 3.0

MULTIPLIERS = (0xD2511F53, 0xCD9E8D57)
KEY_STEPS = (0x9E3779B9, 0xBB67AE85)
WORD = 0xFFFFFFFF


def philox(counter, key):
    """Philox 4x32-10: four words of a counter of four and a key of two."""
    c, k = list(counter), list(key)
    for _ in range(10):
        product0, product1 = MULTIPLIERS[0] * c[0], MULTIPLIERS[1] * c[2]
        c = [(product1 >> 32) ^ c[1] ^ k[0], product1 & WORD,
             (product0 >> 32) ^ c[3] ^ k[1], product0 & WORD]
        k = [(word + step) & WORD for word, step in zip(k, KEY_STEPS)]
    return c


def between_0_and_1(high, low):
    """53 bits of two words, and a half."""
    return ((((high << 32) | low) >> 11) + 0.5) / 2.0**53


class Draws:
    """The draws of one lash; use 0 is the described eye."""

    def __init__(self, seed, eye, lash, use=0):
        self.key = (seed & WORD, seed >> 32)
        self.eye, self.lash, self.use = eye, lash, use

    def words(self, field, attempt=0):
        """The words of a field."""
        number = FIELDS.index(field)
        return philox((self.lash, number, self.eye, self.use + 65536 * attempt), self.key)

    def uniform(self, field):
        """Uniform in (0, 1)."""
        return between_0_and_1(*self.words(field)[:2])

    def normal(self, field):
        """Standard normal, cut at three standard deviations by drawing again."""
        for attempt in range(1000):
            w = self.words(field, attempt)
            radius = math.sqrt(-2 * math.log(between_0_and_1(w[0], w[1])))
            value = radius * math.cos(2 * math.pi * between_0_and_1(w[2], w[3]))
            if abs(value) <= CUT_SD:
                return value
        return 0.0


@dataclass
class Description:
    """Means, standard deviations and limits by the keys of the set file."""

    count: int = 96
    seed: int = 1
    phases: str = "A"
    gap_mm: float = 1.0
    height_sd_mm: float = 0.1
    pitch_deg: float = -10.0
    pitch_sd_deg: float = 4.0
    yaw_deg: float = -10.0
    yaw_fan_deg: float = 20.0
    yaw_sd_deg: float = 4.0
    roll_deg: float = 0.0
    roll_sd_deg: float = 0.0
    length_mm: float = 7.5
    length_sd_mm: float = 1.0
    length_inner_share: float = 0.7
    length_outer_share: float = 0.9
    turn_deg: float = 60.0
    turn_sd_deg: float = 8.0
    root_diameter_mm: float = 0.08
    root_diameter_sd_mm: float = 0.01
    tip_diameter_mm: float = 0.015
    stray_share: float = 0.02
    stray_rise_mm: float = 1.0
    baby_below_mm: float = 5.0
    weak_below_mm: float = 0.055

    def mean_final_length(self, u):
        """The profile of section 11: 0.7 at u = 0, 1 at 1/2, 0.9 at 1, linear between."""
        if u < 0.5:
            share = self.length_inner_share + (1 - self.length_inner_share) * 2 * u
        else:
            share = 1 + (self.length_outer_share - 1) * (2 * u - 1)
        return self.length_mm * share

    def place(self, draws, k):
        """u: in the middle of its share of 0.05 to 0.95, moved by up to a quarter of it."""
        spacing = 0.9 / self.count
        u = 0.05 + spacing * (k + 0.5) + spacing * (2 * draws.uniform("u") - 1) / 4
        return within(u, (0.02, 0.98))

    def row(self, draws, u):
        """One of six rows in the middle, of rows 0, 2, 4 beside it."""
        x = draws.uniform("row")
        return int(6 * x) if 0.2 < u < 0.85 else 2 * int(3 * x)

    def length_of(self, draws, final):
        """Section 10: min(F, g age), the age uniform over the cycle; never below 0.3 mm."""
        if self.phases == "none":
            return max(SHORTEST_MM, final)
        cycle = CYCLE_DAYS[self.phases] * final / CYCLE_LENGTH_MM
        age = draws.uniform("age") * cycle
        return max(SHORTEST_MM, min(final, GROWTH_MM_PER_DAY * age))

    def lash(self, eye, k):
        """Lash number k of an eye (0 left, 1 right): layer, condition, natural lash, final length.
        What falls outside a lash's ranges is cut to them."""
        draws = Draws(self.seed, eye, k)
        u = self.place(draws, k)
        row = self.row(draws, u)
        stray = draws.uniform("stray") < self.stray_share
        rise = TOP_ROW * self.gap_mm / 2 + self.stray_rise_mm if stray else row * self.gap_mm / 2
        final = within(
            self.mean_final_length(u) + self.length_sd_mm * draws.normal("final_length"), (1, 20)
        )
        length = self.length_of(draws, final)
        turn, diameter = shape_at(
            within(self.turn_deg + self.turn_sd_deg * draws.normal("turn"), TURN_RANGE_DEG),
            within(
                self.root_diameter_mm + self.root_diameter_sd_mm * draws.normal("root_diameter"),
                (max(DIAMETER_RANGE_MM[0], self.tip_diameter_mm), DIAMETER_RANGE_MM[1]),
            ),
            self.tip_diameter_mm,
            reached(length, final),
        )
        yaw = default_yaw(u) + (self.yaw_deg + 10) + (self.yaw_fan_deg - 20) * u
        angle = (-85 + 1e-9, 85 - 1e-9)
        lash = Lash(
            u=u,
            height_mm=within(rise + self.height_sd_mm * draws.normal("height"), (-2, 8)),
            pitch_deg=within(self.pitch_deg + self.pitch_sd_deg * draws.normal("pitch"), angle),
            yaw_deg=within(yaw + self.yaw_sd_deg * draws.normal("yaw"), angle),
            roll_deg=within(self.roll_deg + self.roll_sd_deg * draws.normal("roll"), (-90, 90)),
            length_mm=length,
            turn_deg=turn,
            root_diameter_mm=within(diameter, DIAMETER_RANGE_MM),
            tip_diameter_mm=self.tip_diameter_mm,
            final_length_mm=final,
        )
        return "top" if stray else LAYERS[row // 2], self.condition(lash, stray), lash

    def condition(self, lash, stray):
        """The first that holds."""
        if stray:
            return "stray"
        if lash.length_mm < self.baby_below_mm:
            return "baby"
        return "weak" if lash.root_diameter_mm < self.weak_below_mm else "suitable"
