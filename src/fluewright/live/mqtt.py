"""Messages from an MQTT broker, quality 1: each is answered only when it is on the disk.

The library paho is used as it is, because it lets a message be answered by hand; the broker brings what was not
answered again, marked as such, and keeps what comes while nobody listens.
"""

import asyncio
import hashlib
import threading
from collections.abc import Callable
from typing import Any

from fluewright import clock
from fluewright.live import payload
from fluewright.live.inbox import Inbox
from fluewright.live.mapping import Mapping, wrong
from fluewright.live.row import Row

UNANSWERED = 200
"""Messages that the broker may send before the first of them is answered; below what is remembered of copies."""

REMEMBERED = 86_400
"""s that the broker keeps messages for us while we are away."""

PASSING = "passing"
"""Key of a connection that only looks: the broker is to remember nothing of it. No mapping can hold it."""

KEEPALIVE = 20
"""s of silence after which the line is tried."""


def _password(mapping: Mapping) -> str | None:
    """The password in the file that a mapping names; None where it names none."""
    if "password_file" not in mapping.connection:
        return None
    path = mapping.path("password_file")
    try:
        return path.read_text("utf-8").strip()
    except (OSError, UnicodeDecodeError) as error:
        raise wrong(str(path), f"the password file cannot be read: {error}", "a file with the password") from error


class MqttTopic:
    """One topic of one broker.

    dropped  messages that were damaged, of another form, or not signed by the key
    trouble  why the broker is not reached just now; empty while it is
    """

    wire, real = False, True

    def __init__(self, mapping: Mapping) -> None:
        self.mapping = mapping
        self.name = mapping.name
        self.dropped = 0
        self.connections = 0
        self._key = payload.key_in(mapping.key_file) if mapping.key_file is not None else b""
        self._password = _password(mapping)
        self.trouble = ""
        self._inbox: Inbox | None = None
        self._client: Any = None
        self._answers = threading.Lock()

    async def next(self) -> Row | None:
        """The next message; the library comes back to a broker that was lost by itself."""
        if self._inbox is None:
            self._inbox = Inbox(2 * UNANSWERED)
            self._client = self._connecting(self._inbox)
        return await self._inbox.next()

    def _connecting(self, inbox: Inbox) -> Any:
        """A client that connects in its own thread, and goes on trying with longer and longer pauses."""
        from paho.mqtt import client as paho
        from paho.mqtt.enums import CallbackAPIVersion
        from paho.mqtt.packettypes import PacketTypes
        from paho.mqtt.properties import Properties

        told = self.mapping.connection
        name = str(told.get("client", f"fluewright-{self.name}"))
        made = paho.Client(CallbackAPIVersion.VERSION2, name, protocol=paho.MQTTv5, manual_ack=True)
        if "user" in told:
            made.username_pw_set(told["user"], self._password)
        if told.get("tls"):
            made.tls_set()
        made.on_connect = self._connected
        made.on_connect_fail = lambda client, data: self._troubled("it does not answer")
        made.on_disconnect = lambda client, data, flags, reason, properties: self._troubled(str(reason))
        made.on_message = lambda client, _, message: self._came(client, inbox, message)
        made.reconnect_delay_set(1, 30)
        about: Any = Properties(PacketTypes.CONNECT)  # type: ignore[no-untyped-call]
        passing = bool(told.get(PASSING))
        about.ReceiveMaximum, about.SessionExpiryInterval = UNANSWERED, 0 if passing else REMEMBERED
        port = int(told.get("port", 8883 if told.get("tls") else 1883))
        made.connect_async(told["host"], port, KEEPALIVE, clean_start=passing, properties=about)
        made.loop_start()
        return made

    def _connected(self, client: Any, _: Any, flags: Any, reason: Any, properties: Any) -> None:
        with self._answers:
            self.connections += 1
        self._troubled(str(reason) if reason.is_failure else "")
        if not reason.is_failure:
            client.subscribe(self.mapping.connection["topic"], qos=1)

    def _troubled(self, why: str) -> None:
        self.trouble = f"the broker at {self.mapping.connection['host']}: {why}" if why else ""

    def _came(self, client: Any, inbox: Inbox, message: Any) -> None:
        """A message in the thread of the library; one of no use is answered at once, so that it does not come again."""
        answer = self._answer(client, message.mid, message.qos)
        try:
            body = payload.proven(message.payload, message.topic, self._key) if self._key else message.payload
            found = payload.taken(payload.checked(body, self.mapping.text.checksum), self.mapping.text)
        except payload.NotTaken:
            self.dropped += 1
            answer()
            return
        made = hashlib.blake2b(message.topic.encode() + b"\n" + message.payload, digest_size=6).hexdigest()
        row = Row(
            self.name, clock.seconds(), found.cells, found.stamped, found.number,
            key=f"{message.mid}:{made}" if message.qos else "", again=message.dup, proven=bool(self._key), kept=answer,
        )  # fmt: skip
        inbox.offer(row)

    def _answer(self, client: Any, mid: int, qos: int) -> Callable[[], None]:
        """What answers a message; nothing once the line was lost meanwhile, for its number may then be another's."""
        connection = self.connections

        def answered() -> None:
            with self._answers:
                if qos and connection == self.connections:
                    client.ack(mid, qos)

        return answered

    async def close(self) -> None:
        """Leave the broker; what was not answered it keeps for the next time."""
        inbox, client = self._inbox, self._client
        self._inbox = self._client = None
        if inbox is not None:
            inbox.shut()
        if client is not None:
            client.disconnect()
            await asyncio.to_thread(client.loop_stop)
