"""Springs, moved pivots and cam keys, held against published examples and measured cases."""

from __future__ import annotations

import pytest

from tests.reference.trade_examples import worth


def test_the_rate_of_a_small_music_wire_spring() -> None:
    """Mechanical Engineering Design, example 10-1, from memory: 4.13 lbf/in; its rounding is worth 0.5 %."""
    rate = worth("spring_rate_of(0.037 in, 7 / 16 * 1 in - 0.037 in, 10.5, 11850000 psi)", "lbf/in")
    assert rate == pytest.approx(4.13, rel=0.005)


def test_the_rate_of_a_large_coil_spring() -> None:
    """A university course in springs, problem 2: 76 mm, wire 12.5 mm, 5 active coils: 110 N/mm, with 79 to 79.3 GPa."""
    for modulus in ("79 GPa", "79.3 GPa"):
        assert worth(f"spring_rate_of(12.5 mm, 76 mm, 5, {modulus})", "N/mm") == pytest.approx(110, abs=0.5)


def test_a_shim_of_thirty_thou() -> None:
    """Common practice, no source: at 350 lbf/in a shim of 0.030 in adds 10.5 lbf."""
    load = worth("spring_load_at(1.770 in, 1.800 in, 120 lbf, 350 [lbf/in])", "lbf")
    assert load == pytest.approx(130.5, abs=1e-9)


def test_a_spring_that_just_touches_is_not_loose() -> None:
    """Hooke's law: 120 lbf at 350 lbf/in are gone after 12/35 in."""
    assert worth("spring_load_at(1.5 in + 12 in / 35, 1.5 in, 120 lbf, 350 [lbf/in])", "lbf") == pytest.approx(0)
    assert worth("spring_load_at(2 in, 1.5 in, 50 lbf, 100 [lbf/in])", "lbf") == 0


@pytest.mark.parametrize(("pitch", "bolt", "plunger"), [("1 in / 18", 51.84, 32.64), ("1 mm", 73.15, 46.06)])
def test_turning_the_pivots_bolt_for_eight_thou(pitch: str, bolt: float, plunger: float) -> None:
    """A public forum post: 0.008 in more preload at a ratio of 1.7, and the thread not known.

    The printed 52.36 deg for the first thread comes from 0.055 in a turn and does not follow from it.
    """
    turned = worth(f"pivot_turn_for(0.008 in, 1.7, {pitch})", "deg")
    assert turned == pytest.approx(plunger, abs=0.005)
    assert worth(f"pivot_turn_for(plunger_moves(0.008 in, 1.7), 1.7, {pitch})", "deg") == pytest.approx(bolt, abs=0.005)
    assert abs(bolt - 52.36) > 0.5


def test_how_far_the_plunger_goes_for_a_turn_of_the_nut() -> None:
    """Common practice, no source: 0.050 in of a thread of 20 to the inch is 0.081 at a ratio of 1.6, 0.083 at 1.5."""
    assert worth("plunger_moves(0.050 in, 1.6)", "in") == pytest.approx(0.081, abs=0.0005)
    assert worth("plunger_moves(0.050 in, 1.5)", "in") == pytest.approx(0.083, abs=0.0005)
    assert worth("plunger_moves(0.008 in, 1.7)", "in") == pytest.approx(0.0127, abs=0.00005)


@pytest.mark.parametrize(
    ("centreline", "wanted", "step", "furthest", "key", "then"),
    [
        ("110 deg", "106 deg", "4 deg", "4 deg", 4, 106),  # late: advance it
        ("109.25 deg", "108 deg", "2 deg", "8 deg", 2, 107.25),
        ("108.9 deg", "108 deg", "2 deg", "8 deg", 0, 108.9),
        ("109 deg", "108 deg", "2 deg", "8 deg", 0, 109),  # as near with a key as without: leave it
        ("107 deg", "108 deg", "2 deg", "8 deg", 0, 107),
        ("100 deg", "108 deg", "2 deg", "4 deg", -4, 104),  # the last key on offer
        ("100 deg", "108 deg", "3 deg", "7 deg", -6, 106),  # the last that is a whole step
    ],
)
def test_the_key_that_brings_the_cam_nearest(
    centreline: str, wanted: str, step: str, furthest: str, key: float, then: float
) -> None:
    """Arithmetic by hand; that advancing lowers the centreline is common practice, no source."""
    arguments = f"{centreline}, {wanted}, {step}, {furthest}"
    assert worth(f"key_nearest({arguments})", "deg") == key
    assert worth(f"centreline_with_key({arguments})", "deg") == then


def test_cam_degrees_are_two_crank_degrees() -> None:
    """The four-stroke cycle: marks stamped in cam degrees move the crank twice as far."""
    assert worth("crank_degrees_of(2 deg)", "deg") == 4


def test_lift_at_the_valve() -> None:
    """Arithmetic by hand."""
    assert worth("lift_at_valve(0.320 in, 1.5, 0.020 in)", "in") == pytest.approx(0.460, abs=1e-15)
