"""The page that is watched while adjusting, its stream of frames, and what is done from it."""

import asyncio
import json
from collections.abc import AsyncIterator
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from fastapi import Request
from markupsafe import Markup
from starlette.concurrency import run_in_threadpool
from starlette.responses import RedirectResponse, Response, StreamingResponse

from fluewright.errors import FluewrightError, UseError
from fluewright.visit import kept, while_live
from fluewright.web import watched as seen
from fluewright.web.dock import PHASES
from fluewright.web.routes.changing import steps_of
from fluewright.web.sheet import visit_of
from fluewright.web.shop import Shop, page, parts_of, shop_in, status_of
from fluewright.web.typed import Typed

if TYPE_CHECKING:
    from fluewright.live.watching import Now, Watching

APART = 0.5
"""s between two frames of one page, at least."""

LOOKED = 0.1
"""s between two looks at whether anything changed."""

COMMENT = 15.0
"""s after which a line without content says that the stream still stands."""

LASTS = 600.0
"""s of one stream; then it ends, the page comes back by itself, and is asked again who it is."""

MOST = 24
"""Pages that look on at once."""

NOT_HERE = (
    "Live sources are listened to by the machine of the shop, where instruments can be reached: start it there with "
    "`fluewright serve --listen MAPPING`. On this page readings are typed, and nothing is missed by that."
)


def live_in(request: Request) -> "Watching | None":
    """What is watched by this server; None where nothing is listened to, as inside a page."""
    found: Watching | None = getattr(request.app.state, "live", None)
    return found


def _need(request: Request) -> "Watching":
    found = live_in(request)
    if found is None:
        raise while_live.not_listening()
    return found


def live(request: Request, code: str) -> Response:
    """The page, drawn whole."""
    did = {"kept": "Kept.", "marked": "Marked.", "turned": "Turned.", "seen": "It stands on the sheet as a remark."}
    told = did.get(request.query_params.get("did", ""), "")
    return _page(request, visit_of(shop_in(request), code), request.query_params.get("appliance", ""), did=told)


def _page(request: Request, visit: str, asked: str, *, did: str = "", error: FluewrightError | None = None) -> Response:
    shop, found = shop_in(request), live_in(request)
    if found is None:
        return page(request, "live.html", live=False, visit=visit, why=NOT_HERE, title="Watching")
    look = _look(request, found, visit, asked)
    known = _memory(request).of(shop, visit)
    told, made = _made(shop, found, known, look, found.told(rows=seen.ROWS))
    del told
    entries = kept.entries_of(shop.journal, visit)
    stretch = while_live.next_word(entries)
    words = [str(each.body["word"]) for each in entries if each.counts and each.read.entry.kind == "stretch"]
    return page(
        request, "live.html", status=status_of(error) if error else 200, live=True, visit=visit,
        adjusting=look.adjusting, appliances=found.appliances, where=known.sheet.running_left or known.sheet.title,
        now={name: Markup(text) for name, text in made.items()}, sealed=while_live.sealed(shop.journal, visit),
        errors=parts_of(error) if error else [], did=did, marks=while_live.MARKS, steps=steps_of(shop, visit),
        levers=_levers(found), turned=did == "Turned.", stretch=stretch,
        stretches=tuple(dict.fromkeys((stretch, *PHASES, *words))), title=f"Watching {look.adjusting}".strip(),
    )  # fmt: skip


def _look(request: Request, found: "Watching", visit: str, asked: str, widths: tuple[int, ...] = ()) -> seen.Look:
    mark = shop_in(request).marks.of_form(getattr(request.state, "cookie", ""))
    return seen.Look(visit, seen.adjusting_of(found, asked), widths, mark)


def _memory(request: Request) -> seen.Memory:
    found: seen.Memory = request.app.state.watched
    return found


def _made(
    shop: Shop, found: "Watching", known: seen.Known, look: seen.Look, now: "Now"
) -> tuple[dict[str, Any], dict[str, str]]:
    told = seen.told(shop, found, known, look, now)
    return told, seen.parts(shop, told)


def stream(request: Request, code: str, appliance: str = "", width: str = "", after: str = "") -> Response:
    """Frames as server-sent events: each part that changed, at most twice a second, and which rows are in it."""
    shop, found = shop_in(request), _need(request)
    visit = visit_of(shop, code)
    if found.lookers >= MOST:
        raise UseError(
            code="FW-U-207",
            read=f"one more page than {MOST} that look on",
            expected=f"at most {MOST} at once",
            matters="each is drawn for twice a second, and what comes in has to be kept first",
            do="close a page that nobody looks at",
        )
    last = request.headers.get("last-event-id", "") or after
    look = _look(request, found, visit, appliance, _widths(width))
    upto = int(last) if last.isascii() and last.isdigit() and len(last) < 16 else -1
    going = _frames(shop, found, _memory(request), look, upto)
    headers = {"cache-control": "no-store", "x-accel-buffering": "no"}
    return StreamingResponse(going, media_type="text/event-stream", headers=headers)


