"""Where the strips are cut, once it is settled which go where; and the laying order, as docs/formats.md describes it."""

import csv

import highspy


def cuts(job, filled):
    """The cuts that bring the figure as near into register as they can, all marked ends to the bow: a linear programme.

    A difference in register of a metre or more costs no more than a metre; here it does, which can only make the cuts a little less good.
    """
    highs = highspy.Highs()
    highs.setOptionValue("output_flag", False)
    tips, cut = {}, {}
    for k, (a, b) in filled.items():
        slot = job.slots[k]
        tips[k] = job.x(slot.course, slot.start - slot.ahead)
        low, high = job.common(a, b)
        cut[k] = highs.addVariable(lb=low, ub=max(high - slot.length, low))
    for strip in range(job.n):
        here = packed(job, filled, strip)
        for before, after in zip(here, here[1:]):
            highs.addConstr(cut[after] - cut[before] >= job.slots[before].length + job.saw)
    total = 0.0
    for link in job.links:
        if link.kind != "seam":
            continue
        k, l = (next(k for k in slots if k in filled) for slots in (link.ones, link.others))
        for side in range(2):
            one, other = filled[k][side], filled[l][side]
            if job.strips[one]["board"] != job.strips[other]["board"]:
                continue
            apart = highs.addVariable(lb=0.0)
            by = (tips[k] - cut[k]) - (tips[l] - cut[l])
            highs.addConstr(apart >= by)
            highs.addConstr(apart + by >= 0.0)
            total = total + link.metres * job.weights["shift"] / 1000 * apart
    if not isinstance(total, float):
        highs.minimize(total)
    else:
        highs.run()
    if highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        raise RuntimeError("what fits by length can't be cut")
    values = highs.getSolution().col_value
    return {k: max(0.0, values[v.index]) for k, v in cut.items()}


def packed(job, filled, strip):
    """The slots that a strip serves, from its marked end: first those that are packed from there."""
    here = [k for k, pair in filled.items() if strip in pair]
    return sorted(here, key=lambda k: (not job.from_marked_end(*filled[k]), k))


def write_laying_order(job, filled):
    at = cuts(job, filled)
    rows = []
    number, last = 1, None
    for k, (port, starboard) in sorted(filled.items()):
        slot = job.slots[k]
        number = number + 1 if slot.course == last else 1
        last = slot.course
        low_on_port = job.strips[port]["seq"] < job.strips[starboard]["seq"]
        start, end = slot.start - slot.ahead, slot.end + slot.abaft
        # Whole thousandths of a millimetre, so that cut and place agree to the last digit.
        start_um, end_um = round(start * 1000), round(end * 1000)
        cut_um = round(at[k] * 1000)
        for side, strip, mate in (("port", port, starboard), ("starboard", starboard, port)):
            high = low_on_port == (side == "port")
            # Model, "Frames": h = -1 on port toward the keel; marked end to the bow is -1, the high face +1.
            h = -1 if side == "port" else 1
            edge = "A" if -1 * (1 if high else -1) * h > 0 else "B"
            rows.append(
                {
                    "panel": job.courses[slot.course]["panel"],
                    "course": job.courses[slot.course]["name"],
                    "side": side,
                    "piece": number,
                    "strip": job.strips[strip]["name"],
                    "mate": job.strips[mate]["name"],
                    "from": f"{start_um / 1000} mm",
                    "to": f"{end_um / 1000} mm",
                    "cut_from": f"{cut_um / 1000} mm",
                    "cut_to": f"{(cut_um + end_um - start_um) / 1000} mm",
                    "bow_end": "mark",
                    "next_edge": edge,
                    "face_out": "high" if high else "low",
                }
            )
    out = job.folder / "out"
    out.mkdir(exist_ok=True)
    with open(out / "laying-order.csv", "w", newline="") as file:
        writer = csv.DictWriter(file, ["order"] + list(rows[0]))
        writer.writeheader()
        for order, row in enumerate(rows, 1):
            writer.writerow({"order": order, **row})
