"""Writing: an older file stays whole whatever happens, no input is written over, nothing is left lying."""

from __future__ import annotations

import hashlib
import os
import signal
import stat
import subprocess
import sys
import textwrap
from pathlib import Path

import pandas as pd
import pytest

from hitlab.cli.commands import run
from hitlab.errors import HitlabError, ReadingError
from hitlab.writing import check_outputs, make_folder, refusal, write_file

posix = pytest.mark.skipif(os.name == "nt", reason="links, devices, limits and signals are those of POSIX")

KINDS = {
    "table": ["read", "{sheet}", "--save", "{out}.parquet"],
    "set aside": ["read", "{sheet}", "--set-aside", "{out}.csv"],
    "cut list": ["check", "leads", "--file", "{sheet}", "--cut", "{out}.csv"],
    "timeline": ["check", "leads", "--file", "{sheet}", "--cut", "{out}.otio"],
    "card": ["check", "leads", "--file", "{sheet}", "--card", "{out}.svg"],
    "picture": ["check", "leads", "--file", "{sheet}", "--card", "{out}.png"],
}
"""What each kind of output is asked for with."""


@pytest.fixture
def sheet(tmp_path):
    """Some hitters with clips, and a row that is set aside."""
    rows = []
    for hitter, hard in (("Ada Velm", 15), ("Cy Drul", 3), ("Bo Zelm", 5)):
        for number in range(40):
            clip = f"game.mp4 00:{number:02d}:00"
            rows.append((hitter, "in play", 100.0 if number < hard else 90.0, clip))
    rows.append(("", "whiff", None, ""))
    path = tmp_path / "in" / "sheet.csv"
    path.parent.mkdir()
    pd.DataFrame(rows, columns=["hitter", "outcome", "exit_mph", "clip"]).to_csv(path, index=False)
    return path


def command(kind, sheet, out):
    """The words of one command, and the file that it writes."""
    words = [word.format(sheet=sheet, out=out) for word in KINDS[kind]]
    return words, Path(words[-1])


def digest(path):
    return hashlib.sha256(path.read_bytes()).hexdigest()


def alone(folder):
    """The names in a folder."""
    return sorted(os.listdir(folder))


# No input is written over.


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("way", ["itself", "another path", "symbolic link", "hard link"])
@posix
def test_an_output_that_is_the_input_is_refused_and_the_input_stays(kind, way, sheet, tmp_path, capsys):
    words, wanted = command(kind, sheet, tmp_path / "out")
    same = sheet.rename(sheet.with_name(f"sheet{wanted.suffix}"))
    out = {
        "itself": same,
        "another path": sheet.parent / ".." / "in" / same.name,
    }.get(way, tmp_path / f"link{wanted.suffix}")
    if way == "symbolic link":
        out.symlink_to(same)
    elif way == "hard link":
        out.hardlink_to(same)
    before = digest(same)
    assert run([*(str(same) if word == str(sheet) else word for word in words[:-1]), str(out)]) == 2
    said = capsys.readouterr()
    assert digest(same) == before
    assert "is the file that is read" in said.err
    assert "saved" not in said.out  # nor any other work was done
    assert "Verdict" not in said.out


@pytest.mark.parametrize(("option", "ending"), [("--league", ".csv"), ("--mapping", ".csv")])
def test_every_input_of_a_command_is_safe(option, ending, sheet, tmp_path, capsys):
    other = tmp_path / f"other{ending}"
    other.write_text("[columns]\n" if option == "--mapping" else sheet.read_text())
    before = digest(other)
    words = ["check", "leads", "--file", str(sheet), option, str(other), "--cut", str(other)]
    assert run(words) == 2
    assert digest(other) == before
    assert "is the file that is read" in capsys.readouterr().err


def test_two_outputs_on_one_path_are_refused_before_any_work(sheet, tmp_path, capsys):
    out = tmp_path / "out.csv"
    again = tmp_path / "in" / ".." / "out.csv"
    assert run(["read", str(sheet), "--save", str(out), "--set-aside", str(again)]) == 2
    said = capsys.readouterr()
    assert "--save and --set-aside" in said.err
    assert not said.out
    assert not out.exists()


