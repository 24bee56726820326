#!/usr/bin/env python3
"""Holds our plans against a general-purpose solver on the same problem files.

    cargo bench --bench family -- --write /tmp/family 24
    python3 -m venv /tmp/solver && /tmp/solver/bin/pip install ortools
    /tmp/solver/bin/python tests/benches/against_cp_sat.py /tmp/family --seconds 300

Prints cost, bound and time of both, side by side. The solver is OR-Tools CP-SAT with two
workers. It reads nothing but the problem file, so it is a check on the format as well.

With `--prove`, for small problems (`-- --write /tmp/tiny tiny`), it asks for more: where the
optimum is proven, ours is equal to it in 95 of 100 and never more than 1 % above, and our bound
never above it; elsewhere ours costs no more than what the solver found.
"""

import argparse
import json
import math
import pathlib
import time

from ortools.sat.python import cp_model


# About so many chords of what a want costs in a week; all, where steps are fewer than twice that.
CHORDS = 150


def cost_of_week(want, target, supply):
    """The cost of the problem file, word for word: thousandths, rounded down."""
    if target <= 0:
        return 0
    enough = max(target, want["harvest_milli"])
    short, over = max(0, target - supply), max(0, supply - enough)
    parts = 100 * (short * target + short**2) + 5 * over * target + 10 * over**2
    return want["weight_milli"] * parts // (want["harvest_milli"] * target)


def stays_of(problem):
    """Every possible stay: (hole, batch, end)."""
    for hole, h in enumerate(problem["holes"]):
        for batch in problem["kinds"][h["kind"]]["batches"]:
            for end in batch["ends"]:
                yield hole, batch, end


def first_crowded(a, b, limit):
    start = max(a["transplant"], b["transplant"])
    stop = min(a["transplant"] + len(a["radius_mm"]), b["transplant"] + len(b["radius_mm"]))
    for day in range(start, stop):
        if a["radius_mm"][day - a["transplant"]] + b["radius_mm"][day - b["transplant"]] > limit:
            return day
    return None


