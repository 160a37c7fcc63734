"""The swing ledger: each pitch with what it became, row by row.

The tally sums the same rules over groups (``hitlab.counting.events``), so the two cannot drift apart.
"""

from __future__ import annotations

from typing import Any

from hitlab.counting.events import EVENTS, event_expression
from hitlab.counting.facts import FACT_COLUMNS, PITCH_FACTS, Conventions, pitch_facts
from hitlab.counting.hardness import why_hard_is_unknown
from hitlab.counting.value_kinds import demand_kinds
from hitlab.errors import CountsError, MissingColumnsError
from hitlab.pitches.opening import frame_of

__all__ = ["swing_ledger"]


def swing_ledger(pitches: Any, *, conventions: Conventions | None = None, trust: bool = False) -> Any:
    """Add to each pitch what it became: one true-or-false column an event.

    Parameters
    ----------
    pitches
        A pitch table, as :func:`hitlab.tally` takes it.
    conventions
        How the debatable cases are counted; see :class:`Conventions`.
    trust
        Accept a file without the schema mark.

    Returns
    -------
    frame
        The caller's own kind of frame with the columns named by ``EVENTS[...].flag`` added
        (``swing``, ``take``, ``missed``, ``put_in_play``, ``hit_hard``, ...; ``bases_gained`` is 0 to
        4). Events that the table cannot tell are left out, hard balls among them where no threshold is known.

    Raises
    ------
    MissingColumnsError
        Where ``outcome`` is absent.
    ReadingError
        Where numbers are written as texts.

    Examples
    --------
    >>> import pandas as pd
    >>> from hitlab.counting import swing_ledger
    >>> pitches = pd.DataFrame({"outcome": ["called strike", "foul", "whiff", "in play"]})
    >>> swing_ledger(pitches)[["outcome", "swing", "missed", "put_in_play"]]
             outcome  swing  missed  put_in_play
    0  called strike  False   False        False
    1           foul   True   False        False
    2          whiff   True    True        False
    3        in play   True   False         True
    """
    conventions = conventions or Conventions()
    frame, _ = frame_of(pitches, trust=trust)
    columns = set(frame.collect_schema().names())
    if "outcome" not in columns:
        raise MissingColumnsError(
            "the swing ledger needs the column outcome; read the file with read_pitches first"
        )
    demand_kinds(frame, FACT_COLUMNS)
    no_hardness = bool(why_hard_is_unknown(frame.to_native(), conventions, trust=True))
    told = [
        event
        for event in EVENTS.values()
        if not event.lacking(columns) and not (event.hardness and no_hardness)
    ]
    taken = sorted({*(event.flag for event in told), *PITCH_FACTS[1:]} & columns)
    if taken:
        raise CountsError(f"the table already has the column {taken[0]!r}; drop or rename it first")
    flags = [
        expression == 1 if event.share else expression
        for event in told
        for expression in [event_expression(event, conventions)]
    ]
    named = [flag.alias(event.flag) for event, flag in zip(told, flags, strict=True)]
    facts = pitch_facts(columns, conventions)[1:]
    return frame.with_columns(*facts).with_columns(*named).drop(*PITCH_FACTS[1:]).to_native()