@posix
def test_two_outputs_that_are_one_file_through_links_are_refused(sheet, tmp_path, capsys):
    one = tmp_path / "one.parquet"
    one.write_text("old")
    (tmp_path / "two.csv").hardlink_to(one)
    assert run(["read", str(sheet), "--save", str(one), "--set-aside", str(tmp_path / "two.csv")]) == 2
    assert one.read_text() == "old"
    assert "are one file" in capsys.readouterr().err


@pytest.mark.slow
def test_in_the_library_too_what_was_read_is_not_written_over(sheet, tmp_path):
    import hitlab
    from hitlab.evidence.cards import card
    from hitlab.evidence.cut_lists import cut_list
    from hitlab.pitches.storing import write_checked

    checked = tmp_path / "checked.csv"  # the ending of a saved table is the user's
    write_checked(sheet, checked)
    claim = hitlab.check_leads(checked)
    reading = hitlab.read_pitches(sheet)
    before = {path: digest(path) for path in (sheet, checked)}
    for write in (
        lambda: write_checked(sheet, sheet),
        lambda: write_checked(reading, sheet),
        lambda: reading.save_set_aside(sheet),
        lambda: cut_list(checked, claim).save(checked),
        lambda: cut_list(reading, claim).save(sheet),
        lambda: hitlab.tally(checked).save(checked),
    ):
        with pytest.raises(ReadingError, match="is the file that is read"):
            write()
    as_svg = checked.rename(tmp_path / "checked.svg")
    claim = hitlab.check_leads(as_svg)
    with pytest.raises(ReadingError, match="is the file that is read"):
        card(claim, as_svg)
    assert digest(as_svg) == before[checked]
    assert digest(sheet) == before[sheet]


def test_no_result_is_written_over_what_was_read(sheet, tmp_path, monkeypatch):
    """Rates and rankings do not know their file, and paths are told from another folder afterwards."""
    import hitlab
    from hitlab.evidence.cards import card
    from hitlab.evidence.cut_lists import cut_list
    from hitlab.pitches.storing import write_checked

    mapping = tmp_path / "mapping.toml"
    mapping.write_text('[columns]\n"exit_mph" = "exit_mph"\n')
    monkeypatch.chdir(sheet.parent)
    reading = hitlab.read_pitches("sheet.csv", mapping)
    monkeypatch.chdir(tmp_path)
    counts = hitlab.tally(reading)
    claim = hitlab.check_leads(reading)
    (tmp_path / "same.csv").hardlink_to(sheet)
    for end in ("svg", "otio", "csv"):
        (tmp_path / f"link.{end}").symlink_to(sheet)
        (tmp_path / f"mapping.{end}").symlink_to(mapping)
    before = {path: digest(path) for path in (sheet, mapping)}
    for write in (
        lambda: counts.save(sheet),
        lambda: counts.save("same.csv"),
        lambda: counts.save("mapping.csv"),
        lambda: hitlab.rate(counts, "hard", per="swings").save(sheet),
        lambda: hitlab.shrink(counts, "hard", per="swings").save(sheet),
        lambda: hitlab.tally(reading.table).save(sheet),
        lambda: reading.report.save(sheet),
        lambda: reading.save_set_aside("link.csv"),
        lambda: claim.save(sheet),
        lambda: cut_list(reading.table, claim).save(sheet),
        lambda: cut_list(reading.table, claim).save("link.otio"),
        lambda: card(claim, "link.svg"),
        lambda: card(claim, "mapping.svg"),
        lambda: write_checked(reading, sheet),
        lambda: write_checked(reading.table, sheet),
    ):
        with pytest.raises(ReadingError, match="is the file that is read"):
            write()
    assert {path: digest(path) for path in (sheet, mapping)} == before


