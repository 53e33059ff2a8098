"""PostgreSQL, made to give the same plain values as SQLite does, and refusals instead of its many errors.

Imported only when PORTAL_DATABASE is a PostgreSQL URL, because the driver takes its time to import.
"""

import json
import logging
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import psycopg
from peewee import (
    DatabaseError,
    DataError,
    InterfaceError,
    OperationalError,
    PeeweeException,
    PostgresqlDatabase,
    Psycopg3Adapter,
)
from peewee import PostgresqlJSONMethods as JSONMethods  # type: ignore[attr-defined]  # missing in peewee's own types
from psycopg.conninfo import conninfo_to_dict, make_conninfo
from psycopg.pq import TransactionStatus
from psycopg.types.string import TextLoader

from portal.store.refusals import (
    Busy,
    CannotWrite,
    DamagedDatabase,
    DiskFull,
    FieldRefused,
    NoDatabase,
    ReadOnlyDisk,
    Refused,
    Unfit,
)

log = logging.getLogger(__name__)

# Whoever waits for a lock is told so after as long as on SQLite; a client that died in a transaction frees its locks.
_CONNECTION = {
    "connect_timeout": "5",
    "application_name": "portal",
    "options": "-c lock_timeout=20s -c idle_in_transaction_session_timeout=60s",
}
# What was acknowledged is on disk, whatever the server's own default; stricter settings of it are left alone.
_DURABLE = "SELECT set_config('synchronous_commit', 'on', false) WHERE current_setting('synchronous_commit') = 'off'"

# By the beginning of the SQLSTATE: https://www.postgresql.org/docs/current/errcodes-appendix.html
_REFUSALS: dict[str, type[Refused]] = {
    "55P03": Busy,  # lock_not_available
    "57014": Busy,  # query_canceled, by a timeout
    "40": Busy,  # transaction_rollback: a deadlock, or a failure to serialise
    "53100": DiskFull,
    "58030": CannotWrite,  # io_error
    "25006": ReadOnlyDisk,  # read_only_sql_transaction: a server that stands by, or was set so
    "XX001": DamagedDatabase,  # data_corrupted
    "XX002": DamagedDatabase,  # index_corrupted
    "08": NoDatabase,  # connection_exception
    "57P": NoDatabase,  # the server stops or starts
    "25P03": NoDatabase,  # idle_in_transaction_session_timeout: the server hung up
}


class _Plain(JSONMethods):
    """JSON goes and comes as text, as it does on SQLite: in the order in which it was written, without spaces."""

    def make_value_wrapper(self, dumps: Callable[[Any], str]) -> Callable[[Any], str]:
        return lambda value: json.dumps(value, separators=(",", ":"))

    def make_value_reader(self, loads: Callable[[str], Any]) -> Callable[[Any], Any]:
        return lambda value: loads(value) if isinstance(value, str) else value


class _Driver(Psycopg3Adapter):
    txn_idle, txn_inerror = TransactionStatus.IDLE, TransactionStatus.INERROR
    txn_unknown = TransactionStatus.UNKNOWN

    def check_driver(self) -> None:
        """It is imported above."""

    def get_binary_type(self) -> type:
        return psycopg.Binary

    def connect(self, db: PostgresqlDatabase, **parameters: Any) -> psycopg.Connection:
        connection = psycopg.connect(make_conninfo("", **_CONNECTION | conninfo_to_dict(db.database, **parameters)))
        connection.adapters.register_loader("json", TextLoader)
        return connection


class PostgreSQL(PostgresqlDatabase):
    """`PostgreSQL(url)`. A connection that was lost is made anew; only what was under way on it is refused."""

    psycopg2_adapter = psycopg3_adapter = _Driver
    json_methods = _Plain

    def __init__(self, url: str) -> None:
        try:
            conninfo_to_dict(url)
        except psycopg.ProgrammingError as error:
            raise FieldRefused("PORTAL_DATABASE", f"This is no PostgreSQL URL: {error}") from error
        super().__init__(url)

    def execute_sql(self, sql: str, params: Any = None) -> Any:
        with _refused(self):
            try:
                return super().execute_sql(sql, params)
            except PeeweeException:
                if not self._gave_up_lost() or not sql.lstrip().upper().startswith("SELECT"):
                    raise
                return super().execute_sql(sql, params)

    def begin(self, isolation_level: Any = None) -> None:
        with _refused(self):
            try:
                super().begin(isolation_level)
            except PeeweeException:
                if not self._gave_up_lost():
                    raise
                super().begin(isolation_level)

    def commit(self) -> None:
        with _refused(self):
            super().commit()

    def rollback(self) -> None:
        """When the connection is lost there is nothing to roll back: the server has done it."""
        try:
            super().rollback()
        except PeeweeException:
            if not self._gave_up_lost():
                raise

    def is_lost(self) -> bool:
        return self.is_closed() or bool(self.connection().closed)

    def _gave_up_lost(self) -> bool:
        """Whether an open connection was lost outside of a transaction; then it is given up, for a new one."""
        if self.is_closed() or self.in_transaction() or not self.is_lost():
            return False
        self.close()
        return True

    def _initialize_connection(self, conn: psycopg.Connection) -> None:
        conn.execute(_DURABLE)


@contextmanager
def _refused(db: PostgreSQL) -> Iterator[None]:
    try:
        yield
    except (DatabaseError, InterfaceError) as error:
        state = _state_of(error)
        refusal = next((_REFUSALS[state[:end]] for end in (5, 3, 2) if state[:end] in _REFUSALS), None)
        if refusal is None and isinstance(error, OperationalError | InterfaceError) and db.is_lost():
            refusal = NoDatabase
        if refusal is None and isinstance(error, DataError):  # also the driver's own, which has no state
            refusal = Unfit
        if refusal is None:
            raise
        # People get a sentence; why it was, whoever runs the server reads here. Its words may quote what was sent.
        log.warning("PostgreSQL refused", extra={"code": state or type(error).__name__, "kind": refusal.code()})
        raise refusal() from error


def _state_of(error: BaseException | None) -> str:
    """The SQLSTATE that the driver's own error carries; peewee wraps it, and once more while connecting."""
    while error is not None:
        if isinstance(error, psycopg.Error):
            return error.sqlstate or ""
        error = error.__context__
    return ""
