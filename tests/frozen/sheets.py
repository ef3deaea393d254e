"""Random build sheets as text: what shops write, well and badly, on the packs that ship and on `packs/bench`."""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from itertools import product
from typing import NamedTuple

from tests.frozen.shops import RARE, Shop, Size


class Names(NamedTuple):
    """What the stack has names for."""

    measurands: Mapping[str, tuple[tuple[str, ...], tuple[str, ...]]]  # axes of stations, of positions
    facts: frozenset[str]
    sets: frozenset[str]
    axes: Mapping[str, tuple[str, ...]]  # labels of the axes that have names
    operations: Mapping[str, tuple[str, ...]]  # what each makes stale
    sign_offs: Mapping[str, tuple[str, ...]]  # where each is asked
    rules: Mapping[str, tuple[str, ...]]  # where each is judged


class Writer:
    """Writes one sheet. `about` tells what it was made of."""

    def __init__(self, dice: random.Random, shop: Shop, names: Names, packs: Sequence[str]) -> None:
        self.dice, self.shop, self.names, self.packs = dice, shop, names, packs
        self.about: list[str] = []
        self.unit = dice.choice(("in", "mm"))
        self.cylinders, self.mains = dice.randint(1, 4), dice.randint(2, 4)
        self.moved: dict[str, float] = {}
        self.stated: dict[str, str] = {}
        self.apart = dice.choice((0.4, 0.8, 1.0, 1.6))  # how well the shop works
        self.coarse = dice.random() < 0.1

    def chance(self, share: float, about: str = "") -> bool:
        """Whether something happens, and the word for it where it does."""
        happens = self.dice.random() < share
        if happens and about:
            self.about.append(about)
        return happens

    def text(self) -> str:
        """The whole sheet."""
        sizes = [size for size in self.shop.sizes if size.name in self.names.measurands]
        share = self.dice.choice((0.25, 0.4, 0.8)) if len(sizes) > 20 else self.dice.choice((0.6, 0.9, 1.0))
        chosen = [size for size in sizes if self.chance(share)] or sizes[:2]
        self.slip_at = self.dice.choice(chosen).name if self.chance(0.45) else ""
        self.named = self.chance(0.65, "gauges named")
        rows = ["specrules: build-sheet/1", f"build: {{title: Frozen, date: 2026-10-{self.dice.randint(1, 28):02}}}"]
        rows += [f"packs: [{', '.join(self.packs)}]", f"unit: {self.unit}"]
        rows += [f"part temperature: {self.dice.choice(('12 C', '28 C', '90 F'))}"] if self.chance(0.2, "warm") else []
        rows += ["gauge temperature: 20 C"] if self.about and self.about[-1] == "warm" and self.chance(0.5) else []
        rows += ["facts:", *self.facts(chosen)]
        rows += ["gauges:", *self.gauges()] if self.named else []
        rows += ["readings:", *(row for size in chosen for row in self.reading(size))]
        rows += self.own_limits()
        rows += self.work_done(chosen)
        rows += self.signed()
        rows += self.concessions()
        return "\n".join(rows) + "\n"

    # ---- what is stated ----

    def facts(self, chosen: Sequence[Size]) -> Iterator[str]:
        if self.chance(0.9):
            yield f"  cylinders: {self.cylinders}"
        else:
            self.about.append("count not stated")
        if self.chance(0.9):
            yield f"  mains: {self.mains}"
        members = [*range(1, self.cylinders + 1)]
        self.throws = (
            [members[at : at + 2] for at in range(0, len(members), 2)]
            if self.chance(0.4, "throws of two")
            else [[member] for member in members]
        )
        yield f"  throws: {self.throws}"
        if self.chance(0.5) and self.cylinders > 1:
            yield f"  banks: {{left: {members[::2]}, right: {members[1::2]}}}"
            self.banks: tuple[str, ...] = ("left", "right")
        else:
            self.banks = ("all",)
        if "cam_bearings" in self.names.facts and self.chance(0.9):
            yield f"  cam_bearings: {self.mains}"
        if "main_classes" in self.names.facts and self.chance(0.15, "classes of mains"):
            yield f"  main_classes: {{thrust: [1], plain: {[*range(2, self.mains + 1)]}}}"
        if "owns" in self.names.facts and self.chance(0.3, "groups each its own"):
            yield f"  owns: {[[1], [*range(2, self.mains + 1)]]}"
        slip = self.dice.choice([*self.shop.slipped]) if self.chance(0.12, "slipped fact") else ""
        for name, texts in self.shop.facts.items():
            if name not in self.names.facts or name in self.names.sets:
                continue
            if name == slip:
                yield f"  {name}: {self.shop.slipped[name]}"
            elif self.chance(0.12 if name in RARE else 0.8):
                text = self.dice.choice(texts) if self.chance(0.5) else texts[0]
                self.stated[name] = text
                yield f"  {name}: {text}"
        for name, measurand in self.shop.cards.items():
            size = next((size for size in chosen if size.name == measurand), None)
            if size is not None and self.chance(0.35, "card of a size"):
                written = self.written(self.size(size) + self.dice.choice((0, 2, -2, -14)) * size.apart, size)
                yield f"  {name}: {written if self.chance(0.6) else f'{{1: {written}, others: {written}}}'}"

    # ---- what is measured ----

    def gauges(self) -> Iterator[str]:
        """Gauges of the shop, some set with others, some with figures of their own."""
        dice, length = self.dice, self.unit
        own = {"in": ("0.0001 in", "0.0002 in", "0.00005 in"), "mm": ("0.002 mm", "0.005 mm", "0.001 mm")}[length]
        if self.shop.unit == "in":
            mic = dice.choice(("outside micrometer", "outside micrometer", "outside micrometer in thou", "caliper"))
            bore = dice.choice(("bore gauge", "bore gauge", "bore gauge in half thou", "telescoping gauge", "caliper"))
            ring, fine = "setting ring", "bore gauge"
            self.gauge_names = {"mic": mic, "dial bore": bore, "big mic": "large outside micrometer", "tall bore": fine}
            self.gauge_names |= {"split ball": "small-bore gauge", "blades": "feeler", "bar": "caliper"}
        else:
            mic = dice.choice(("micrometer", "micrometer", "caliper", "fine comparator"))
            bore = dice.choice(("comparator", "comparator", "caliper", "fine comparator"))
            ring = "setting ring"
            self.gauge_names = {"mic": mic, "bore": bore, "blades": "blades", "press": "tester", "pan": "scale"}
            self.gauge_names |= {"disc": "wheel", "stick": "probe"}
        chain = dice.choice(("none", "shared", "ring", "long"))
        self.about.append(f"chain {chain}")
        for name, kind in self.gauge_names.items():
            parts = [f"class: {kind}"]
            if name in ("mic", "big mic") and self.chance(0.5, "zero error"):
                standard = "2.0000 in" if length == "in" else "50.000 mm"
                off = dice.choice(
                    ("1.9999 in", "2.0001 in", "2.0004 in") if length == "in" else ("50.002 mm", "49.999 mm")
                )
                parts.append(f"zero: {{standard: {standard}, reads: {off}}}")
            if name in ("mic", "bore", "dial bore") and self.chance(0.25, "capability stated"):
                parts += [f"resolution: {own[0]}", f"mpe: {own[1]}", f"repeatability: {own[2]}"]
            if name == "press" and self.chance(0.4, "percent stated"):
                parts.append("mpe: 5 N and 1 percent")
            if name in ("dial bore", "bore", "tall bore", "split ball") and chain != "none":
                setter = "big mic" if name == "tall bore" else "mic"
                parts.append(f"set with: {'ring' if chain in ('ring', 'long') else setter}")
            if self.chance(0.2, "checked"):
                parts.append(f"checked: {dice.choice(('2025-01-10', '2026-06-01'))}")
            yield f"  {name}: {{{', '.join(parts)}}}"
        if chain == "ring":
            yield f"  ring: {{class: {ring}}}"
        if chain == "long":
            yield f"  ring: {{class: {ring}, set with: mic}}"

    def size(self, size: Size) -> float:
        """Of this build."""
        if size.part and size.part not in self.moved:
            self.moved[size.part] = self.dice.uniform(-0.1, 0.1) * min(size.size, 3)
        return size.size + self.moved.get(size.part, 0.0)

    def step(self, size: Size) -> Decimal:
        """The last place that is written, in the sheet's unit."""
        step = Decimal(size.step)
        if size.unit == "length" and self.unit != self.shop.unit:
            step = {"in": Decimal("0.0001"), "mm": Decimal("0.001")}[self.unit]
            if Decimal(size.step) >= Decimal("0.0005" if self.shop.unit == "in" else "0.01"):
                step *= 10 if self.unit == "mm" else 5
        return step * (10 if self.coarse else 1)

    def written(self, value: float, size: Size, slip: str = "") -> str:
        """A figure as the gauge shows it, in the sheet's unit."""
        number = Decimal(f"{value:.9f}")
        if size.unit == "length" and self.unit != self.shop.unit:
            number = number / Decimal("25.4") if self.unit == "in" else number * Decimal("25.4")
        step = self.step(size)
        text = str((number / step).quantize(Decimal(1)) * step)
        return slipped(text, slip, self.dice) if slip else text

    def figure(self, value: float, size: Size, slip: str = "") -> str:
        """One cell: a number, a bracket, repeats, with U or without."""
        dice, how = self.dice, size.how
        if slip:
            return self.written(value, size, slip)
        if how == "any":
            how = dice.choice(("", "", "", "", "blades", "repeats", "U", "one side"))
        if how == "blades":
            step = float(size.step)
            low, high = sorted((self.written(value, size), self.written(value + step, size)))
            if low != high and not low.startswith("-") and self.chance(0.85, "bracket"):
                return f"{low}..{high}"
            return self.written(abs(value), size)
        if how == "repeats" and self.chance(0.8, "repeats"):
            thrice = (self.written(value + dice.gauss(0, 0.2) * size.apart, size) for _ in range(3))
            return f"{{repeats: [{', '.join(thrice)}]}}"
        if how == "U" or dice.random() < 0.03:
            self.about.append("stated U")
            return f"{self.written(value, size)} ±{self.step(size) * dice.choice((1, 2, 5))}"
        if how == "one side":
            self.about.append("one-sided bracket")
            return f"{dice.choice(('under', 'over'))} {self.written(abs(value), size)}"
        return self.written(value, size)

    def labels(self, axis: str) -> tuple[str, ...]:
        """Of this build."""
        numbers = {"main": self.mains, "cam_bearing": self.mains, "cylinder": self.cylinders, "throw": len(self.throws)}
        if axis in numbers:
            return tuple(map(str, range(1, numbers[axis] + 1)))
        return self.banks if axis == "bank" else self.names.axes[axis]

    def reading(self, size: Size) -> Iterator[str]:
        """All that is written of one measurand."""
        dice, (at, positions) = self.dice, self.names.measurands[size.name]
        of_build = self.size(size) + dice.gauss(0, 0.7) * size.apart * self.apart
        self.positive = size.name not in ("turn", "stand", "exhaust_closes", "piston_below_deck", "intake_opens")
        head = self.said_once(size)
        slip = self.slip_at == size.name
        if not at:
            yield f"  {size.name}: " + self.alone(size, of_build, positions, head, slip)
            return
        yield f"  {size.name}:"
        stations = [*product(*map(self.labels, at))]
        left_out = {station for station in stations if dice.random() < 0.06}
        if left_out:
            self.about.append("station missing")
        rows: dict[str, list[str]] = {}
        undated = not any(line.startswith("taken") for line in head)
        if len(at) == 1 and not positions and not slip and undated and self.chance(0.25, "read again"):
            yield from self.again(size, of_build, stations, head)
            return
        yield from (f"    {line}" for line in head)
        odd = dice.randrange(len(stations)) if slip else -1
        for number, station in enumerate(stations):
            if station not in left_out:
                value = self.cell(
                    of_build + dice.gauss(0, 0.6) * size.apart * self.apart, size, positions, number == odd
                )
                rows.setdefault(station[0], []).append(f"{station[1]}: {value}" if len(at) > 1 else value)
        if len(at) == 1 and len(rows) > 1 and not left_out and not slip and self.chance(0.07, "others"):
            rows = dict([next(iter(rows.items())), ("others", [self.written(abs(of_build), size)])])
        if not rows:
            yield f"    {stations[0][0]}: " + (f"{{{stations[0][1]}: open}}" if len(at) > 1 else "open")
        for label, cells in rows.items():
            yield f"    {label}: " + (f"{{{', '.join(cells)}}}" if len(at) > 1 else cells[0])

    def again(
        self, size: Size, value: float, stations: Sequence[tuple[str, ...]], head: Sequence[str]
    ) -> Iterator[str]:
        """A set of readings, and one of some stations that replaces it there."""
        said = "".join(f"{line}, " for line in head)
        again = self.dice.sample(stations, self.dice.randint(1, len(stations)))
        for day, because, at in (("2026-09-04", "", stations), ("2026-09-21", "because: put right, ", sorted(again))):
            cells = ", ".join(
                f"{where[0]}: {self.written(abs(value + self.dice.gauss(0, 1) * size.apart), size)}" for where in at
            )
            yield f"    - {{{said}taken: {day}, {because}at: {{{cells}}}}}"

    def alone(self, size: Size, value: float, positions: Sequence[str], head: Sequence[str], slip: bool) -> str:
        """A measurand of the whole build."""
        cell = self.cell(value, size, positions, slip)
        if not head:
            return cell
        return f"{{{', '.join(head)}, {cell[1:]}" if cell.startswith("{") else f"{{{', '.join(head)}, at: {cell}}}"

    def cell(self, value: float, size: Size, positions: Sequence[str], odd: bool) -> str:
        """What is written of one station."""
        dice = self.dice
        value = abs(value) if self.positive else value
        slip = dice.choice(SLIPS) if odd else ""
        if odd and self.named and self.gauge_names.get(self.shop.gauges.get(size.name, "")) == "caliper":
            slip = dice.choice(("caliper", slip))
        if odd:
            self.about.append(f"slip {slip}")
        if not positions:
            return self.figure(value, size, slip)
        many = [*product(*map(self.labels, positions))]
        if self.chance(0.08, "one figure for all positions"):
            return self.written(value, size, slip)
        where = dice.randrange(len(many)) if slip else -1
        cells = [
            self.written(value + dice.gauss(0, 0.25) * size.apart, size, slip if n == where else "")
            for n in range(len(many))
        ]
        if self.chance(0.06, "position open"):
            cells[dice.randrange(len(cells))] = "open"
        if not slip and dice.random() < 0.04:
            self.about.append("stated U")
            cells[0] = f"{self.written(value, size)} ±{self.step(size)}"
        return f"[{', '.join(cells)}]"

    def said_once(self, size: Size) -> list[str]:
        """What is said of a whole set."""
        head = []
        gauge = self.shop.gauges.get(size.name, "")
        if self.named and gauge in self.gauge_names and self.chance(0.85):
            head.append(f"gauge: {gauge}")
        if self.chance(0.5):
            head.append(f"taken: 2026-09-{self.dice.randint(1, 28):02}")
        stale_by = [name for name, stale in self.names.operations.items() if size.name in stale]
        if stale_by and self.chance(0.15, "read after the work"):
            head.append(f"after: {self.dice.choice(stale_by)}")
        if size.unit == "length" and self.chance(0.05, "own temperature"):
            head += ["part temperature: 31 C", "gauge temperature: 20 C"]
        if size.unit != "length":
            head.append(f"unit: {size.unit}")
        return head

    # ---- what else is written ----

    def own_limits(self) -> list[str]:
        chosen = (
            dict(self.dice.sample(self.shop.limits, self.dice.randint(1, 3))) if self.chance(0.4, "own limits") else {}
        )
        rows = [f"  {rule}: {lines}" for rule, lines in chosen.items() if rule in self.names.rules]
        return ["limits:", *rows] if rows else []

    def at(self, axes: Sequence[str], share: float = 0.4) -> str:
        """Some stations, or nothing for all."""
        axis = next((axis for axis in axes if axis in ("main", "cylinder")), "")
        if not axis or self.dice.random() > share:
            return ""
        return f", at: {{{axis}: [{self.dice.choice(self.labels(axis))}]}}"

    def work_done(self, chosen: Sequence[Size]) -> list[str]:
        names = {size.name for size in chosen} | self.stated.keys()
        able = [name for name, stale in self.names.operations.items() if not names.isdisjoint(stale)]
        if not able or not self.chance(0.4, "work done"):
            return []
        rows = ["work done:"]
        for name in self.dice.sample(able, min(len(able), self.dice.randint(1, 2))):
            on = f", on: 2026-09-{self.dice.randint(1, 28):02}" if self.chance(0.8) else ""
            of = self.names.operations[name]
            axes = next((self.names.measurands[each][0] for each in of if each in self.names.measurands), ())
            stated = [each for each in of if each in self.stated]
            restated = f", restated: [{', '.join(stated)}]" if stated and self.chance(0.4, "restated") else ""
            rows.append(f"  - {{operation: {name}{on}{self.at(axes, 0.3)}{restated}}}")
        return rows

    def signed(self) -> list[str]:
        share = self.dice.choice((0.0, 0.6, 0.9, 1.0))
        rows = []
        for name, axes in self.names.sign_offs.items():
            if self.chance(share):
                on = f", on: 2026-09-{self.dice.randint(1, 28):02}" if self.chance(0.8) else ""
                no = ", answer: no" if self.chance(0.05, "answered no") else ""
                rows.append(f"  {name}: {{by: hand{on}{no}{self.at(axes, 0.2)}}}")
        return ["signed:", *rows] if rows else []

    def concessions(self) -> list[str]:
        if not self.chance(0.3, "concession"):
            return []
        rules = self.dice.sample([*self.names.rules], 4)
        return [
            "concessions:",
            *(
                f"  - {{rule: {rule}, reason: it will do, by: hand{self.at(self.names.rules[rule], 0.3)}}}"
                for rule in rules
            ),
        ]


SLIPS = ("ten", "tenth", "metric", "turn", "caliper", "exchange", "negative", "half again", "thou", "few places")


def slipped(text: str, slip: str, dice: random.Random) -> str:
    """A figure as a slip of the hand leaves it."""
    number, places = Decimal(text), len(text.partition(".")[2])
    inches = places >= 4
    if slip == "exchange":
        at = [n for n in range(len(text) - 1) if text[n : n + 2].isdigit() and text[n] != text[n + 1]]
        if not at:
            return text
        n = dice.choice(at)
        exchanged = text[:n] + text[n + 1] + text[n] + text[n + 2 :]
        return text if exchanged.startswith("0") and not exchanged.startswith("0.") else exchanged
    if slip == "few places":
        return str(round(number, max(places - 2, 1)))
    moved = {
        "ten": number * 10,
        "tenth": number / 10,
        "metric": number * Decimal("25.4") if inches else number / Decimal("25.4"),
        "turn": number + (Decimal("0.025") if inches else Decimal("0.5")),
        "caliper": number + (Decimal("0.1") if inches else Decimal("2.54")),
        "negative": -number,
        "half again": number * Decimal("1.5"),
        "thou": number * 1000,
    }[slip]
    return f"{round(moved, max(places, 1)):f}"
