"""Spin and launch by the grip, beside what was published: ``python -m tests.benchmarks.grip_table``.

A bat of 75 mph on a resting ball, as in Kensrud, Nathan & Smith 2017; a level bat of 70 mph on a fast ball of 85
mph; and what the grip does to the numbers of lesson 6. Prints the rows that stand in ``tests/reference/measured.md``.
"""

from __future__ import annotations

from dataclasses import replace

from hitlab.exercises.lesson_06 import AIM_IN, HITTER, SCATTER
from hitlab.physics import Collision, collide, hold_still, swing_margin, swing_outcomes

GRIPS = {"rolls": 0.0, "default": 0.30, "resting ball": 0.405}


def resting(springing: float, offset_in: float) -> Collision:
    """Strike a resting ball with a bat that recoils across the line of centres as theirs did."""
    return collide(0, 0, 75, 0, offset_in, mass_ratio=0.2785, tangential_restitution=springing)


def main() -> None:
    """Print three tables in Markdown."""
    print("| offset, in | " + " | ".join(GRIPS) + " |")
    print("|---" * (len(GRIPS) + 1) + "|")
    for offset in (0.25, 0.5, 0.75, 1.0):
        hits = [resting(e, offset) for e in GRIPS.values()]
        cells = [f"{float(h.launch_deg):.1f}°, {float(h.backspin_rpm):,.0f} rpm" for h in hits]
        print(f"| {offset:g} | " + " | ".join(cells) + " |")
    print()
    print("| grip | launch at .75 in | backspin | degrees a tenth of an inch | pitch spin left |")
    print("|---|---|---|---|---|")
    for name, e in GRIPS.items():
        level = [
            collide(85, 0, 70, 0, [0.75, 0.85], tangential_restitution=e, pitch_backspin_rpm=s)
            for s in (0, 2000)
        ]
        left = (level[0].backspin_rpm[0] - level[1].backspin_rpm[0]) / 2000
        step = level[1].launch_deg[1] - level[1].launch_deg[0]
        print(
            f"| {name}, {e:g} | {level[1].launch_deg[0]:.1f}° | {level[1].backspin_rpm[0]:,.0f} rpm | {step:.2f} | {left:.2f} |"
        )
    print()
    print(
        "| grip | a tenth of an inch | one degree of swing | explained by place | by angle | whiff, foul | home runs |"
    )
    print("|---|---|---|---|---|---|---|")
    for name, e in GRIPS.items():
        swing = replace(HITTER, tangential_restitution=e)
        tenth = swing_outcomes([0.35, 0.45], swing=swing).launch_deg
        degree = swing_outcomes(0.4, 0.0, [3.0, 13.0], swing=swing).launch_deg
        still = hold_still(SCATTER, swing=swing, aim_in=AIM_IN)
        shares = swing_margin(swing=swing, scatter=SCATTER, aim_in=AIM_IN, swings=50_000).shares
        print(
            f"| {name}, {e:g} | {tenth[1] - tenth[0]:.2f}° | {(degree[1] - degree[0]) / 10:.2f}° | {still.offset_share:.2f} "
            f"| {still.attack_share:.2f} | {shares['whiff']:.2f}, {shares['foul']:.2f} | {shares['home run']:.3f} |"
        )


if __name__ == "__main__":
    main()
