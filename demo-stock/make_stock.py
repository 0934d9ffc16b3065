#!/usr/bin/env python3
"""Makes the demo job: an invented small open double-ender of 5 m, and a rack of invented wood for it.

    python3 demo-stock/make_stock.py          writes forms.csv, offsets.csv, boards.csv and strips.csv beside this script

boat.toml is written by hand. Only the standard library; the same bytes on every run and every Python 3.

What is meant to be in it, so that it can be seen that the planner deals with it:
- Sixteen forms between two raking stems, and a few stations more across each stem, where the girth from the sheer
  to the stem is short and grows fast. The girths are what a tape shows, the offsets what the lines say.
- Topside: 16 courses from the sheer down, the same girth all along, cut off by the stems at both ends. Bottom: what is left down to the
  centreline, so that its courses run out and get shorter and shorter, and last the keel plank, once for both sides.
- 14 boards in three shades: eleven sawn long enough to run through, three short ones (2.7 to 3.3 m) whose strips must
  be joined for the long courses, but which run through the short ones. Two long strips are of no known board.
- About a quarter more wood than the courses need, some of it in lengths that fit nowhere.
- Colours drift along each board from slice to slice; neighbours match best.
- Knots, checks right across, a slice that was lost at the saw, a pair of named sisters.

Colours: pale after the spruce row, middle after the northern white-cedar row and dark after the western redcedar row
of a list of plausible wood colours (CIELAB; the first published, Wood Research (Bratislava), temperature and UV
effects on the colour of fir and spruce wood, abstract; the other two typical values from memory). The boards are ours.
"""

import math
import random
from pathlib import Path

HERE = Path(__file__).resolve().parent

# Board: shade, slices, length in mm, drift of L* per slice, how the colour was taken.
BOARDS = {
    "A": ("pale", 4, 5240, 0.35, "lab"),
    "B": ("pale", 5, 5310, -0.30, "lab"),
    "C": ("pale", 4, 5205, 0.20, "lab"),
    "D": ("middle", 6, 5265, 0.45, "lab"),
    "E": ("middle", 4, 5190, -0.40, "hex"),
    "F": ("middle", 4, 5330, 0.30, "hex"),
    "G": ("middle", 4, 5215, -0.25, "lab"),
    "H": ("dark", 5, 5285, 0.50, "lab"),
    "J": ("dark", 4, 5230, -0.35, "lab"),
    "K": ("dark", 4, 5200, 0.40, "lab"),
    "L": ("dark", 2, 5300, 0.30, "lab"),
    "M": ("pale", 10, 3270, 0.25, "lab"),
    "N": ("middle", 10, 2980, -0.30, "lab"),
    "P": ("dark", 8, 2740, 0.30, "hex"),
}

# L*, a*, b* in the middle of a shade, and how far boards of it differ.
SHADES = {
    "pale": ((79.0, 6.6, 21.4), (1.6, 0.7, 0.9)),
    "middle": ((70.0, 7.4, 24.0), (1.8, 0.8, 1.2)),
    "dark": ((57.0, 11.2, 22.6), (2.2, 1.0, 1.4)),
}
GRAIN = {"pale": "straight", "middle": "straight", "dark": "wavy"}

# Board: defects, slice by slice, and a note.
FAULTS = {
    "A": ("3: 2655-2690", "knot in slice 3"),
    "B": ("5: 4830", "slice 5 checked right across near the plain end"),
    "D": ("2: 1310-1345; 2: 3920", "knot and a check right across in slice 2"),
    "E": ("4: 3105", "slice 4 broke in the rack"),
    "H": ("5: 0-140", "end checks in slice 5"),
    "J": ("1: 5120-5200", "end checks in slice 1"),
    "M": ("7: 890-925", "knot in slice 7"),
    "P": ("2: 2210", "slice 2 checked right across"),
}
SPOILED = {("N", 6)}  # fell to pieces at the saw


class Dice:
    """Random numbers that no version of Python changes: only random() is promised to stay the same."""

    def __init__(self, seed):
        self.source = random.Random(seed)

    def about(self, spread):
        """A number about 0, nearly normal, with this standard deviation."""
        return spread * (sum(self.source.random() for _ in range(12)) - 6.0)


