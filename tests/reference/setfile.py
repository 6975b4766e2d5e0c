# SPDX-License-Identifier: GPL-3.0-or-later
"""Reads a set file and its surveys for the reference, leniently: it is meant for valid input, so
it checks little beyond what decides a result (section 7: zone, rule, tray, mean lash). YAML by
PyYAML's safe loader, of which JSON is near enough a subset; CSV with commas or semicolons, decimal
commas with the latter.
"""
import csv
import os
from dataclasses import dataclass, field, fields

import yaml

from describe import Description
from line import tolerance_from
from mean import MeanLash
from model import CATALOGUE, LAYERS, PLACEMENTS, Bond, Extension, Lash, Lid, layer_height

CONDITIONS = ("suitable", "baby", "stray", "weak", "shedding")
LASH_COLUMNS = (
    "height_mm", "pitch_deg", "yaw_deg", "roll_deg", "length_mm", "turn_deg",
    "root_diameter_mm", "tip_diameter_mm",
)  # final_length_mm does not move a tip
TIE_MM = 1e-9


def number(value):
    """A number of a set file: JSON's 1e-3 is text to PyYAML."""
    if isinstance(value, bool) or value is None:
        raise ValueError(f"{value!r} is no number")
    return float(value)


def known_numbers(table, allowed):
    """A block of numbers whose every key is known."""
    unknown = set(table) - set(allowed)
    if unknown:
        raise ValueError(f"unknown keys {sorted(unknown)}")
    return {key: number(value) for key, value in table.items()}


@dataclass
class SurveyedLash:
    """One row: the natural lash and what the row says of its extension."""

    id: str
    layer: str
    lash: Lash
    condition: str = "suitable"
    asked: dict = field(default_factory=dict)  # ext_ columns that are not empty, as text
    known: frozenset = frozenset()  # the natural lash's columns that were given or drawn


@dataclass
class Eye:
    """One eye of a set."""

    side: str
    lid: Lid
    zones: list
    intended: list
    lashes: list
    planned: bool  # has an intended map of its own
    mean_lash: MeanLash


