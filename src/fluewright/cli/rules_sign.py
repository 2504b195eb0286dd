"""fluewright rules sign: vouch for a rule book with the key of this device."""

import argparse
import json
from pathlib import Path

from fluewright.cli.journal_place import add_place, settings_from
from fluewright.cli.where import places
from fluewright.errors import printable

ABOUT = "vouch for a house book with the key of this device; the signature stands in a file beside it"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("file", type=Path, help="TOML; it has to hold")
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """Sign it; the key of this device is trusted here from then on."""
    from fluewright.record.keys_ed25519 import key_of
    from fluewright.rules import load, signed
    from fluewright.rules.house import house_book_of
    from fluewright.visit import own_books

    content = args.file.read_bytes()
    house_book_of(text=content.decode("utf-8", "replace"), file=args.file.name, above=load.limits())
    key = key_of(settings_from(args))
    path = args.file.with_name(args.file.name + signed.ENDING)
    path.write_text(signed.beside(key=key.public, signature=key.sign(signed.to_sign(content))), encoding="utf-8")
    own_books.trust(places()["config"], key.public, words="this device")
    if args.json:
        print(json.dumps({"signature": str(path), "key": key.public}))
    else:
        print(printable(f"{path}\nkey {key.public}"))
    return 0
