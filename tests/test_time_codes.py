"""Time codes that count frames: held to OpenTimelineIO's, and to what drop-frame counting is there for."""

from __future__ import annotations

import random

import pandas as pd
import pytest

from hitlab import cut_list, situation
from hitlab.errors import ClaimError
from hitlab.evidence.time_codes import FRAME_RATES, frame_rate
from tests.needs import package


@pytest.mark.parametrize("name", FRAME_RATES)
def test_frames_are_those_that_opentimelineio_counts(name):
    time = package("opentimelineio").opentime
    rate = frame_rate(name)
    draw = random.Random(4)
    frames = [
        *range(3 * rate.counted),
        *(draw.randrange(24 * 3600 * rate.counted - 90000) for _ in range(400)),
    ]
    # The frames around every minute of the first eleven, where numbers are skipped or are not.
    frames += [
        round(60 * minute * rate.per_second) + step for minute in range(1, 12) for step in range(-70, 70)
    ]
    for frame in frames:
        code = time.to_timecode(
            time.RationalTime(frame, rate.per_second), rate.per_second, bool(rate.skipped)
        )
        assert rate.frame_of(code) == frame, code
        assert rate.frame_of(code.replace(";", ":")) == frame, code


@pytest.mark.parametrize(
    ("name", "behind_s"), [("29.97-drop", 0.0), ("29.97-non-drop", 3.6), ("59.94-drop", 0.0)]
)
def test_codes_that_skip_numbers_keep_up_with_the_clock(name, behind_s):
    """An hour of codes: 108,000 numbers at 30, of which 108 are skipped, are 3,600 seconds to 4 ms."""
    rate = frame_rate(name)
    assert rate.frame_of("01:00:00:00") / rate.per_second - 3600 == pytest.approx(behind_s, abs=0.005)


def test_numbers_that_are_skipped_are_refused():
    for name, skipped in (("29.97-drop", 2), ("59.94-drop", 4)):
        for number in range(skipped):
            with pytest.raises(ClaimError, match="drop-frame counting skips"):
                frame_rate(name).frame_of(f"00:01:00;{number:02d}")
            assert frame_rate(name).frame_of(f"00:10:00;{number:02d}") > 0
        assert frame_rate(name).frame_of(f"00:01:00;{skipped:02d}") == 60 * frame_rate(name).counted


@pytest.mark.parametrize("rate", [120, 240, 1000])
def test_fast_video_has_codes_with_more_digits(rate, season_of_one):
    """The 106th frame of a second, in a clip as well as alone; the last of a second, and none after it."""
    assert frame_rate(rate).frame_of("00:00:02:105") == 2 * rate + 105
    assert frame_rate(rate).frame_of(f"00:00:00:{rate - 1}") == rate - 1
    with pytest.raises(ClaimError, match=f"has a frame {rate}"):
        frame_rate(rate).frame_of(f"00:00:00:{rate}")
    listed = cut_list(season_of_one, situation("strikes=2"))
    assert listed.data["time_code"].tolist() == ["00:00:02:105"]
    assert listed.data["file"].tolist() == ["fast 1.mp4"]


@pytest.fixture
def season_of_one():
    row = {"hitter": "Ada Velm", "outcome": "in play", "exit_mph": 99.0, "strikes": 2}
    return pd.DataFrame([{**row, "clip": "fast 1.mp4 00:00:02:105"}])


def test_without_frames_it_is_the_time_that_has_passed():
    assert frame_rate("29.97-drop").frame_of("01:00:00") == pytest.approx(3600 * 30000 / 1001)
    assert frame_rate(25).frame_of("00:00:01.5") == 37.5


@pytest.mark.parametrize(
    ("told", "code", "message"),
    [
        (29.97, "00:00:00:00", "29.97-drop"),
        ("59.94", "00:00:00:00", "59.94-non-drop"),
        (0, "00:00:00:00", "from 1 to 1000"),
        ("fast", "00:00:00:00", "one of 23.976, 24, 25"),
        (30, "00:00:00;05", "drop-frame, as its last divider says"),
        ("30", "00:00:00:30", "has a frame 30"),
        (12.5, "00:00:00:10", "whole number"),
        (30, "1:2", "no time code"),
    ],
)
def test_what_cannot_be_counted_is_said(told, code, message):
    with pytest.raises(ClaimError, match=message):
        frame_rate(told).frame_of(code)