def hexed(lab):
    """CIELAB under D65 to #rrggbb (IEC 61966-2-1)."""
    fy = (lab[0] + 16) / 116
    f = (fy + lab[1] / 500, fy, fy - lab[2] / 200)
    xyz = [
        white * (t**3 if t > 6 / 29 else 3 * (6 / 29) ** 2 * (t - 4 / 29))
        for white, t in zip((0.95046, 1.0, 1.08906), f)
    ]
    rows = ((3.2406, -1.5372, -0.4986), (-0.9689, 1.8758, 0.0415), (0.0557, -0.2040, 1.0570))
    text = "#"
    for row in rows:
        linear = sum(a * b for a, b in zip(row, xyz))
        light = 12.92 * linear if linear <= 0.0031308 else 1.055 * linear ** (1 / 2.4) - 0.055
        text += f"{round(255 * min(max(light, 0), 1)):02x}"
    return text


def inches(mm):
    """Feet and inches to the eighth below, as read off a tape."""
    eighths = int(mm / 25.4 * 8)
    feet, eighths = divmod(eighths, 96)
    whole, part = divmod(eighths, 8)
    if part == 0:
        return f"{feet}' {whole}\""
    shrink = math.gcd(part, 8)
    return f"{feet}' {whole} {part // shrink}/{8 // shrink}\""


# The lines of the boat. Distances in mm: x aft of the bow, half-breadth from the centreplane, height above the keel.
HEAD, TAIL = 18.0, 4985.0  # where the sheer meets the stems
FOREFOOT, HEEL = 900.0, 800.0  # how far the stems rake
GIRTH = 16 * 19.0  # of the topside
MOULDS = [420 + 268 * n for n in range(16)]
def middle(x):
    """-1 at the bow, 0 amidships, 1 at the stern."""
    return 2 * (x - HEAD) / (TAIL - HEAD) - 1


def keel(x):
    """Height of the rabbet: on the keel nothing, up the stems to the sheer."""
    fore = max(0.0, 1 - (x - HEAD) / FOREFOOT)
    aft = max(0.0, 1 - (TAIL - x) / HEEL)
    return sheer(x) * max(fore, aft) ** 3


def sheer(x):
    """Height of the sheer."""
    return 335 + 130 * middle(x) ** 2


def section(x):
    """Points from the sheer to the rabbet, close together."""
    beam = 393 * (1 - abs(middle(x)) ** 2.3)
    top, foot = sheer(x), keel(x)
    full = 1.25 + 0.85 * (1 - middle(x) ** 2)  # 1 is a wedge, 2 an ellipse
    points = []
    for n in range(2001):
        part = 0.5 * math.pi * n / 2000
        points.append((beam * math.cos(part) ** (2 / full), top - (top - foot) * math.sin(part) ** (2 / full)))
    return points


def along(points):
    """How far each point lies from the first, along them."""
    far = [0.0]
    for one, other in zip(points, points[1:]):
        far.append(far[-1] + math.dist(one, other))
    return far


def points_between(points, start, stop, count):
    """So many points, evenly spread between two distances along a section."""
    far = along(points)
    found = []
    for n in range(count):
        wanted = start + (stop - start) * n / max(count - 1, 1)
        i = min(max(next((i for i, f in enumerate(far) if f >= wanted), len(far) - 1), 1), len(far) - 1)
        part = (wanted - far[i - 1]) / (far[i] - far[i - 1])
        found.append(tuple(a + (b - a) * part for a, b in zip(points[i - 1], points[i])))
    return found


def meets_stem(on_stem, off_stem):
    """Where the lower edge of the topside meets a stem, to the millimetre: there the bottom begins."""
    while abs(on_stem - off_stem) > 0.1:
        x = 0.5 * (on_stem + off_stem)
        if along(section(x))[-1] < GIRTH:
            on_stem = x
        else:
            off_stem = x
    return round(off_stem)


def forms():
    """Every form: its name and how far it stands from the bow."""
    fore = [("stem", HEAD), ("F1", 60), ("F2", 115), ("F3", 180), ("F4", meets_stem(HEAD, 700))]
    aft = [("A4", meets_stem(TAIL, 4300)), ("A3", 4850), ("A2", 4900), ("A1", 4945), ("stern", TAIL)]
    moulds = [(str(n + 1), x) for n, x in enumerate(MOULDS)]
    return fore + moulds + aft