def test_a_saved_table_may_be_replaced_by_a_better_one(sheet, tmp_path):
    import hitlab
    from hitlab.pitches.storing import write_checked

    saved = write_checked(hitlab.read_pitches(sheet), tmp_path / "saved.csv")
    rates = hitlab.rate(hitlab.tally(saved), "hard", per="swings")
    with pytest.raises(ReadingError, match="is the file that is read"):
        rates.save(saved)
    write_checked(hitlab.read_pitches(sheet).table.head(5), saved)
    assert hitlab.tally(saved).column("pitches").sum() == 5


@pytest.mark.slow
@posix
@pytest.mark.parametrize("out", ["--save", "--set-aside"])
def test_a_file_given_as_standard_input_is_not_written_over(out, sheet):
    before = digest(sheet)
    with sheet.open("rb") as given:
        done = subprocess.run(
            [sys.executable, "-m", "hitlab", "read", "-", out, str(sheet)], stdin=given, capture_output=True
        )
    assert done.returncode == 2
    assert b"it is the file that is read" in done.stderr
    assert digest(sheet) == before


# What is no file is not replaced by one.


@pytest.mark.parametrize("kind", KINDS)
@posix
def test_what_is_no_regular_file_stays_what_it_is(kind, sheet, tmp_path, capsys):
    words, out = command(kind, sheet, tmp_path / "out")
    for make, test, what in (
        (os.mkdir, stat.S_ISDIR, "a folder"),
        (os.mkfifo, stat.S_ISFIFO, "a pipe"),
    ):
        make(out)
        assert run(words) == 2
        assert what in capsys.readouterr().err
        assert test(out.stat().st_mode)
        out.rmdir() if what == "a folder" else out.unlink()
    if os.geteuid():
        pytest.skip("only root may make a device")
    os.mknod(out, stat.S_IFCHR | 0o666, os.makedev(1, 3))
    assert run(words) == 2
    assert "a device" in capsys.readouterr().err
    assert stat.S_ISCHR(out.stat().st_mode)


# Names that cannot be.


@pytest.mark.parametrize("option", ["--save", "--set-aside"])
@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("", "name a file"),
        ("n" * 258, "cannot be written: File name too long"),
        ("ö" * 130, "cannot be written: File name too long"),
        ("a\0b", "code 0"),
    ],
)
@posix
def test_a_name_that_cannot_be_is_said_in_a_sentence(option, name, why, sheet, tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert run(["read", str(sheet), option, name and f"{name}.csv"]) == 2
    said = capsys.readouterr()
    assert "unexpected" not in said.err
    assert why in said.err
    assert not said.out
    assert alone(tmp_path) == ["in"]


@pytest.mark.slow
@posix
def test_a_name_that_is_not_utf8_is_written_and_shown(sheet, tmp_path):
    out = os.fsencode(tmp_path) + b"/ch\xe9cked.parquet"
    aside = os.fsencode(tmp_path) + b"/as\xefde.csv"
    made = subprocess.run(
        [sys.executable, "-m", "hitlab", "read", str(sheet), b"--save", out, b"--set-aside", aside],
        capture_output=True,
        check=False,
    )
    assert (made.returncode, made.stderr) == (0, b"")
    assert rb"ch\udce9cked.parquet" in made.stdout
    assert os.path.getsize(out) > 0
    assert os.path.getsize(aside) > 0


def test_longest_name_that_can_be_is_written(tmp_path):
    path = tmp_path / ("n" * 251 + ".csv")
    write_file(path, b"whole")
    assert path.read_bytes() == b"whole"


# The file that was there.


@posix
def test_permission_bits_and_links_stay(tmp_path):
    real = tmp_path / "real.csv"
    real.write_text("old")
    real.chmod(0o604)
    link = tmp_path / "link.csv"
    link.symlink_to(real)
    write_file(link, b"new")
    assert link.is_symlink()
    assert real.read_bytes() == b"new"
    assert stat.S_IMODE(real.stat().st_mode) == 0o604
    before = os.umask(0o027)
    try:
        write_file(tmp_path / "fresh.csv", b"new")
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / "fresh.csv").stat().st_mode) == 0o640


