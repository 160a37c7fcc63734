"""Several files, and all that a folder holds, as one source."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from hitlab.errors import ReadingError
from hitlab.pitches.files import open_pieces
from hitlab.pitches.joining import Piece, join
from hitlab.pitches.mapping import Mapping, fold
from hitlab.pitches.origin import Bounds, LeftOut, Source
from hitlab.pitches.regular import TABLE_ENDINGS, entries

__all__ = ["files_of", "is_several", "names_of", "open_several"]

_MOST_FILES = 10_000  # a folder with more is not one of charts (a default)
_SAVED = "it is a checked table that was saved"


def is_several(source: Any) -> bool:
    """Say whether a source is a list of files, or a folder."""
    if isinstance(source, list | tuple):
        return bool(source) and all(isinstance(one, str | os.PathLike) for one in source)
    return isinstance(source, str | os.PathLike) and os.path.isdir(source)


def files_of(source: Any, aside: Iterable[Any] = ()) -> tuple[list[Path], list[LeftOut]]:
    """List the files that a list of files and folders stands for.

    Parameters
    ----------
    source
        A path or several; of a folder the tables in it, in the order of their names, with numbers in them
        by size.
    aside
        Files of a folder that are no pitches, such as the roster.

    Returns
    -------
    tuple
        The files, and what of the folders is not read, with the reason.

    Raises
    ------
    ReadingError
        Where a file is named twice, or a folder has no table in it.
    """
    given = list(source) if isinstance(source, list | tuple) else [source]
    others = {os.path.realpath(one) for one in aside if isinstance(one, str | os.PathLike)}
    found: list[Path] = []
    left_out: list[LeftOut] = []
    for one in map(Path, given):
        if one.is_dir():
            before = len(left_out)
            inside = _inside(one, others, left_out)
            if not inside and any(which.reason == _SAVED for which in left_out[before:]):
                raise ReadingError(
                    f"The tables in {one} are saved and checked already, and are not read again. Give the "
                    "folder without a mapping where pitches are asked for, such as hitlab list --file "
                    f"{one}; hitlab add puts saved tables together."
                )
            if not inside:
                raise ReadingError(
                    f"{one} is a folder without a table in it. Accepted: {', '.join(TABLE_ENDINGS)} files."
                )
            found += inside
        else:
            found.append(one)
    seen: dict[str, Path] = {}
    for one in found:
        real = os.path.realpath(one)
        if real in seen:
            raise ReadingError(
                f"{one} is named twice (as {seen[real]}, too): its pitches would count twice. Name it once."
            )
        seen[real] = one
    return found, left_out


def _inside(folder: Path, others: set[str], left_out: list[LeftOut]) -> list[Path]:
    from hitlab.pitches.storing import is_checked

    inside = entries(folder)
    if len(inside) > _MOST_FILES:
        raise ReadingError(f"{folder} has more than {_MOST_FILES:,} files in it. Name those that are meant.")
    found = []
    for path in inside:
        if os.path.realpath(path) in others:
            continue  # the roster
        if path.is_dir():
            left_out.append(
                LeftOut(path.name, "", "it is a folder in the folder, and is not looked into", meant=True)
            )
        elif path.suffix.lower() not in TABLE_ENDINGS:
            left_out.append(LeftOut(path.name, "", "its name is none of a table", meant=True))
        elif path.suffix.lower() == ".parquet" and is_checked(path):
            left_out.append(LeftOut(path.name, "", _SAVED, meant=True))
        else:
            found.append(path)
    return found


def open_several(
    source: Any, mapping: Mapping, bounds: Bounds, *, aside: Iterable[Any] = (), all_of_them: bool = False
) -> Source:
    """Read several files, or those of a folder, as one source.

    Parameters
    ----------
    source
        A list of paths, or a folder.
    mapping, bounds
        How they are read, and how much is accepted of all together.
    aside
        Files of a folder that are no pitches.
    all_of_them
        Take tables that lack a needed column, too.

    Raises
    ------
    ReadingError
        Where one cannot be read, or all have more rows together than is accepted.
    """
    paths, left_out = files_of(source, aside)
    pieces: list[Piece] = []
    names = names_of(paths)
    rows = 0
    for path in paths:
        name = names[path]
        if fold(path.name) in mapping.skip:
            left_out.append(LeftOut(name, "", "the mapping says that it is not read", meant=True))
            continue
        found = open_pieces(path, mapping, bounds)
        pieces += [(name, sheet, one) for sheet, one in found.parts]
        left_out += [LeftOut(name, one.sheet, one.reason, one.meant) for one in found.left_out]
        rows += sum(one.table.num_rows for _, one in found.parts)
        if rows > bounds.most_rows:
            raise ReadingError(
                f"The files have more than {bounds.most_rows:,} rows together. Read fewer at once, or, where "
                "so many are meant, say most_rows=."
            )
    single = Path(source).name if isinstance(source, str | os.PathLike) else ""
    return join(pieces, left_out, mapping, single or _called(paths), all_of_them=all_of_them)


def _called(paths: Sequence[Path]) -> str:
    return paths[0].name if len(paths) == 1 else f"the {len(paths)} files"


def names_of(paths: Sequence[Path]) -> dict[Path, str]:
    """Name of each file; with its folder where two are called alike.

    Parameters
    ----------
    paths
        The files.
    """
    last = [path.name for path in paths]
    return {path: path.name if last.count(path.name) == 1 else str(path) for path in paths}
