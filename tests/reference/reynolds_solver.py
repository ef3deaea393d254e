"""The steady film of a full journal bearing by Reynolds' equation, solved apart from the program, in plain floats.

d/dt(h^3 dp/dt) + (d/l)^2 d/dz(h^3 dp/dz) = dh/dt for a film of h = 1 + e cos t, with t round the bearing from where the
film is thickest and z from its middle to its edge; p in units of 6 mu w (r/c)^2. Oil comes in at the thickest film, the
edges are open, and nowhere does the film pull: Reynolds' condition, a pressure of at least nothing with no step at its
end. Finite volumes on a grid that is closer where the film is thin, relaxed until nothing moves.

It has no part in the program, which takes two columns and one place of a table from it: `test_reynolds_solver` holds it
against the published ones.
"""

from __future__ import annotations

import math

ECCENTRIC = (0.97, 0.9, 0.8, 0.6, 0.4, 0.2, 0.1)
BETWEEN = (2.5, 3.0)
"""Diameter by length of what no table prints, where the bearings of engines are."""
ROUND, ALONG = 144, 16


def _round(e: float, cells: int) -> list[float]:
    """Edges of cells round the bearing: half way between even ones and those even in Sommerfeld's angle."""
    stretch = math.sqrt((1 + e) / (1 - e))
    even = [2 * math.pi * i / cells for i in range(cells + 1)]
    return [(t + 2 * math.atan2(stretch * math.sin(t / 2), math.cos(t / 2))) / 2 for t in even]


def load(e: float, diameter_by_length: float, cells: int = ROUND, along: int = ALONG) -> float:
    """The load by 6 mu w (r/c)^2 r l / 2, at an eccentricity ratio. No length at all is an endless bearing."""
    t = _round(e, cells)
    film = [1 + e * math.cos(each) for each in t]
    rows = along if diameter_by_length else 1
    width = 1 / rows
    gap = [t[i + 1] - t[i] for i in range(cells)]
    between = [((film[i] + film[i + 1]) / 2) ** 3 / gap[i] for i in range(cells)]
    own = [0.0, *((gap[i - 1] + gap[i]) / 2 for i in range(1, cells))]
    side = [diameter_by_length**2 * film[i] ** 3 * own[i] / width**2 for i in range(cells)]
    drive = [0.0, *((film[i + 1] - film[i - 1]) / 2 for i in range(1, cells))]
    p = [[0.0] * (rows + 1) for _ in range(cells + 1)]
    relax = 2 / (1 + math.sin(math.pi / max(cells / 3, rows)))
    for _ in range(20000):
        moved = most = 0.0
        for i in range(1, cells):
            behind, here, ahead = p[i - 1], p[i], p[i + 1]
            left, right, across = between[i - 1], between[i], side[i]
            whole = left + right + 2 * across
            for j in range(rows):
                inner = here[j - 1] if j else here[1] if rows > 1 else 0.0  # the middle is a mirror
                outer = here[j + 1]
                found = (left * behind[j] + right * ahead[j] + across * (inner + outer) - drive[i]) / whole
                new = max(0.0, here[j] + relax * (found - here[j]))
                moved = max(moved, abs(new - here[j]))
                most = max(most, new)
                here[j] = new
        if moved <= 1e-9 * most:
            break
    along_it = [2 * width * (here[0] / 2 + sum(here[1:rows])) if rows > 1 else 2 * here[0] for here in p]
    inward = -sum(along_it[i] * math.cos(t[i]) * own[i] for i in range(1, cells))
    across_it = sum(along_it[i] * math.sin(t[i]) * own[i] for i in range(1, cells))
    return math.hypot(inward, across_it)


def characteristic_number(e: float, diameter_by_length: float, cells: int = ROUND, along: int = ALONG) -> float:
    """(r/c)^2 mu N / P at an eccentricity ratio, N in turns a second and P the load by length and diameter."""
    return 1 / (3 * math.pi * load(e, diameter_by_length, cells, along))
