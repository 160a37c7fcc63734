"""How a notebook's kernel is reached when many are started at once: by files of its own, not by ports.

Ports that were free when they were looked for can be taken before the kernel gets to them, by whatever else
runs on the machine; the kernel dies then before it answers. A file in a new folder is nobody else's.
"""

from __future__ import annotations

import os
from pathlib import Path

__all__ = ["reached_by_files"]


def reached_by_files(folder: Path) -> dict[str, str]:
    """Return what a kernel manager is told, that its kernel listens at files in a folder.

    Parameters
    ----------
    folder
        A new folder for this one kernel, with a short path: a socket's whole path may have some hundred
        characters.

    Returns
    -------
    dict of str to str
        ``transport`` and ``connection_file``; empty on Windows, where kernels listen on ports alone.
    """
    if os.name == "nt":
        return {}
    return {"transport": "ipc", "connection_file": str(folder / "k.json")}
