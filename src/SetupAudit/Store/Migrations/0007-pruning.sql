-- What was dropped of the evidence, by whom and why; the state from which each machine's fold goes on since; and where
-- bytes lie that were moved out of a segment before it was deleted, or that came again after they were dropped. Bytes
-- lie where their newest row in placed says, else where their row in blob says; they are dropped where a row in dropped
-- names that very place.

CREATE TABLE pruning (
    seq         INTEGER PRIMARY KEY AUTOINCREMENT,
    id          TEXT    NOT NULL UNIQUE,
    at_utc      TEXT    NOT NULL,
    before_utc  TEXT    NOT NULL,
    files       INTEGER NOT NULL,
    size_bytes  INTEGER NOT NULL,
    reason      TEXT    NOT NULL,
    account     TEXT    NOT NULL,
    signatures  TEXT    NOT NULL
) STRICT;

CREATE TABLE pruned_line (
    seq        INTEGER PRIMARY KEY AUTOINCREMENT,
    pruning    INTEGER NOT NULL REFERENCES pruning (seq),
    machine    TEXT    NOT NULL,
    from_utc   TEXT    NOT NULL,
    floor_utc  TEXT    NOT NULL,
    arrivals   INTEGER NOT NULL,
    reads      TEXT    NOT NULL,
    state      TEXT    NOT NULL REFERENCES blob (sha256)
) STRICT;

CREATE INDEX pruned_line_machine ON pruned_line (machine, seq);

CREATE TABLE dropped (
    seq         INTEGER PRIMARY KEY AUTOINCREMENT,
    sha256      TEXT    NOT NULL REFERENCES blob (sha256),
    size_bytes  INTEGER NOT NULL,
    segment     INTEGER NOT NULL,
    position    INTEGER NOT NULL,
    pruning     INTEGER NOT NULL REFERENCES pruning (seq)
) STRICT;

CREATE INDEX dropped_bytes ON dropped (sha256, segment, position);
CREATE INDEX dropped_pruning ON dropped (pruning);

CREATE TABLE placed (
    seq           INTEGER PRIMARY KEY AUTOINCREMENT,
    sha256        TEXT    NOT NULL REFERENCES blob (sha256),
    segment       INTEGER NOT NULL,
    position      INTEGER NOT NULL,
    stored_bytes  INTEGER NOT NULL
) STRICT;

CREATE INDEX placed_bytes ON placed (sha256, seq);
CREATE INDEX placed_place ON placed (segment, position);

CREATE TRIGGER pruning_update BEFORE UPDATE ON pruning BEGIN SELECT RAISE(ABORT, 'pruning is append-only'); END;
CREATE TRIGGER pruning_delete BEFORE DELETE ON pruning BEGIN SELECT RAISE(ABORT, 'pruning is append-only'); END;
CREATE TRIGGER pruning_insert BEFORE INSERT ON pruning
    WHEN EXISTS (SELECT 1 FROM pruning WHERE id = NEW.id OR seq = NEW.seq)
    BEGIN SELECT RAISE(ABORT, 'pruning is append-only'); END;

CREATE TRIGGER pruned_line_update BEFORE UPDATE ON pruned_line
    BEGIN SELECT RAISE(ABORT, 'pruned_line is append-only'); END;
CREATE TRIGGER pruned_line_delete BEFORE DELETE ON pruned_line
    BEGIN SELECT RAISE(ABORT, 'pruned_line is append-only'); END;
CREATE TRIGGER pruned_line_insert BEFORE INSERT ON pruned_line
    WHEN EXISTS (SELECT 1 FROM pruned_line WHERE seq = NEW.seq)
    BEGIN SELECT RAISE(ABORT, 'pruned_line is append-only'); END;

CREATE TRIGGER dropped_update BEFORE UPDATE ON dropped BEGIN SELECT RAISE(ABORT, 'dropped is append-only'); END;
CREATE TRIGGER dropped_delete BEFORE DELETE ON dropped BEGIN SELECT RAISE(ABORT, 'dropped is append-only'); END;
CREATE TRIGGER dropped_insert BEFORE INSERT ON dropped
    WHEN EXISTS (SELECT 1 FROM dropped WHERE seq = NEW.seq)
    BEGIN SELECT RAISE(ABORT, 'dropped is append-only'); END;

CREATE TRIGGER placed_update BEFORE UPDATE ON placed BEGIN SELECT RAISE(ABORT, 'placed is append-only'); END;
CREATE TRIGGER placed_delete BEFORE DELETE ON placed BEGIN SELECT RAISE(ABORT, 'placed is append-only'); END;
CREATE TRIGGER placed_insert BEFORE INSERT ON placed
    WHEN EXISTS (SELECT 1 FROM placed WHERE seq = NEW.seq)
    BEGIN SELECT RAISE(ABORT, 'placed is append-only'); END;
