-- People and what they say: accounts, the names and passwords they gave, and reviews of setups. Of a person the newest
-- row holds. No password is kept: what checks one is a public key whose private half only the password brings back,
-- with the salt and the cost of doing so.

CREATE TABLE person (
    seq         INTEGER PRIMARY KEY AUTOINCREMENT,
    id          TEXT    NOT NULL UNIQUE,
    at_utc      TEXT    NOT NULL,
    person      TEXT    NOT NULL,
    name        TEXT    NOT NULL,
    folded      TEXT    NOT NULL,
    role        TEXT    NOT NULL,
    locked      INTEGER NOT NULL CHECK (locked IN (0, 1)),
    salt        TEXT    NOT NULL CHECK (length(salt) = 24),
    passes      INTEGER NOT NULL,
    memory_kib  INTEGER NOT NULL,
    check_key   TEXT    NOT NULL CHECK (length(check_key) = 44),
    why         TEXT    NOT NULL,
    by_name     TEXT,
    by_person   TEXT,
    account     TEXT    NOT NULL
) STRICT;

CREATE INDEX person_newest ON person (person, seq);

CREATE TABLE sign_in (
    seq      INTEGER PRIMARY KEY AUTOINCREMENT,
    id       TEXT    NOT NULL UNIQUE,
    at_utc   TEXT    NOT NULL,
    person   TEXT,
    outcome  TEXT    NOT NULL,
    purpose  TEXT    NOT NULL,
    account  TEXT    NOT NULL
) STRICT;

CREATE INDEX sign_in_person ON sign_in (person, seq);

CREATE TABLE review (
    seq         INTEGER PRIMARY KEY AUTOINCREMENT,
    id          TEXT NOT NULL UNIQUE,
    at_utc      TEXT NOT NULL,
    machine     TEXT NOT NULL,
    setup       TEXT NOT NULL,
    opened_utc  TEXT NOT NULL,
    body        TEXT NOT NULL
) STRICT;

CREATE INDEX review_setup ON review (machine, opened_utc, seq);

-- A name is one person's for ever, also when the account is locked.
CREATE TRIGGER person_name BEFORE INSERT ON person
    WHEN EXISTS (SELECT 1 FROM person WHERE folded = NEW.folded AND person <> NEW.person)
    BEGIN SELECT RAISE(ABORT, 'person: the name is another person''s'); END;

CREATE TRIGGER person_update BEFORE UPDATE ON person BEGIN SELECT RAISE(ABORT, 'person is append-only'); END;
CREATE TRIGGER person_delete BEFORE DELETE ON person BEGIN SELECT RAISE(ABORT, 'person is append-only'); END;
CREATE TRIGGER person_insert BEFORE INSERT ON person
    WHEN EXISTS (SELECT 1 FROM person WHERE id = NEW.id OR seq = NEW.seq)
    BEGIN SELECT RAISE(ABORT, 'person is append-only'); END;

CREATE TRIGGER sign_in_update BEFORE UPDATE ON sign_in BEGIN SELECT RAISE(ABORT, 'sign_in is append-only'); END;
CREATE TRIGGER sign_in_delete BEFORE DELETE ON sign_in BEGIN SELECT RAISE(ABORT, 'sign_in is append-only'); END;
CREATE TRIGGER sign_in_insert BEFORE INSERT ON sign_in
    WHEN EXISTS (SELECT 1 FROM sign_in WHERE id = NEW.id OR seq = NEW.seq)
    BEGIN SELECT RAISE(ABORT, 'sign_in is append-only'); END;

CREATE TRIGGER review_update BEFORE UPDATE ON review BEGIN SELECT RAISE(ABORT, 'review is append-only'); END;
CREATE TRIGGER review_delete BEFORE DELETE ON review BEGIN SELECT RAISE(ABORT, 'review is append-only'); END;
CREATE TRIGGER review_insert BEFORE INSERT ON review
    WHEN EXISTS (SELECT 1 FROM review WHERE id = NEW.id OR seq = NEW.seq)
    BEGIN SELECT RAISE(ABORT, 'review is append-only'); END;
