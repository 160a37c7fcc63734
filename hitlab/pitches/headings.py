"""Which source column fills which of ours."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from hitlab.errors import ReadingError
from hitlab.pitches.mapping import TARGETS, Mapping, Split, fold, nearest
from hitlab.pitches.origin import Source
from hitlab.pitches.schema import NEEDED

__all__ = ["Headings", "asked_for", "match_headings"]

_LISTED = 30


@dataclass(frozen=True, slots=True)
class Headings:
    """Places (from 0) of the source columns that are used.

    Attributes
    ----------
    names
        The source's columns.
    columns
        Our column -> place of the source column.
    split
        Place of a source column whose cells are taken apart -> how.
    constants
        Our columns that the mapping fills by itself.
    keep
        Name of a column carried along -> its place.
    told
        Those of ``columns`` that only the words of the outcome tell.
    """

    names: tuple[str, ...]
    columns: dict[str, int]
    split: dict[int, Split]
    constants: tuple[str, ...]
    keep: dict[str, int]
    told: frozenset[str] = field(default_factory=frozenset)

    @property
    def targets(self) -> set[str]:
        """Our columns that get filled."""
        return {*self.columns, *self.constants, *(name for one in self.split.values() for name in one.into)}

    @property
    def unused(self) -> tuple[str, ...]:
        """Source columns that nobody mapped."""
        used = {*self.columns.values(), *self.split, *self.keep.values()}
        return tuple(name for place, name in enumerate(self.names) if place not in used)

    def source_of(self, target: str) -> str:
        """Name the source column that fills one of ours."""
        if target in self.columns:
            return self.names[self.columns[target]]
        for place, split in self.split.items():
            if target in split.into:
                return self.names[place]
        return "[constants]"

    def described(self) -> dict[str, str]:
        """List our column -> source column, in the table's order."""
        return {target: self.source_of(target) for target in TARGETS if target in self.targets}


def asked_for(names: Sequence[str], mapping: Mapping) -> list[int]:
    """Places (from 0) of the columns whose cells are needed: those that a mapping names, and those of ours.

    Parameters
    ----------
    names
        The source's columns.
    mapping
        How it is read.
    """
    named = (*mapping.columns, *mapping.split, *mapping.keep, *mapping.games)
    needed = {*TARGETS, *map(fold, (*named, *mapping.also, *mapping.also.values()))}
    return [place for place, name in enumerate(names) if fold(name) in needed]


def match_headings(source: Source, mapping: Mapping) -> Headings:
    """Find the source columns that the mapping names and those that carry our names.

    Raises
    ------
    ReadingError
        For a mapped column that is not there or is there twice, two sources of one of ours, and
        a needed column without a source.
    """
    names = source.columns
    columns: dict[str, int] = {}
    taken: set[int] = set()
    for name, targets in mapping.columns.items():
        place = _place(name, source, mapping, "[columns]")
        taken.add(place)
        columns |= dict.fromkeys(targets, place)
    split: dict[int, Split] = {}
    for name, one in mapping.split.items():
        place = _place(name, source, mapping, "[split]")
        taken.add(place)
        split[place] = one
    keep = {name: _place(name, source, mapping, "keep") for name in mapping.keep}
    filled = {*columns, *(name for one in split.values() for name in one.into)}
    own: dict[str, int] = {}
    for place, name in enumerate(names):
        target = fold(name)
        if target not in TARGETS or target in filled or place in taken or place in keep.values():
            continue
        if target in mapping.constants:
            raise ReadingError(
                f"{target} is filled twice: by [constants] in {mapping.name} and by the column {name!r} of "
                f"{source.name}. Take the line out of [constants], or rename the column."
            )
        if target in own:
            raise ReadingError(
                f"{target} is filled twice in {source.name}: by column {own[target] + 1} "
                f"({names[own[target]]!r}) and by column {place + 1} ({name!r}). Rename one of them."
            )
        own[target] = place
    columns |= own
    told: frozenset[str] = frozenset()
    if mapping.telling and "outcome" in columns:
        filled = {*columns, *mapping.constants, *(name for one in split.values() for name in one.into)}
        told = frozenset(mapping.telling.targets) - filled
        columns |= {target: columns["outcome"] for target in mapping.telling.targets if target in told}
    headings = Headings(tuple(names), columns, split, tuple(mapping.constants), keep, told)
    for target in NEEDED:
        if target not in headings.targets:
            raise ReadingError(_absent(target, source, headings))
    return headings


def _place(name: str, source: Source, mapping: Mapping, where: str) -> int:
    """Place of a source column by its name; capitals decide only where two differ by them alone."""
    names = source.columns
    same = [place for place, one in enumerate(names) if one == name]
    if not same:
        same = [place for place, one in enumerate(names) if fold(one) == fold(name)]
    if len(same) == 1:
        return same[0]
    if same:
        places = " and ".join(str(place + 1) for place in same)
        raise ReadingError(
            f"{source.name} has the column {name!r} more than once (columns {places}), so {where} in "
            f"{mapping.name} cannot tell which one is meant. Rename one of them in the source."
        )
    near = nearest(name, names)
    hint = f" Nearest: {near!r}." if near else ""
    raise ReadingError(
        f"{where} in {mapping.name} names the column {name!r}, which {source.name} does not have.{hint} "
        f"Its columns: {_listed(names)}."
    )


def _absent(target: str, source: Source, headings: Headings) -> str:
    free = headings.unused
    near = nearest(target, free)
    if near:
        mend = f'Nearest: {near!r}. If that is it, write in the mapping: [columns] "{near}" = "{target}"'
    else:
        mend = f'Write in the mapping which column it is: [columns] "its name in the source" = "{target}"'
    columns = _listed(source.columns)
    return f"{source.name} has no column {target}, which is needed. Its columns: {columns}. {mend}"


def _listed(names: list[str]) -> str:
    more = f", ... ({len(names) - _LISTED} more)" if len(names) > _LISTED else ""
    return ", ".join(repr(name) for name in names[:_LISTED]) + more
