"""Runs solvers side by side on the jobs of the benchmarks, and has every plan judged by `twinstrake check`.

    python run.py --seconds 120 24x30 40x50 80x100 short

See README.md beside this file.
"""

import argparse
import re
import shutil
import subprocess
import sys
import tempfile
import time
from importlib.metadata import version
from pathlib import Path

import cuts
import slots
import with_cp_sat
import with_highs

ROOT = Path(__file__).resolve().parents[2]
# Strips that a link may lead to from each: all of them on the smallest job; more on the others, and HiGHS does not get past its first
# relaxation in two minutes.
NEAR = {"24x30": 60, "40x50": 20, "80x100": 12, "short": 10, "canoe": 10}


def make(kind, seed, folder):
    subprocess.run(
        ["cargo", "bench", "--quiet", "--bench", "side_by_side", "--", kind, str(seed), str(folder)],
        cwd=ROOT,
        check=True,
        stdout=subprocess.DEVNULL,
    )


def judged(program, folder):
    """The cost that the checker reckons, and whether the plan keeps every rule and covers every course."""
    ran = subprocess.run([program, "check", str(folder)], capture_output=True, text=True)
    cost = re.search(r"together\s+([0-9.]+)", ran.stdout)
    return (float(cost.group(1)) if cost else None), ran.returncode == 0


def line(kind, seed, who, cost, bound, seconds, note, good):
    # A bound may lie a hair above the cost of a plan that is proven best.
    gap = f"{max(0.0, 100 * (cost - bound) / bound):.1f} %" if cost and bound and bound > 0 else "-"
    told = lambda v: f"{v:.1f}" if v is not None else "-"
    verdict = "keeps every rule" if good else "BREAKS RULES" if cost else "no plan"
    print(f"| {kind} | {seed} | {who} | {told(cost)} | {told(bound)} | {gap} | {seconds:.0f} | {note}; {verdict} |", flush=True)


def ours(program, folder, seconds):
    begun = time.time()
    limit = ["--seconds", str(seconds)] if seconds else []
    ran = subprocess.run([program, "lay", str(folder), *limit], capture_output=True, text=True)
    took = time.time() - begun
    import json

    plan = json.loads((folder / "out" / "plan.json").read_text())
    cost, good = judged(program, folder)
    return cost, plan["bound"], took, plan["ended"], good and ran.returncode == 0


def main():
    ask = argparse.ArgumentParser()
    ask.add_argument("kinds", nargs="*", default=list(NEAR))
    ask.add_argument("--seconds", type=float, default=120)
    ask.add_argument("--own-seconds", type=float, default=0, help="ceiling for twinstrake; 0: as it comes")
    ask.add_argument("--seed", type=int, default=1)
    ask.add_argument("--workers", type=int, default=2)
    ask.add_argument("--solvers", default="cp-sat,highs")
    ask.add_argument("--program", default=str(ROOT / "target" / "release" / "twinstrake"))
    ask.add_argument("--keep", help="a folder to leave the jobs and plans in")
    asked = ask.parse_args()
    print(f"python {sys.version.split()[0]}, ortools {version('ortools')}, highspy {version('highspy')}; {asked.seconds:.0f} s a solver, {asked.workers} workers")
    print("| job | seed | solver | cost | bound | gap | s | |")
    print("|---|---|---|---|---|---|---|---|")
    work = Path(asked.keep or tempfile.mkdtemp())
    for kind in asked.kinds:
        folder = work / kind
        make(kind, asked.seed, folder)
        cost, bound, took, note, good = ours(asked.program, folder, asked.own_seconds)
        line(kind, asked.seed, "twinstrake", cost, bound, took, note, good)
        for name, solver in (("cp-sat", with_cp_sat), ("highs", with_highs)):
            if name not in asked.solvers.split(","):
                continue
            shutil.rmtree(folder / "out", ignore_errors=True)
            job = slots.Job(folder)
            begun = time.time()
            filled, bound, status, size = solver.solve(job, asked.seconds, NEAR[kind], asked.workers)
            took = time.time() - begun
            cost, good = None, False
            if filled:
                cuts.write_laying_order(job, filled)
                cost, good = judged(asked.program, folder)
                if cost is not None and cost < job.cost(filled) - 0.01:
                    print(f"the model says {job.cost(filled):.3f}: more than the checker", file=sys.stderr)
            line(kind, asked.seed, name, cost, bound, took, f"{status.lower()}, {size[0]} variables, {size[1]} rows", good)
    if not asked.keep:
        shutil.rmtree(work)


if __name__ == "__main__":
    main()
