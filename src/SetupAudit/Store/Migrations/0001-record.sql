-- What is kept: the program's starts, the evidence, what was taken in, and what was derived from it.
-- Every table but those named scratch_ is append-only. The triggers are a guard rail against mistakes, not evidence.

CREATE TABLE migration (
    number       INTEGER NOT NULL PRIMARY KEY,
    name         TEXT    NOT NULL,
    sha256       TEXT    NOT NULL,
    applied_utc  TEXT    NOT NULL
) STRICT;

CREATE TABLE start (
    seq                   INTEGER PRIMARY KEY AUTOINCREMENT,
    at_utc                TEXT NOT NULL,
    command               TEXT NOT NULL,
    program_version       TEXT NOT NULL,
    configuration_sha256  TEXT NOT NULL
) STRICT;

CREATE TABLE blob (
    sha256        TEXT    NOT NULL PRIMARY KEY CHECK (length(sha256) = 64),
    size_bytes    INTEGER NOT NULL,
    segment       INTEGER NOT NULL,
    position      INTEGER NOT NULL,
    stored_bytes  INTEGER NOT NULL
) STRICT;

CREATE INDEX blob_place ON blob (segment, position);

CREATE TABLE arrival (
    seq           INTEGER PRIMARY KEY AUTOINCREMENT,
    id            TEXT    NOT NULL UNIQUE,
    machine       TEXT    NOT NULL,
    source        INTEGER NOT NULL,
    file          TEXT    NOT NULL,
    sha256        TEXT    NOT NULL,
    blob          TEXT    REFERENCES blob (sha256),
    size_bytes    INTEGER NOT NULL,
    modified_utc  TEXT    NOT NULL,
    moment_utc    TEXT    NOT NULL,
    previous_utc  TEXT,
    received_utc  TEXT    NOT NULL,
    offset_bytes  INTEGER NOT NULL,
    first_line    INTEGER NOT NULL,
    refused       TEXT
) STRICT;

CREATE INDEX arrival_machine ON arrival (machine, seq);
CREATE INDEX arrival_last ON arrival (machine, source, moment_utc);
CREATE INDEX arrival_bytes ON arrival (sha256);

CREATE TABLE horizon (
    seq           INTEGER PRIMARY KEY AUTOINCREMENT,
    machine       TEXT NOT NULL,
    at_utc        TEXT NOT NULL,
    recorded_utc  TEXT NOT NULL
) STRICT;

CREATE INDEX horizon_machine ON horizon (machine, at_utc);

CREATE TABLE batch (
    seq           INTEGER PRIMARY KEY AUTOINCREMENT,
    recorded_utc  TEXT NOT NULL
) STRICT;

CREATE TABLE derived (
    seq        INTEGER PRIMARY KEY AUTOINCREMENT,
    machine    TEXT    NOT NULL,
    kind       TEXT    NOT NULL,
    id         TEXT    NOT NULL,
    scope_utc  TEXT    NOT NULL,
    at_utc     TEXT    NOT NULL,
    setup      TEXT,
    body       TEXT,
    withdrawn  TEXT,
    batch      INTEGER NOT NULL REFERENCES batch (seq),
    CHECK ((body IS NULL) = (withdrawn IS NOT NULL))
) STRICT;

CREATE INDEX derived_key ON derived (machine, kind, id, seq);
CREATE INDEX derived_id ON derived (kind, id, seq);
CREATE INDEX derived_order ON derived (kind, at_utc, id, seq);
CREATE INDEX derived_setup ON derived (setup, kind, at_utc, id);
CREATE INDEX derived_scope ON derived (machine, kind, scope_utc);

CREATE TRIGGER migration_update BEFORE UPDATE ON migration BEGIN SELECT RAISE(ABORT, 'migration is append-only'); END;
CREATE TRIGGER migration_delete BEFORE DELETE ON migration BEGIN SELECT RAISE(ABORT, 'migration is append-only'); END;
CREATE TRIGGER migration_insert BEFORE INSERT ON migration
    WHEN EXISTS (SELECT 1 FROM migration WHERE number = NEW.number)
    BEGIN SELECT RAISE(ABORT, 'migration is append-only'); END;

CREATE TRIGGER start_update BEFORE UPDATE ON start BEGIN SELECT RAISE(ABORT, 'start is append-only'); END;
CREATE TRIGGER start_delete BEFORE DELETE ON start BEGIN SELECT RAISE(ABORT, 'start is append-only'); END;
CREATE TRIGGER start_insert BEFORE INSERT ON start
    WHEN EXISTS (SELECT 1 FROM start WHERE seq = NEW.seq)
    BEGIN SELECT RAISE(ABORT, 'start is append-only'); END;

CREATE TRIGGER blob_update BEFORE UPDATE ON blob BEGIN SELECT RAISE(ABORT, 'blob is append-only'); END;
CREATE TRIGGER blob_delete BEFORE DELETE ON blob BEGIN SELECT RAISE(ABORT, 'blob is append-only'); END;
CREATE TRIGGER blob_insert BEFORE INSERT ON blob
    WHEN EXISTS (SELECT 1 FROM blob WHERE sha256 = NEW.sha256 OR rowid = NEW.rowid)
    BEGIN SELECT RAISE(ABORT, 'blob is append-only'); END;

