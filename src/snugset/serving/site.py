"""What a browser is given: the pairing page, the bench page, the line to a program of its own."""

import asyncio
from collections.abc import Awaitable, Callable, Sequence
from http import HTTPStatus
from pathlib import Path

import textual_serve
from aiohttp import WSCloseCode, WSMsgType, web

from snugset.serving import asking, said
from snugset.serving.child import Child
from snugset.serving.devices import PATIENCE, Devices, FullError, Places
from snugset.serving.pairing import Pairing, Tried
from snugset.values import dataclass, field

PAGES = Path(__file__).parent / "page"
LIBRARY = Path(textual_serve.__file__).parent / "static"
FULL = 4001
"""The code with which a line is closed for which there is no place."""

_OPEN = ("/", "/pair", "/page/plain.css", "/page/icon.svg")
"""What a device may ask for that was not let in; for all else it gets nothing."""
_LARGEST_FORM = 1024
_HOST = web.RequestKey("host", str)
"""The name by which a request called us, once that is known to be ours."""
_PORT = web.RequestKey("port", int)

Handler = Callable[[web.Request], Awaitable[web.StreamResponse]]


@dataclass(slots=True, kw_only=True)
class Site:
    """One server: who was let in, and what runs."""

    argv: Sequence[str]
    """The program for a tab. Nothing from a browser is added to it."""
    places: Places
    pairing: Pairing | None
    """None where only this machine can reach the server: every device is let in."""
    names: tuple[str, ...] = ()
    """What the builder called the server."""
    penalty: float = 1.0
    """Seconds after a wrong code in which no other is tried."""
    patience: float = PATIENCE
    devices: Devices = field(default_factory=Devices)
    _lines: dict[web.WebSocketResponse, asyncio.Task[None]] = field(default_factory=dict)
    """Each open line, and what runs its program until that has ended."""
    _trying: asyncio.Lock = field(default_factory=asyncio.Lock)

    def app(self) -> web.Application:
        """Give the application."""
        app = web.Application(middlewares=[self._guard], client_max_size=_LARGEST_FORM)
        app.add_routes(
            [
                web.get("/", self._bench),
                web.post("/pair", self._pair),
                web.get("/ws", self._line),
                web.static("/page", PAGES),
                web.static("/static", LIBRARY),
            ]
        )
        app.on_response_prepare.append(_headers)
        app.on_shutdown.append(self._close)
        return app

    @web.middleware
    async def _guard(self, request: web.Request, handler: Handler) -> web.StreamResponse:
        """Let through who calls us by our name, from our page, and was let in."""
        transport = request.transport
        if transport is None:
            raise web.HTTPForbidden
        address, port = transport.get_extra_info("sockname")[:2]
        request[_PORT] = port
        host = request.headers.get("Host", "")
        needed = request.method not in ("GET", "HEAD") or request.path == "/ws"
        if (
            not asking.is_ours(host, address=address, port=port, names=self.names)
            or len(request.headers.getall("Origin", ())) > 1
            or not asking.is_own_page(request.headers.get("Origin"), host, needed=needed)
            or (request.path not in _OPEN and not self._is_in(request))
        ):
            raise web.HTTPForbidden
        request[_HOST] = host
        return await handler(request)

    def _is_in(self, request: web.Request) -> bool:
        return self.devices.knows(request.cookies.get(_cookie(request), ""))

    async def _bench(self, request: web.Request) -> web.StreamResponse:
        """Give the bench, or ask for the code."""
        if request.query_string:  # the library's script would read it
            raise web.HTTPSeeOther("/")
        if not self._is_in(request) and self.pairing is not None:
            self.pairing.look()
            return _page("pair", WHY="")
        if not self.places.room(request.cookies.get(_cookie(request), "")):
            return _page("full", status=HTTPStatus.SERVICE_UNAVAILABLE)
        answer = _page("bench")
        if not self._is_in(request):
            self._let_in(request, answer)
        return answer

    async def _pair(self, request: web.Request) -> web.StreamResponse:
        """Try a code: one at a time, and slowly after a wrong one."""
        if self.pairing is None:
            raise web.HTTPSeeOther("/")
        try:
            form = await request.post()
        except (ValueError, LookupError):
            raise web.HTTPBadRequest from None
        typed = form.get("code", "")
        async with self._trying:
            tried = self.pairing.answer(typed if isinstance(typed, str) else "")
            if tried is Tried.WRONG:
                await asyncio.sleep(self.penalty)
        if tried is not Tried.PAIRED:
            return _page("pair", status=HTTPStatus.FORBIDDEN, WHY=_WHY[tried])
        answer = web.Response(status=HTTPStatus.SEE_OTHER, headers={"Location": "/"})
        self._let_in(request, answer)
        return answer

    def _let_in(self, request: web.Request, answer: web.Response) -> None:
        """Give a device its token; no script can read it, no other site's page can send it."""
        answer.set_cookie(
            _cookie(request), self.devices.admit(), httponly=True, samesite="Strict", path="/"
        )

    async def _line(self, request: web.Request) -> web.StreamResponse:
        """Carry keys to a program of its own and its screen back, until either ends."""
        line = web.WebSocketResponse(heartbeat=15, max_msg_size=said.LARGEST)
        await line.prepare(request)
        # A task of its own: it ends the program in good order, whatever becomes of the request.
        running = self._lines[line] = asyncio.create_task(
            self._run(line, request.cookies.get(_cookie(request), ""))
        )
        running.add_done_callback(lambda _: self._lines.pop(line))
        await asyncio.shield(running)
        return line

    async def _run(self, line: web.WebSocketResponse, token: str) -> None:
        try:
            async with self.places.place(token, patience=self.patience):
                child = Child(self.argv, line)
                try:
                    # The page tells its size at once; nothing is read from its address.
                    await child.start(80, 24)
                    await _carry(line, child)
                finally:
                    await child.end()
        except FullError:
            await line.close(code=FULL)

    async def _close(self, _app: web.Application) -> None:
        """End all programs, since the server ends, and wait for what they are keeping."""
        ending = list(self._lines.items())
        closing = (line.close(code=WSCloseCode.GOING_AWAY) for line, _ in ending)
        await asyncio.gather(*closing, return_exceptions=True)
        await asyncio.gather(*(running for _, running in ending), return_exceptions=True)


