"""OR-tools CP-SAT on a job: a circuit through pairs where every course is one piece, else flows from strip to strip."""

import math

from ortools.sat.python import cp_model

from slots import together

# The objective is whole numbers: thousandths of dE00*m.
SCALE = 1000


def solve(job, seconds, near, workers):
    one_piece = all(len(ways) == 1 and len(ways[0]) == 1 for ways in job.ways) and not any(job.serves_more)
    model, read, fixed = circuit(job) if one_piece else flows(job, near)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = workers
    # Found to pay: there is no symmetry to look for, and looking takes longer than the search may.
    solver.parameters.symmetry_level = 0
    solver.parameters.cp_model_probing_level = 0
    status = solver.solve(model)
    size = (len(model.proto.variables), len(model.proto.constraints))
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None, None, solver.status_name(status), size
    bound = fixed + solver.best_objective_bound / SCALE
    return read(solver), bound, solver.status_name(status), size


def circuit(job):
    """A path through pairs, one for each course, as a circuit by way of nowhere; a pair that is not used is a circuit by itself.

    Courses get shorter along the path by the same length each: the cost of a step is its rate times what is left of the first
    length, which a product of rate and place takes into account.
    """
    model = cp_model.CpModel()
    pairs = job.pairs(0)
    metres = [link.metres for link in job.links]
    shorter = (metres[0] - metres[-1]) / (len(metres) - 1)
    alone = [job.match(k, *pairs[0]) for k in range(len(job.slots))]
    alone_shorter = (alone[0] - alone[-1]) / (len(alone) - 1) / alone[0]
    begin = job.greedy()
    place_of = {pair: k for k, pair in begin.items()} if begin else {}
    last = len(job.slots) - 1
    arcs, used, place = [], [], []
    out = [[] for _ in pairs]
    first_lits, last_lits = [], []
    for i, pair in enumerate(pairs):
        u = model.new_bool_var("")
        p = model.new_int_var(0, last, "")
        model.add_hint(u, pair in place_of)
        model.add_hint(p, place_of.get(pair, 0))
        model.add(p == 0).only_enforce_if(~u)
        used.append(u)
        place.append(p)
        arcs.append((i + 1, i + 1, ~u))
        first, final = model.new_bool_var(""), model.new_bool_var("")
        model.add_hint(first, place_of.get(pair) == 0)
        model.add_hint(final, place_of.get(pair) == last)
        model.add(p == 0).only_enforce_if(first)
        model.add(p == last).only_enforce_if(final)
        arcs.append((0, i + 1, first))
        arcs.append((i + 1, 0, final))
        first_lits.append(first)
        last_lits.append(final)
    objective = []
    for i, (a, b) in enumerate(pairs):
        for j, (c, d) in enumerate(pairs):
            if {a, b} & {c, d}:
                continue
            v = model.new_bool_var("")
            model.add_hint(v, (a, b) in place_of and place_of.get((c, d)) == place_of[a, b] + 1)
            model.add(place[j] == place[i] + 1).only_enforce_if(v)
            arcs.append((i + 1, j + 1, v))
            out[i].append((v, round(SCALE * (job.seam_rate(a, c) + job.seam_rate(b, d)))))
    model.add_circuit(arcs)
    model.add(sum(used) == len(job.slots))
    by_strip = {}
    for u, (a, b) in zip(used, pairs):
        by_strip.setdefault(a, []).append(u)
        by_strip.setdefault(b, []).append(u)
    for lits in by_strip.values():
        model.add_at_most_one(lits)
    for i, pair in enumerate(pairs):
        # Rate of the step from this pair, and rate times place: what it costs is (first metres - shorter * place) * rate.
        most = max(r for _, r in out[i])
        rate = sum(r * v for v, r in out[i])
        rate_var = model.new_int_var(0, most, "")
        model.add(rate_var == rate)
        product = model.new_int_var(0, most * last, "")
        model.add_multiplication_equality(product, [rate_var, place[i]])
        objective.append(metres[0] * rate_var)
        objective.append(-shorter * product)
        # A pair by itself costs in proportion to its course, by its place again.
        own = job.match(0, *pair) * SCALE
        objective.append(own * used[i])
        objective.append(-own * alone_shorter * place[i])
    model.minimize(sum(objective))

    def read(solver):
        return {solver.value(place[i]): pairs[i] for i in range(len(pairs)) if solver.boolean_value(used[i])}

    return model, read, 2 * len(job.slots) * job.weights["cut"]


def flows(job, near):
    """A literal for each slot and pair, and one for each link, side and two strips."""
    model = cp_model.CpModel()
    cost, uses = [], [[] for _ in range(job.n)]
    ends, lits = [], []
    begin = job.greedy() or {}
    for k in range(len(job.slots)):
        lit = {p: model.new_bool_var("") for p in job.pairs(k)}
        on_side = [{}, {}]
        for (a, b), v in lit.items():
            cost.append((v, job.price(k, a, b)))
            on_side[0].setdefault(a, []).append(v)
            on_side[1].setdefault(b, []).append(v)
            uses[a].append((v, job.takes(k, a, b)))
            uses[b].append((v, job.takes(k, b, a)))
            model.add_hint(v, begin.get(k) == (a, b))
        ends.append(on_side)
        lits.append(lit)
    for ways in job.ways:
        model.add_exactly_one(v for way in ways for v in lits[way[0]].values())
        for fore, *after in ways:
            for other in after:
                model.add(sum(lits[fore].values()) == sum(lits[other].values()))
    for a, all_uses in enumerate(uses):
        if not job.serves_more[a]:
            model.add_at_most_one(v for v, _ in all_uses)
            continue
        # Tenths of a millimetre, in favour of the saw.
        model.add(sum(math.ceil(10 * takes) * v for v, takes in all_uses) <= math.floor(10 * job.has(a)))
        is_cut = model.new_bool_var("")
        cost.append((is_cut, job.weights["cut"]))
        model.add_hint(is_cut, any(a in pair for pair in begin.values()))
        for v, _ in all_uses:
            model.add_implication(v, is_cut)
    lists = job.near(near)
    for link in job.links:
        for side in range(2):
            one, other = (together(ends, slots, side) for slots in (link.ones, link.others))
            first = job.met(begin, link, side)
            out, into = {}, {}
            for a in one:
                for b in other:
                    if b in lists[a] or (a, b) == first:
                        v = model.new_bool_var("")
                        cost.append((v, job.rate(link, a, b)))
                        out.setdefault(a, []).append(v)
                        into.setdefault(b, []).append(v)
                        model.add_hint(v, (a, b) == first)
            for here, there in ((one, out), (other, into)):
                for strip, pair_lits in here.items():
                    model.add(sum(there.get(strip, [])) == sum(pair_lits))
    model.minimize(sum(round(SCALE * c) * v for v, c in cost))

    def read(solver):
        chosen = ((k, p) for k, lit in enumerate(lits) for p, v in lit.items() if solver.boolean_value(v))
        return dict(chosen)

    return model, read, 0.0
