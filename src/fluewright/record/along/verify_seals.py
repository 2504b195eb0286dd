"""Checks the signatures of an exported journal with nothing but Python: python -I -S verify_seals.py [FOLDER]

A seal signs the three words `fluewright seal 1`, a line end, the hash of its content, a line end. The content is the
canonical form of {"author", "device", "entries", "form", "seal"}: who and what device keeps the seal, the list of id
and SHA-256 of every entry of the visit up to the numbers that the seal `covers`, ordered by device and number, the
form, and the seal's own fields without content and signature. The signature is Ed25519 after RFC 8032, section 5.1,
written here from its formulas for reading, not for speed. Run verify_journal.py first. Exit 0: all hold; 1: not.
"""

import hashlib
import json
import sys
from pathlib import Path
from typing import Any

P = 2**255 - 19  # the field
L = 2**252 + 27742317777372353535851937790883648493  # the order of the base point
D = -121665 * pow(121666, -1, P) % P  # the curve -x^2 + y^2 = 1 + D x^2 y^2
Point = tuple[int, int, int]  # x = X/Z, y = Y/Z


def added(a: Point, b: Point) -> Point:
    """The sum of two points, by the law of the curve over a common denominator."""
    x1, y1, z1 = a
    x2, y2, z2 = b
    across, along, both = x1 * x2, y1 * y2, z1 * z2
    square, bent = both * both, D * across * along
    less, more = (square - bent) % P, (square + bent) % P
    mixed = (x1 + y1) * (x2 + y2) - across - along
    return both * less * mixed % P, both * more * (along + across) % P, less * more % P


def times(number: int, point: Point) -> Point:
    """A point added to itself so many times."""
    found: Point = (0, 1, 1)
    for bit in bin(number)[2:]:
        found = added(found, found)
        found = added(found, point) if bit == "1" else found
    return found


def point_from(data: bytes) -> Point | None:
    """A point from its 32 bytes (5.1.3): y, and the lowest bit of x in the highest bit."""
    number = int.from_bytes(data, "little")
    y, sign = number & (1 << 255) - 1, number >> 255
    if y >= P:
        return None
    square = (y * y - 1) * pow(D * y * y + 1, -1, P) % P
    x = pow(square, (P + 3) // 8, P)
    if (x * x - square) % P:
        x = x * pow(2, (P - 1) // 4, P) % P
    if (x * x - square) % P or (x == 0 and sign):
        return None
    return (P - x if x & 1 != sign else x), y, 1


BASE = point_from((4 * pow(5, -1, P) % P).to_bytes(32, "little"))


def holds(public: bytes, content: bytes, signature: bytes) -> bool:
    """Whether a signature holds (5.1.7): S B = R + k A, with k from the hash of R, A and the content."""
    key, first = point_from(public), point_from(signature[:32])
    size = int.from_bytes(signature[32:], "little")
    if key is None or first is None or BASE is None or len(signature) != 64 or size >= L:
        return False
    small = times(8, key)
    if small[0] == 0:  # of small order: one signature would hold over anything
        return False
    k = int.from_bytes(hashlib.sha512(signature[:32] + public + content).digest(), "little") % L
    left, right = times(size, BASE), added(first, times(k, key))
    return (left[0] * right[2] - right[0] * left[2]) % P == 0 == (left[1] * right[2] - right[1] * left[2]) % P


def canonical(value: object) -> str:
    """The one written form of a value."""
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)


def wrong_with(seal: dict[str, Any], below: list[list[Any]], keys: dict[str, set[str]]) -> str:
    """Why a seal does not hold; empty when it does."""
    body = seal["body"]
    own = {name: value for name, value in body.items() if name not in ("content", "signature")}
    signed = {"form": "fluewright seal 1", "entries": [each[2:] for each in below], "seal": own,
              "device": seal["device"], "author": seal["author"]}  # fmt: skip
    if hashlib.sha256(canonical(signed).encode()).hexdigest() != body["content"]:
        return f"{len(below)} entries below it are not, or not all, what was signed ({body['entries']} were)"
    if not keys.get(body["key"], set()) & {seal["device"], body.get("who")}:
        return "its key is of no device or person that this export names"
    message = f"fluewright seal 1\n{body['content']}\n".encode()
    return "" if holds(bytes.fromhex(body["key"]), message, bytes.fromhex(body["signature"])) else "not signed so"


def main(folder: Path) -> int:
    """Check every seal in an export."""
    rows = [line.rstrip("\n") for line in (folder / "journal.jsonl").open(encoding="utf-8", newline="\n")]
    entries = [(json.loads(row), hashlib.sha256(row.encode()).hexdigest()) for row in rows]
    keys: dict[str, set[str]] = {}
    subject: dict[str, list[list[Any]]] = {}
    for entry, hashed in entries:
        body = entry["body"]
        if entry["kind"] in ("device", "person") and isinstance(body.get("key"), str):
            keys.setdefault(body["key"], set()).add(entry["device" if entry["kind"] == "device" else "id"])
        about = body.get("visit") or body.get("of") or entry["id"]
        subject.setdefault(about, []).append([entry["device"], entry["sequence"], entry["id"], hashed])
    bad = 0
    for entry, _ in entries:
        if entry["kind"] not in ("seal", "counter-seal"):
            continue
        body, waiting = entry["body"], [str(entry["body"]["visit"])]
        found, own = list[list[Any]](), [entry["device"], entry["sequence"]]
        for name in waiting:
            found += subject.get(name, [])
            waiting += dict.fromkeys(row[2] for row in subject.get(name, []) if row[2] not in waiting)
        covered = [row for row in found if row[1] <= body["covers"].get(row[0], 0)]
        why = wrong_with(entry, sorted(each for each in covered if each[:2] != own), keys)
        bad += bool(why)
        print(f"{entry['kind']} {entry['id']} of visit {body['visit']}: {why or 'holds'} ({body['meaning']})")
    revoked = [entry["body"] for entry, _ in entries if entry["kind"] == "revocation"]
    for each in revoked:
        print(f"key {each['key'][:16]}... counts no more since {each['since']}: see which seals are older, by number")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).resolve().parent))
