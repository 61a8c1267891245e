"""Reads drawings and bodies with ezdxf and trimesh, and says what they hold.

In: a list of cases on stdin, each with drawings as DXF beside their JSON, and
a folder of files or none. Out: a list of answers on stdout.
"""

import io
import json
import math
import sys
from pathlib import Path

import ezdxf
import trimesh

NEAR_MM = 0.0012


def flat(*points):
    return [figure for point in points for figure in (point.x, point.y)]


def entity_points(entity):
    """Figures of an entity in the order in which the JSON has them."""
    kind = entity.dxftype()
    if kind == "LINE":
        return flat(entity.dxf.start, entity.dxf.end)
    if kind == "CIRCLE":
        return [*flat(entity.dxf.center), entity.dxf.radius]
    if kind == "ARC":
        d = entity.dxf
        return [*flat(d.center), d.radius, d.start_angle, d.end_angle]
    if kind == "TEXT":
        return flat(entity.get_placement()[1])
    return flat(*entity.points())


def item_points(item):
    """The same of an item of the JSON."""
    for name in ("line", "circle", "arc"):
        if name in item:
            return item[name]
    if "text" in item:
        return item["at"]
    if "path" in item:
        return [figure for corner in item["path"] for figure in corner[:2]]
    if "rect" in item:
        left, bottom, right, top = item["rect"]
        return [left, bottom, right, bottom, right, top, left, top]
    out = []
    for tooth in range(item["times"]):
        angle = math.radians(item["turned_deg"]) + math.tau * tooth / item["times"]
        cos, sin = math.cos(angle), math.sin(angle)
        for u, v, *_ in item["tooth"]:
            out += [item["at"][0] + cos * u - sin * v, item["at"][1] + sin * u + cos * v]
    return out


def audit(document, name, faults):
    auditor = document.audit()
    for found in [*auditor.errors, *auditor.fixes]:
        faults.append(f"{name}: {found.message}")
    if document.header.get("$INSUNITS") != 4:
        faults.append(f"{name}: not in millimetres")


def compare(drawing, name, faults):
    """How many figures of a drawing are the same in DXF and JSON."""
    document = ezdxf.read(io.StringIO(drawing["dxf"]))
    audit(document, name, faults)
    items = [item for group in drawing["json"]["groups"] for item in group["items"]]
    entities = list(document.modelspace())
    if len(items) != len(entities):
        faults.append(f"{name}: {len(items)} items, {len(entities)} entities")
    count = 0
    for item, entity in zip(items, entities):
        own, theirs = item_points(item), entity_points(entity)
        worst = max((abs(a - b) for a, b in zip(own, theirs)), default=math.inf)
        if len(own) != len(theirs) or worst > NEAR_MM:
            faults.append(f"{name}: {item} and {entity} are {worst} apart")
        count += len(own)
    return count


def bodies(path):
    loaded = trimesh.load(path)
    if isinstance(loaded, trimesh.Scene):
        return list(loaded.geometry.values())
    return [loaded]


def answer(case):
    faults, gears, in_place = [], {}, 0
    files = sorted(Path(case["folder"]).iterdir()) if "folder" in case else []
    for path in (path for path in files if path.suffix == ".dxf"):
        audit(ezdxf.readfile(path), path.name, faults)
    for path in (path for path in files if path.suffix in (".stl", ".3mf")):
        found = bodies(path)
        for body in found:
            if not (body.is_watertight and body.is_winding_consistent and body.volume > 0):
                faults.append(f"{path.name}: not closed")
        volume = sum(float(body.volume) for body in found)
        other = gears.setdefault(path.stem, volume)
        if abs(other / volume - 1) > 1e-4:
            faults.append(f"{path.name}: STL and 3MF differ, {other} and {volume}")
        if path.name == "set-in-place.3mf":
            in_place = len(found)
    gears.pop("set-in-place", None)
    named = enumerate(case["drawings"])
    count = sum(compare(drawing, f"drawing {i}", faults) for i, drawing in named)
    return {
        "faults": faults,
        "coordinates": count,
        "bodies_in_place": in_place,
        "gears_mm3": gears,
    }


json.dump([answer(case) for case in json.load(sys.stdin)], sys.stdout)
