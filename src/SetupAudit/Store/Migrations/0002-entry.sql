-- The record: what was said and when, one entry each, in a Merkle tree (RFC 9162), and the signed sizes and roots of it.
-- An entry's number is its place in the tree. The body is kept as the bytes that were hashed; nothing is hashed again
-- from columns. The signature of a checkpoint stands over its text, which origin, size and root make.

CREATE TABLE entry (
    number  INTEGER NOT NULL PRIMARY KEY,
    body    BLOB    NOT NULL,
    leaf    BLOB    NOT NULL CHECK (length(leaf) = 32)
) STRICT;

CREATE TABLE checkpoint (
    size    INTEGER NOT NULL PRIMARY KEY,
    root    BLOB    NOT NULL CHECK (length(root) = 32),
    signed  TEXT    NOT NULL
) STRICT;

CREATE TRIGGER entry_update BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'entry is append-only'); END;
CREATE TRIGGER entry_delete BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'entry is append-only'); END;
CREATE TRIGGER entry_insert BEFORE INSERT ON entry
    WHEN EXISTS (SELECT 1 FROM entry WHERE number = NEW.number)
    BEGIN SELECT RAISE(ABORT, 'entry is append-only'); END;

CREATE TRIGGER checkpoint_update BEFORE UPDATE ON checkpoint
    BEGIN SELECT RAISE(ABORT, 'checkpoint is append-only'); END;
CREATE TRIGGER checkpoint_delete BEFORE DELETE ON checkpoint
    BEGIN SELECT RAISE(ABORT, 'checkpoint is append-only'); END;
CREATE TRIGGER checkpoint_insert BEFORE INSERT ON checkpoint
    WHEN EXISTS (SELECT 1 FROM checkpoint WHERE size = NEW.size)
    BEGIN SELECT RAISE(ABORT, 'checkpoint is append-only'); END;

-- Scratch: where the record stands, so that a start need not walk it.

CREATE TABLE scratch_frontier (
    one    INTEGER NOT NULL PRIMARY KEY CHECK (one = 1),
    range  BLOB    NOT NULL
) STRICT;

CREATE TABLE scratch_sealed (
    name   TEXT    NOT NULL PRIMARY KEY,
    up_to  INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
