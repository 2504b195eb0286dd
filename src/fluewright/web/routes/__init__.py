"""The pages, one file for what one does on them; each lists its routes as method, path and handler."""

from collections.abc import Callable

from starlette.responses import Response

Routes = tuple[tuple[str, str, Callable[..., Response]], ...]
"""Method, path and handler."""
