"""Brought in, taken out, copied: nothing kept before it was seen, all at once, and nothing that is not what it says."""

import io
import re
import tarfile
import zipfile
from pathlib import Path

import pytest
from pages_kit import WHOLE, Pages, visible

from fluewright.report import html, phrase
from fluewright.visit import demonstration, sent_in, shown

VISIT = """
[visit]
title = "Boiler brought in"
date = 2026-11-20
jurisdiction = "US"
site = "Made-up Street 7"
invented = true

[appliance]
words = "boiler"

[fuel]
name = "natural-gas"

[[stretch]]
word = "as found"
readings = { oxygen = "5 %", co = "20 ppm", stack = "380 F", air = "66 F" }
"""


@pytest.fixture(scope="module")
def trace() -> bytes:
    _, state, start, seed = demonstration.RUNS[0]
    return demonstration.trace_text(state, start, seed).encode()


def send(pages: Pages, files: dict[str, bytes], *, status: int = 200) -> str:
    """Files sent; the page that says what they are."""
    pages.get("/records")
    several = [("files", (name, content, "application/octet-stream")) for name, content in files.items()]
    answer = pages.client.post("/records/bring", data=pages.form(), files=several)
    assert answer.status_code == status, answer.text
    pages.last, pages.at = answer.text, answer.url.path
    return answer.text


def entries(pages: Pages) -> int:
    return sum(each.sequence for each in pages.journal.anchors())


def test_a_visit_is_seen_before_it_is_kept_and_taken_back_as_one(pages: Pages) -> None:
    before = entries(pages)
    made = visible(send(pages, {"visit.toml": VISIT.encode()}))
    assert "Boiler brought in" in made
    assert "Made-up Street 7" in made
    assert entries(pages) == before, "nothing is kept before it was seen"
    fields, path = pages.form(), pages.at
    made = pages.post(path, {})
    assert "kept on this machine" in visible(made)
    after = entries(pages)
    assert pages.client.post(path, data=fields).status_code == 200
    assert entries(pages) == after, "sent twice, kept once"
    visit = re.search(r'name="visit" value="([^"]+)"', made)
    assert visit is not None
    pages.last = made
    assert "Struck out again" in visible(pages.post("/records/undo", {"visit": visit[1]}))
    assert "Boiler brought in" not in pages.get("/find")
    assert entries(pages) > after, "it is struck out by an entry, never taken away"


def test_a_visit_that_was_worked_here_is_not_taken_back_whole(pages: Pages) -> None:
    visit = pages.begin()
    pages.get("/records")
    assert "FW-J-143" in pages.post("/records/undo", {"visit": visit}, status=422)


def test_every_fault_of_a_visit_is_told_and_nothing_kept(pages: Pages) -> None:
    before = entries(pages)
    made = send(pages, {"visit.toml": VISIT.replace("20 ppm", "20 bananas").encode()}, status=422)
    assert "bananas" in made
    assert "bring it in" not in visible(made)
    assert entries(pages) == before


@pytest.mark.parametrize("name", ["../../secret.csv", "/etc/hostname", "other.csv"])
def test_a_visit_reads_no_file_that_was_not_sent_with_it(pages: Pages, name: str) -> None:
    text = VISIT.replace('word = "as found"', f'word = "as found"\ntrace = "{name}"')
    made = send(pages, {"visit.toml": text.encode()}, status=400)
    assert "which was not sent with it" in visible(made)


def test_a_visit_comes_with_its_traces(pages: Pages, trace: bytes) -> None:
    text = VISIT.replace('word = "as found"', 'word = "as found"\ntrace = "run.csv"').replace(
        'readings = { oxygen = "5 %", co = "20 ppm", stack = "380 F", air = "66 F" }', ""
    )
    assert "Boiler brought in" in visible(send(pages, {"visit.toml": text.encode(), "run.csv": trace}))


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("photo.toml", b"\x89PNG\r\n\x1a\n" + b"0" * 50),
        ("visit.toml", b"PK\x03\x04rest"),
        ("trace.csv", b"\x7fELF\0\0\0"),
        ("trace.csv", b"%PDF-1.7\n"),
        ("nothing.csv", b""),
        ("words.txt", b"one line and no more"),
        ("..", VISIT.encode()),
        ("a\x01b.toml", VISIT.encode()),
        ("wide.csv", b";".join([b"c"] * 500) + b"\n" + b";".join([b"1"] * 500)),
    ],
)
def test_what_it_is_is_told_by_its_content(pages: Pages, name: str, content: bytes) -> None:
    assert "FW-U-142" in send(pages, {name: content}, status=400)
    assert len(pages.app.state.shop.waiting.held) == 0


