"""A job as slots to fill with pairs: what both outside solvers are given.

A slot is a stretch of a course that takes one piece on each side: the whole course, or what lies forward or abaft of its joint.
A course has one way to be laid, or two: whole, or with its joint. Every slot of the way that is taken is filled with an ordered
pair of sisters (port, starboard). A strip serves as many slots as fit on it with the saw between. What meets along a seam or
at a joint is linked: a link costs so much for each metre and side, by which two strips meet there.

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
    joint: float = 0.0  # what the joint at its after end costs, looks aside

    @property
    def length(self):
        return self.end - self.start + self.ahead + self.abaft


@dataclass
class Link:
    """Two courses along a stretch of seam, or the two sides of a joint; of the slots on either hand one at most is filled."""

    ones: tuple
    others: tuple
    metres: float
    kind: str  # "seam" or "joint"


class Job:
    def __init__(self, folder):
        self.folder = Path(folder)
        told = json.loads((self.folder / "numbers.json").read_text())
        self.__dict__.update(told)
        self.n = len(self.strips)
        for strip in self.strips:
            # A strip serves with its longest stretch without a defect.
            strip["low"], strip["high"] = max(strip["clear"], key=lambda c: c[1] - c[0], default=(0.0, 0.0))
        self.slots, self.links = [], []
        # For each course its ways, for each way its slots.
        self.ways = [[] for _ in self.courses]
        self.whole()
        if self.most > 0:
            self.jointed()
        self.link_neighbours()
        least = min(slot.length for slot in self.slots)
        self.serves_more = [2 * least + self.saw <= s["high"] - s["low"] for s in self.strips]

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

    def add(self, *slot):
        self.slots.append(Slot(*slot))
        return len(self.slots) - 1

    def whole(self):
        """Courses that some pair is long enough for, in one piece."""
        for i, c in enumerate(self.courses):
            if any(self.room(a, b) >= c["length"] + sum(c["allow"]) for a, b in self.books()):
                self.ways[i].append((self.add(i, 0.0, c["length"], *c["allow"]),))

    def jointed(self):
        """A joint in every course that has a place for one, as joint_places says: all costs are then linear."""
        for i, (c, joint) in enumerate(zip(self.courses, self.joint_places())):
            if joint is None:
                continue
            fore = self.add(i, 0.0, joint, c["allow"][0], self.half_scarf, self.weights["joint"])
            after = self.add(i, joint, c["length"], self.half_scarf, c["allow"][1])
            self.ways[i].append((fore, after))
            self.links.append(Link((fore,), (after,), 1.0, "joint"))

    def joint_places(self):
        """For each course the place nearest to its middle that zones leave, and joints of the courses before it."""
        placed = []
        # A hair inside, so that rounding to a thousandth of a millimetre breaks no rule.
        hair = 0.5
        for i, c in enumerate(self.courses):
            near = [x for j, x in placed if i - j <= self.clear_courses and self.courses[j]["panel"] == c["panel"]]
            middle = (c["from"] + c["to"]) / 2
            windows = [(self.x(i, a) + hair, self.x(i, b) - hair) for a, b in c["windows"]]
            ends = [x for window in windows for x in window]
            beside = [x + side * (self.clear + hair) for x in near for side in (-1, 1)]
            fits = [
                x
                for x in [middle, *ends, *beside]
                if any(a <= x <= b for a, b in windows) and all(abs(x - other) >= self.clear for other in near)
            ]
            if fits:
                placed.append((i, min(fits, key=lambda x: abs(x - middle))))
        return [round(self.s(i, dict(placed)[i]), 3) if i in dict(placed) else None for i in range(len(self.courses))]

    def link_neighbours(self):
        """Along a seam a new stretch begins wherever a slot does: on each, one slot of either course is filled."""
        for one, other in self.seams:
            slots = [[k for way in self.ways[course] for k in way] for course in (one, other)]
            ends = [self.ends(k) for both in slots for k in both]
            fore = max(self.courses[one]["from"], self.courses[other]["from"])
            aft = min(self.courses[one]["to"], self.courses[other]["to"])
            stops = sorted({x for end in ends for x in end if fore < x < aft} | {fore, aft})
            for start, end in zip(stops, stops[1:]):
                # Two reckonings of one place differ in their last digits.
                if end - start > 1e-6:
                    middle = (start + end) / 2
                    there = [tuple(k for k in both if self.ends(k)[0] < middle < self.ends(k)[1]) for both in slots]
                    self.links.append(Link(*there, (end - start) / 1000, "seam"))

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
        """What a pair of sisters costs by its looks in a slot."""
        along = self.ends(k)
        return (along[1] - along[0]) / 1000 * self.difference[a][b]

    def price(self, k, a, b):
        """The same with the joint, and with the cut of strips that serve only once."""
        cut = sum(self.weights["cut"] for strip in (a, b) if not self.serves_more[strip])
        return self.match(k, a, b) + self.slots[k].joint + cut

    def books(self):
        """Ordered pairs of sisters.

        Other slices of one board make a pair as well, and cost a little more; the best plans known have hardly any, and with
        them the models would have five times the pairs.
        """
        at = {(s["board"], s["seq"]): i for i, s in enumerate(self.strips)}
        for a, strip in enumerate(self.strips):
            for by in (-1, 1):
                b = at.get((strip["board"], strip["seq"] + by))
                if b is not None:
                    yield a, b

    def common(self, a, b):
        """The stretch that both strips of a pair have without a defect."""
        return max(self.strips[a]["low"], self.strips[b]["low"]), min(self.strips[a]["high"], self.strips[b]["high"])

    def room(self, a, b):
        low, high = self.common(a, b)
        return high - low

    def pairs(self, k):
        """Ordered pairs of sisters that are long enough for a slot."""
        return [(a, b) for a, b in self.books() if self.room(a, b) >= self.slots[k].length]

    def from_marked_end(self, a, b):
        """Pieces of every other book of a board are packed from its marked end, those of the books between from its plain end.

        So the two books that a strip belongs to never meet in it but in the middle, and what fits by length can be cut.
        """
        return min(self.strips[a]["seq"], self.strips[b]["seq"]) % 2 == 1

    def takes(self, k, a, b):
        """How much of strip a a slot takes that it fills together with b, the saw included."""
        strip, (low, high) = self.strips[a], self.common(a, b)
        lost = low - strip["low"] if self.from_marked_end(a, b) else strip["high"] - high
        return self.slots[k].length + lost + self.saw

    def has(self, a):
        """How much of it there is: behind the last cut no saw goes."""
        return self.strips[a]["high"] - self.strips[a]["low"] + self.saw

    def near(self, how_many):
        """For each strip, those that cost least beside it: a link goes to these alone, or the models get too large."""
        by_rate = lambda a: sorted((b for b in range(self.n) if b != a or self.serves_more[a]), key=lambda b: self.seam_rate(a, b))
        lists = [set(by_rate(a)[:how_many]) for a in range(self.n)]
        for a in range(self.n):
            for b in list(lists[a]):
                lists[b].add(a)
        return lists

    def there(self, filled, slots):
        """The pair in whichever of some slots is filled."""
        return next(filled[k] for k in slots if k in filled)

    def met(self, filled, link, side):
        """The two strips that meet along a link on one side; None where nothing is filled there."""
        if not all(any(k in filled for k in slots) for slots in (link.ones, link.others)):
            return None
        return self.there(filled, link.ones)[side], self.there(filled, link.others)[side]

    def cost(self, filled):
        """The cost of a filling, register aside."""
        total = sum(self.price(k, a, b) for k, (a, b) in filled.items())
        total += self.weights["cut"] * len({s for pair in filled.values() for s in pair if self.serves_more[s]})
        for link in self.links:
            both = (self.met(filled, link, side) for side in range(2))
            total += sum(self.rate(link, *two) for two in both if two)
        return total

    def greedy(self):
        """Course after course, the longest first, the pairs that cost least beside what is there: where solvers begin.

        A course is laid whole where a pair is left for it, else with its joint. Where a course is left over, all is begun anew with
        wood counting more that is cut off and serves no more.
        """
        plans = (self.filled(waste) for waste in (0.0, 1.0, 5.0, 20.0))
        return next((filled for filled in plans if filled), None)

    def filled(self, waste):
        linked = {}
        for link in self.links:
            for here, there in ((link.ones, link.others), (link.others, link.ones)):
                for k in here:
                    linked.setdefault(k, []).append((link, there))
        pairs = [self.pairs(k) for k in range(len(self.slots))]
        least = min(slot.length for slot in self.slots)
        left = [self.has(a) for a in range(self.n)]
        filled = {}

        def cost(k, a, b):
            total = self.price(k, a, b)
            for strip, mate in ((a, b), (b, a)):
                over = left[strip] - self.takes(k, strip, mate)
                if over < 0:
                    return None
                if over < least:
                    total += waste * over / 1000
                if self.serves_more[strip] and left[strip] == self.has(strip):
                    total += self.weights["cut"]
            for link, others in linked.get(k, []):
                for other in (other for other in others if other in filled):
                    total += sum(self.rate(link, strip, filled[other][side]) for side, strip in enumerate((a, b)))
            # Slices left without a sister are of little use later.
            return total + (0.0 if self.from_marked_end(a, b) else 0.001)

        def fill(k):
            costs = ((cost(k, a, b), a, b) for a, b in pairs[k])
            best = min((c for c in costs if c[0] is not None), default=None)
            if best is None:
                return False
            a, b = filled[k] = best[1:]
            left[a] -= self.takes(k, a, b)
            left[b] -= self.takes(k, b, a)
            return True

        def empty(k):
            if k in filled:
                a, b = filled.pop(k)
                left[a] += self.takes(k, a, b)
                left[b] += self.takes(k, b, a)
            return False

        def lay(way):
            return all(fill(k) for k in way) or any(empty(k) for k in way)

        by_length = sorted(range(len(self.courses)), key=lambda i: (-self.courses[i]["length"], i))
        return filled if all(any(lay(way) for way in self.ways[i]) for i in by_length) else None


def together(ends, slots, side):
    """For each strip all variables that put it into one of some slots."""
    all_of = {}
    for k in slots:
        for strip, some in ends[k][side].items():
            all_of.setdefault(strip, []).extend(some)
    return all_of
