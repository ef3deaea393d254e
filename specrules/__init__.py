"""A rule engine for the bench: a measured build in, a judged and explained inspection out.

    import specrules

    report = specrules.inspect("engine.sheet.yaml", decision="guarded")

`inspect` gives a report, `examine` what its findings stand on besides, `specification` the packs themselves;
`read_record` reads a record that was kept.
"""

TYPE_CHECKING = False  # type checkers know the name; importing it would take longer than heeding the first interrupt

if TYPE_CHECKING:
    from specrules.api import (
        Examination,
        Extent,
        Fault,
        FilesAtFault,
        Finding,
        Limits,
        Place,
        Reason,
        Relaxation,
        Relaxed,
        Report,
        SheetText,
        Source,
        Specification,
        Unit,
        Verdict,
        WholeFinding,
        examine,
        inspect,
        read_record,
        specification,
    )
    from specrules.record import Record

VERSION = "1.0.0"
"""The one place where the version stands; asking the installed metadata for it would cost more than a small sheet."""

__all__ = [
    "VERSION",
    "Examination",
    "Extent",
    "Fault",
    "FilesAtFault",
    "Finding",
    "Limits",
    "Place",
    "Reason",
    "Record",
    "Relaxation",
    "Relaxed",
    "Report",
    "SheetText",
    "Source",
    "Specification",
    "Unit",
    "Verdict",
    "WholeFinding",
    "examine",
    "inspect",
    "read_record",
    "specification",
]

_ELSEWHERE = {"Record": "specrules.record"}
"""Where a name stands that the API does not need itself."""

if not TYPE_CHECKING:  # a type checker is to find fault with names that are not there

    def __getattr__(name: str) -> object:
        """What is public, imported when it is asked for: a command pays only for what it uses."""
        if name not in __all__:
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        from importlib import import_module

        found: object = getattr(import_module(_ELSEWHERE.get(name, "specrules.api")), name)
        return found

    def __dir__() -> list[str]:
        return sorted({*globals(), *__all__})
