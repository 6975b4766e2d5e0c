# SPDX-License-Identifier: GPL-3.0-or-later
"""Reads a set file and its surveys for the reference, leniently: it is meant for valid input, so
it checks little beyond what decides a result (section 7: zone, rule, tray). YAML by PyYAML's safe
loader, of which JSON is near enough a subset; CSV with commas or semicolons, decimal commas with
the latter.
"""
import csv
import os
from dataclasses import dataclass, field, fields

import yaml

from model import CATALOGUE, LAYERS, PLACEMENTS, Bond, Extension, Lash, Lid, layer_height

CONDITIONS = ("suitable", "baby", "stray", "weak", "shedding")
LASH_COLUMNS = (
    "height_mm", "pitch_deg", "yaw_deg", "roll_deg", "length_mm", "turn_deg",
    "root_diameter_mm", "tip_diameter_mm",
)
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


@dataclass
class Eye:
    """One eye of a set."""

    side: str
    lid: Lid
    zones: list
    intended: list
    lashes: list


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
        self.tolerance_mm = number(tree.get("line", {}).get("tolerance_mm", 0.5))
        tray = tree.get("tray", {}).get("lengths_mm", range(5, 21))
        self.tray = sorted(number(length) for length in tray)
        bond = known_numbers(tree.get("bond", {}), ("offset_mm", "length_mm", "glue_mm"))
        self.bond = Bond(**bond)
        self.mean_lash = known_numbers(
            tree.get("mean_lash", {}), LASH_COLUMNS + ("final_length_mm",)
        )
        self.mean_lash.pop("final_length_mm", None)
        self.curls = dict(CATALOGUE)
        for name, curl in tree.get("curls", {}).items():
            self.curls[str(name)] = read_curl(curl)
        self.layering = read_layering(tree.get("layering", {}))
        self.eyes = [read_eye(eye, os.path.dirname(path)) for eye in tree["eyes"]]

    def tray_length(self, length):
        """The tray's own number for a length, an error where it is not there."""
        for known in self.tray:
            if abs(known - length) <= TIE_MM:
                return known
        raise ValueError(f"the tray has no {length!r} mm")

    def nearest_in_tray(self, length):
        """Section 7: the nearest length, ties to the longer."""
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
        zone = zone_at(eye.zones, surveyed.lash.u)
        fixed = zone.get(surveyed.layer, {})
        if own_length is not None:
            length = float(own_length)
        elif "length_mm" in fixed:
            length = self.tray_length(number(fixed["length_mm"]))
        else:
            length = self.rule_length(eye.zones, surveyed.lash.u, surveyed.layer)

        def choose(column, key, default):
            return asked.get("ext_" + column, fixed.get(key, default))

        rule = self.layering
        name = str(choose("curl", "curl", zone["curl"]))
        placement = choose("placement", "placement", rule["placement"][surveyed.layer])
        if placement not in PLACEMENTS:
            raise ValueError(f"placement {placement!r}")
        return Extension(
            length_mm=length,
            name=name,
            curl=self.curls[name],
            diameter_mm=float(choose("diameter_mm", "diameter_mm", rule["diameter_mm"])),
            placement=placement,
            fan=int(choose("fan", "fan", rule["fan"])),
            spread_deg=float(choose("spread_deg", "spread_deg", rule["spread_deg"])),
        ), None

    def rule_length(self, zones, u, layer):
        """Section 7: zone length, blended if asked, less a step for each layer up."""
        if self.layering["blend"]:
            length = self.nearest_in_tray(blended(zones, u, [z["length_mm"] for z in zones]))
        else:
            length = number(zone_at(zones, u)["length_mm"])
        return self.tray_length(length - self.layering["step_mm"] * LAYERS.index(layer))

    def intended_lash(self, zones, u):
        """Section 7: the mean lash at u and what it carries on the intended line."""
        zone = zone_at(zones, u)
        fixed = zone.get("bottom", {})
        lengths = [z.get("bottom", {}).get("length_mm", z["length_mm"]) for z in zones]
        name = str(fixed.get("curl", zone["curl"]))
        extension = Extension(
            length_mm=blended(zones, u, lengths),
            name=name,
            curl=self.curls[name],
            diameter_mm=number(fixed.get("diameter_mm", self.layering["diameter_mm"])),
        )
        return Lash(u=u, **self.mean_lash), extension


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


def read_eye(tree, folder):
    """One eye with its survey."""
    names = [f.name for f in fields(Lid)]
    lid = Lid(**known_numbers(tree.get("lid", {}), names))
    lid.validate()
    zones = read_zones(tree["map"])
    intended = read_zones(tree["intended"]) if "intended" in tree else zones
    lashes = read_survey(os.path.join(folder, tree["lashes"]["survey"]))
    return Eye(tree["side"], lid, zones, intended, lashes)


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
    natural = {name: value(cells[name]) for name in LASH_COLUMNS if name in cells}
    natural.setdefault("height_mm", layer_height(layer))
    asked = {name: cell for name, cell in cells.items() if name.startswith("ext_")}
    for name in ("ext_length_mm", "ext_diameter_mm", "ext_fan", "ext_spread_deg"):
        if asked.get(name, "none") != "none":
            asked[name] = value(asked[name])
    return SurveyedLash(cells["id"], layer, Lash(u=value(cells["u"]), **natural), condition, asked)