class SetFile:
    """A set: everything of the set file, with the defaults of the model filled in."""

    def __init__(self, path):
        with open(path, encoding="utf-8-sig") as stream:
            tree = yaml.safe_load(stream)
        if tree.get("tipcrest") != 1:
            raise ValueError("tipcrest: 1 is missing")
        self.title = tree.get("title")
        self.opening = number(tree.get("opening", 1))
        self.viewer_deg = number(tree.get("viewer_deg", 0))
        self.tolerance_mm, self.shared_line = read_line(tree.get("line", {}))
        self.tray = read_tray(tree.get("tray", {}))
        bond = known_numbers(tree.get("bond", {}), ("offset_mm", "length_mm", "glue_mm"))
        self.bond = Bond(**bond)
        self.mean_lash = known_numbers(
            tree.get("mean_lash", {}), LASH_COLUMNS + ("final_length_mm",)
        )
        self.curls = dict(CATALOGUE)
        for name, curl in tree.get("curls", {}).items():
            self.curls[str(name)] = read_curl(curl)
        self.layering = read_layering(tree.get("layering", {}))
        self.eyes = [read_eye(eye, os.path.dirname(path), self.mean_lash) for eye in tree["eyes"]]

    def tray_length(self, length):
        """The tray's own number for a length, an error where it is not there."""
        if self.tray is None:
            return length
        for known in self.tray:
            if abs(known - length) <= TIE_MM:
                return known
        raise ValueError(f"the tray has no {length!r} mm")

    def nearest_in_tray(self, length):
        """Section 7: the nearest length, ties to the longer; without a tray, the length itself."""
        if self.tray is None:
            return length
        distance = min(abs(known - length) for known in self.tray)
        return max(known for known in self.tray if abs(known - length) <= distance + TIE_MM)

    def extension_for(self, eye, surveyed):
        """Sections 4 and 7: what a lash carries, and None with the reason where it is nothing."""
        asked = surveyed.asked
        own_length = asked.get("ext_length_mm")
        if own_length == "none":
            return None, "none asked for"
        if own_length is None and surveyed.condition != "suitable":
            return None, surveyed.condition
        wears = self.map_gives(eye.zones, zone_at(eye.zones, surveyed.lash.u), surveyed.layer)
        if own_length is not None:
            length = float(own_length)
        else:
            zone = zone_at(eye.zones, surveyed.lash.u)
            length = self.tray_length(
                self.ruled_length(eye.zones, zone, surveyed.layer, surveyed.lash.u)
            )
        return self.extension(length, wears | own_wear(surveyed)), None

    def bond_for(self, surveyed):
        """The set's bond; a row may say how far from the skin its own begins."""
        start = surveyed.asked.get("ext_from_skin_mm", self.bond.offset_mm)
        return Bond(start, self.bond.length_mm, self.bond.glue_mm)

    def extension(self, length, wears):
        """An extension of a length; wears has curl, diameter_mm, fan, spread_deg, placement."""
        return Extension(length, wears["curl"], self.curls[wears["curl"]], wears["diameter_mm"],
                         wears["placement"], wears["fan"], wears["spread_deg"])

    def map_gives(self, zones, zone, layer):
        """What map and rule give a cell, but for the length."""
        fixed, rule = zone.get(layer, {}), self.layering
        return read_wear(
            {"curl": fixed.get("curl", zone["curl"])}
            | {key: fixed.get(key, rule[key]) for key in ("diameter_mm", "fan", "spread_deg")}
            | {"placement": fixed.get("placement", rule["placement"][layer])}
        )

    def ruled_length(self, zones, zone, layer, u, rounded=True):
        """Section 7: what a zone fixes for a layer, else the zone's length, blended if asked, less
        a step for each layer up. Whether the tray has it is another question."""
        if "length_mm" in zone.get(layer, {}):
            return number(zone[layer]["length_mm"])
        length = number(zone["length_mm"])
        if self.layering["blend"]:
            length = blended(zones, u, [z["length_mm"] for z in zones])
            length = self.nearest_in_tray(length) if rounded else length
        return length - self.layering["step_mm"] * LAYERS.index(layer)

    def intended_lash(self, eye, u):
        """Section 7: the mean lash at u and what it carries on the intended line."""
        zones = eye.intended
        zone = zone_at(zones, u)
        wears = self.map_gives(zones, zone, "bottom")
        lengths = [z.get("bottom", {}).get("length_mm", z["length_mm"]) for z in zones]
        wears |= {"fan": 1, "spread_deg": 0.0, "placement": "top"}
        return eye.mean_lash.at(u), self.extension(blended(zones, u, lengths), wears)


def read_wear(values):
    """What is worn but for the length, each with its type."""
    kinds = {"curl": str, "diameter_mm": number, "fan": int, "spread_deg": number, "placement": str}
    read = {key: kinds[key](value) for key, value in values.items()}
    if read.get("placement", "top") not in PLACEMENTS:
        raise ValueError(f"placement {read['placement']!r}")
    return read


def own_wear(surveyed):
    """What a row gives of the same."""
    own = {name[len("ext_"):]: value for name, value in surveyed.asked.items()}
    return read_wear({key: value for key, value in own.items()
                      if key in ("curl", "diameter_mm", "fan", "spread_deg", "placement")})


def read_line(tree):
    """The tolerance, given or from the viewer's distance, and whether two eyes share a line."""
    if set(tree) - {"tolerance_mm", "seen_from_mm", "shared"} or len(tree) == 3:
        raise ValueError("line: one of tolerance_mm and seen_from_mm, and shared")
    tolerance = number(tree.get("tolerance_mm", 0.5))
    if "seen_from_mm" in tree:
        tolerance = tolerance_from(number(tree["seen_from_mm"]))
    return tolerance, tree.get("shared", True)


def read_tray(tree):
    """The lengths at hand, or None for any. Trays by curl and diameter have no meaning in the
    model's text yet."""
    if tree == "any":
        return None
    if set(tree) - {"lengths_mm"}:
        raise ValueError("a tray by curl and diameter is not defined by the model")
    return sorted(number(length) for length in tree.get("lengths_mm", range(5, 21)))


def read_curl(curl):
    """A profile, or profiles by length; keys that are lengths may be quoted."""
    if isinstance(curl, dict):
        return {float(length): read_curl(pieces) for length, pieces in curl.items()}
    return [(number(share), number(turn)) for share, turn in curl]