@pytest.mark.parametrize(
    "error", [OSError(28, "No space left on device"), KeyboardInterrupt(), MemoryError()]
)
def test_a_writer_that_fails_leaves_the_old_file_and_nothing_beside_it(error, tmp_path):
    path = tmp_path / "table.csv"
    path.write_text("old")

    def fails(file):
        file.write(b"half")
        file.flush()
        raise error

    expected = ReadingError if isinstance(error, OSError) else type(error)
    with pytest.raises(expected):
        write_file(path, fails)
    assert path.read_text() == "old"
    assert alone(tmp_path) == ["table.csv"]


def limited(words, limit):
    """Run a command that may write files of so many bytes at most, as a quota does."""
    code = textwrap.dedent(
        f"""
        import resource, sys
        from hitlab.cli.commands import run
        resource.setrlimit(resource.RLIMIT_FSIZE, ({limit}, {limit}))
        sys.exit(run({words!r}))
        """
    )
    return subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)


@pytest.mark.slow
@pytest.mark.parametrize("kind", KINDS)
@posix
def test_where_the_room_ends_the_old_file_stays_whole(kind, sheet, tmp_path):
    words, out = command(kind, sheet, tmp_path / "out")
    out.write_text("old, and worth keeping")
    (tmp_path / "font").mkdir()
    ended = limited(words, 100)
    assert "cannot be written" in ended.stderr
    assert "Traceback" not in ended.stderr
    assert "saved as" not in ended.stdout
    assert out.read_text() == "old, and worth keeping"
    assert alone(tmp_path) == sorted([out.name, "in", "font"])
    assert run(words) in (0, 1, 3)  # with room it is written
    assert out.stat().st_size > 100


@pytest.fixture
def small_disk(tmp_path):
    """A disk that is soon full."""
    place = tmp_path / "disk"
    place.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=2m", "tmpfs", str(place)]
    try:
        tried = subprocess.run(mount, capture_output=True, text=True, check=False)
    except FileNotFoundError:
        pytest.skip("there is no mount on this machine")
    if tried.returncode:
        pytest.skip(f"no disk may be mounted here: {tried.stderr.strip()}")
    yield place
    subprocess.run(["umount", str(place)], check=True)


@pytest.mark.slow
@pytest.mark.parametrize("kind", KINDS)
@posix
def test_on_a_full_disk_the_old_file_stays_whole(kind, sheet, small_disk, capsys):
    words, out = command(kind, sheet, small_disk / "out")
    out.write_text("old, and worth keeping")
    filler = small_disk / "filler"
    with pytest.raises(OSError, match="No space left"), filler.open("wb") as file:  # noqa: PT012
        for _ in range(1000):
            file.write(b"x" * 4096)
            file.flush()
    run(words)
    said = capsys.readouterr()
    assert "No space left" in said.err
    assert "saved as" not in said.out
    assert out.read_text() == "old, and worth keeping"
    assert alone(small_disk) == sorted([out.name, "filler"])
    filler.unlink()
    assert run(words) in (0, 1, 3)
    assert out.read_text(errors="replace") != "old, and worth keeping"


# Killed.

KILLED = """
import sys, time
import hitlab.writing as writing

whole = writing._filled

def halfway(file, content):
    class Slow:
        def __getattr__(self, name):
            return getattr(file, name)
        def write(self, data):
            file.write(bytes(data)[: len(data) // 2])
            file.flush()
            print("ready", flush=True)
            time.sleep(60)
    whole(Slow(), content)

writing._filled = halfway
from hitlab.cli.commands import run
print("ended", run(sys.argv[1:]))
"""