def _widths(told: str) -> tuple[int, ...]:
    """px of plane, strip and flue, as a page says them: 640.860.440; in tens, so that pages alike are drawn once."""
    parts = told.split(".")
    if len(parts) != 3 or not all(each.isascii() and each.isdigit() and len(each) < 5 for each in parts):
        return ()
    return tuple(max(int(each) // 10 * 10, seen.NARROW) for each in parts)


async def _frames(
    shop: Shop, found: "Watching", memory: seen.Memory, look: seen.Look, after: int
) -> AsyncIterator[bytes]:
    loop = asyncio.get_running_loop()
    ends, sent = loop.time() + LASTS, dict[str, str]()
    found.lookers += 1
    try:
        yield b"retry: 1000\n\n"
        while not found.over and loop.time() < ends:
            version, upto, event = await run_in_threadpool(_frame, shop, found, memory, look, sent, after)
            yield event
            after = upto
            await asyncio.sleep(APART)
            said = loop.time()
            while found.version == version and not found.over and loop.time() < ends:
                await asyncio.sleep(LOOKED)
                if loop.time() - said > COMMENT:
                    said = loop.time()
                    yield b": still here\n\n"
    finally:
        found.lookers -= 1


def _frame(
    shop: Shop, found: "Watching", memory: seen.Memory, look: seen.Look, sent: dict[str, str], after: int
) -> tuple[int, int, bytes]:
    """One event: the parts that changed since the last one, and the rows that it stands for."""
    now = found.told(rows=seen.ROWS)
    told, made = _made(shop, found, memory.of(shop, look.visit), look, now)
    changed = {name: text for name, text in made.items() if sent.get(name) != text}
    sent.update(changed)
    begins = after if 0 <= after <= now.upto else now.upto
    body = {
        "after": begins, "upto": now.upto, "parts": changed, "edge": told["edge"],
        "say": " ".join((told["place"], told["held"], told["values"])).strip(), "steady": bool(told["held"]),
        "silent": told["silent"],
    }  # fmt: skip
    return now.version, now.upto, f"id: {now.upto}\ndata: {json.dumps(body, ensure_ascii=False)}\n\n".encode()


def _done(visit: str, appliance: str, did: str) -> Response:
    return RedirectResponse(f"/visit/{visit}/live?appliance={quote(appliance)}&did={did}", status_code=303)


def keep(request: Request, code: str, typed: Typed) -> Response:
    """The stretch as it stands, taken into the visit with its doubt."""
    shop, found = shop_in(request), _need(request)
    visit, asked = visit_of(shop, code), typed.text("appliance")
    word = typed.text("word") or while_live.next_word(kept.entries_of(shop.journal, visit))
    try:
        sent = typed.once()
        with shop.turn:
            made = while_live.keep(
                shop.journal, visit, found, appliance=seen.adjusting_of(found, asked), word=word, form=sent
            )
    except FluewrightError as error:
        return _page(request, visit, asked, error=error)
    system = _memory(request).of(shop, visit).system
    at = made.entries[0].entered[11:16]
    means = "; ".join(one.words(system) for one in made.window.kept[:3])
    grade = " Nobody proved who sent it: it may alarm, and clears nothing." if made.window.alarms_only else ""
    return _page(
        request, visit, asked, did=f"Kept on this machine {at} as {word}: {made.window.words}. {means}.{grade}"
    )


def mark(request: Request, code: str, typed: Typed) -> Response:
    """Something that was done just now."""
    shop, found = shop_in(request), _need(request)
    visit, asked = visit_of(shop, code), typed.text("appliance")
    try:
        sent = typed.once()
        with shop.turn:
            while_live.mark(
                shop.journal,
                visit,
                found,
                appliance=seen.adjusting_of(found, asked),
                word=typed.text("word"),
                form=sent,
            )
    except FluewrightError as error:
        return _page(request, visit, asked, error=error)
    return _done(visit, asked, "marked")


def saw(request: Request, code: str, typed: Typed) -> Response:
    """A stop that somebody has seen; it stays on the sheet as a remark."""
    shop, found = shop_in(request), _need(request)
    visit, number = visit_of(shop, code), typed.text("number")
    if number.isascii() and number.isdigit() and len(number) < 10:
        with shop.turn:
            while_live.saw(shop.journal, visit, found, int(number))
    return _done(visit, typed.text("appliance"), "seen")


def turn(request: Request, code: str, typed: Typed) -> Response:
    """A lever of the invented boiler turned by one step; a fan is marked, all else is a step of the visit."""
    from fluewright.visit import demo_live

    shop, found = shop_in(request), _need(request)
    visit, asked = visit_of(shop, code), typed.text("appliance")
    try:
        sent = typed.once()
        with shop.turn:
            demo_live.turned(
                shop.journal, visit, found, typed.text("turn"), appliance=seen.adjusting_of(found, asked), form=sent
            )
    except FluewrightError as error:
        return _page(request, visit, asked, error=error)
    return _done(visit, asked, "turned")


def _levers(found: "Watching") -> list[dict[str, Any]]:
    """The levers of the invented boiler as they stand; none where instruments are real."""
    from fluewright.visit import demo_live

    return demo_live.levers(found) if found.house is not None else []


ROUTES = (
    ("GET", "/visit/{code}/live", live, "read"),
    ("GET", "/visit/{code}/live/stream", stream, "read"),
    ("POST", "/visit/{code}/live/keep", keep, "work"),
    ("POST", "/visit/{code}/live/mark", mark, "work"),
    ("POST", "/visit/{code}/live/seen", saw, "work"),
    ("POST", "/visit/{code}/live/turn", turn, "work"),
)
