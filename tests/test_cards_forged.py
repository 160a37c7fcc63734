"""Reading cards that hitlab did not write: nothing in them runs, unpacks or passes for a question."""

from __future__ import annotations

import ast
import json
import struct
import time
import tracemalloc
import zlib
from html import escape

import pytest

import hitlab
from hitlab.errors import HitlabError
from hitlab.evidence.cards import card, read_card
from hitlab.questions import KINDS

WORDS = {
    "kind": "above",
    "about": "underlying",
    "claim": "Ada Velm's true rate is above .120",
    "say": "Ada Velm's true rate is most likely above .120.",
    "verdict": "holds",
    "chance": 0.95,
    "source": "season.csv",
    "dates": "",
    "fingerprint": "0123456789ab",
    "version": "0.1.0",
    "alt": "A card.",
    "question": {"kind": "above", "who": "Ada Velm", "options": {"value": 0.12}},
}


def chunk(name, data):
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def png(path, text, size=(200, 200), *, packed=False):
    """Write a picture whose pixels are not there; only its head and its text."""
    key = b"hitlab-card"
    held = text.encode("latin-1", "backslashreplace")
    told = (
        chunk(b"zTXt", key + b"\0\0" + zlib.compress(held, 9))
        if packed
        else chunk(b"tEXt", key + b"\0" + held)
    )
    head = chunk(b"IHDR", struct.pack(">IIBBBBB", *size, 8, 6, 0, 0, 0))
    path.write_bytes(
        b"\x89PNG\r\n\x1a\n" + head + told + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")
    )
    return path


def svg(path, text):
    path.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg"><metadata id="hitlab-card">'
        f"{escape(text, quote=False)}</metadata></svg>",
        encoding="utf-8",
    )
    return path


WRITERS = {"png": png, "svg": svg}


def forged(folder, kind="svg", **changes):
    return WRITERS[kind](folder / f"card.{kind}", json.dumps({**WORDS, **changes}))


@pytest.mark.parametrize("kind", WRITERS)
def test_what_is_a_card_in_all_but_its_maker_is_read(kind, tmp_path):
    facts = read_card(forged(tmp_path, kind))
    assert facts.claim == WORDS["claim"]
    assert facts.call == "Question(kind='above', who='Ada Velm', options={'value': 0.12}).ask(table)"


CODE = "__import__('os').system('touch ran')"
HARM = (
    {f"who='x').ask(table); {CODE}; dict(a": 1},
    {"kind": "above", CODE: 1},
    {"kind": "above", "conventions": {f"hard_mph=95), {CODE}, dict(a": 1}},
    {"kind": "above", "options": {CODE: 1}},
    {"kind": "above", "options": {"top": 3}},  # another kind's
    {"kind": "above", "options": [CODE]},
    {"kind": "above", "who": {"a": CODE}},
    {"kind": "above", "when": [[CODE]]},
    {"kind": "above", "holds_at": True},
    {"kind": "above", "minimum": "3"},
    {"kind": "above", "subject": CODE},
    {"kind": "leads"},  # not the kind of the card
    {"who": "Ada Velm"},
)


@pytest.mark.parametrize("question", HARM, ids=str)
@pytest.mark.parametrize("kind", WRITERS)
def test_a_question_by_other_names_is_refused(question, kind, tmp_path):
    with pytest.raises(HitlabError):
        read_card(forged(tmp_path, kind, question=question))


def test_the_call_is_values_only(tmp_path):
    who = f"x').ask(table); {CODE}; ('\n\x1b[1m\u202e"
    question = {"kind": "above", "who": who, "since": who, "when": [who], "options": {"value": who}}
    question |= {"conventions": {"foul_tip": "miss", "hard_mph": 95}}
    facts = read_card(forged(tmp_path, question=question))
    call = ast.parse(facts.call, mode="eval").body
    assert isinstance(call, ast.Call)
    assert (call.func.attr, call.func.value.func.id, call.args[0].id) == ("ask", "Question", "table")
    made = call.func.value
    assert not made.args
    told = {each.arg: each.value for each in made.keywords}
    conventions = told.pop("conventions")
    assert conventions.func.id == "Conventions"
    assert {each.arg: ast.literal_eval(each.value) for each in conventions.keywords} == {"hard_mph": 95}
    values = {name: ast.literal_eval(value) for name, value in told.items()}
    assert values == {"kind": "above", "who": who, "since": who, "when": (who,), "options": {"value": who}}
    assert facts.call.isascii()
    assert "\x1b" not in str(facts)
    assert len(str(facts).splitlines()) == 3


