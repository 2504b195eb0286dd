"""The table of a visit file about looks with two answers, by which causes are told apart."""

from fluewright.diagnose.looked import LookAnswer, Looked
from fluewright.diagnose.table import looks
from fluewright.evidence.part import Measured
from fluewright.visit.shape import Form
from fluewright.visit.source import Source

TABLE = "look"
FORM = Form(
    tables={TABLE: ("look", "found", "because", "time")},
    required={TABLE: ("look", "found")},
    lists=(TABLE,),
)


def read(file: Source) -> tuple[Measured, ...]:
    """The looks that were answered; nothing where the table is not there."""
    names = tuple(look.name for look in looks().values() if not look.reads)
    answers = tuple(
        LookAnswer(
            file.choice(place, row, "look", names),
            file.choice(place, row, "found", ("yes", "no")) == "yes",
            file.text(place, row, "because"),
            file.clock(place, row),
        )
        for place, row in file.rows(TABLE)
    )
    return (Looked(answers),) if answers else ()