def test_too_much_is_refused_at_the_door(pages: Pages) -> None:
    assert "FW-N-104" in send(pages, {"big.csv": b"a,b\n" * (9 << 20)}, status=413)


def test_only_so_many_wait(pages: Pages) -> None:
    for number in range(sent_in.MOST_HELD + 3):
        send(pages, {"visit.toml": VISIT.replace("brought in", f"number {number}").encode()})
    assert len(pages.app.state.shop.waiting.held) == sent_in.MOST_HELD
    pages.get("/records/bring/" + "0" * 64, status=400)


def test_a_trace_is_mapped_tried_and_kept_in_a_visit(pages: Pages, trace: bytes) -> None:
    visit = pages.begin()
    before = pages.count(visit)
    made = send(pages, {"run.csv": trace})
    assert "Its columns, as understood" in visible(made)
    assert 'value="oxygen_dry"' in made
    path = pages.at
    said = dict(re.findall(r'name="((?:head|quantity|unit)-\d+)"[^>]*?value="([^"]*)"', made))
    tried = pages.post(path, {**said, "do": "try"})
    assert "What it comes to" in visible(tried)
    assert pages.count(visit) == before, "a trial keeps nothing"
    fields = {**pages.form(), **said, "do": "keep", "visit": visit, "word": "as found"}
    answer = pages.client.post(path, data=fields)
    assert answer.status_code == 200
    assert pages.count(visit) == before + 3, "file, mapping, stretch"
    assert "As found" in visible(answer.text)
    assert pages.client.post(path, data=fields).status_code == 200
    assert pages.count(visit) == before + 3, "sent twice, kept once"
    line = re.search(r'name="line" value="([^"]+)"', answer.text)
    assert line is not None
    pages.get(f"/visit/{visit}")
    pages.post(f"/visit/{visit}/undo", {"line": line[1]})
    assert "Nothing was measured yet" in visible(pages.get(f"/visit/{visit}"))


def test_two_stretches_never_have_one_name(pages: Pages, trace: bytes) -> None:
    visit = pages.begin()
    pages.keep(visit, WHOLE)
    made = send(pages, {"run.csv": trace})
    said = dict(re.findall(r'name="((?:head|quantity|unit)-\d+)"[^>]*?value="([^"]*)"', made))
    refused = pages.post(pages.at, {**said, "do": "keep", "visit": visit, "word": "as found"}, status=422)
    assert "FW-J-142" in refused


def bundle(pages: Pages) -> bytes:
    answer = pages.client.get("/records/bundle.tar")
    assert answer.status_code == 200
    return answer.content


def test_a_bundle_goes_out_and_comes_in_elsewhere(pages: Pages, tmp_path: Path) -> None:
    visit = pages.begin()
    pages.keep(visit, WHOLE)
    taken = bundle(pages)
    other = Pages(tmp_path / "other").come_in()
    made = visible(send(other, {"records.tar": taken}))
    assert "Records of another journal" in made
    assert other.count(visit) == 0
    other.post(other.at, {})
    assert other.count(visit) == pages.count(visit)
    assert "boiler that does not exist" in visible(other.get(f"/visit/{visit}")).lower()
    other.close()


def test_a_bundle_that_was_changed_is_refused_whole(pages: Pages, tmp_path: Path) -> None:
    pages.keep(pages.begin(), WHOLE)
    changed = bundle(pages).replace(b'"4.3 %"', b'"4.4 %"').replace(b'"typed":"4.3"', b'"typed":"4.4"')
    assert changed != bundle(pages)
    other = Pages(tmp_path / "other").come_in()
    before = entries(other)
    made = send(other, {"records.tar": changed}, status=500)
    assert "FW-R-03" in made
    assert entries(other) == before
    other.close()


