"""Loads plugins one by one, asks each for what it offers, and names and sets aside each that is at fault.

Order means nothing: plugins are taken by name, and two that offer the same thing are both at fault.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from functools import partial
from importlib import import_module
from types import MappingProxyType
from typing import Any

from pluggy import PluginManager

from specrules import VERSION
from specrules.document import Fault, shown
from specrules.formula import FUNCTIONS, LANGUAGE, with_functions
from specrules.plugins import hookspecs
from specrules.plugins.asking import Claim, ask, once
from specrules.plugins.guard import fault_of, guarded, guarded_form
from specrules.plugins.installed_plugins import Found
from specrules.plugins.offers import Failures, Plugged
from specrules.quantity import TABLE
from specrules.vocabulary import Code

OWN = tuple(
    Found(module.rpartition(".")[2], "specrules", VERSION, module, partial(import_module, module))
    for module in ("specrules.trade", "specrules.output.own_forms")
)
"""The program's own, named as entry points name theirs."""
_OURS = frozenset(map(str, OWN))

_WORDS = {
    "pack_folders": "folder",
    "functions": "function",
    "units": "unit",
    "gauge_classes": "gauge class",
    "forms": "form",
}


def plug(found: Iterable[Found] = ()) -> Plugged:
    """What the program and these plugins offer together. Its own functions of the trade and forms come the same way."""
    manager = PluginManager(hookspecs.GROUP)
    manager.add_hookspecs(hookspecs)
    faults: list[Fault] = []
    claims: list[Claim] = []
    stands: list[str] = []
    for each in (*OWN, *once(found, faults)):
        offered = ask(manager, each)
        if isinstance(offered, Fault):
            faults.append(offered)
        else:
            claims += offered
            stands.append(str(each))
    kept = tuple(_uncontested(claims, faults))
    owners = {(claim.hook, claim.names[0]): claim.plugin for claim in kept if _of_others(claim)}
    failures = Failures()

    def under(hook: str) -> dict[str, Any]:
        return {claim.names[0]: claim.thing for claim in kept if claim.hook == hook}

    theirs = {name: plugin for (hook, name), plugin in owners.items() if hook == "forms"}
    forms = {
        name: guarded_form(each, theirs[name]) if name in theirs else each for name, each in under("forms").items()
    }
    functions = {
        name: guarded(each, owners["functions", name], failures) if ("functions", name) in owners else each
        for name, each in under("functions").items()
    }

    return Plugged(
        plugins=tuple(each for each in stands if each not in _OURS),
        pack_folders=tuple(under("pack_folders").values()),
        functions=with_functions(tuple(functions.values())),
        units=TABLE.with_units(under("units").values()),
        gauge_classes=MappingProxyType(under("gauge_classes")),
        forms=MappingProxyType(forms),
        owners=MappingProxyType(owners),
        faults=tuple(faults),
        failures=failures,
    )


def beside(plugged: Plugged, names: Collection[str]) -> Plugged:
    """The same where packs use these names: what a plugin calls so too is named and left out."""
    faults: list[Fault] = []
    gone: dict[str, set[str]] = {"functions": set(), "gauge_classes": set()}
    for (hook, name), plugin in plugged.owners.items():
        if hook in gone and name in names:
            said = f"offers the {_WORDS[hook]} {shown(name)}, and a pack has something of that name, so it is left out"
            faults.append(fault_of(plugin, Code.NAME_TAKEN, said))
            gone[hook].add(name)
    if not faults:
        return plugged
    return plugged._replace(
        functions={name: each for name, each in plugged.functions.items() if name not in gone["functions"]},
        gauge_classes={name: each for name, each in plugged.gauge_classes.items() if name not in gone["gauge_classes"]},
        faults=tuple(dict.fromkeys((*plugged.faults, *faults))),
    )


def _uncontested(claims: Collection[Claim], faults: list[Fault]) -> Iterator[Claim]:
    """What one plugin alone offers, and the program has not. The rest is left out, whoever came first."""
    owners: dict[tuple[str, str], dict[str, None]] = {}
    for claim in claims:
        for name in claim.names:
            owners.setdefault((claim.hook, name), {})[claim.plugin] = None
    for claim in claims:
        rivals = {plugin: None for name in claim.names for plugin in owners[claim.hook, name] if plugin != claim.plugin}
        taken = not _OURS.isdisjoint(rivals) or any(_ours(claim.hook, name) for name in claim.names)
        if not _of_others(claim) or not (taken or rivals):
            yield claim
            continue
        what = f"offers the {_WORDS[claim.hook]} {shown(claim.names[0])}"
        if taken:
            said = f"{what}, which the program has already, so it is left out"
        else:
            said = f"{what}, and so does the {' and the '.join(rivals)}, so neither is used"
        faults.append(fault_of(claim.plugin, Code.NAME_TAKEN, said))


def _ours(hook: str, name: str) -> bool:
    if hook == "units":
        return TABLE.knows(name)
    return hook == "functions" and (name in FUNCTIONS or name in LANGUAGE)


def _of_others(claim: Claim) -> bool:
    return claim.plugin not in _OURS