@pytest.mark.slow
@pytest.mark.parametrize("kind", KINDS)
@posix
def test_killed_while_it_writes_it_leaves_the_old_file_whole(kind, sheet, tmp_path, capsys):
    words, out = command(kind, sheet, tmp_path / "out")
    out.write_text("old, and worth keeping")
    writer = subprocess.Popen([sys.executable, "-c", KILLED, *words], stdout=subprocess.PIPE, text=True)
    for line in writer.stdout:
        if line.startswith("ready"):
            break
        assert not line.startswith("ended"), "it never came to writing"
    else:
        pytest.fail("it ended before it wrote")
    left = [name for name in alone(tmp_path) if name not in (out.name, "in")]
    assert len(left) == 1
    assert str(writer.pid) in left[0]
    assert (tmp_path / left[0]).stat().st_size > 0
    # While the other still writes, its file is let alone.
    write_file(tmp_path / "beside.csv", b"whole")
    assert left[0] in alone(tmp_path)
    os.kill(writer.pid, signal.SIGKILL)
    writer.wait()
    writer.stdout.close()
    assert out.read_text() == "old, and worth keeping"
    # The next who writes here takes it away.
    assert run(words) in (0, 1, 3)
    assert out.stat().st_size > 100
    assert alone(tmp_path) == sorted([out.name, "in", "beside.csv"])
    capsys.readouterr()


def test_only_our_own_left_overs_are_taken_away(tmp_path):
    from hitlab.writing import _beside

    ended = subprocess.Popen([sys.executable, "-c", ""])
    ended.wait()
    ours = _beside(tmp_path, ended.pid)
    ours.write_bytes(b"half")
    own = _beside(tmp_path, os.getpid())  # of a process that had our number before us
    own.write_bytes(b"half")
    living = _beside(tmp_path, os.getppid())
    living.write_bytes(b"half")
    kept = ["theirs.unfinished", ".hitlab.unfinished", f"table.csv.{ended.pid}.unfinished", living.name]
    for name in kept[:-1]:
        (tmp_path / name).write_bytes(b"kept")
    (tmp_path / "folder").mkdir()
    _beside(tmp_path / "folder", ended.pid).mkdir()
    write_file(tmp_path / "table.csv", b"whole")
    assert alone(tmp_path) == sorted([*kept, "folder", "table.csv"])
    assert len(alone(tmp_path / "folder")) == 1


# The rest that hitlab writes.


def test_a_season_is_made_only_where_it_can_be_written(tmp_path, capsys):
    taken = tmp_path / "file"
    taken.write_text("old")
    (tmp_path / "season" / "truth.csv").mkdir(parents=True)
    for folder, why in ((taken, "cannot be made a folder"), (tmp_path / "season", "cannot be written")):
        assert run(["make", str(folder), "--pitches", "1000", "--hitters", "18", "--clubs", "2"]) == 2
        assert why in capsys.readouterr().err
    assert taken.read_text() == "old"
    assert alone(tmp_path / "season") == ["truth.csv"]


@pytest.mark.slow
@posix
def test_a_season_that_finds_no_room_leaves_the_old_one(tmp_path):
    old = {}
    for name in ("season.parquet", "truth.csv"):
        (tmp_path / name).write_text(f"old {name}")
        old[name] = f"old {name}"
    ended = limited(["make", str(tmp_path), "--pitches", "1000", "--hitters", "18", "--clubs", "2"], 100)
    assert (ended.returncode, "cannot be written" in ended.stderr) == (2, True)
    assert {name: (tmp_path / name).read_text() for name in alone(tmp_path)} == old


@pytest.mark.slow
def test_the_demo_is_written_whole_or_not_at_all(tmp_path, monkeypatch):
    from hitlab.league import demo

    (tmp_path / "week.csv").write_text("old")
    replace, done = os.replace, []

    def full(beside, path):
        if path.name == "week.csv":
            raise OSError(28, "No space left on device")
        done.append(path.name)
        replace(beside, path)

    monkeypatch.setattr(os, "replace", full)
    monkeypatch.setattr(demo, "make_season", lambda seed: small_season(seed))
    with pytest.raises(ReadingError, match=r"week\.csv cannot be written"):
        demo.make_demo(tmp_path)
    assert (tmp_path / "week.csv").read_text() == "old"
    assert set(alone(tmp_path)) == {"week.csv", *done}


