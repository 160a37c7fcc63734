"""Counting the caller's own events, and what each lies within."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import narwhals as nw
import numpy as np
import pandas as pd

from hitlab.counting.events import EVENTS, Event
from hitlab.counting.facts import PITCH_FACTS, Conventions, facts_beside
from hitlab.counting.own_events import Own, Wanted
from hitlab.counting.summing import Counted, Gathered, weights
from hitlab.errors import HardnessError, MissingColumnsError

__all__ = ["add_own", "companions"]


def companions(own: Mapping[str, Wanted], conventions: Conventions, columns: set[str]) -> dict[str, Wanted]:
    """Return contact, and that of unknown hardness, for the situations in which hard balls are asked for."""
    more: dict[str, Wanted] = {}
    for wanted in own.values():
        event = EVENTS.get(wanted.base)
        if event is None or not event.unknown or wanted.situation is None:
            continue
        for name in (event.unknown, event.parts_of(conventions)[-1]):
            if not EVENTS[name].lacking(columns):
                words = f"{EVENTS[name].many} {wanted.situation.words}"
                more[words] = Wanted(wanted.flag, name, wanted.situation)
    return {name: wanted for name, wanted in more.items() if name not in own}


def add_own(
    data: pd.DataFrame,
    frame: Any,
    keys: list[str],
    own: Mapping[str, Wanted],
    counted: Sequence[Event],
    conventions: Conventions,
    columns: set[str],
) -> dict[str, Own]:
    """Add the caller's own events, and see which counts each lies within and which lie within it."""
    result = [name for name in ("result",) if name in columns]
    flags = [
        nw.when(wanted.flag == True).then(nw.lit(1)).otherwise(nw.lit(0)).alias(f"own_{number}")  # noqa: E712
        for number, wanted in enumerate(own.values())
    ]
    # What an expression of the caller's own asks of all pitches, such as a mean, no partition can tell.
    frame = frame.with_columns(
        flag for flag, wanted in zip(flags, own.values(), strict=True) if not wanted.rests_on
    )
    flags = [
        flag if wanted.rests_on else nw.col(f"own_{number}")
        for number, (flag, wanted) in enumerate(zip(flags, own.values(), strict=True))
    ]
    facts = (*PITCH_FACTS, *result, *(f"own_{number}" for number in range(len(own))))
    told = [*dict.fromkeys([*keys, *result]), *facts_beside(keys, columns, conventions), *flags]
    counts = Counted.of(Gathered.of(frame, told, list(dict.fromkeys([*keys, *facts]))).data, keys, facts)
    absent = [w.base for w in own.values() if w.base and w.base not in {event.name for event in counted}]
    if absent:
        kind = HardnessError if absent[0] in EVENTS and EVENTS[absent[0]].hardness else MissingColumnsError
        raise kind(f"{absent[0]} cannot be counted here, so no part of it can")

    def weigh(kinds: pd.DataFrame) -> dict[str, np.ndarray[Any, Any]]:
        ledger = weights(kinds, list(counted), conventions)
        return {
            name: kinds[f"own_{number}"].to_numpy() * (ledger[wanted.base] if wanted.base else 1)
            for number, (name, wanted) in enumerate(own.items())
        }

    counts.add_to(data, keys, weigh)
    mine = {name: weight > 0 for name, weight in weigh(counts.kinds).items()}
    shares = [event for event in counted if event.share]
    all_flags = {n: w > 0 for n, w in weights(counts.kinds, shares, conventions).items()} | mine
    lying = {}
    for name, flag in mine.items():
        others = {other: its for other, its in all_flags.items() if other != name}
        base = EVENTS.get(own[name].base)
        told_in, words = own[name].situation, ""
        unknown = contact = ""
        if base is not None and base.unknown and told_in is not None:
            words = told_in.words
            unknown = f"{EVENTS[base.unknown].many} {words}"
            contact = f"{EVENTS[base.parts_of(conventions)[-1]].many} {words}"
        lying[name] = Own(
            tuple(other for other, its in others.items() if not (flag & ~its).any()),
            tuple(other for other, its in others.items() if not (its & ~flag).any()),
            unknown if unknown in own else "",
            contact if contact in own else "",
        )
    return lying
