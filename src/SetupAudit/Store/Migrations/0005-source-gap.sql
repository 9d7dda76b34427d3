-- Which sources of a machine were left out when it was derived, and from when on they were taken in again: what is
-- derived says so, so it must be known when it is derived again.

CREATE TABLE source_gap (
    seq           INTEGER PRIMARY KEY AUTOINCREMENT,
    machine       TEXT    NOT NULL,
    source        INTEGER NOT NULL,
    read_until_utc  TEXT    NOT NULL,
    over          INTEGER NOT NULL CHECK (over IN (0, 1)),
    recorded_utc  TEXT    NOT NULL
) STRICT;

CREATE INDEX source_gap_machine ON source_gap (machine, source, seq);

CREATE TRIGGER source_gap_update BEFORE UPDATE ON source_gap
    BEGIN SELECT RAISE(ABORT, 'source_gap is append-only'); END;
CREATE TRIGGER source_gap_delete BEFORE DELETE ON source_gap
    BEGIN SELECT RAISE(ABORT, 'source_gap is append-only'); END;
CREATE TRIGGER source_gap_insert BEFORE INSERT ON source_gap
    WHEN EXISTS (SELECT 1 FROM source_gap WHERE seq = NEW.seq)
    BEGIN SELECT RAISE(ABORT, 'source_gap is append-only'); END;
