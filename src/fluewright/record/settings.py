"""Where a journal lives and how it is written; given from outside, never looked up by the rooms themselves."""

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from fluewright.errors import UseError

Mode = Literal["wal", "delete", "truncate"]


@dataclass(frozen=True, slots=True)
class Settings:
    """One journal.

    database   path of a SQLite file, or the address of a PostgreSQL database (postgresql+psycopg://...)
    files      folder for photos, files and trace blocks; beside a SQLite file when not given
    keys       folder of the device's own key; beside a SQLite file when not given
    mode       wal, one flush for each commit; delete or truncate where several processes cannot share memory, as on a
               network share or in a browser
    read_only  whether nothing may be written
    wait       seconds that a writer waits for another
    """

    database: str
    files: Path | None = None
    keys: Path | None = None
    mode: Mode = "wal"
    read_only: bool = False
    wait: float = 5.0

    def is_sqlite(self) -> bool:
        """Whether the database is a file."""
        return "://" not in self.database

    def path(self) -> Path:
        """The database file."""
        return Path(self.database)

    def _beside(self, given: Path | None, name: str) -> Path:
        if given is not None:
            return given
        if not self.is_sqlite():
            raise UseError(
                code="FW-U-612",
                read=f"a journal on a server, without the folder of its {name}",
                expected=f"the folder: --{name} FOLDER",
                matters="files and keys lie in folders of this machine, and none may be guessed",
                do=f"name it with --{name}, the same one each time",
            )
        return self.path().with_name(f"{self.path().stem}.{name}")

    def files_folder(self) -> Path:
        """The folder of the files."""
        return self._beside(self.files, "files")

    def keys_folder(self) -> Path:
        """The folder of the key."""
        return self._beside(self.keys, "keys")