def small_season(seed):
    from hitlab.league import make_season

    return make_season(hitters=18, clubs=2, pitches=2000, seed=seed)


def test_lessons_and_handouts_are_written_whole(tmp_path, monkeypatch):
    from click.testing import CliRunner

    from hitlab.course import __main__ as course
    from hitlab.course import handouts
    from hitlab.course.building import Copy

    monkeypatch.setattr(os, "replace", _no_room)
    lesson = tmp_path / "lesson.ipynb"
    lesson.write_text("old")
    monkeypatch.setattr(course, "source_paths", lambda numbers: [])
    monkeypatch.setattr(course, "build", lambda numbers: [Copy(lesson, {"cells": []})])
    built = CliRunner().invoke(course.main, ["build"])
    assert isinstance(built.exception, HitlabError)
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "lesson.html").write_text("old")
    monkeypatch.setattr(handouts, "source_paths", lambda numbers: [tmp_path / "lesson.py"])
    monkeypatch.setattr(handouts, "handout", lambda notebook, *_: "<html>new</html>")
    with pytest.raises(HitlabError, match="No space left"):
        list(handouts.write_handouts((), tmp_path / "out"))
    assert lesson.read_text() == (tmp_path / "out" / "lesson.html").read_text() == "old"
    assert alone(tmp_path) == ["lesson.ipynb", "out"]
    assert alone(tmp_path / "out") == ["lesson.html"]


def test_progress_is_written_whole(tmp_path, monkeypatch):
    from hitlab.exercises import keeping

    path = tmp_path / "progress.json"
    monkeypatch.setenv("HITLAB_PROGRESS", str(path))
    monkeypatch.setattr(keeping, "_memory", {})
    keeping.change("exercises", "01-1", tries=1)
    before = path.read_text()
    monkeypatch.setattr(os, "replace", _no_room)
    keeping.change("exercises", "01-1", tries=2)
    assert path.read_text() == before
    assert alone(tmp_path) == [".progress.json.lock", "progress.json"]
    assert any("No space left" in told for told in keeping.trouble_to_tell())


def _no_room(*_):
    raise OSError(28, "No space left on device")


# The functions themselves.


def test_what_stands_in_the_way_is_said_without_touching_anything(tmp_path):
    there = tmp_path / "there.csv"
    there.write_text("old")
    assert refusal(tmp_path / "new.csv") == refusal(there) == ""
    assert "is the file that is read" in refusal(there, [there])
    assert refusal(there, [None, "", tmp_path / "absent.csv", "demo"]) == ""
    for path, why in (
        ("", "name a file"),
        (f"{tmp_path}/a\0b", "null byte"),
        (tmp_path, "a folder"),
        (tmp_path / "nowhere" / "x.csv", "no folder"),
        (there / "x.csv", "no folder"),
    ):
        assert why in refusal(path)
        with pytest.raises(ReadingError, match="cannot be written"):
            write_file(path, b"x")
    assert alone(tmp_path) == ["there.csv"]
    assert there.read_text() == "old"


def test_outputs_are_looked_at_together(tmp_path):
    one, two = tmp_path / "one.csv", tmp_path / "two.csv"
    check_outputs({"--save": one, "--cut": two, "--card": None}, inputs=[None, tmp_path / "in.csv"])
    with pytest.raises(ReadingError, match="--save and --cut are one file"):
        check_outputs({"--save": one, "--cut": one})
    one.write_text("read")
    with pytest.raises(ReadingError, match=r"one\.csv cannot be written: it is the file that is read"):
        check_outputs({"--cut": one}, inputs=[one])
    assert alone(tmp_path) == ["one.csv"]


def test_a_folder_is_made_or_the_place_is_named(tmp_path):
    assert make_folder(tmp_path / "a" / "b").is_dir()
    (tmp_path / "file").write_text("")
    with pytest.raises(ReadingError, match="file cannot be made a folder"):
        make_folder(tmp_path / "file")
