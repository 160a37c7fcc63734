"""The exceptions and warnings that hitlab raises: one small family.

Every message names the place (file, row, column, argument), shows the value that was found,
says what is accepted and gives the next step. A program that embeds hitlab can catch
:class:`HitlabError` and show the message as it is.
"""

from __future__ import annotations

import warnings

__all__ = [
    "ClaimError",
    "CountsError",
    "HardnessError",
    "HitlabError",
    "HitlabWarning",
    "MissingColumnsError",
    "MissingPackageError",
    "ReadingError",
    "UnknownHitterError",
    "quiet_warnings",
]


class HitlabError(Exception):
    """Base of every error that hitlab raises on purpose."""


class ReadingError(HitlabError):
    """A source that cannot be read as a pitch table, or a file that cannot be written; names the place."""


class MissingColumnsError(HitlabError):
    """A question needs columns that the pitch table does not have."""


class CountsError(HitlabError, ValueError):
    """Counts that cannot be: not whole, negative, or more events than the exposure allows."""


class HardnessError(MissingColumnsError, CountsError):
    """Nothing tells how hard balls were hit, so that none is counted as hard; other rates can be told."""


class ClaimError(HitlabError, ValueError):
    """A claim that cannot be checked as it was put (argument out of range, nobody qualified, ...)."""


class UnknownHitterError(ClaimError):
    """Nobody of that name, or more than one; the message offers the nearest spellings or the ids."""


class MissingPackageError(HitlabError, ImportError):
    """An optional package is needed for this; the message gives the install command."""


class HitlabWarning(UserWarning):
    """Base of every warning that hitlab gives."""


class quiet_warnings(warnings.catch_warnings):  # noqa: N801 (reads as a verb phrase in `with`)
    """Keep hitlab's own warnings from where people read: the answer's notes say the same."""

    def __enter__(self) -> None:
        super().__enter__()
        warnings.simplefilter("ignore", HitlabWarning)
