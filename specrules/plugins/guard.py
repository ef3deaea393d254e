"""Code of others, called so that whatever it does becomes a sentence: it cannot end the program or give nonsense."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from types import MappingProxyType
from typing import Any, NamedTuple, TypeVar

from specrules.document import Fault, Place
from specrules.formula import Function
from specrules.plugins.offers import Form
from specrules.quantity import Dimension
from specrules.vocabulary import Code

Made = TypeVar("Made")


class Failed(NamedTuple):
    """What came instead of a value."""

    code: Code
    said: str


def attempt(do: Callable[[], Made]) -> Made | Failed:
    """What a call gives, or why it gives nothing. Only the user's own interruption goes through."""
    try:
        return do()
    except KeyboardInterrupt:
        raise
    except SystemExit:
        return Failed(Code.PLUGIN_FAILED, "tries to end the program")
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


def guarded(function: Function, plugin: str) -> Function:
    """The function, of which anything but a value or a domain error becomes a domain error that names the plugin."""

    def dimensions(given: Sequence[Dimension]) -> Dimension | str:
        found = attempt(lambda: function.dimensions(tuple(given)))
        return found if isinstance(found, Dimension | str) else f"what the {plugin} fails to say"

    def called(of: Callable[..., Any], at: tuple[Decimal, ...]) -> object:
        try:
            return of(*at)
        except (ValueError, ArithmeticError):
            raise
        except BaseException as error:
            again = error

        def fail() -> object:
            raise again

        failed = attempt(fail)
        raise ValueError(f"the {plugin} {failed.said}" if isinstance(failed, Failed) else plugin)

    def value(*at: Decimal) -> Decimal:
        found = called(function.value, at)
        if not isinstance(found, Decimal):
            raise ValueError(f"the {plugin} gives no decimal")
        return found

    def slope(of: Callable[..., float]) -> Callable[..., float]:
        def partial(*at: Decimal) -> float:
            found = called(of, at)
            if not isinstance(found, int | float) or not math.isfinite(found):
                raise ValueError(f"the {plugin} gives no slope")
            return float(found)

        return partial

    return replace(function, dimensions=dimensions, value=value, partials=tuple(map(slope, function.partials)))


def guarded_form(form: Form, plugin: str) -> Form:
    """The form, of which anything but a text with its mark, or lines, becomes a fault. It is given frozen records."""

    def made(*given: object) -> object:
        found = attempt(lambda: _rows(form.make(*given)) if form.of == "report" else form.make(*map(frozen, given)))
        if isinstance(found, Failed):
            said = f"{found.said} in its form {form.name}, so nothing is written"
            return fault_of(plugin, found.code, said, "another --form")
        if form.of == "report":
            fits, what = isinstance(found, tuple), "lines"
        else:
            fits, what = isinstance(found, str), "text"
        if not fits:
            return fault_of(plugin, Code.WRONG_OFFER, f"gives no {what} in its form {form.name}")
        if isinstance(found, str) and not found.startswith(form.mark):
            said = f"gives a text without its mark in its form {form.name}, so nothing is written"
            return fault_of(plugin, Code.WRONG_OFFER, said)
        return found

    return form._replace(make=made)


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
