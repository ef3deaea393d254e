"""Code of others runs apart from the streams, the descriptors and the folder of the process, wherever it is called."""

from __future__ import annotations

import os
import sys
from decimal import Decimal
from io import StringIO
from pathlib import Path
from threading import Event, Thread, current_thread
from typing import Any

import pytest

from specrules.cli.streams import NotPrinted
from specrules.evaluate.arithmetic import apply
from specrules.evaluate.value import exactly
from specrules.formula import Formula, Scope
from specrules.formula.formula_reading import read_formula
from specrules.plugins import LENGTH, plug
from tests.plugins.small_plugins import found, function, plugin, sound


def test_what_a_function_prints_writes_or_changes_stays_with_it(
    capfd: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where it says its dimensions, its value and its slope; what was printed before is there all the same."""
    monkeypatch.chdir(tmp_path)
    came = []

    def talks(answer: Any) -> Any:
        def talk(*_: object) -> Any:
            came.append(answer)
            print("hello")  # noqa: T201 - a plugin that does
            os.write(1, b"out")
            os.write(2, b"err")
            os.chdir("/")
            return answer

        return talk

    given = function(value=talks(Decimal(6)), partials=(talks(0.0),), dimensions=talks(LENGTH))
    offered = plug([found(plugin(functions=lambda: [given]))])
    print("before", end="")  # noqa: T201 - it waits to be printed
    read = read_formula("twice(1 mm)", Scope({}, {}, functions=offered.functions))
    value = apply(offered.functions["twice"], [exactly(Decimal(3), {0: 1.0})])
    assert isinstance(read, Formula)
    assert value.low is not None
    assert (value.low.value, value.low.slopes, offered.failures.taken()) == (Decimal(6), {0: 0.0}, ())
    assert {LENGTH, Decimal(6), 0.0} <= {*came}
    assert capfd.readouterr() == ("before", "")
    assert Path.cwd() == tmp_path


def test_a_screen_that_takes_nothing_is_no_fault_of_the_plugin_that_is_asked_then(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    class Full(StringIO):
        def flush(self) -> None:
            raise NotPrinted(OSError(28, "no space left on device"))

    offered = plug([found(sound())])
    monkeypatch.setattr(sys, "stdout", Full())
    with pytest.raises(NotPrinted):
        offered.functions["sound"].value(Decimal(3))
    monkeypatch.undo()
    assert offered.failures.taken() == ()


@pytest.mark.parametrize("closed", [True, False])
def test_a_function_is_called_where_no_stream_is_open(closed: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    stream = StringIO() if closed else None
    if stream is not None:
        stream.close()
    offered = plug([found(sound())])
    monkeypatch.setattr(sys, "stdout", stream)
    assert offered.functions["sound"].value(Decimal(3)) == 6


def test_two_threads_that_call_functions_leave_the_streams_as_they_were(capfd: pytest.CaptureFixture[str]) -> None:
    """Who came later would find what the earlier one has put there, and put that back when the earlier one is gone."""
    within, joined = Event(), Event()

    def meets(x: Decimal) -> Decimal:
        if current_thread() is first:
            within.set()
            joined.wait(0.2)
        else:
            joined.set()
            first.join(timeout=30)
        return x

    twice = plug([found(plugin(functions=lambda: [function(value=meets)]))]).functions["twice"]
    first, second = (Thread(target=twice.value, args=(Decimal(3),)) for _ in range(2))
    before = sys.stdout, sys.stderr
    first.start()
    assert within.wait(30)
    second.start()
    second.join(timeout=30)
    assert (sys.stdout, sys.stderr) == before
    os.write(1, b"still heard")
    assert capfd.readouterr() == ("still heard", "")
