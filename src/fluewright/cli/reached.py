"""Where live lines come from or go to, as it is typed: a device, a broker's topic, a file, a new terminal."""

from typing import Any
from urllib.parse import urlsplit

from fluewright.errors import UseError
from fluewright.live.mapping import Kind


def connection_from(text: str) -> tuple[Kind, dict[str, Any]]:
    """Kind of source and its connection from what was typed; UseError when it is neither device, topic nor file.

    text  /dev/ttyUSB0@9600, mqtt://127.0.0.1:1883/boiler/1, or the path of a file
    """
    if "://" in text:
        host, port, topic = broker_in(text)
        return "mqtt", {"host": host, "port": port, "topic": topic}
    device, _, baud = text.partition("@")
    if device.startswith("/dev/") or device.upper().startswith("COM"):
        return "serial", {"device": device, "baud": int(baud) if baud.isdigit() else 9600}
    return "tail", {"file": text, "start": "beginning"}


def broker_in(text: str) -> tuple[str, int, str]:
    """Host, port and topic of an address such as mqtt://127.0.0.1:1883/boiler/1; UseError when it is none."""
    try:
        found = urlsplit(text)
        port = found.port or 1883
    except ValueError:
        found, port = urlsplit(""), 0
    topic = found.path.lstrip("/")
    if found.scheme != "mqtt" or not found.hostname or not topic:
        raise UseError(
            code="FW-U-174",
            read=f"{text!r} as the address of a topic",
            expected="mqtt://HOST:PORT/TOPIC, such as mqtt://127.0.0.1:1883/boiler/1",
            matters="nothing can be heard or sent without knowing where",
            do="write it so",
        )
    return (
        found.hostname,
        port,
        topic + (f"?{found.query}" if found.query else "") + ("#" if text.endswith("#") else ""),
    )
