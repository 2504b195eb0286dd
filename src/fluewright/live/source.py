"""A source from its mapping. Each has one method, its next row; which kind it is matters to nobody after this."""

from collections.abc import Callable

from fluewright.live.hub import Stream, stream
from fluewright.live.mapping import Mapping
from fluewright.live.row import Source


def _serial(mapping: Mapping, place: str) -> Source:
    from fluewright.live.serial_line import SerialLine

    return SerialLine(mapping)


def _mqtt(mapping: Mapping, place: str) -> Source:
    from fluewright.live.mqtt import MqttTopic

    return MqttTopic(mapping)


def _modbus(mapping: Mapping, place: str) -> Source:
    from fluewright.live.modbus import ModbusDevice

    return ModbusDevice(mapping)


def _push(mapping: Mapping, place: str) -> Source:
    from fluewright.live.push import HttpPush

    return HttpPush(mapping)


def _tail(mapping: Mapping, place: str) -> Source:
    from fluewright.live.tail import FileTail

    return FileTail(mapping, place)


OPENED: dict[str, Callable[[Mapping, str], Source]] = {
    "serial": _serial,
    "mqtt": _mqtt,
    "modbus-tcp": _modbus,
    "modbus-rtu": _modbus,
    "push": _push,
    "tail": _tail,
}


def opened(mapping: Mapping, *, place: str = "") -> Stream:
    """The source that a mapping describes; nothing is reached for before its first row is asked for.

    mapping  as it was read
    place    how far it was read before; empty for never
    -> the source with what keeps its count
    """
    if mapping.kind in OPENED:
        return stream(mapping, OPENED[mapping.kind](mapping, place))
    from fluewright.live import played

    whole, source = played.replayed(mapping) if mapping.kind == "replay" else played.appliance(mapping)
    return stream(whole, source)
