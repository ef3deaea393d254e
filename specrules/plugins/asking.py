"""One plugin: loaded, registered, asked by every hook. Whatever it does wrong is its own fault and nobody else's."""

from collections.abc import Iterable, Iterator
from itertools import groupby
from typing import Any, NamedTuple

from pluggy import PluginManager

from specrules.document import Fault, shown
from specrules.plugins.checks import CHECKS, Nonsense
from specrules.plugins.guard import Failed, attempt, fault_of
from specrules.plugins.installed_plugins import Found
from specrules.quantity import nearest
from specrules.vocabulary import Code

LEFT_OUT = "so all that it offers is left out until it is mended or uninstalled"


class Claim(NamedTuple):
    """One thing that a plugin offers, under its first name; `names` are all that it would be known by."""

    plugin: str
    hook: str
    names: tuple[str, ...]
    thing: Any


def once(found: Iterable[Found], faults: list[Fault]) -> Iterator[Found]:
    """Each plugin once, by name. Copies of one version are one; of two versions nobody can tell which one would run."""
    ordered = sorted(found, key=lambda each: each[:4])
    for _, group in groupby(ordered, lambda each: (each.name, each.distribution, each.value)):
        copies = list(group)
        versions = list(dict.fromkeys(each.version for each in copies))
        if len(versions) == 1:
            yield copies[0]
        else:
            said = f"is installed twice, as {' and as '.join(versions)}, {LEFT_OUT}"
            faults.append(fault_of(str(copies[0]), Code.PLUGIN_TWICE, said))


def ask(manager: PluginManager, found: Found) -> list[Claim] | Fault:
    """All that one plugin offers; or its fault, and then it is not registered."""
    plugin = str(found)
    loaded = attempt(found.load, plugin)
    if isinstance(loaded, Failed):
        return fault_of(plugin, loaded.code, f"{loaded.said} as it is loaded, {LEFT_OUT}")
    failed = _unfit(manager, loaded, plugin)
    claims: list[Claim] = []
    if failed is None:
        for hook in CHECKS:
            offered = _offered(manager, hook, plugin)
            if isinstance(offered, Failed):
                failed = offered
                break
            claims += offered
    if failed is None:
        return claims
    attempt(lambda: manager.unregister(name=plugin), plugin)
    return fault_of(plugin, failed.code, f"{failed.said}, {LEFT_OUT}")


def _unfit(manager: PluginManager, loaded: object, plugin: str) -> Failed | None:
    """What keeps a plugin from being registered, None where nothing does."""
    if attempt(lambda: manager.is_registered(loaded), plugin) is True:
        return Failed(Code.PLUGIN_TWICE, "is what another entry point names already")
    registered = attempt(lambda: manager.register(loaded, plugin), plugin)
    if isinstance(registered, Failed):
        return registered._replace(said=f"{registered.said} as its hooks are read")
    callers = manager.get_hookcallers(loaded) or []
    if not callers:
        return Failed(Code.WRONG_OFFER, "offers nothing, since none of its functions is marked with hookimpl")
    if isinstance(attempt(manager.check_pending, plugin), Failed):
        strange = next(caller.name for caller in callers if not caller.has_spec())
        there = nearest(strange, CHECKS) or ", ".join(CHECKS)
        return Failed(Code.WRONG_OFFER, f"has a hook {shown(strange)}, which is none: there is {there}")
    return None


def _offered(manager: PluginManager, hook: str, plugin: str) -> list[Claim] | Failed:
    claims: list[Claim] = []
    for implementation in getattr(manager.hook, hook).get_hookimpls():
        if implementation.plugin_name != plugin:
            continue

        def read() -> list[Claim] | Failed:
            given = implementation.function()  # noqa: B023 - called at once
            if given is None:
                return []
            try:
                return [Claim(plugin, hook, names, thing) for names, thing in CHECKS[hook](given, plugin)]
            except Nonsense as wrong:
                return Failed(Code.WRONG_OFFER, str(wrong))

        offered = attempt(read, plugin)
        if isinstance(offered, Failed):
            return offered._replace(said=f"its hook {hook} {offered.said}")
        claims += offered
    names = [name for claim in claims for name in claim.names]
    double = next((name for name in names if names.count(name) > 1), None)
    if double is not None:
        return Failed(Code.WRONG_OFFER, f"its hook {hook} offers {shown(double)} twice")
    return claims