def test_an_unknown_kind_is_named_with_those_that_are_known(tmp_path):
    path = forged(tmp_path, kind="svg", question={"kind": "fastest"})
    text = json.dumps({**WORDS, "kind": "fastest", "question": {"kind": "fastest"}})
    with pytest.raises(
        HitlabError, match=r"card\.svg: it is of the kind 'fastest', and this version "
    ) as said:
        read_card(svg(path, text))
    assert set(KINDS) <= set(str(said.value).replace(",", "").split())


@pytest.mark.parametrize(
    "changes",
    [
        {"say": 3},
        {"claim": ["a"]},
        {"chance": "high"},
        {"chance": 7},
        {"chance": True},
        {"verdict": "proved"},
        {"about": "all"},
        {"question": []},
        {"more": 1},
        {"kind": ["above"]},
    ],
    ids=str,
)
def test_facts_of_another_type_are_refused(changes, tmp_path):
    with pytest.raises(HitlabError, match="carries no facts of a card"):
        read_card(forged(tmp_path, "svg", **{"question": WORDS["question"], **changes}) if "kind" not in changes  # noqa: E501
                  else svg(tmp_path / "card.svg", json.dumps({**WORDS, **changes})))  # fmt: skip


@pytest.mark.parametrize("text", ["[" * 100_000, '{"chance": NaN}', "null", "[]", "{}", "", "{", '"a"'])
@pytest.mark.parametrize("kind", WRITERS)
def test_what_is_no_text_of_a_card_is_refused(text, kind, tmp_path):
    with pytest.raises(HitlabError, match="carries no facts of a card"):
        read_card(WRITERS[kind](tmp_path / f"card.{kind}", text))


def test_a_huge_picture_is_refused_without_being_unpacked(tmp_path):
    path = png(tmp_path / "card.png", json.dumps(WORDS), (60_000, 60_000))
    tracemalloc.start()
    start = time.perf_counter()
    with pytest.raises(HitlabError, match="60,000 by 60,000 pixels, more than"):
        read_card(path)
    taken, (_, most) = time.perf_counter() - start, tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert taken < 2.0
    assert most < 5_000_000
    # One that card() may write is read, though its pixels are not there to be unpacked.
    assert read_card(png(path, json.dumps(WORDS), (10_000, 5_000))).kind == "above"


@pytest.mark.slow
def test_a_card_is_never_larger_than_can_be_read():
    claim = hitlab.check_above(hitlab.demo_season(), "Nadia Izezno", 0.12)
    with pytest.raises(HitlabError, match="50,000,000 pixels at most"):
        card(claim, size=(60_000, 60_000))


@pytest.mark.parametrize("kind", WRITERS)
def test_a_huge_text_is_refused(kind, tmp_path):
    path = forged(tmp_path, kind, say="a" * 1_000_001)
    with pytest.raises(HitlabError, match=r"characters, so it is no card|carries no facts"):
        read_card(path)


def test_a_packed_text_is_not_unpacked_beyond_bounds(tmp_path):
    path = png(tmp_path / "card.png", json.dumps({**WORDS, "say": "a" * 50_000_000}), packed=True)
    assert path.stat().st_size < 100_000
    with pytest.raises(HitlabError):
        read_card(path)


def test_entities_in_an_svg_do_not_multiply(tmp_path):
    path = tmp_path / "card.svg"
    levels = "".join(f'<!ENTITY a{n} "{f"&a{n - 1};" * 10}">' for n in range(1, 12))
    path.write_text(
        f'<!DOCTYPE svg [<!ENTITY a0 "aaaaaaaaaa">{levels}]>'
        '<svg xmlns="http://www.w3.org/2000/svg"><metadata id="hitlab-card">&a11;</metadata></svg>'
    )
    with pytest.raises(HitlabError):
        read_card(path)


@pytest.mark.parametrize("name", ["card.png", "card.svg"])
def test_other_files_under_a_cards_name_are_refused(name, tmp_path):
    for content in (b"", b"GIF89a", b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff\xe0", b"<svg/>", b"\0" * 100):
        (tmp_path / name).write_bytes(content)
        with pytest.raises(HitlabError, match="carries no facts of a card"):
            read_card(tmp_path / name)
    (tmp_path / "folder.svg").mkdir()
    with pytest.raises(HitlabError, match="cannot be read"):
        read_card(tmp_path / "folder.svg")
