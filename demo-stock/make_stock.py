#!/usr/bin/env python3
"""Makes the demo job: an invented small open double-ender of 5 m, and a rack of invented wood for it.

    python3 demo-stock/make_stock.py          writes courses.csv and strips.csv beside this script

boat.toml is written by hand. Only the standard library; the same bytes on every run and every Python 3.

What is meant to be in it, so that it can be seen that the planner deals with it:
- Topside: 16 courses from the sheer down, about as long as the boat. Bottom: 14 courses that run out on the keel line
  and get shorter as they near it, then one centre course, the keel plank.
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

# Strip: defects, note.
FAULTS = {
    "A3": ("2655-2690", "knot"),
    "B5": ("4830", "check right across near the plain end"),
    "D2": ("1310-1345; 3920", "knot and a check right across"),
    "E4": ("3105", "broke in the rack"),
    "H5": ("0-140", "end checks"),
    "J1": ("5120-5200", "end checks"),
    "M7": ("890-925", "knot"),
    "P2": ("2210", "check right across"),
}
LOST = {("N", 6)}  # fell to pieces at the saw
SISTERS = {"K1": "K2", "K2": "K1"}


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


def courses():
    """The rows of courses.csv. Distances in mm from the bow."""
    rows = []
    for n in range(1, 17):
        # The ends rake: each course below the sheer begins a little further aft and ends a little further forward.
        start = 18 + 13 * (n - 1) + (n - 1) ** 2 // 6
        end = 4985 - 15 * (n - 1) - (n - 1) ** 2 // 5
        # The topside bulges: its skin is longer than the way along the boat, most so at the sheer.
        length = (end - start) * (1.030 - 0.0009 * (n - 1))
        stern = "free" if n in (1, 2) else "fitted"
        rows.append(("topside", n, "mirrored", start, end, round(length), "fitted", stern))
    for n in range(1, 15):
        # The bottom courses run out on the keel line, so they get shorter faster and faster.
        half = 2190 - 20 * (n - 1) - 4.0 * (n - 1) ** 2
        middle = 2505 + 4 * (n - 1)
        start, end = round(middle - half), round(middle + half)
        length = (end - start) * (1.012 + 0.0004 * (n - 1))
        bow = "free" if n >= 11 else "fitted"
        stern = "free" if n >= 9 else "fitted"
        rows.append(("bottom", n, "mirrored", start, end, round(length), bow, stern))
    rows.append(("bottom", 15, "centre", 335, 4640, 4352, "fitted", "fitted"))
    return rows


def strips():
    """The rows of strips.csv."""
    rows = []
    dice = Dice("twinstrake demo")
    for board, (shade, slices, length, drift, way) in BOARDS.items():
        centre, spread = SHADES[shade]
        mean = [c + dice.about(s) for c, s in zip(centre, spread)]
        trend = (drift, dice.about(0.05), dice.about(0.08))
        for seq in range(1, slices + 1):
            place = seq - (slices + 1) / 2
            lab = [m + t * place + dice.about(0.18) for m, t in zip(mean, trend)]
            cut = length + round(dice.about(4))
            if (board, seq) in LOST:
                continue
            name = f"{board}{seq}"
            defects, note = FAULTS.get(name, ("", ""))
            rows.append((
                name,
                board,
                seq,
                inches(cut) if board == "F" else cut,
                "",
                "",
                hexed(lab) if way == "hex" else " ".join(f"{v:.1f}" for v in lab),
                GRAIN[shade],
                SISTERS.get(name, ""),
                defects,
                note,
            ))
    rows.append(("S1", "", "", "5.16 m", "", "", 7, "straight", "", "", "left over from another boat"))
    rows.append(("S2", "", "", "5.14 m", "", "", 7, "straight", "", "", "left over from another boat"))
    return rows


def write(name, header, rows):
    """Writes plain CSV; no field here has a comma in it or begins with a quote, so nothing needs quoting."""
    text = header + "\n"
    for row in rows:
        text += ",".join(str(field) for field in row) + "\n"
    (HERE / name).write_text(text, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    write("courses.csv", "panel,course,kind,from,to,length,bow_end,stern_end", courses())
    write(
        "strips.csv",
        "strip,board,seq,length,width,thickness,colour,grain,sister,defects,notes",
        strips(),
    )
