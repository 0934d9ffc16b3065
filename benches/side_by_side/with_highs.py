"""HiGHS on a job: a binary for each slot and pair, a flow from strip to strip along each link and side."""

import highspy
import numpy as np

from slots import together


def solve(job, seconds, near, workers):
    cost, integer = [], []
    rows, lower, upper = [], [], []

    def column(price, whole):
        cost.append(price)
        integer.append(whole)
        return len(cost) - 1

    def row(terms, low, high):
        rows.append(terms)
        lower.append(low)
        upper.append(high)

    begin = job.greedy() or {}
    start = {}
    uses, ends, pairs = [[] for _ in range(job.n)], [], []
    for k in range(len(job.slots)):
        col = {p: column(job.price(k, *p), True) for p in job.pairs(k)}
        on_side = [{}, {}]
        for (a, b), c in col.items():
            on_side[0].setdefault(a, []).append(c)
            on_side[1].setdefault(b, []).append(c)
            uses[a].append((c, job.takes(k, a, b)))
            uses[b].append((c, job.takes(k, b, a)))
        if k in begin:
            start[col[begin[k]]] = 1.0
        ends.append(on_side)
        pairs.append(col)
    for ways in job.ways:
        row([(c, 1.0) for way in ways for c in pairs[way[0]].values()], 1.0, 1.0)
        for fore, *after in ways:
            for other in after:
                row([(c, 1.0) for c in pairs[fore].values()] + [(c, -1.0) for c in pairs[other].values()], 0.0, 0.0)
    for a, all_uses in enumerate(uses):
        if not job.serves_more[a]:
            row([(c, 1.0) for c, _ in all_uses], 0.0, 1.0)
            continue
        row(all_uses, 0.0, job.has(a))
        is_cut = column(job.weights["cut"], True)
        if any(a in pair for pair in begin.values()):
            start[is_cut] = 1.0
        for c, _ in all_uses:
            row([(is_cut, 1.0), (c, -1.0)], 0.0, 1.0)
    lists = job.near(near)
    for link in job.links:
        for side in range(2):
            one, other = (together(ends, slots, side) for slots in (link.ones, link.others))
            first = job.met(begin, link, side)
            out, into = {}, {}
            for a in one:
                for b in other:
                    if b in lists[a] or (a, b) == first:
                        c = column(job.rate(link, a, b), False)
                        out.setdefault(a, []).append(c)
                        into.setdefault(b, []).append(c)
                        if (a, b) == first:
                            start[c] = 1.0
            for here, there in ((one, out), (other, into)):
                for strip, cols in here.items():
                    row([(c, 1.0) for c in there.get(strip, [])] + [(c, -1.0) for c in cols], 0.0, 0.0)

    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(cost), len(rows)
    lp.col_cost_ = np.array(cost)
    lp.col_lower_, lp.col_upper_ = np.zeros(len(cost)), np.ones(len(cost))
    lp.row_lower_, lp.row_upper_ = np.array(lower), np.array(upper)
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_ = np.cumsum([0] + [len(r) for r in rows])
    lp.a_matrix_.index_ = np.array([c for r in rows for c, _ in r])
    lp.a_matrix_.value_ = np.array([v for r in rows for _, v in r])
    lp.integrality_ = [highspy.HighsVarType.kInteger if i else highspy.HighsVarType.kContinuous for i in integer]
    highs = highspy.Highs()
    highs.setOptionValue("output_flag", False)
    highs.setOptionValue("time_limit", float(seconds))
    highs.setOptionValue("threads", workers)
    highs.setOptionValue("mip_rel_gap", 0.0)
    highs.passModel(lp)
    if start:
        solution = highspy.HighsSolution()
        values = np.zeros(len(cost))
        for c, v in start.items():
            values[c] = v
        solution.col_value = list(values)
        highs.setSolution(solution)
    highs.run()
    info = highs.getInfo()
    status = highs.modelStatusToString(highs.getModelStatus())
    size = (len(cost), len(rows))
    if info.primal_solution_status != 2:
        return None, None, status, size
    values = highs.getSolution().col_value
    filled = {k: p for k, col in enumerate(pairs) for p, c in col.items() if values[c] > 0.5}
    return filled, info.mip_dual_bound, status, size
