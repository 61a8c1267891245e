"""Slope and deflection of shafts by beam elements.

Reads from stdin one JSON list of cases, prints one JSON list of answers. A case
has shafts (sections, loads, what holds them), links (one shaft's end rests in
another) and places that are asked for. Nothing of how reactions or moments are
found is taken over: supports and links are constraints, and their forces follow
from the solution. Needs scipy.
"""

import json
import sys

import numpy as np
from scipy.sparse import bmat, coo_matrix, csc_matrix
from scipy.sparse.linalg import spsolve


def second_moment(shaft, z):
    """Of the section at z, else of the nearest."""
    def away(section):
        return max(section["from_mm"] - z, z - section["to_mm"], 0.0)
    section = min(shaft["sections"], key=away)
    return np.pi * (section["outside_mm"] ** 4 - section["inside_mm"] ** 4) / 64.0


def nodes_of(shaft, asked):
    cuts = set(asked)
    for section in shaft["sections"]:
        cuts |= {section["from_mm"], section["to_mm"]}
    cuts |= {load["z_mm"] for load in shaft["loads"]} | set(shaft["supports_mm"])
    cuts |= {shaft["wall_mm"]} if shaft["wall_mm"] is not None else set()
    return sorted(cuts)


def element(stiffness, length):
    h = length
    return stiffness / h**3 * np.array([
        [12, 6 * h, -12, 6 * h],
        [6 * h, 4 * h * h, -6 * h, 2 * h * h],
        [-12, -6 * h, 12, -6 * h],
        [6 * h, 2 * h * h, -6 * h, 4 * h * h],
    ])


def solve(case):
    shafts = case["shafts"]
    asked = [set() for _ in shafts]
    for place in case["asked"]:
        asked[place["shaft"]].add(place["z_mm"])
    for link in case["links"]:
        asked[link["rests"]].add(link["z_mm"])
        asked[link["holds"]].add(link["z_mm"])
    index, count = {}, 0
    for number, shaft in enumerate(shafts):
        for z in nodes_of(shaft, asked[number]):
            index[number, z] = count
            count += 2
    rows, columns, values = [], [], []
    loads = np.zeros((count, 2))
    constraints = []
    for number, shaft in enumerate(shafts):
        nodes = nodes_of(shaft, asked[number])
        for z0, z1 in zip(nodes, nodes[1:]):
            stiff = case["elasticity_mpa"] * second_moment(shaft, (z0 + z1) / 2)
            at = [index[number, z0], index[number, z0] + 1,
                  index[number, z1], index[number, z1] + 1]
            k = element(stiff, z1 - z0)
            for i in range(4):
                for j in range(4):
                    rows.append(at[i])
                    columns.append(at[j])
                    values.append(k[i, j])
        for load in shaft["loads"]:
            at = index[number, load["z_mm"]]
            for plane in range(2):
                loads[at, plane] += load["force_n"][plane]
                # A section that leans by v' takes a point off the axis back by
                # offset times v'.
                loads[at + 1, plane] -= load["offset_mm"][plane] * load["force_n"][2]
        for z in shaft["supports_mm"]:
            constraints.append({index[number, z]: 1.0})
        if shaft["wall_mm"] is not None:
            at = index[number, shaft["wall_mm"]]
            constraints += [{at: 1.0}, {at + 1: 1.0}]
    for link in case["links"]:
        constraints.append({index[link["rests"], link["z_mm"]]: 1.0,
                            index[link["holds"], link["z_mm"]]: -1.0})
    stiffness = coo_matrix((values, (rows, columns)), shape=(count, count))
    held = np.zeros((len(constraints), count))
    for row, constraint in enumerate(constraints):
        for column, value in constraint.items():
            held[row, column] = value
    # Constraints in the size of the stiffness, so that the whole is well scaled.
    held = csc_matrix(held * abs(stiffness).max())
    whole = csc_matrix(bmat([[stiffness, held.T], [held, None]]))
    right = np.vstack([loads, np.zeros((len(constraints), 2))])
    moved = np.column_stack([spsolve(whole, right[:, plane]) for plane in range(2)])
    answers = []
    for place in case["asked"]:
        at = index[place["shaft"], place["z_mm"]]
        answers.append({"deflection_mm": moved[at].tolist(), "slope_rad": moved[at + 1].tolist()})
    return answers


def placed(item):
    """Places to a nanometre: two that differ by the last bits are one node."""
    if isinstance(item, list):
        return [placed(part) for part in item]
    if not isinstance(item, dict):
        return item
    places = ("z_mm", "from_mm", "to_mm", "wall_mm")
    tidy = {key: placed(value) for key, value in item.items()}
    for key in places:
        if tidy.get(key) is not None:
            tidy[key] = round(tidy[key], 6)
    if "supports_mm" in tidy:
        tidy["supports_mm"] = [round(z, 6) for z in tidy["supports_mm"]]
    return tidy


json.dump([solve(placed(case)) for case in json.load(sys.stdin)], sys.stdout)