_WHY = {
    Tried.WRONG: "That is not the code. Look at the terminal and type it again.",
    Tried.NONE: "There is no code now: press Enter in the terminal, it shows a fresh one.",
}


async def _carry(line: web.WebSocketResponse, child: Child) -> None:
    async for message in line:
        if message.type is not WSMsgType.TEXT:
            await line.close(code=WSCloseCode.UNSUPPORTED_DATA)
            return
        try:
            told = said.read(message.data)
        except ValueError:
            await line.close(code=WSCloseCode.POLICY_VIOLATION)
            return
        match told:
            case said.Keys(data):
                await child.send_bytes(data)
            case said.Size(width, height):
                await child.set_terminal_size(width, height)
            case said.Ping(mark):
                await line.send_json(["pong", mark])
            case said.Nothing():
                pass


def _page(name: str, *, status: int = HTTPStatus.OK, **words: str) -> web.Response:
    """Give a page of ours; the words put in are our own."""
    text = (PAGES / f"{name}.html").read_text(encoding="utf-8")
    for word, instead in words.items():
        text = text.replace(word, instead)
    answer = web.Response(text=text, status=status, content_type="text/html", charset="utf-8")
    if name == "pair":
        # With “no-referrer” a browser hides from which page a form comes. This names it to us only.
        answer.headers["Referrer-Policy"] = "same-origin"
    return answer


def _cookie(request: web.Request) -> str:
    """Give the cookie's name: browsers keep one jar for all ports of a machine."""
    return f"snugset-{request[_PORT]}"


async def _headers(request: web.Request, answer: web.StreamResponse) -> None:
    """Tell the browser to ask for nothing outside, and to show this in nobody's frame.

    The library's script draws with style sheets of its own making; it may make nothing else.
    """
    host = request.get(_HOST)
    line = f" ws://{host}" if host else ""  # some browsers do not count it as our own
    answer.headers.update(
        {
            "Content-Security-Policy": "default-src 'none'; script-src 'self'; "
            "style-src 'self' 'unsafe-inline'; font-src 'self'; img-src 'self'; "
            f"connect-src 'self'{line}; form-action 'self'; base-uri 'none'; "
            "frame-ancestors 'none'",
            "X-Content-Type-Options": "nosniff",
            "X-Frame-Options": "DENY",
            "Cross-Origin-Opener-Policy": "same-origin",
            "Cross-Origin-Resource-Policy": "same-origin",
            "Cache-Control": "no-cache" if request.path.startswith("/static/") else "no-store",
            "Server": "Snugset",
        }
    )
    answer.headers.setdefault("Referrer-Policy", "no-referrer")
