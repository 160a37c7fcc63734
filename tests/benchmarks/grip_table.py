"""Spin and launch by the grip, beside what was published: ``python -m tests.benchmarks.grip_table``.

A bat of 75 mph on a resting ball, as in Kensrud, Nathan & Smith 2017; a level bat of 70 mph on a fast
ball of 85 mph; and what the grip does to the numbers of lesson 6. Prints the rows that stand in
``tests/reference/measured.md``.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from hitlab.exercises.lesson_06 import AIM_IN, HITTER, SCATTER
from hitlab.physics import Collision, collide, hold_still, swing_margin, swing_outcomes

GRIPS = {"rolls": 0.0, "default": 0.30, "resting ball": 0.405}


def resting(springing: float, offset_in: float) -> Collision:
    """Strike a resting ball with a bat that recoils across the line of centres as theirs did."""
    return collide(0, 0, 75, 0, offset_in, mass_ratio=0.2785, tangential_restitution=springing)


def main() -> None:
    """Print three tables in Markdown."""
    _print(["offset, in", *GRIPS])
    for offset in (0.25, 0.5, 0.75, 1.0):
        hits = [resting(e, offset) for e in GRIPS.values()]
        cells = [f"{float(h.launch_deg):.1f}°, {float(h.backspin_rpm):,.0f} rpm" for h in hits]
        _print([f"{offset:g}", *cells])
    _print(["grip", "launch at .75 in", "backspin", "degrees a tenth of an inch", "pitch spin left"])
    for name, e in GRIPS.items():
        still, spun = (
            collide(85, 0, 70, 0, [0.75, 0.85], tangential_restitution=e, pitch_backspin_rpm=s)
            for s in (0, 2000)
        )
        left = (still.backspin_rpm[0] - spun.backspin_rpm[0]) / 2000
        step = spun.launch_deg[1] - spun.launch_deg[0]
        launch, spin = spun.launch_deg[0], spun.backspin_rpm[0]
        _print([f"{name}, {e:g}", f"{launch:.1f}°", f"{spin:,.0f} rpm", f"{step:.2f}", f"{left:.2f}"])
    _print(
        [
            "grip",
            "a tenth of an inch",
            "a degree of swing",
            "place explains",
            "angle",
            "whiff, foul",
            "home run",
        ]
    )
    for name, e in GRIPS.items():
        swing = replace(HITTER, tangential_restitution=e)
        tenth = np.diff(swing_outcomes([0.35, 0.45], swing=swing).launch_deg)[0]
        degree = np.diff(swing_outcomes(0.4, 0.0, [3.0, 13.0], swing=swing).launch_deg)[0] / 10
        held = hold_still(SCATTER, swing=swing, aim_in=AIM_IN)
        shares = swing_margin(swing=swing, scatter=SCATTER, aim_in=AIM_IN, swings=50_000).shares
        explained = [f"{share:.2f}" for share in (held.offset_share, held.attack_share)]
        _print(
            [f"{name}, {e:g}", f"{tenth:.2f}°", f"{degree:.2f}°", *explained,
             f"{shares['whiff']:.2f}, {shares['foul']:.2f}", f"{shares['home run']:.3f}"]
        )  # fmt: skip


def _print(cells: list[str]) -> None:
    """Print a row; one without figures is the head of a table."""
    print(f"| {' | '.join(cells)} |")
    if cells[0] in ("offset, in", "grip"):
        print("|---" * len(cells) + "|")


if __name__ == "__main__":
    main()
