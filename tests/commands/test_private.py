"""What is kept is the owner's alone, and nothing is sent or asked over any network."""

import json
import os
import subprocess
import sys
from pathlib import Path

from .shell import ANSWERS, ENGINE, PROCEDURE

_CODE = """
import asyncio, json, os, sys
from pathlib import Path
os.umask(0)
seen = []
NETWORK = ("connect", "bind", "getaddrinfo", "gethostbyname", "gethostbyaddr", "sendto", "sendmsg",
           "getnameinfo")
def watch(event, given):
    if event.startswith("socket.") and event.partition(".")[2] in NETWORK:
        seen.append(event)
    if event.startswith(("urllib.", "http.", "ftplib.", "smtplib.")):
        seen.append(event)
sys.addaudithook(watch)
from snugset.cli import main
from snugset.commands.declare import Place
data, answers, procedure, engine = Path(sys.argv[1]), *sys.argv[2:]
def ok(*words, code=0):
    sys.stdout = open(os.devnull, "w")
    found = main(["--data", str(data), *map(str, words)])
    sys.stdout = sys.__stdout__
    assert found == code, (words, found)
ok("replay", answers)
(build,) = [p.name for p in (data / "builds").iterdir()]
ok("list"); ok("list", "--json"); ok("sheet", build, "--as", "md"); ok("verify", build)
ok("check", procedure, engine, answers)
ok("crank", engine)
for name, first in (("deck.jpg", b"\\xff\\xd8\\xff"), ("face.png", b"\\x89PNG\\r\\n\\x1a\\n")):
    picture = data.parent / name
    picture.write_bytes(first + bytes(400))
    ok("attach", build, picture, "--note", "deck")
folder = data / "builds" / build
for form in ("html", "md", "csv", "json"):
    ok("sheet", build, "--as", form)
    ok("sheet", build, "-o", folder / ("sheet." + form))
    ok("sheet", build, "-o", folder / ("sheet." + form), "--replace")
ok("order", build); ok("order", build, "--json"); ok("order", build, "--to", data / "order.txt")
ok("cards", build); ok("cards", build, "--to", data / "cards.txt")
ok("specs", build, "--save", data / "specs.yaml")
ok("figure", "convert", "value=22 lbf·ft")
ok("backup", build, data / "carried.snugset")
ok("verify", build, "--out", data / "proven.snugset")
ok("restore", data / "carried.snugset")
revised = data / "engine.yaml"
os.close(os.open(revised, os.O_CREAT | os.O_WRONLY, 0o600))
revised.write_text(Path(engine).read_text("utf-8") + "# newer\\n", "utf-8")
ok("revise", build, revised, "--reason", "newer")
from snugset.commands import failing
sys.stderr = open(os.devnull, "w")
failing.told(RuntimeError("planted"), Place({}, data))
sys.stderr = sys.__stderr__
from snugset.screens.app import SnugsetApp
from snugset.screens.doors import Doors, Opening
from snugset.journal.shelf import Shelf
async def screens():
    shelf = Shelf(data)
    demo = lambda: Opening(folder=shelf.path / build)
    app = SnugsetApp(Doors(shelf=shelf, person="Wren", demo=demo, begin=demo), demo)
    async with app.run_test(size=(100, 30)) as pilot:
        for _ in range(200):
            await pilot.pause(0.05)
            if getattr(app.screen, "NAME", "") == "bench": break
        assert app.screen.NAME == "bench", app.screen
        for key in ("enter", "f2", "f7", "f8", "escape", "f9", "escape", "f1", "escape", "ctrl+s",
                    "ctrl+n"):
            await pilot.press(key)
            await pilot.pause(0.05)
        for letter in str(data / "screen.snugset"):
            await pilot.press({"/": "slash", ".": "full_stop", "-": "minus"}.get(letter, letter))
        await pilot.press("enter")
        await pilot.pause(0.5)
    app.let_go()
asyncio.run(screens())
network = list(seen)
import socket
try:
    socket.create_connection(("127.0.0.1", 9), 0.1)
except OSError:
    pass
every = [data, *data.rglob("*")]
open_to = [str(p) for p in every if p.stat(follow_symlinks=False).st_mode & 0o077]
names = sorted({p.name for p in data.rglob("*")})
print(json.dumps({"network": network, "planted": seen, "open": open_to, "names": names}))
"""


def _walk(tmp_path: Path) -> dict[str, list[str]]:
    done = subprocess.run(
        [
            *(sys.executable, "-c", _CODE, str(tmp_path / "data")),
            *(str(ANSWERS), str(PROCEDURE), str(ENGINE)),
        ],
        capture_output=True,
        text=True,
        check=False,
        timeout=200,
        env={**os.environ, "HOME": str(tmp_path), "TMPDIR": str(tmp_path), "PYTHONUTF8": "1"},
    )
    assert done.returncode == 0, done.stderr
    found: dict[str, list[str]] = json.loads(done.stdout.splitlines()[-1])
    return found


def test_nothing_goes_over_a_network_and_nobody_else_may_read_it(tmp_path: Path) -> None:
    """With no mask at all; the walk ends with a connection, which the same watch must see."""
    found = _walk(tmp_path)
    assert found["open"] == []
    assert found["network"] == []
    assert "socket.connect" in found["planted"]
    kept = {"journal.sqlite", "lock", "attachments", "crash.log", "carried.snugset"}
    kept |= {"proven.snugset", "screen.snugset", "order.txt", "cards.txt", "specs.yaml"}
    kept |= {"build-sheet.html", *(f"sheet.{form}" for form in ("html", "md", "csv", "json"))}
    assert kept <= set(found["names"])
    assert len({name for name in found["names"] if name.endswith((".jpg", ".png"))}) == 2