@pytest.mark.parametrize(
    ("members", "code"),
    [
        ({"about.json": b'{"a":' * 50_000, "journal.jsonl": b"[" * 100_000}, "FW-J-051"),
        ({"journal.jsonl": b"1", "./journal.jsonl": b"2"}, "FW-U-142"),
    ],
)
def test_a_bundle_of_depth_or_of_two_minds_is_refused(pages: Pages, members: dict[str, bytes], code: str) -> None:
    made = io.BytesIO()
    with tarfile.open(fileobj=made, mode="w") as tar:
        for name, content in members.items():
            head = tarfile.TarInfo(name)
            head.size = len(content)
            tar.addfile(head, io.BytesIO(content))
    assert code in send(pages, {"records.tar": made.getvalue()}, status=422 if code == "FW-J-051" else 400)


def test_a_visit_nested_without_end_is_told_so(pages: Pages) -> None:
    deep = b"\n[visit]\nx = " + b"[" * 5000 + b"]" * 5000
    assert "FW-V-007" in send(pages, {"deep.toml": deep}, status=422)


@pytest.mark.parametrize("name", ["../evil.txt", "/etc/evil", "journal.jsonl/../../evil", "files/aa/short"])
def test_a_bundle_leads_nowhere_else(pages: Pages, name: str) -> None:
    made = io.BytesIO()
    with tarfile.open(fileobj=made, mode="w") as tar:
        head = tarfile.TarInfo(name)
        head.size = 4
        tar.addfile(head, io.BytesIO(b"evil"))
    assert "FW-U-142" in send(pages, {"records.tar": made.getvalue()}, status=400)


def test_a_link_in_a_bundle_is_refused(pages: Pages) -> None:
    made = io.BytesIO()
    with tarfile.open(fileobj=made, mode="w") as tar:
        head = tarfile.TarInfo("journal.jsonl")
        head.type, head.linkname = tarfile.SYMTYPE, "/etc/passwd"
        tar.addfile(head)
    assert "FW-U-142" in send(pages, {"records.tar": made.getvalue()}, status=400)


def test_no_cell_of_the_tables_acts_as_a_formula(pages: Pages) -> None:
    pages.begin(site="=1+1", customer="@cmd")
    answer = pages.client.get("/records/tables.zip")
    assert answer.headers["content-disposition"].startswith("attachment")
    with zipfile.ZipFile(io.BytesIO(answer.content)) as packed:
        text = "".join(packed.read(name).decode("utf-8-sig") for name in packed.namelist())
    assert "'=1+1" in text
    assert "'@cmd" in text
    assert not re.search(r"(?:^|,)\"?[=@]", text, re.MULTILINE)


def test_a_visit_goes_to_paper(pages: Pages) -> None:
    visit = pages.begin()
    pages.keep(visit, WHOLE)
    made = pages.get(f"/visit/{visit}/paper")
    tree = phrase.linked(shown.sheet_of(pages.journal, visit))
    assert html.upper(tree, switches=False) in made, "the paper is the sheet"
    assert html.lower(tree) in made
    assert "<style" not in made, "the policy of the door forbids it"
    pdf = pages.client.get(f"/visit/{visit}/paper.pdf")
    assert pdf.content.startswith(b"%PDF")
    whole = pages.client.get(f"/visit/{visit}/paper.html")
    assert whole.headers["content-disposition"].startswith("attachment")
    assert "<style" in whole.text
    part = pages.client.get(f"/visit/{visit}/bundle.tar")
    with tarfile.open(fileobj=io.BytesIO(part.content)) as tar:
        assert "journal.jsonl" in tar.getnames()


def test_without_a_folder_no_copy_is_made(pages: Pages) -> None:
    pages.get("/records")
    assert "FW-N-121" in pages.post("/records/copy", {}, status=409)
