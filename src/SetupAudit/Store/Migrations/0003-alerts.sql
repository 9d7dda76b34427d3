-- What alerts said: each change of a finding that was looked at, what was told of it, each try to send, and the times
-- for which a person asked for quiet.

CREATE TABLE alert (
    seq       INTEGER PRIMARY KEY AUTOINCREMENT,
    at_utc    TEXT NOT NULL,
    machine   TEXT NOT NULL,
    finding   TEXT NOT NULL,
    setup     TEXT,
    rule      TEXT NOT NULL,
    severity  TEXT NOT NULL,
    held_utc  TEXT NOT NULL,
    step      TEXT NOT NULL CHECK (step IN ('raised', 'risen', 'withdrawn')),
    because   TEXT,
    why_not   TEXT
) STRICT;

CREATE INDEX alert_finding ON alert (machine, finding, seq);
CREATE INDEX alert_order ON alert (held_utc, finding, seq);

CREATE TABLE message (
    seq       INTEGER PRIMARY KEY AUTOINCREMENT,
    id        TEXT NOT NULL UNIQUE,
    at_utc    TEXT NOT NULL,
    kind      TEXT NOT NULL,
    thread    TEXT NOT NULL,
    machine   TEXT NOT NULL,
    setup     TEXT,
    severity  TEXT NOT NULL,
    body      TEXT NOT NULL
) STRICT;

-- What became of each alert that was to be told: the message it is in, or why it is in none.
CREATE TABLE told (
    seq      INTEGER PRIMARY KEY AUTOINCREMENT,
    at_utc   TEXT NOT NULL,
    alert    INTEGER NOT NULL UNIQUE REFERENCES alert (seq),
    message  TEXT REFERENCES message (id),
    listed   INTEGER NOT NULL CHECK (listed IN (0, 1)),
    why_not  TEXT,
    CHECK ((message IS NULL) = (why_not IS NOT NULL))
) STRICT;

CREATE INDEX told_message ON told (message);

CREATE TABLE sending (
    seq            INTEGER PRIMARY KEY AUTOINCREMENT,
    at_utc         TEXT NOT NULL,
    message        TEXT NOT NULL REFERENCES message (id),
    channel        TEXT NOT NULL,
    receiver       TEXT NOT NULL,
    try            INTEGER NOT NULL,
    outcome        TEXT NOT NULL,
    reason         TEXT NOT NULL,
    next_utc       TEXT,
    configuration  TEXT NOT NULL
) STRICT;

CREATE INDEX sending_message ON sending (message, channel, receiver, seq);

CREATE TABLE quiet (
    seq        INTEGER PRIMARY KEY AUTOINCREMENT,
    id         TEXT NOT NULL UNIQUE,
    at_utc     TEXT NOT NULL,
    machine    TEXT NOT NULL,
    until_utc  TEXT NOT NULL,
    by_name    TEXT NOT NULL,
    reason     TEXT NOT NULL,
    cancels    TEXT REFERENCES quiet (id)
) STRICT;

CREATE TRIGGER alert_update BEFORE UPDATE ON alert BEGIN SELECT RAISE(ABORT, 'alert is append-only'); END;
CREATE TRIGGER alert_delete BEFORE DELETE ON alert BEGIN SELECT RAISE(ABORT, 'alert is append-only'); END;
CREATE TRIGGER alert_insert BEFORE INSERT ON alert
    WHEN EXISTS (SELECT 1 FROM alert WHERE seq = NEW.seq)
    BEGIN SELECT RAISE(ABORT, 'alert is append-only'); END;

CREATE TRIGGER message_update BEFORE UPDATE ON message BEGIN SELECT RAISE(ABORT, 'message is append-only'); END;
CREATE TRIGGER message_delete BEFORE DELETE ON message BEGIN SELECT RAISE(ABORT, 'message is append-only'); END;
CREATE TRIGGER message_insert BEFORE INSERT ON message
    WHEN EXISTS (SELECT 1 FROM message WHERE id = NEW.id OR seq = NEW.seq)
    BEGIN SELECT RAISE(ABORT, 'message is append-only'); END;

CREATE TRIGGER told_update BEFORE UPDATE ON told BEGIN SELECT RAISE(ABORT, 'told is append-only'); END;
CREATE TRIGGER told_delete BEFORE DELETE ON told BEGIN SELECT RAISE(ABORT, 'told is append-only'); END;
CREATE TRIGGER told_insert BEFORE INSERT ON told
    WHEN EXISTS (SELECT 1 FROM told WHERE alert = NEW.alert OR seq = NEW.seq)
    BEGIN SELECT RAISE(ABORT, 'told is append-only'); END;

CREATE TRIGGER sending_update BEFORE UPDATE ON sending BEGIN SELECT RAISE(ABORT, 'sending is append-only'); END;
CREATE TRIGGER sending_delete BEFORE DELETE ON sending BEGIN SELECT RAISE(ABORT, 'sending is append-only'); END;
CREATE TRIGGER sending_insert BEFORE INSERT ON sending
    WHEN EXISTS (SELECT 1 FROM sending WHERE seq = NEW.seq)
    BEGIN SELECT RAISE(ABORT, 'sending is append-only'); END;

CREATE TRIGGER quiet_update BEFORE UPDATE ON quiet BEGIN SELECT RAISE(ABORT, 'quiet is append-only'); END;
CREATE TRIGGER quiet_delete BEFORE DELETE ON quiet BEGIN SELECT RAISE(ABORT, 'quiet is append-only'); END;
CREATE TRIGGER quiet_insert BEFORE INSERT ON quiet
    WHEN EXISTS (SELECT 1 FROM quiet WHERE id = NEW.id OR seq = NEW.seq)
    BEGIN SELECT RAISE(ABORT, 'quiet is append-only'); END;

-- Scratch: a try that has begun and of which nothing is said yet. Whoever opens the store finds those of a process
-- that died in the middle.

CREATE TABLE scratch_lease (
    message   TEXT NOT NULL,
    channel   TEXT NOT NULL,
    receiver  TEXT NOT NULL,
    at_utc    TEXT NOT NULL,
    PRIMARY KEY (message, channel, receiver)
) STRICT, WITHOUT ROWID;
