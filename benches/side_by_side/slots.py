"""A job as slots to fill with pairs: what both outside solvers are given.

A slot is a stretch of a course that takes one piece on each side: the whole course, or what lies forward or abaft of its joint.
Every slot takes an ordered pair of sisters (port, starboard), every strip serves one slot at most. Two slots that meet along
a seam or at a joint are linked: a link costs so much for each metre and side, by which two strips meet there.

Lengths in mm, costs in dE00*m, as docs/model.md counts them. Register plays no part here: where the strips are cut is settled
afterwards (cuts.py).
"""

import json
from dataclasses import dataclass
from pathlib import Path


@dataclass
class Slot:
    course: int
    start: float  # nominal ends on the skin
    end: float
    ahead: float  # allowance or half scarf beyond them
    abaft: float

    @property
    def length(self):
        return self.end - self.start + self.ahead + self.abaft


@dataclass
class Link:
    one: int
    other: int
    metres: float
    kind: str  # "seam" or "joint"


class Job:
    def __init__(self, folder):
        self.folder = Path(folder)
        told = json.loads((self.folder / "numbers.json").read_text())
        self.__dict__.update(told)
        self.n = len(self.strips)
        self.slots, self.links = [], []
        self.fixed = 0.0
        if all(self.fits_whole(c) for c in self.courses):
            self.one_piece()
        else:
            self.one_joint_each()
        # Every slot is cut from two strips of its own.
        self.fixed += 2 * len(self.slots) * self.weights["cut"]

    def fits_whole(self, course):
        longest = max(s["length"] for s in self.strips)
        return course["length"] + sum(course["allow"]) <= longest

    def x(self, course, s):
        c = self.courses[course]
        if s < 0:
            return c["from"] + s
        if s > c["length"]:
            return c["to"] + s - c["length"]
        return c["from"] + (c["to"] - c["from"]) * s / c["length"]

    def s(self, course, x):
        c = self.courses[course]
        return (x - c["from"]) / (c["to"] - c["from"]) * c["length"]

    def one_piece(self):
        for i, c in enumerate(self.courses):
            self.slots.append(Slot(i, 0.0, c["length"], *c["allow"]))
        self.link_neighbours()

    def one_joint_each(self):
        """A joint in every course, at the places of joint_pattern: its length is then a number, and all costs are linear."""
        for i, (c, joint) in enumerate(zip(self.courses, self.joint_pattern())):
            self.slots.append(Slot(i, 0.0, joint, c["allow"][0], self.half_scarf))
            self.slots.append(Slot(i, joint, c["length"], self.half_scarf, c["allow"][1]))
            self.links.append(Link(2 * i, 2 * i + 1, 1.0, "joint"))
            self.fixed += self.weights["joint"]
        self.link_neighbours()

    def joint_pattern(self):
        """Three places by turns, as near the middle as the zone and the distance between joints let them be."""
        middle = sum(c["to"] + c["from"] for c in self.courses) / 2 / len(self.courses)
        edges = []
        for i, c in enumerate(self.courses):
            edges.append([(self.x(i, a), self.x(i, b)) for a, b in c["windows"]])
        fore = min(max(b for a, b in w if b <= middle) for w in edges)
        aft = max(min(a for a, b in w if a >= middle) for w in edges)
        # A hair inside, so that rounding to a thousandth of a millimetre breaks no rule.
        places = [fore - 0.5, aft + 0.5, fore - 0.5 - self.clear - 1.0]
        return [round(self.s(i, places[i % 3]), 3) for i in range(len(self.courses))]

    def link_neighbours(self):
        by_course = {}
        for k, slot in enumerate(self.slots):
            by_course.setdefault(slot.course, []).append(k)
        for course in range(len(self.courses) - 1):
            for one in by_course[course]:
                for other in by_course[course + 1]:
                    ends = [self.ends(one), self.ends(other)]
                    met = min(e[1] for e in ends) - max(e[0] for e in ends)
                    if met > 0:
                        self.links.append(Link(one, other, met / 1000, "seam"))

    def ends(self, k):
        slot = self.slots[k]
        return self.x(slot.course, slot.start), self.x(slot.course, slot.end)

    def seam_rate(self, a, b):
        w, one, other = self.weights, self.strips[a], self.strips[b]
        step = w["board"]
        if one["board"] == other["board"]:
            step = min(step, w["skip"] * max(0, abs(one["seq"] - other["seq"]) - 2))
        return self.difference[a][b] + step

    def rate(self, link, a, b):
        """What two strips on one side cost along a link."""
        per_metre = self.seam_rate(a, b) if link.kind == "seam" else self.difference[a][b] / 2
        return link.metres * per_metre

    def match(self, k, a, b):
        """What a pair costs by itself in a slot."""
        w = self.weights
        apart = abs(self.strips[a]["seq"] - self.strips[b]["seq"])
        foster = min(w["foster"], w["skip"] * (apart - 1))
        along = self.ends(k)
        return (along[1] - along[0]) / 1000 * (self.difference[a][b] + foster)

    def pairs(self, k):
        """Ordered pairs of sisters that are long enough for a slot.

        Other slices of one board make a pair as well, and cost a little more; the best plans known have hardly any, and with
        them the models would have five times the pairs.
        """
        long = [s["length"] >= self.slots[k].length for s in self.strips]
        board = [s["board"] for s in self.strips]
        seq = [s["seq"] for s in self.strips]
        return [
            (a, b)
            for a in range(self.n)
            for b in range(self.n)
            if board[a] == board[b] and abs(seq[a] - seq[b]) == 1 and long[a] and long[b]
        ]

    def near(self, how_many):
        """For each strip, those that cost least beside it: a link goes to these alone, or the models get too large."""
        by_rate = lambda a: sorted((b for b in range(self.n) if b != a), key=lambda b: self.seam_rate(a, b))
        lists = [set(by_rate(a)[:how_many]) for a in range(self.n)]
        for a in range(self.n):
            for b in list(lists[a]):
                lists[b].add(a)
        return lists

    def cost(self, filled):
        """The cost of a filling, register aside."""
        total = self.fixed
        for k, (a, b) in enumerate(filled):
            total += self.match(k, a, b)
        for link in self.links:
            for side in range(2):
                total += self.rate(link, filled[link.one][side], filled[link.other][side])
        return total

    def greedy(self):
        """Slot after slot, those with the fewest pairs first, the pair that costs least beside what is there: where solvers begin."""
        linked = {}
        for link in self.links:
            linked.setdefault(link.one, []).append((link, link.other))
            linked.setdefault(link.other, []).append((link, link.one))
        pairs = [self.pairs(k) for k in range(len(self.slots))]
        order = sorted(range(len(self.slots)), key=lambda k: (len(pairs[k]) // 40, k))
        filled, used = [None] * len(self.slots), set()
        for k in order:
            best = None
            for a, b in pairs[k]:
                if a in used or b in used or abs(self.strips[a]["seq"] - self.strips[b]["seq"]) > 1:
                    continue
                cost = self.match(k, a, b)
                for link, other in linked.get(k, []):
                    if filled[other]:
                        cost += self.rate(link, a, filled[other][0]) + self.rate(link, b, filled[other][1])
                # Slices left without a sister are of little use later.
                low = min(self.strips[a]["seq"], self.strips[b]["seq"])
                cost += 0.001 if low % 2 == 0 else 0.0
                if best is None or cost < best[0]:
                    best = (cost, a, b)
            if best is None:
                return None
            filled[k] = best[1:]
            used.update(best[1:])
        return filled
