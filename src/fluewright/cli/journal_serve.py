"""fluewright journal serve: lets devices that were paired exchange with this journal, on 127.0.0.1."""

import argparse
import json

from fluewright.cli.journal_place import add_place, opened_from, settings_from

ABOUT = "let paired devices exchange with this journal, on this machine's own address"

PORT = 8765


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    add_place(parser)
    parser.add_argument("--port", type=int, default=PORT, metavar="PORT", help=f"of 127.0.0.1; {PORT} when not given")
    parser.add_argument("--pair", action="store_true", help="print a code with which one device is let in")
    parser.add_argument("--name", action="append", default=[], metavar="HOST",
                        help="a name under which it is reached besides, behind a server that speaks https")  # fmt: skip


def run(args: argparse.Namespace) -> int:
    """Serve until it is stopped."""
    from fluewright.cli.listening import Listening
    from fluewright.record.door import LONGEST, Door
    from fluewright.record.doors import Doors
    from fluewright.record.erased import obeyed
    from fluewright.record.keys_ed25519 import key_of

    settings = settings_from(args)
    journal = opened_from(args).journal
    if not journal.store.settings.read_only:
        obeyed(journal)
    doors = Doors(settings)
    door = Door(journal, doors, key_of(settings), port=args.port, names=args.name)
    try:
        server = Listening(args.port, LONGEST, door.answer)
    except OSError as error:
        raise _taken(args.port, error) from error
    door.port = server.server_address[1]
    said = {"address": f"http://127.0.0.1:{door.port}", "journal": journal.store.where, "device": journal.device}
    said |= {"code": door.code_out()} if args.pair else {}
    print(json.dumps(said) if args.json else _text(said), flush=True)
    try:
        server.serve_forever()
    finally:
        server.server_close()
        journal.store.close()
        doors.close()
    return 0


def _text(said: dict[str, str]) -> str:
    lines = [f"{name:<8} {value}" for name, value in said.items()]
    if "code" in said:
        lines.append(f"on the other device, within ten minutes: fluewright journal sync {said['address']}"
                     f" --code {said['code']}")  # fmt: skip
    return "\n".join([*lines, "stop it with Ctrl-C"])


def _taken(port: int, error: OSError) -> Exception:
    from fluewright.errors import UseError

    return UseError(
        code="FW-U-162",
        read=f"port {port} of 127.0.0.1: {error.strerror}",
        expected="a port from 1024 to 65535 that nobody listens on",
        matters="devices could not reach the journal",
        do="stop what listens there, or choose another with --port",
    )
