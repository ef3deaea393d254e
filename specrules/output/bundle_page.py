"""A bundle of packs before it is taken: whose it is, what it stands on, what it would change, whether it proves."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from specrules.output.ledger_lines import asked_less
from specrules.output.lines import Line, columns, folded, line, spread, under
from specrules.output.proof import remark_text
from specrules.output.words import many
from specrules.pack import PackHead, Relaxation
from specrules.pack.bundle import Bundle, GroundInBundle
from specrules.proving import Proof


def bundle_head(bundle: Bundle, head: PackHead, before: PackHead | None) -> Iterator[Line]:
    """Which pack it is of, by whom, and what its versions since the one that is here have changed."""
    there = "" if before is None else f"{before.name} {before.version} is here"
    yield from spread(f"{bundle.name} {bundle.version}", there, "heading")
    yield from folded(bundle.title, 2)
    if head.author:
        yield from folded(head.author, 2, "by ")
    if head.caution:
        yield from folded(head.caution, 2, "Caution: ", hang=4)
    if before is not None and before.version == head.version and before.sha256 != head.sha256:
        yield from folded(
            "The same version with something else in it: ask whoever made it which one counts.", 2, style="doubt"
        )
    known = set() if before is None else set(before.changes)
    for version, changes in head.changes.items():
        if version not in known:
            yield from folded("; ".join(changes), 2, f"{version}: ", hang=4)


def stands_on(grounds: Sequence[tuple[GroundInBundle, PackHead | None]]) -> Iterator[Line]:
    """The packs that it stands on, and whether they are here as they were when it was proved."""
    return under("STANDS ON", (row for each in grounds for row in _ground(*each)))


def _ground(ground: GroundInBundle, here: PackHead | None) -> Iterator[Line]:
    if here is None:
        yield line((f"  {ground.name} {ground.version}: it does not build on that here", "doubt"))
    elif here.sha256 == ground.sha256:
        yield line(f"  {ground.name} {ground.version}, the same here")
    else:
        was = "other files under the same version" if here.version == ground.version else f"here {here.version}"
        yield from folded(f"{ground.name} {ground.version}: {was}", 2, style="doubt")


def files_taken(files: Mapping[str, str]) -> Iterator[Line]:
    """What would become of each file: new, replaced, or there already."""
    return under("FILES", (row for path, what in files.items() for row in columns(f"  {path}", what)))


def proof_here(proof: Proof, ledger: Sequence[Relaxation]) -> Iterator[Line]:
    """What it asks less than the packs below it, and what came of proving it here."""
    yield from asked_less(ledger)
    yield line()
    wrong = [remark for remark in proof.remarks if remark.wrong]
    if proof.faults or wrong:
        yield line((f"{proof.pack} does not prove here: {many(len(wrong), 'thing')} to put right.", "bad"))
        for remark in wrong:
            yield from folded(remark_text(remark), 2, hang=4)
    else:
        yield line((f"{proof.pack} proves here.", "good"))
