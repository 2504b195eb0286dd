"""A store on SQLite or PostgreSQL as a merge sees it."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from itertools import batched

from sqlalchemy import and_, bindparam, delete, insert, or_, select
from sqlalchemy.engine import Connection

from fluewright.record.chain import Anchor
from fluewright.record.entry import entry_from
from fluewright.record.merge import lacking
from fluewright.record.parcel import Ends, Parcel, parcel_line
from fluewright.record.personal import Secret, commitments_in
from fluewright.record.reading import AT_ONCE, anchors_of, last_of
from fluewright.record.tables import ANCHOR, ENTRY, SECRET
