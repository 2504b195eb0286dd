"""What an error is to a browser or a program: its status by RFC 9110, by what it is to a shell."""

from fluewright.errors import FluewrightError

STATUS = {2: 400, 3: 422, 4: 500, 5: 409, 70: 500}
"""By the exit code."""

BY_CODE = {
    "FW-J-120": 404, "FW-J-121": 404, "FW-U-130": 404, "FW-U-132": 404, "FW-U-133": 404, "FW-J-141": 404,
    "FW-N-060": 403, "FW-N-150": 403, "FW-N-152": 403,
    "FW-N-101": 421, "FW-N-151": 401, "FW-N-153": 429, "FW-N-104": 413,
}  # fmt: skip
"""Of those that are told apart: not here, not allowed to this person, under a wrong name, not signed in, too fast, too
long."""


def status_of(error: FluewrightError) -> int:
    """What an error is to a browser."""
    return BY_CODE.get(error.code, STATUS.get(error.exit_code, 500))


def parts_of(error: FluewrightError) -> list[dict[str, str]]:
    """An error as its four parts; gathered ones each by itself."""
    return [each.parts() for each in getattr(error, "errors", (error,))]
