"""A bundle: the files of a pack in one text, with digests, what it builds on, and the proof that it came with.

The digests tell a bundle that was damaged on its way, or whose files were changed and not its digests. They say nothing
of who made it: whoever takes a pack from somebody looks at what it changes.

It is JSON: nothing to unpack, and a mail program or a version control shows it. `pack add` never trusts the proof that
came with it, proves again, and shows what would differ before it writes. Packs that ship are named with their digests,
those of the shop are in it. A file of the pack here that the bundle lacks would be a part of the new one: it has to go
first.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from hashlib import sha256
from typing import Annotated, Literal, get_args

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from specrules.document import Budget, Fault, Place
from specrules.pack.specification import PLAIN_NAME, PackHead, Specification
from specrules.pack.table_files import SUFFIX as TABLE
from specrules.vocabulary import Code

Header = Literal["pack-bundle/1"]
(HEADER,) = get_args(Header)
MOST_FILES = 200
MOST_BYTES = 10 * Budget().size
"""More than this no bundle has."""
_PLAIN = PLAIN_NAME.pattern
_FILE = re.compile(rf"(?:{_PLAIN}/)?{_PLAIN}[\w.-]*(?:\.pack\.yaml|{re.escape(TABLE)})", re.ASCII)
_ANEW = "bundle it anew"

Digest = Annotated[str, Field(pattern="^[0-9a-f]{64}$")]


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", strict=True, hide_input_in_errors=True)


class BundledFile(_Part):
    """A file of a pack: its path in a folder of packs, and its text to the letter."""

    name: str = Field(max_length=200)
    sha256: Digest
    text: str = Field(max_length=Budget().size)


class GroundInBundle(_Part):
    """A pack that the bundled one stands on, as it was when it was proved."""

    name: str = Field(max_length=100)
    version: str = Field(max_length=100)
    sha256: Digest


class Bundle(_Part):
    """What a bundle holds."""

    specrules: Header
    program: str = Field(max_length=100)
    name: str = Field(max_length=100)
    version: str = Field(max_length=100)
    title: str = Field(max_length=10_000)
    stands_on: tuple[GroundInBundle, ...] = Field(max_length=100)
    files: tuple[BundledFile, ...] = Field(min_length=1, max_length=MOST_FILES)
    proof: tuple[str, ...] = Field(max_length=100_000)

    @property
    def packs(self) -> tuple[str, ...]:
        """The names of all packs that it has files of, the one that it is of last."""
        named = (each.name.partition("/")[0].partition(".")[0] for each in self.files)
        return (*dict.fromkeys(name for name in named if name != self.name), self.name)


def bundle_of(spec: Specification, name: str, files: Mapping[str, str], proof: Sequence[str], program: str) -> Bundle:
    """The bundle of a pack. `files`: the text of each by its path in a folder of packs; `program`: the version."""
    head = spec.head(name)
    others = [each for each in spec.packs if each.name != name]
    return Bundle(
        specrules=HEADER,
        program=program,
        name=head.name,
        version=head.version,
        title=head.title,
        stands_on=tuple(GroundInBundle(name=o.name, version=o.version, sha256=o.sha256) for o in others),
        files=tuple(BundledFile(name=path, sha256=digest(text), text=text) for path, text in files.items()),
        proof=tuple(proof),
    )


def bundle_text(bundle: Bundle) -> str:
    """It as JSON, one text of ASCII letters: the same bundle gives the same bytes."""
    return json.dumps(bundle.model_dump(mode="json"), indent=1) + "\n"


def read_bundle(source: bytes, file: str) -> tuple[Bundle | None, tuple[Fault, ...]]:
    """The bundle that a file holds, every file of it as its digest says; or what is wrong with it."""
    if len(source) > MOST_BYTES:
        return None, (_fault(file, Code.FILE_TOO_LARGE, f"has more than {MOST_BYTES} bytes"),)
    try:
        bundle = Bundle.model_validate_json(source)
    except ValidationError as error:
        first = error.errors(include_url=False, include_input=False)[0]
        at = "/".join(map(str, first["loc"]))
        said = f"is no bundle of packs: {f'{at}: ' if at else ''}{first['msg'][:1].lower()}{first['msg'][1:]}"
        return None, (_fault(file, Code.WRONG_FILE, said),)
    faults = []
    names = [each.name for each in bundle.files]
    for each in bundle.files:
        if not _FILE.fullmatch(each.name):
            faults.append(_fault(file, Code.NOT_A_NAME, f"has a file that is none of a pack: {each.name!a}"))
        elif names.count(each.name) > 1:
            faults.append(_fault(file, Code.DEFINED_TWICE, f"has {each.name} twice"))
        elif digest(each.text) != each.sha256:
            faults.append(_fault(file, Code.CONTRADICTION, f"has a {each.name} that is not what its digest says"))
    own = (f"{bundle.name}.pack.yaml", f"{bundle.name}/")
    if not faults and not any(name.startswith(own) for name in names):
        faults.append(_fault(file, Code.MISSING_KEY, f"has no file of the pack {bundle.name!a} that it is of"))
    return (None if faults else bundle), tuple(faults)


def digest(text: str) -> str:
    """The SHA-256 of a text in UTF-8, in hexadecimal digits."""
    return sha256(text.encode("utf-8")).hexdigest()


def grounds_here(bundle: Bundle, spec: Specification) -> tuple[tuple[GroundInBundle, PackHead | None], ...]:
    """What the bundled pack stood on when it was proved, each with the pack of that name here."""
    here = {head.name: head for head in spec.packs}
    return tuple((ground, here.get(ground.name)) for ground in bundle.stands_on)


def _fault(file: str, code: Code, said: str) -> Fault:
    return Fault(Place(file, 0, 0), "", code, f"{said}; {_ANEW}", "", "file")
