"""All errors of Fluewright. Each says what was read, what was expected, why it matters and what to do.

FluewrightError
├── UseError            exit 2   the command or call was used in a way it does not offer      FW-U
├── InputError          exit 3   what came in cannot be used
│   ├── QuantityError            a typed value that cannot be understood                      FW-Q
│   ├── FuelError                a composition or fuel file that does not hold                FW-F
│   ├── TraceError               a recorded trace that cannot be taken                        FW-T
│   ├── VisitError               a visit file that cannot be taken                            FW-V
│   ├── RuleError                a rule book that cannot be taken                             FW-B
│   ├── EntryError               an entry that the journal cannot keep                        FW-J
│   └── Problems                 several of the above, gathered and shown together            FW-P
├── PhysicsRefused      exit 5   numbers that no flame can produce                            FW-K
├── NotAllowed          exit 5   something that this person or this store may not do          FW-N
├── RecordDamaged       exit 4   a kept record that is no longer whole                        FW-R
└── OurFault            exit 70  something we promised and did not do                         FW-Z
"""

from collections.abc import Sequence


def printable(text: str) -> str:
    """A text in which nothing can steer a terminal: other signs than lines and letters become question marks."""
    return "".join(sign if sign.isprintable() or sign == "\n" else "?" for sign in text)


class FluewrightError(Exception):
    """The root: four sentences, a stable code, and where it happened.

    read, expected, matters, do   the four parts, each a plain sentence or phrase without full stop needed
    code                          stable identifier such as FW-Q-003
    where                         file, line, column or field, empty when the caller knows
    """

    exit_code = 70

    def __init__(self, *, code: str, read: str, expected: str, matters: str, do: str, where: str = "") -> None:
        self.code = code
        self.read = read
        self.expected = expected
        self.matters = matters
        self.do = do
        self.where = where
        super().__init__(self.sentence())

    def parts(self) -> dict[str, str]:
        """The four parts and the code as plain data, for JSON and pages."""
        return {
            "code": self.code,
            "where": self.where,
            "read": self.read,
            "expected": self.expected,
            "matters": self.matters,
            "do": self.do,
        }

    def sentence(self) -> str:
        """The error as a person reads it, one part a line."""
        head = f"{self.where}: " if self.where else ""
        return printable(
            f"{head}{self.read}\n"
            f"  expected  {self.expected}\n"
            f"  because   {self.matters}\n"
            f"  do        {self.do}\n"
            f"  ({self.code})"
        )


class UseError(FluewrightError):
    """A command or call used in a way it does not offer."""

    exit_code = 2


class InputError(FluewrightError):
    """Something that came in cannot be used; nothing of it was taken."""

    exit_code = 3


class QuantityError(InputError):
    """A typed value that cannot be understood, or can be understood in two ways."""


class FuelError(InputError):
    """A composition or fuel file that does not hold."""


class TraceError(InputError):
    """A recorded trace that cannot be taken."""


class VisitError(InputError):
    """A visit file that cannot be taken."""


class RuleError(InputError):
    """A rule book that cannot be taken."""


class EntryError(InputError):
    """An entry that the journal cannot keep."""


class Problems(InputError):
    """Several errors found in one pass, shown together so that they can be mended together."""

    def __init__(self, *, subject: str, errors: Sequence[FluewrightError]) -> None:
        self.errors = tuple(errors)
        count = len(self.errors)
        super().__init__(
            code="FW-P-001",
            read=f"{subject}: {count} problem{'' if count == 1 else 's'} found, nothing was taken",
            expected="every line as described below",
            matters="a file taken in part would hide what is missing",
            do="mend what is listed and run the same command again",
        )

    def sentence(self) -> str:
        """The gathered errors one below the other."""
        return "\n".join([self.read, *(error.sentence() for error in getattr(self, "errors", ()))])


class PhysicsRefused(FluewrightError):
    """Numbers that no flame can produce, so that nothing honest can be computed from them."""

    exit_code = 5


class NotAllowed(FluewrightError):
    """Something that this person, this device or this store may not do."""

    exit_code = 5


class RecordDamaged(FluewrightError):
    """A kept record that is no longer whole."""

    exit_code = 4


class OurFault(FluewrightError):
    """Something the program promised and did not do."""

    exit_code = 70