CREATE TRIGGER arrival_update BEFORE UPDATE ON arrival BEGIN SELECT RAISE(ABORT, 'arrival is append-only'); END;
CREATE TRIGGER arrival_delete BEFORE DELETE ON arrival BEGIN SELECT RAISE(ABORT, 'arrival is append-only'); END;
CREATE TRIGGER arrival_insert BEFORE INSERT ON arrival
    WHEN EXISTS (SELECT 1 FROM arrival WHERE id = NEW.id OR seq = NEW.seq)
    BEGIN SELECT RAISE(ABORT, 'arrival is append-only'); END;

CREATE TRIGGER horizon_update BEFORE UPDATE ON horizon BEGIN SELECT RAISE(ABORT, 'horizon is append-only'); END;
CREATE TRIGGER horizon_delete BEFORE DELETE ON horizon BEGIN SELECT RAISE(ABORT, 'horizon is append-only'); END;
CREATE TRIGGER horizon_insert BEFORE INSERT ON horizon
    WHEN EXISTS (SELECT 1 FROM horizon WHERE seq = NEW.seq)
    BEGIN SELECT RAISE(ABORT, 'horizon is append-only'); END;
CREATE TRIGGER horizon_grows BEFORE INSERT ON horizon
    WHEN EXISTS (SELECT 1 FROM horizon WHERE machine = NEW.machine AND at_utc >= NEW.at_utc)
    BEGIN SELECT RAISE(ABORT, 'horizon is append-only, and only grows'); END;

CREATE TRIGGER batch_update BEFORE UPDATE ON batch BEGIN SELECT RAISE(ABORT, 'batch is append-only'); END;
CREATE TRIGGER batch_delete BEFORE DELETE ON batch BEGIN SELECT RAISE(ABORT, 'batch is append-only'); END;
CREATE TRIGGER batch_insert BEFORE INSERT ON batch
    WHEN EXISTS (SELECT 1 FROM batch WHERE seq = NEW.seq)
    BEGIN SELECT RAISE(ABORT, 'batch is append-only'); END;

CREATE TRIGGER derived_update BEFORE UPDATE ON derived BEGIN SELECT RAISE(ABORT, 'derived is append-only'); END;
CREATE TRIGGER derived_delete BEFORE DELETE ON derived BEGIN SELECT RAISE(ABORT, 'derived is append-only'); END;
CREATE TRIGGER derived_insert BEFORE INSERT ON derived
    WHEN EXISTS (SELECT 1 FROM derived WHERE seq = NEW.seq)
    BEGIN SELECT RAISE(ABORT, 'derived is append-only'); END;

-- Scratch: made from the tables above, holds nothing shown, may be dropped and built again.

CREATE TABLE scratch_position (
    machine  TEXT NOT NULL,
    source   TEXT NOT NULL,
    name     TEXT NOT NULL,
    state    TEXT NOT NULL,
    PRIMARY KEY (machine, source, name)
) STRICT, WITHOUT ROWID;

CREATE TABLE scratch_sighting (
    machine       TEXT    NOT NULL,
    at_utc        TEXT    NOT NULL,
    source        INTEGER NOT NULL,
    file          TEXT    NOT NULL,
    sha256        TEXT    NOT NULL,
    line          INTEGER NOT NULL,
    earliest_utc  TEXT    NOT NULL,
    arrival       TEXT    NOT NULL,
    share_utc     TEXT,
    body          TEXT,
    PRIMARY KEY (machine, at_utc, source, file, sha256, line)
) STRICT, WITHOUT ROWID;

CREATE TABLE scratch_unread (
    machine  TEXT    NOT NULL,
    seq      INTEGER NOT NULL,
    PRIMARY KEY (machine, seq)
) STRICT, WITHOUT ROWID;

CREATE TABLE scratch_shelf (
    machine  TEXT    NOT NULL,
    seq      INTEGER NOT NULL,
    body     BLOB,
    PRIMARY KEY (machine, seq)
) STRICT;

CREATE TABLE scratch_dirty (
    machine     TEXT    NOT NULL PRIMARY KEY,
    at_utc      TEXT    NOT NULL,
    source      INTEGER NOT NULL,
    file        TEXT    NOT NULL,
    sha256      TEXT    NOT NULL,
    line        INTEGER NOT NULL,
    by_look_up  INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE scratch_kept (
    machine  TEXT    NOT NULL,
    at_utc   TEXT    NOT NULL,
    source   INTEGER NOT NULL,
    file     TEXT    NOT NULL,
    sha256   TEXT    NOT NULL,
    line     INTEGER NOT NULL,
    state    BLOB    NOT NULL,
    PRIMARY KEY (machine, at_utc, source, file, sha256, line)
) STRICT;

CREATE TABLE scratch_derived_for (
    machine               TEXT NOT NULL PRIMARY KEY,
    configuration_sha256  TEXT NOT NULL,
    program_version       TEXT NOT NULL
) STRICT, WITHOUT ROWID;
