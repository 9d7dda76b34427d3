-- Which findings each reminder told again: so that the list of alerts shows them, and each is told again so often only.

CREATE TABLE reminded (
    seq      INTEGER PRIMARY KEY AUTOINCREMENT,
    at_utc   TEXT NOT NULL,
    message  TEXT NOT NULL REFERENCES message (id),
    machine  TEXT NOT NULL,
    finding  TEXT NOT NULL,
    listed   INTEGER NOT NULL CHECK (listed IN (0, 1))
) STRICT;

CREATE INDEX reminded_finding ON reminded (finding, seq);

CREATE TRIGGER reminded_update BEFORE UPDATE ON reminded
    BEGIN SELECT RAISE(ABORT, 'reminded is append-only'); END;
CREATE TRIGGER reminded_delete BEFORE DELETE ON reminded
    BEGIN SELECT RAISE(ABORT, 'reminded is append-only'); END;
CREATE TRIGGER reminded_insert BEFORE INSERT ON reminded
    WHEN EXISTS (SELECT 1 FROM reminded WHERE seq = NEW.seq)
    BEGIN SELECT RAISE(ABORT, 'reminded is append-only'); END;
