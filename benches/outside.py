"""The least metal of a problem by a general constraint solver (CP-SAT).

Reads a problem file (in-line, spur gears, standard rack, a centre tolerance),
lists its options from the definitions alone, and prints one line of JSON: the
least sum of OD squared in square micrometres, and seconds. Needs ortools.
"""

import json
import sys
import time
from bisect import bisect_left, bisect_right
from fractions import Fraction
from math import gcd

from ortools.sat.python import cp_model

SLACK_MM = 1e-9


def exact(number):
    """A decimal as it is written."""
    return Fraction(str(number))


def square_um(module, teeth):
    """OD squared: the outside diameter m (z + 2) in whole micrometres, half up."""
    diameter = exact(module) * (teeth + 2) * 1000
    return int(diameter + Fraction(1, 2)) ** 2


def pairs(problem):
    """Ratio and metal of every pair that closes the centre distance."""
    gears = problem["gears"]
    centres = problem["centre_distance_mm"]
    tolerance = gears.get("centre_tolerance_mm", 0.001)
    counts = range(gears["min_teeth"], gears["max_teeth"] + 1)
    for module in gears["modules_mm"]:
        for driver in counts:
            for driven in counts:
                off = abs(module * (driver + driven) / 2 - centres)
                if off <= tolerance + SLACK_MM:
                    metal = square_um(module, driver) + square_um(module, driven)
                    yield Fraction(driven, driver), metal


def reverses(problem):
    """Ratio and metal of reverse; each with its smallest idler, as only metal
    counts here: that makes the solver's work lighter."""
    gears, wanted = problem["gears"], problem["reverse"]
    centres = problem["centre_distance_mm"]
    clearance = wanted.get("clearance_mm", 0.5)
    counts = range(gears["min_teeth"], gears["max_teeth"] + 1)
    limits = wanted.get("idler_teeth", {})
    idlers = range(
        limits.get("min", gears["min_teeth"]),
        limits.get("max", gears["max_teeth"]) + 1,
    )
    for module in gears["modules_mm"]:
        for driver in counts:
            for driven in counts:
                tips = module * (driver + 2) / 2 + module * (driven + 2) / 2
                if tips + clearance > centres + SLACK_MM:
                    continue
                for idler in idlers:
                    one = module * (driver + idler) / 2
                    other = module * (idler + driven) / 2
                    closes = one + other > centres + SLACK_MM
                    if closes and abs(one - other) < centres - SLACK_MM:
                        metal = sum(
                            square_um(module, z) for z in (driver, idler, driven)
                        )
                        yield Fraction(driven, driver), metal
                        break


def lightest(options):
    """Per exact ratio the least metal."""
    best = {}
    for ratio, metal in options:
        best[ratio] = min(metal, best.get(ratio, metal))
    return best


def wants(problem):
    """Window and options of every role."""
    usual = problem.get("default_tolerance_percent", 3.0)
    closing = lightest(pairs(problem))
    for speed in problem["speeds"]:
        if not speed.get("direct"):
            off = exact(speed.get("tolerance_percent", usual)) / 100
            target = exact(speed["ratio"])
            yield target * (1 - off), target * (1 + off), closing
    if "reverse" in problem:
        reverse = problem["reverse"]
        off = exact(reverse.get("tolerance_percent", usual)) / 100
        target = exact(reverse["ratio"])
        yield target * (1 - off), target * (1 + off), lightest(reverses(problem))


def heads(problem):
    """The head pairs in range."""
    limits = problem.get("head", {}).get("ratio", {})
    low = exact(limits["min"]) if "min" in limits else None
    high = exact(limits["max"]) if "max" in limits else None
    return {
        ratio: metal
        for ratio, metal in lightest(pairs(problem)).items()
        if (low is None or ratio >= low) and (high is None or ratio <= high)
    }


def model(problem):
    """One head, one option a role, each only behind heads that allow it."""
    program = cp_model.CpModel()
    costs = []
    head = {}
    for ratio, metal in heads(problem).items():
        head[ratio] = program.new_bool_var("")
        costs.append((metal, head[ratio]))
    program.add_exactly_one(head.values())
    ordered = sorted(head)
    for low, high, options in wants(problem):
        taken = []
        behind = {ratio: [] for ratio in ordered}
        for ratio, metal in options.items():
            first = bisect_left(ordered, low / ratio)
            allowing = ordered[first : bisect_right(ordered, high / ratio)]
            if allowing:
                option = program.new_bool_var("")
                program.add_bool_or(head[r] for r in allowing).only_enforce_if(option)
                taken.append(option)
                costs.append((metal, option))
                for r in allowing:
                    behind[r].append(option)
        program.add_exactly_one(taken)
        # Said from the head's side too: it makes the solver faster.
        for r, allowed in behind.items():
            program.add_bool_or(allowed).only_enforce_if(head[r])
    unit = gcd(*(metal for metal, _ in costs))
    program.minimize(sum(metal // unit * x for metal, x in costs))
    return program, unit


def main():
    path, threads = sys.argv[1], int(sys.argv[2])
    start = time.perf_counter()
    with open(path, encoding="utf-8") as file:
        program, unit = model(json.load(file))
    built = time.perf_counter()
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = threads
    proven = solver.solve(program) == cp_model.OPTIMAL
    ended = time.perf_counter()
    print(
        json.dumps(
            {
                "blank_um2": round(solver.objective_value) * unit if proven else None,
                "build_seconds": built - start,
                "solve_seconds": ended - built,
            }
        )
    )


main()
