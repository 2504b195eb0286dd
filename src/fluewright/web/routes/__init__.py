"""The pages, one file for what one does on them; each lists its routes as method, path, handler and right."""

from collections.abc import Callable

from starlette.responses import Response

Routes = tuple[tuple[str, str, Callable[..., Response], str], ...]
"""Method, path, handler and right."""