def lines():
    """The rows of forms.csv and of offsets.csv."""
    girths, offsets = [], []
    for name, x in forms():
        points = section(x)
        girth = along(points)[-1]
        # Where only a hair of the bottom is there, it is its foremost or aftmost point.
        girth = GIRTH if abs(girth - GIRTH) < 1 else girth
        if name in ("stem", "stern"):
            # All of the section is one point, the head of the stem.
            girths.append((name, f"{x:g}", 0, ""))
            offsets.append((name, "topside", 1, f"{0:.1f}", f"{sheer(x):.1f}"))
            continue
        split = min(girth, GIRTH)
        girths.append((name, f"{x:g}", round(split), round(girth - split) if girth >= GIRTH else ""))
        panels = [("topside", 0.0, split, 6)]
        if girth >= GIRTH:
            panels.append(("bottom", split, girth, 6 if girth > GIRTH else 1))
        for panel, start, stop, count in panels:
            for n, (y, z) in enumerate(points_between(points, start, stop, count)):
                offsets.append((name, panel, n + 1, f"{abs(y):.1f}", f"{z:.1f}"))
    return girths, offsets


def by_slice(values):
    """What most slices have, the first of equals; and what differs, as `2: 5247; 3-4: 5244`. None of a spoiled one."""
    usual = max(filter(None, values), key=values.count)
    runs = []
    for seq, value in enumerate(values, 1):
        if value in (usual, None):
            continue
        if runs and runs[-1][1] == seq - 1 and runs[-1][2] == value:
            runs[-1][1] = seq
        else:
            runs.append([seq, seq, value])
    items = (f"{first}: {value}" if first == last else f"{first}-{last}: {value}" for first, last, value in runs)
    return usual, "; ".join(items)


def boards():
    """The rows of boards.csv."""
    rows = []
    dice = Dice("twinstrake demo")
    for board, (shade, slices, length, drift, way) in BOARDS.items():
        centre, spread = SHADES[shade]
        mean = [c + dice.about(s) for c, s in zip(centre, spread)]
        trend = (drift, dice.about(0.05), dice.about(0.08))
        lengths, colours = [], []
        for seq in range(1, slices + 1):
            place = seq - (slices + 1) / 2
            lab = [m + t * place + dice.about(0.18) for m, t in zip(mean, trend)]
            cut = length + round(dice.about(4))
            if (board, seq) in SPOILED:
                lengths.append(None)
                colours.append(None)
                continue
            lengths.append(inches(cut) if board == "F" else str(cut))
            colours.append(hexed(lab) if way == "hex" else " ".join(f"{v:.1f}" for v in lab))
        (length, lengths), (colour, colours) = by_slice(lengths), by_slice(colours)
        defects, note = FAULTS.get(board, ("", ""))
        spoiled = "; ".join(str(seq) for name, seq in sorted(SPOILED) if name == board)
        rows.append((board, slices, length, lengths, colour, colours, GRAIN[shade], defects, spoiled, note))
    return rows


# Two long strips of no known board; and two slices that the builder has named as sisters.
STRAYS = [
    ("S1", "5.16 m", 7, "", "left over from another boat"),
    ("S2", "5.14 m", 7, "", "left over from another boat"),
    ("K1", "", "", "K2", "named as a pair"),
    ("K2", "", "", "K1", "named as a pair"),
]


def write(name, header, rows):
    """Writes plain CSV; no field here has a comma in it or begins with a quote, so nothing needs quoting."""
    text = header + "\n"
    for row in rows:
        text += ",".join(str(field) for field in row) + "\n"
    (HERE / name).write_text(text, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    girths, offsets = lines()
    write("forms.csv", "form,from_bow,topside,bottom", girths)
    write("offsets.csv", "form,panel,point,half_breadth,height", offsets)
    write("boards.csv", "board,slices,length,lengths,colour,colours,grain,defects,spoiled,notes", boards())
    write("strips.csv", "strip,length,colour,sister,notes", STRAYS)
