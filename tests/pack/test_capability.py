"""What a gauge can do, read from texts."""

from decimal import Decimal

import pytest

from specrules.document import Text
from specrules.pack import Amount, Capability, read_capability

MM = Decimal(1)
INCH = Decimal("25.4")


def read(resolution: str = "", mpe: str = "", repeatability: str = "") -> tuple[Capability, list[str]]:
    said: list[str] = []
    capability = read_capability(
        Text(resolution),
        Text(mpe),
        Text(repeatability),
        lambda _, refusal, which: said.append(f"{which} {refusal.said}; {refusal.write}"),
    )
    return capability, said


@pytest.mark.parametrize(
    ("mpe", "amount"),
    [
        ("0.0001 in", Amount(Decimal("0.0001") * INCH)),
        ("2 percent", Amount(Decimal(0), Decimal("0.02"))),
        ("0.002 mm and 0.1 percent", Amount(Decimal("0.002"), Decimal("0.001"))),
        ("0 in", Amount()),
    ],
)
def test_an_error_is_an_amount_a_share_or_both(mpe: str, amount: Amount) -> None:
    assert read(mpe=mpe) == (Capability(mpe=amount), [])


def test_a_share_grows_with_what_is_read() -> None:
    assert Amount(Decimal("0.002"), Decimal("0.001")).at(Decimal(-50)) == Decimal("0.052")


@pytest.mark.parametrize(
    ("texts", "said"),
    [
        (("about 0.1 mm",), "resolution"),
        (("", "0.0001"), "mpe has no unit; 0.0001 in, 0.0001 mm or 0.0001 percent"),
        (("", "0.1..0.2 mm"), "mpe is no amount; 0.0001 in, 2 percent, or 0.0001 in and 2 percent"),
        (("", "-0.1 mm"), "mpe is no amount; 0.0001 in, 2 percent, or 0.0001 in and 2 percent"),
        (("0.1 mm", "0.1 g"), "mpe is mass, and the others are length; "),
    ],
)
def test_what_is_no_amount_is_refused(texts: tuple[str, ...], said: str) -> None:
    _, found = read(*texts)
    assert found
    assert found[0].startswith(said)


def test_a_gauge_says_what_its_class_does_not() -> None:
    own, _ = read(mpe="0.00005 in")
    kind, _ = read("0.0001 in", "0.0001 in", "0.00005 in")
    assert own.over(kind) == Capability(kind.resolution, own.mpe, kind.repeatability)