def read_layering(tree):
    """Defaults of section 7 and interface.md; a partial placement leaves the rest on top."""
    rule = {"step_mm": 1, "diameter_mm": 0.15, "fan": 1, "spread_deg": 0, "blend": False}
    placement = dict.fromkeys(LAYERS, "top")
    placement.update(tree.get("placement", {}))
    rule.update(tree)
    rule["placement"] = placement
    for key in ("step_mm", "diameter_mm", "spread_deg"):
        rule[key] = number(rule[key])
    return rule


def read_zones(zones):
    """A map: where each zone begins and ends."""
    start = 0.0
    for zone in zones:
        zone["from"], zone["to"] = start, number(zone["to"])
        start = zone["to"]
    if start != 1:
        raise ValueError("the map does not end at 1")
    return zones


def read_eye(tree, folder, mean_lash):
    """One eye with its lashes."""
    names = [f.name for f in fields(Lid)]
    lid = Lid(**known_numbers(tree.get("lid", {}), names))
    lid.validate()
    zones = read_zones(tree["map"])
    planned = "intended" in tree
    intended = read_zones(tree["intended"]) if planned else zones
    if "describe" in tree["lashes"]:
        lashes = draw_lashes(tree["lashes"]["describe"] or {}, tree["side"])
    else:
        lashes = read_survey(os.path.join(folder, tree["lashes"]["survey"]))
    mean = MeanLash(mean_lash, lashes)
    return Eye(tree["side"], lid, zones, intended, lashes, planned, mean)


def draw_lashes(tree, side):
    """A described eye; every number of its lashes is known."""
    kinds = {f.name: f.type for f in fields(Description)}
    description = Description(
        **{key: kinds[key](value) for key, value in tree.items()}
    )
    eye = ("left", "right").index(side)
    known = frozenset(LASH_COLUMNS + ("final_length_mm",))
    digits = max(3, len(str(description.count)))
    lashes = []
    for k in range(description.count):
        layer, condition, lash = description.lash(eye, k)
        lashes.append(
            SurveyedLash(f"n{k + 1:0{digits}d}", layer, lash, condition, known=known)
        )
    return lashes


def zone_at(zones, u):
    """Section 7: a zone holds u < to, the last one those up to 1."""
    return next((zone for zone in zones if u < zone["to"]), zones[-1])


def blended(zones, u, lengths):
    """Section 7: linear between zone centres, constant before the first and after the last."""
    centres = [(zone["from"] + zone["to"]) / 2 for zone in zones]
    lengths = [number(length) for length in lengths]
    if u <= centres[0]:
        return lengths[0]
    for i in range(1, len(centres)):
        if u <= centres[i]:
            part = (u - centres[i - 1]) / (centres[i] - centres[i - 1])
            return lengths[i - 1] + part * (lengths[i] - lengths[i - 1])
    return lengths[-1]


def read_survey(path):
    """The rows of a survey. Comment lines and blank lines go first, then the csv module."""
    with open(path, encoding="utf-8-sig", newline="") as stream:
        lines = [ln for ln in stream if ln.strip() and not ln.startswith("#")]
    separator = ";" if ";" in lines[0] else ","
    rows = csv.reader(lines, delimiter=separator)
    header = [name.strip() for name in next(rows)]
    return [read_row(dict(zip(header, row)), separator) for row in rows]


def read_row(row, separator):
    """One row: an empty cell means the default."""
    cells = {name: cell.strip() for name, cell in row.items() if not name.startswith("note")}
    cells = {name: cell for name, cell in cells.items() if cell}

    def value(text):
        return float(text.replace(",", ".") if separator == ";" else text)

    layer = cells["layer"]
    condition = cells.get("condition", "suitable")
    if condition not in CONDITIONS:
        raise ValueError(f"condition {condition!r}")
    columns = LASH_COLUMNS + ("final_length_mm",)
    natural = {name: value(cells[name]) for name in columns if name in cells}
    known = frozenset(natural)
    natural.setdefault("height_mm", layer_height(layer))
    asked = {name: cell for name, cell in cells.items() if name.startswith("ext_")}
    for name in ("ext_length_mm", "ext_diameter_mm", "ext_fan", "ext_spread_deg",
                 "ext_from_skin_mm"):
        if asked.get(name, "none") != "none":
            asked[name] = value(asked[name])
    lash = Lash(u=value(cells["u"]), **natural)
    return SurveyedLash(cells["id"], layer, lash, condition, asked, known)
