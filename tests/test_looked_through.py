"""Columns of text that are looked through once, and what is told of them without sorting or listing them."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pyarrow as pa
import pytest

from hitlab.pitches import coded
from hitlab.pitches.cells import Judged, judge, source_cells
from hitlab.pitches.coded import (
    distinct,
    in_order_of_rows,
    looked_through_once,
    remember,
    rows_kept,
    texts_of,
)
from hitlab.pitches.counting import ascending, key_order
from hitlab.pitches.mapping import Mapping
from hitlab.pitches.reading import read_pitches
from hitlab.pitches.sources import TEXT
from hitlab.pitches.speeds import _sorted


def _column(texts: list[str | None]) -> pd.Series:
    return pd.Series(pd.array(texts, dtype=TEXT))


def _some(rng: np.random.Generator, many: int) -> list[str | None]:
    return rng.choice(np.array(["Bo", "Ada", None, "Cyd"], dtype=object), many).tolist()


def test_what_is_remembered_is_what_looking_through_gives() -> None:
    rng = np.random.default_rng(3)
    for many in (1, 2, 7, 40):
        texts = _some(rng, many)
        names = ["nobody", "Cyd", "Ada", "Bo"]  # in any order, and one of them nowhere
        codes = np.array([-1 if text is None else names.index(text) for text in texts])
        plain, found = texts_of(_column(texts))
        with looked_through_once():
            column = _column(texts)
            remember(column, codes, names)
            assert texts_of(column)[0].tolist() == plain.tolist()
            assert texts_of(column)[1] == found
            frame = pd.DataFrame({"hitter": column})
            kept = rng.random(many) < 0.5
            some = rows_kept(frame, kept)
            again = texts_of(_column(some["hitter"].where(some["hitter"].notna(), None).tolist()))
            assert texts_of(some["hitter"])[0].tolist() == again[0].tolist()
            assert texts_of(some["hitter"])[1] == again[1]


def test_a_column_is_looked_through_once_and_again_once_it_changed(monkeypatch: pytest.MonkeyPatch) -> None:
    looked: list[int] = []
    factorize = pd.factorize

    def counted(column: pd.Series) -> tuple[np.ndarray, pd.Index]:
        looked.append(len(column))
        return factorize(column)

    monkeypatch.setattr(coded.pd, "factorize", counted)
    frame = pd.DataFrame(
        {"result": _column(["out", None, "walk"]), "outcome": _column(["foul", "ball", "ball"])}
    )
    with looked_through_once():
        for _ in range(3):
            assert texts_of(frame["result"])[1] == ["out", "walk"]
        assert looked == [3]
        with looked_through_once():
            assert texts_of(frame["result"])[1] == ["out", "walk"]
        frame.loc[0, "result"] = pd.NA
        assert texts_of(frame["result"])[1] == ["walk"]
        frame["result"] = frame["outcome"]
        assert texts_of(frame["result"])[1] == ["foul", "ball"]
    assert len(looked) == 3
    texts_of(frame["result"])
    texts_of(frame["result"])
    assert len(looked) == 5  # beyond it nothing is remembered


def test_codes_are_numbered_in_the_order_of_the_rows() -> None:
    codes, order = in_order_of_rows(np.array([3, -1, 1, 3, 0]), 5)
    assert codes.tolist() == [0, -1, 1, 0, 2]
    assert order.tolist() == [3, 1, 0]
    assert [part.tolist() for part in in_order_of_rows(np.zeros(0, dtype=np.int64), 2)] == [[], []]


def test_first_rows_of_each_pair_are_those_that_dropping_repeats_leaves() -> None:
    rng = np.random.default_rng(4)
    for _ in range(50):
        frame = pd.DataFrame({name: _column(_some(rng, 30)) for name in ("game", "hitter", "club")})
        for names in (["hitter", "club"], ["game", "hitter", "club"]):
            pd.testing.assert_frame_equal(distinct(frame, names), frame[names].dropna().drop_duplicates())


def test_a_key_in_order_is_that_which_sorting_gives() -> None:
    rng = np.random.default_rng(5)
    for number in range(200):
        many = int(rng.integers(1, 12))
        games = _some(rng, many)
        frame = pd.DataFrame({"game": _column(games)})
        frame["plate_appearance"] = pd.array(rng.integers(1, 4, many), dtype="Int64")
        frame["pitch"] = pd.array(rng.integers(1, 4, many), dtype="Int64")
        if number % 2:
            frame = frame.sort_values(["game", "plate_appearance", "pitch"], ignore_index=True)
        order = key_order(frame)
        whole = frame[frame["game"].notna()]
        if not len(whole):
            assert order is None
            continue
        assert order is not None
        place = pd.factorize(whole["game"])[0]
        key = (place, *(whole[name].to_numpy(dtype=np.int64) for name in ("plate_appearance", "pitch")))
        assert order.places.tolist() == whole.index.to_numpy()[np.lexsort(key[::-1])].tolist()
        values = rng.random(many)
        assert order.of(values).tolist() == values[order.places].tolist()
        in_order = list(zip(*(part.tolist() for part in key), strict=True))
        assert ascending(*key) == (in_order == sorted(in_order))
        assert ascending(*key, strictly=True) == (in_order == sorted(set(in_order)))


def test_speeds_are_sorted_by_game_whether_they_are_tenths_or_not() -> None:
    rng = np.random.default_rng(6)
    games = rng.integers(0, 5, 400)
    for speeds in (rng.integers(200, 1_300, 400) / 10, rng.random(400) * 100, np.zeros(0)):
        codes, own = _sorted(games[: len(speeds)], speeds)
        order = np.lexsort((speeds, games[: len(speeds)]))
        assert codes.tolist() == games[: len(speeds)][order].tolist()
        assert own.tolist() == speeds[order].tolist()


@pytest.mark.parametrize("odd", ["", " film 7", "film 7\t", "filmé 7", "film 7"])
def test_a_path_a_pitch_is_what_it_is_however_many_there_are(odd: str) -> None:
    paths = [f"film {number} 00:08" for number in range(12_000)]
    paths[300] = odd
    if odd == "film 7":
        paths[301] = odd
    column = pa.chunked_array([paths[:5_000], paths[5_000:]]).dictionary_encode()
    judged = judge("clip", source_cells("clip", column), Mapping())
    assert isinstance(judged, Judged)
    told = judged.series()
    assert told.where(told.notna(), "").tolist() == [path.strip() for path in paths]
    assert list(judged.cells.texts)[-1] == ""
    assert sorted(set(judged.cells.texts)) == sorted({*paths, ""})
    assert not judged.bad().any()
    sheet = pd.DataFrame({"hitter": "Ada Frusk", "outcome": "foul", "clip": paths})
    read = read_pitches(sheet).table["clip"]
    assert read.where(read.notna(), "").tolist() == [path.strip() for path in paths]
