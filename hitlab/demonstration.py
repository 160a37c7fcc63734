"""Where the demo season lies: in the installed package, or beside it in a clone."""

from __future__ import annotations

from pathlib import Path

from hitlab.errors import ReadingError

__all__ = ["called", "demo_folder", "demo_season"]


def demo_folder() -> Path:
    """Return the folder with the demo files; its README says what they are and how they were made.

    Raises
    ------
    ReadingError
        Where the files are not there (a package that was cut down).
    """
    here = Path(__file__).resolve().parent
    for folder in (here / "data_demo", here.parent / "data_demo"):
        if (folder / "season.parquet").is_file():
            return folder
    raise ReadingError(
        f"the demo season is not in {here / 'data_demo'}; install the package again, or make a season with "
        "`hitlab make`"
    )


def demo_season() -> Path:
    """Return the path of the demo season: an invented league, about 100,000 pitches, saved and checked.

    Returns
    -------
    pathlib.Path
        A Parquet file saved with ``hitlab.pitches.write_checked``: one row a pitch, 150 hitters of 10 clubs.
        Every function that takes a pitch table takes the path.

    Raises
    ------
    ReadingError
        Where the files are not there (a package that was cut down).

    Examples
    --------
    >>> import hitlab
    >>> season = hitlab.demo_season()
    >>> season.name
    'season.parquet'
    >>> hitlab.tally(season, by="hitter_side").table()[["hitter_side", "swings", "whiffs"]]
      hitter_side  swings  whiffs
    0        left   17203    4271
    1       right   30959    8080
    """
    return demo_folder() / "season.parquet"


def called(path: str) -> str:
    """Return what to call a file in a sentence: the demo season by its name, others as they were given."""
    here = Path(path)
    if here.name == "season.parquet" and here.parent.name == "data_demo" and here == demo_season():
        return "the demo season, an invented league"
    return path