def build(problem):
    for what in ("standing", "lots"):
        if problem.get(what):
            raise SystemExit(f"this script does not model `{what}`")
    model = cp_model.CpModel()
    by_hole = {}
    supply, nursery, objective = {}, {}, []
    for n, (hole, batch, end) in enumerate(stays_of(problem)):
        x = model.new_bool_var(f"s{n}")
        by_hole.setdefault(hole, []).append((x, batch, end))
        objective.append(problem["stay_cost_milli"] * x)
        for y in end["yields"]:
            supply.setdefault((batch["want"], y["week"]), []).append((y["milli"], x))
        for day in range(batch["sow"], batch["transplant"]):
            nursery.setdefault(day, []).append(batch["cells_milli"] * x)
    for stays in by_hole.values():
        model.add_no_overlap([
            model.new_optional_fixed_size_interval_var(
                b["transplant"], e["day"] + problem["changeover"] - b["transplant"], x, "")
            for x, b, e in stays
        ])
    for cells in nursery.values():
        model.add(sum(cells) <= problem["nursery_cells_milli"])
    for pair in problem["pairs"]:
        for x, a, a_end in by_hole.get(pair["a"], []):
            for y, b, b_end in by_hole.get(pair["b"], []):
                day = first_crowded(a, b, pair["limit_mm"])
                crowded = day is not None and day < min(a_end["day"], b_end["day"])
                near = abs(a_end["day"] - b_end["day"]) < problem["neighbours_apart"]
                if crowded or (pair["side_by_side"] and a["once"] and b["once"] and near):
                    model.add_bool_or([~x, ~y])
    for clean in problem["cleans"]:
        first, last = clean["days"]
        days = {d: model.new_bool_var("") for d in problem["workdays"] if first <= d <= last}
        model.add_exactly_one(days.values())
        for hole, h in enumerate(problem["holes"]):
            if h["tube"] == clean["tube"]:
                for x, b, e in by_hole.get(hole, []):
                    for day, chosen in days.items():
                        if b["transplant"] < day < e["day"]:
                            model.add_bool_or([~x, ~chosen])
    # What stands in a loop on a day: no two crops that cannot share it.
    stands = {}
    for hole, stays in by_hole.items():
        for x, b, e in stays:
            for day in range(b["transplant"], e["day"]):
                key = (problem["holes"][hole]["loop"], day, b["crop"])
                if key not in stands:
                    stands[key] = model.new_bool_var("")
                if any(b["crop"] in pair for pair in problem["apart"]):
                    model.add_implication(x, stands[key])
    for loop, day, crop in list(stands):
        for one, other in problem["apart"]:
            if crop == one and (loop, day, other) in stands:
                model.add_bool_or([~stands[loop, day, one], ~stands[loop, day, other]])
    for w, want in enumerate(problem["wants"]):
        for week, target in enumerate(want["target_milli"]):
            if target <= 0:
                continue
            parts = supply.get((w, week), [])
            grid = math.gcd(*(m for m, _ in parts)) if parts else target
            cost = model.new_int_var(0, cost_of_week(want, target, 0) * 4, "")
            total = sum(m // grid * x for m, x in parts)
            # The cost is convex: at whole steps the chords give it exactly, all but rounding. Where
            # steps are very many, some chords do; between them the solver has it a little cheap.
            steps = 2 * target // grid + 2
            for k in range(0, steps, max(1, steps // CHORDS)):
                at, then = (cost_of_week(want, target, (k + i) * grid) for i in (0, 1))
                model.add(cost >= at + (then - at) * (total - k))
            objective.append(cost)
    model.minimize(sum(objective))
    return model


def is_near(a, b, problem):
    """Equal but for the rounding of chords: a thousandth for each week of each want."""
    return abs(a - b) <= sum(len(want["target_milli"]) for want in problem["wants"])


def judge(seen):
    """What is wrong with our results against the solver's on small problems."""
    faults = []
    for problem, ours, theirs, _ in seen:
        cost, bound = ours["cost_milli"], ours["bound_milli"]
        if cost > 1.01 * theirs and not is_near(cost, theirs, problem):
            faults.append(f"{ours['name']}: {cost} where the solver has {theirs}")
        if bound > theirs and not is_near(bound, theirs, problem):
            faults.append(f"{ours['name']}: the bound {bound} is above {theirs}")
    proven = [(p, ours["cost_milli"], theirs) for p, ours, theirs, known in seen if known]
    faults += [f"{theirs} is proven and {cost} found: the file does not tell all"
               for p, cost, theirs in proven if cost < theirs and not is_near(cost, theirs, p)]
    equal = sum(is_near(cost, theirs, p) for p, cost, theirs in proven)
    print(f"{equal} of {len(proven)} proven optima; {len(seen) - len(proven)} not proven in time")
    if len(proven) < 30 or equal < 0.95 * len(proven):
        faults.append("fewer than 95 of 100 optima, or fewer than 30 proven")
    return faults


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder", type=pathlib.Path)
    parser.add_argument("--seconds", type=float, default=300)
    parser.add_argument("--only", help="names that hold this")
    parser.add_argument("--prove", action="store_true", help="fail unless ours are the optima")
    told = parser.parse_args()
    row = "{:<34} {:>11} {:>11} {:>7} | {:>11} {:>11} {:>7} {}"
    print(row.format("problem", "our cost", "our bound", "s", "CP-SAT", "its bound", "s", ""))
    seen = []
    for path in sorted(told.folder.glob("*.problem.json")):
        ours = json.loads(path.with_name(path.name.replace(".problem", ".ours")).read_text())
        if told.only and told.only not in ours["name"]:
            continue
        problem = json.loads(path.read_text())
        solver = cp_model.CpSolver()
        solver.parameters.max_time_in_seconds = told.seconds
        solver.parameters.num_workers = 2
        began = time.monotonic()
        status = solver.solve(build(problem))
        cost = int(solver.objective_value)
        print(row.format(
            ours["name"], ours["cost_milli"], ours["bound_milli"], f"{ours['seconds']:.1f}",
            cost, int(solver.best_objective_bound),
            f"{time.monotonic() - began:.0f}", solver.status_name(status)), flush=True)
        seen.append((problem, ours, cost, status == cp_model.OPTIMAL))
    for fault in (faults := judge(seen) if told.prove else []):
        print(fault)
    raise SystemExit(bool(faults))


if __name__ == "__main__":
    main()
