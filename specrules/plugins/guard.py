"""Code of others, called so that whatever it does becomes a sentence: it cannot end the program or give nonsense."""

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal, localcontext
from types import MappingProxyType
from typing import Any, NamedTuple, NoReturn, TypeVar

from specrules.document import Fault, Place
from specrules.formula import Function
from specrules.plugins.isolation import SECONDS, TookTooLong, apart, print_what_waits
from specrules.plugins.offers import Failures, Form
from specrules.plugins.slopes import moves_by
from specrules.quantity import CONTEXT, Dimension
from specrules.vocabulary import Code

Made = TypeVar("Made")


class Failed(NamedTuple):
    """What came instead of a value."""

    code: Code
    said: str


def attempt(do: Callable[[], Made], by: str) -> Made | Failed:
    """What a call gives, or why it gives nothing. Only the user's interruption goes through; it says whose call it was.

    It runs apart: what it prints, where it goes and how it reckons stays with it.
    """
    print_what_waits()
    try:
        with apart():
            return do()
    except KeyboardInterrupt as stopped:
        stopped.add_note(f"in the {by}")
        raise
    except SystemExit:
        return Failed(Code.PLUGIN_FAILED, "tries to end the program")
    except TookTooLong:
        return Failed(Code.PLUGIN_FAILED, f"does not come back within {SECONDS:g} seconds")
    except BaseException as error:  # noqa: BLE001, RUF100 - there is nothing that code of others does not raise
        return Failed(Code.PLUGIN_FAILED, f"raises {_said(error)}")


def _said(error: BaseException) -> str:
    name = type(error).__name__
    try:
        lines = str(error).splitlines()
    except Exception:
        return name
    return f"{name}: {lines[0][:200]}" if lines else name


def fault_of(plugin: str, code: Code, said: str, write: str = "") -> Fault:
    """A plugin's fault; it has no line in a file."""
    return Fault(Place(plugin, 0, 0), "", code, said, write, "plugin")


def guarded(function: Function, plugin: str, failures: Failures) -> Function:
    """The function, of which anything but a value or a domain error becomes a domain error that names the plugin.

    What is wrong with it is noted as a fault of the plugin too. Each slope is held against how the value moves.
    """

    def fail(said: str, code: Code = Code.WRONG_OFFER) -> NoReturn:
        without = "so nothing is worked out by it there"
        failures.note(fault_of(plugin, code, f"its function {function.name} {said}, {without}"))
        raise ValueError(f"the {plugin} {said}")

    def dimensions(given: Sequence[Dimension]) -> Dimension | str:
        found = attempt(lambda: function.dimensions(tuple(given)), plugin)
        return found if isinstance(found, Dimension | str) else f"what the {plugin} fails to say"

    def called(of: Callable[..., Any], at: tuple[Decimal, ...]) -> Any:
        def call() -> Any:
            try:
                return of(*at)
            except (ValueError, ArithmeticError) as error:
                return _Outside(error)

        found = attempt(call, plugin)
        if isinstance(found, Failed):
            fail(found.said, found.code)
        if isinstance(found, _Outside):
            raise found.error
        return found

    def value(*at: Decimal) -> Decimal:
        found = called(function.value, at)
        if not isinstance(found, Decimal | int) or isinstance(found, bool):
            fail(f"gives {_a(found)}, and a decimal is wanted")
        return Decimal(found)

    def value_or_none(*at: Decimal) -> Decimal | None:
        try:
            found = value(*at)
        except (ValueError, ArithmeticError):
            return None
        return found if found.is_finite() else None

    def slope(number: int, of: Callable[..., float]) -> Callable[..., float]:
        def partial(*at: Decimal) -> float:
            found = called(of, at)
            if not isinstance(found, int | float | Decimal) or not math.isfinite(found):
                fail(f"gives {_a(found)} as its slope {number + 1}, and a number is wanted")
            stated = float(found)
            with localcontext(CONTEXT):
                really = moves_by(value_or_none, at, number, stated)
            if really is not None:
                where = ", ".join(f"{float(x):.6g}" for x in at)
                moves = f"moves {stated:.4g} times as its argument {number + 1} does, and it moves {really:.4g} times"
                fail(f"says that it {moves}, at {where} in base units")
            return stated

        return partial

    partials = tuple(slope(number, of) for number, of in enumerate(function.partials))
    return replace(function, dimensions=dimensions, value=value, partials=partials)


class _Outside(NamedTuple):
    """A function has no value there, and says so."""

    error: Exception


def _a(found: object) -> str:
    """What was given, in words."""
    return f"{type(found).__name__} {found!r}"[:60] if isinstance(found, int | float) else type(found).__name__


def guarded_form(form: Form, plugin: str) -> Form:
    """The form, of which anything but a text with its mark, or lines, becomes a fault. It is given frozen records."""
    full = form.full and _guarded_make(form, form.full, plugin)
    return form._replace(make=_guarded_make(form, form.make, plugin), full=full)


def _guarded_make(form: Form, make: Callable[..., object], plugin: str) -> Callable[..., object]:
    def made(*given: object) -> object:
        def lines_or_text() -> object:
            return _rows(make(*given)) if form.of == "report" else make(*map(frozen, given))

        found = attempt(lines_or_text, plugin)
        if isinstance(found, Failed):
            said = f"{found.said} in its form {form.name}, so nothing is written"
            return fault_of(plugin, found.code, said, "another --form")
        if form.of == "report":
            fits, what = isinstance(found, tuple), "lines"
        else:
            fits, what = isinstance(found, bytes if form.binary else str), "bytes" if form.binary else "text"
        if not fits:
            return fault_of(plugin, Code.WRONG_OFFER, f"gives no {what} in its form {form.name}")
        if isinstance(found, str) and not (form.around.before or found).startswith(form.mark):
            said = f"gives a text without its mark in its form {form.name}, so nothing is written"
            return fault_of(plugin, Code.WRONG_OFFER, said)
        return found

    return made


def _rows(given: object) -> tuple[object, ...] | None:
    """Lines as they are printed; None where anything else was given."""
    from rich.segment import Segment

    rows = tuple(given) if isinstance(given, Iterable) else (None,)
    sound = (isinstance(row, tuple) and all(isinstance(part, Segment) for part in row) for row in rows)
    return rows if all(sound) else None


def frozen(node: Any) -> Any:
    """The same tree in mappings and tuples that nobody can change."""
    if isinstance(node, Mapping):
        return MappingProxyType({key: frozen(value) for key, value in node.items()})
    return tuple(map(frozen, node)) if isinstance(node, list | tuple) else node
