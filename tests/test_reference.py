"""The reference that is read offline: every public name, its examples, its pictures."""

from __future__ import annotations

import inspect
import re
import subprocess
import sys

import pytest

import hitlab
from hitlab.course.reference import packages
from tests.needs import package

pytestmark = pytest.mark.slow


def test_the_reference_shows_every_public_name_and_needs_no_network(tmp_path):
    package("pdoc")
    subprocess.run(
        [sys.executable, "-m", "hitlab.course", "reference", "--to", str(tmp_path)],
        check=True,
        capture_output=True,
    )
    for each in packages():
        page = (tmp_path / f"{each.__name__.replace('.', '/')}.html").read_text("utf-8")
        for name in each.__all__:
            assert f'id="{name}"' in page or f"{name}.html" in page, (each.__name__, name)
        assert not re.search(r'(src|href)="https?://(?!pdoc\.dev)[^"]+\.(js|css|woff2?|png|svg)"', page)
    page = (tmp_path / "hitlab" / "plots.html").read_text("utf-8")
    told = {part.partition('"')[0]: part for part in page.split('<section id="')[1:]}
    drawing = [
        name
        for name in dir(hitlab.plots)
        if inspect.isfunction(getattr(hitlab.plots, name))
        and "Axes" in str(inspect.signature(getattr(hitlab.plots, name)).return_annotation)
    ]
    assert len(drawing) > 15
    assert not [name for name in drawing if "data:image/png;base64," not in told[name]]
