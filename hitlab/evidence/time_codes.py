"""Time codes that count frames, and the frame of the video that each of them names.

Video of 29.97 frames a second (30,000 in 1,001 seconds) has time codes that count 30 a second. Counted on
without a gap ("non-drop") they fall behind the clock by 3.6 seconds an hour; "drop-frame" codes skip the
numbers 0 and 1 at the start of every minute save every tenth (at 59.94 the numbers 0 to 3), and keep up with
it. No frame of the video is dropped, only numbers are. From memory, as SMPTE ST 12-1 counts; the tests hold
it to OpenTimelineIO's own time codes.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import ceil

from hitlab.errors import ClaimError

__all__ = ["CODE", "FRAME_RATES", "FrameRate", "frame_rate"]

CODE = (
    r"(?P<hours>\d{1,2}):(?P<minutes>[0-5]\d):(?P<seconds>[0-5]\d)"
    r"(?:(?P<divided>[:;])(?P<frame>\d{2,4})|(?P<part>\.\d+))?"
)
"""A time code, as a pattern: its frames have as many digits as the rate asks for, two at least."""

_CODE = re.compile(CODE)


@dataclass(frozen=True, slots=True)
class FrameRate:
    """How a video's time codes count.

    Attributes
    ----------
    per_second
        Frames a second of the video.
    counted
        Frames a second that its time codes count.
    skipped
        Numbers left out at the start of a minute, save every tenth; 0 for none.
    words
        How they count, in words.
    """

    per_second: float
    counted: int
    skipped: int
    words: str

    def frame_of(self, code: str) -> float:
        """Return the frame that a time code names, from 0 for the first of the file.

        Parameters
        ----------
        code
            ``hours:minutes:seconds``, then ``:frames`` (or ``;frames`` where they are drop-frame), or a
            decimal part of a second. Without frames it is the time that has passed, whatever the rate.

        Raises
        ------
        ClaimError
            Where no frame has this code.

        Examples
        --------
        >>> frame_rate("29.97-drop").frame_of("00:01:00;02"), frame_rate("30").frame_of("00:01:00:02")
        (1800.0, 1802.0)
        """
        told = _CODE.fullmatch(code)
        if told is None:
            raise ClaimError(f"{code!r} is no time code; write hours:minutes:seconds:frames")
        hours, minutes, seconds = (int(told[part]) for part in ("hours", "minutes", "seconds"))
        minutes += 60 * hours
        if told["frame"] is None:
            return (60 * minutes + seconds + float(told["part"] or 0)) * self.per_second
        frame = int(told["frame"])
        if told["divided"] == ";" and not self.skipped:
            raise ClaimError(
                f"the time code {code} is drop-frame, as its last divider says, and {self.words}; give "
                "frames_per_second='29.97-drop' or '59.94-drop'"
            )
        if frame >= self.counted:
            raise ClaimError(
                f"the time code {code} has a frame {frame}, and {self.words}; give frames_per_second="
            )
        if seconds == 0 and minutes % 10 and frame < self.skipped:
            raise ClaimError(
                f"the time code {code} is one that drop-frame counting skips; if the codes are counted on "
                f"without a gap, give frames_per_second='{self.per_second:.2f}-non-drop'"
            )
        number = self.counted * (60 * minutes + seconds) + frame
        return float(number - self.skipped * (minutes - minutes // 10))


def _whole(rate: int) -> FrameRate:
    return FrameRate(float(rate), rate, 0, f"its time codes count {rate} frames a second")


def _of_thousand_and_one(counted: int, skipped: int) -> FrameRate:
    rate = counted * 1000 / 1001
    how = "drop-frame" if skipped else "without a gap (non-drop)"
    return FrameRate(
        rate, counted, skipped, f"its time codes count {counted} at {rate:.5g} frames a second, {how}"
    )


FRAME_RATES: dict[str, FrameRate] = {
    "23.976": _of_thousand_and_one(24, 0),
    "24": _whole(24),
    "25": _whole(25),
    "29.97-drop": _of_thousand_and_one(30, 2),
    "29.97-non-drop": _of_thousand_and_one(30, 0),
    "30": _whole(30),
    "50": _whole(50),
    "59.94-drop": _of_thousand_and_one(60, 4),
    "59.94-non-drop": _of_thousand_and_one(60, 0),
    "60": _whole(60),
}
"""The rates that have a name; any other whole number of frames a second is counted on without a gap."""


def frame_rate(told: float | str) -> FrameRate:
    """Return how time codes count at a rate.

    Parameters
    ----------
    told
        A name of ``FRAME_RATES``, or a number of frames a second.

    Raises
    ------
    ClaimError
        Where it is neither, or 29.97 or 59.94 without saying how the codes count.

    Examples
    --------
    >>> frame_rate("59.94-drop").words
    'its time codes count 60 at 59.94 frames a second, drop-frame'
    """
    name = f"{told:g}" if isinstance(told, int | float) else re.sub(r"[\s_]+", "-", told.strip().casefold())
    if name in FRAME_RATES:
        return FRAME_RATES[name]
    try:
        rate = float(name)
    except ValueError:
        rate = float("nan")
    near = next((one for one in ("29.97", "59.94") if abs(rate - float(one)) < 0.01), None)
    if near:
        raise ClaimError(
            f"frames_per_second={told!r}: say how the time codes count, '{near}-drop' (numbers are skipped, "
            f"often written with a semicolon) or '{near}-non-drop'"
        )
    counted = ceil(rate) if 1 <= rate <= 1000 else 0
    if counted and rate == counted:
        return _whole(counted)
    if counted and abs(rate - counted * 1000 / 1001) < 0.01:  # 23.976, 119.88
        return _of_thousand_and_one(counted, 0)
    raise ClaimError(
        f"frames_per_second={told!r}: give a whole number from 1 to 1000, or one of {', '.join(FRAME_RATES)}"
    )
