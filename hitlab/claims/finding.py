"""Who is meant by a name."""

from __future__ import annotations

import unicodedata

from hitlab.counting.counts import Counts
from hitlab.errors import UnknownHitterError

__all__ = ["find_hitter"]


def find_hitter(counts: Counts, name: str) -> int:
    """Return the row of a hitter, by id, by label or by name; case and accents do not matter.

    Raises
    ------
    UnknownHitterError
        Where nobody is called so (the nearest spellings are offered), or more than one (their ids
        are).
    """
    labels = counts.labels
    named = [column for column in ("hitter_id", "hitter") if column in counts.data.columns]
    columns = [labels, *([str(value) for value in counts.data[column]] for column in named)]
    wanted = _folded(name)
    for column_values in columns:
        for match in (lambda v: v == name, lambda v: _folded(v) == wanted):
            places = [place for place, value in enumerate(column_values) if match(value)]
            if len(places) == 1:
                return places[0]
            if places:
                ids = counts.data["hitter_id"] if "hitter_id" in counts.data.columns else labels
                who = ", ".join(f"{labels[p]} (id {ids[p]})" for p in places)
                raise UnknownHitterError(
                    f"{len(places)} hitters are called {name!r}: {who}. Give the id instead"
                )
    from rapidfuzz import process

    near = process.extract(name, labels, processor=_folded, limit=3, score_cutoff=60)
    offer = f"; the nearest are {', '.join(label for label, _, _ in near)}" if near else ""
    raise UnknownHitterError(
        f"nobody here is called {name!r}{offer}. There are {len(labels):,} names in the table"
    )


def _folded(text: str) -> str:
    plain = unicodedata.normalize("NFKD", str(text))
    return "".join(c for c in plain if not unicodedata.combining(c)).casefold().strip()
