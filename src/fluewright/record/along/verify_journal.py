"""Checks an exported journal with nothing but Python: python -I -S verify_journal.py [FOLDER]

journal.jsonl holds one entry a line, ordered by device and number: JSON with sorted keys, no spaces, no fractions, in
UTF-8. An entry's hash is the SHA-256 of its line without the line end. It names the hash of the entry before it on its
device, so nothing can be changed, put in or taken out unseen; only a cut end needs an anchor (anchors.txt, or the last
printed sheet). In place of a text about a person stands {"commitment": C}; people.jsonl tells salt and value, whose
canonical {"salt":...,"value":...} has the SHA-256 C. A file lies under its own SHA-256. Exit 0: all holds; 1: not.
"""

import hashlib
import json
import sys
from pathlib import Path
from typing import Any


def canonical(value: object) -> str:
    """The one written form of a value."""
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)


def digest(text: str) -> str:
    """Its SHA-256."""
    return hashlib.sha256(text.encode()).hexdigest()


def wrong_with(line: str, entry: dict[str, Any], last: dict[str, tuple[int, str]], part: bool) -> str:
    """Why this entry cannot be relied on; empty when it can."""
    number, previous = last.get(entry["device"], (0, "0" * 64))
    if canonical(entry) != line:
        return "its text is not in canonical form"
    if entry["sequence"] <= number:
        return "its number was there before"
    if entry["sequence"] > number + 1:
        return "" if part else f"entries {number + 1} to {entry['sequence'] - 1} are missing before it"
    return "" if entry["previous"] == previous else "it does not follow the entry before it: something was changed"


def main(folder: Path) -> int:
    """Walk the export in a folder and say what was found."""
    about = json.loads((folder / "about.json").read_text("utf-8"))
    last: dict[str, tuple[int, str]] = {}
    seen: dict[tuple[str, int], str] = {}
    bad: list[str] = []
    committed: set[str] = set()
    lines = 0
    for lines, line in enumerate((folder / "journal.jsonl").open(encoding="utf-8", newline="\n"), 1):
        line = line.removesuffix("\n")
        try:
            entry = json.loads(line)
            why, at = wrong_with(line, entry, last, bool(about["part"])), (entry["device"], entry["sequence"])
            seen[at] = digest(line)
            last[at[0]] = (at[1], seen[at])
        except (ValueError, KeyError, TypeError) as error:
            why, at = f"it cannot be read: {error!r}", ("?", 0)
        if why:
            bad.append(f"line {lines}, device {at[0]}, entry {at[1]}: {why}")
        committed.update(piece[:64] for piece in line.split('{"commitment":"')[1:])
    for text in (folder / "anchors.txt").read_text("ascii").splitlines():
        device, number, hashed = text.split()
        if not seen.get((device, int(number)), "").startswith(hashed):
            bad.append(f"anchor: entry {number} of device {device} is missing or another")
    values = 0
    for line in (folder / "people.jsonl").open(encoding="utf-8", newline="\n") if about["people"] else ():
        told = json.loads(line)
        values += 1
        found = digest(canonical({"salt": told["salt"], "value": told["value"]}))
        if found != told["commitment"] or found not in committed:
            bad.append(f"people.jsonl, line {values}: no entry committed to this value")
    files = [path for path in sorted((folder / "files").rglob("*")) if path.is_file()]
    for path in files:
        if hashlib.sha256(path.read_bytes()).hexdigest() != path.parent.name + path.name:
            bad.append(f"{path.name}: not the file that was kept")
    print(f"a part of the journal: {about['part']}" if about["part"] else "the whole journal")
    print(f"entries {lines}, devices {len(last)}, texts about people {values} of {len(committed)}, files {len(files)}")
    print("\n".join(["NOT WHOLE. First: " + bad[0], *bad[1:20]]) if bad else "everything holds")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).resolve().parent))
