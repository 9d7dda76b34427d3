-- The tables of a store in PostgreSQL: those of the files 0001 to 0007 for SQLite, column by column, so that a row has
-- the same digest in both. Every table but those named scratch_ is append-only: by its triggers, which guard against
-- mistakes, and by a role that may only insert and select. Texts compare by their bytes.

CREATE FUNCTION append_only() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION '% is append-only', TG_TABLE_NAME;
END
$$;

CREATE FUNCTION horizon_grows() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM horizon WHERE machine = NEW.machine AND at_utc >= NEW.at_utc) THEN
        RAISE EXCEPTION 'horizon is append-only, and only grows';
    END IF;
    RETURN NEW;
END
$$;

CREATE FUNCTION person_name() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM person WHERE folded = NEW.folded AND person <> NEW.person) THEN
        RAISE EXCEPTION 'person: the name is another person''s';
    END IF;
    RETURN NEW;
END
$$;

CREATE TABLE migration (
    number       bigint NOT NULL PRIMARY KEY,
    name         text COLLATE "C" NOT NULL,
    sha256       text COLLATE "C" NOT NULL,
    applied_utc  text COLLATE "C" NOT NULL
);

CREATE TABLE start (
    seq                   bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    at_utc                text COLLATE "C" NOT NULL,
    command               text COLLATE "C" NOT NULL,
    program_version       text COLLATE "C" NOT NULL,
    configuration_sha256  text COLLATE "C" NOT NULL
);

CREATE TABLE blob (
    rowid         bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
    sha256        text COLLATE "C" NOT NULL PRIMARY KEY CHECK (length(sha256) = 64),
    size_bytes    bigint NOT NULL,
    segment       bigint NOT NULL,
    position      bigint NOT NULL,
    stored_bytes  bigint NOT NULL
);

CREATE TABLE arrival (
    seq           bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    id            text COLLATE "C" NOT NULL UNIQUE,
    machine       text COLLATE "C" NOT NULL,
    source        bigint NOT NULL,
    file          text COLLATE "C" NOT NULL,
    sha256        text COLLATE "C" NOT NULL,
    blob          text COLLATE "C" REFERENCES blob (sha256),
    size_bytes    bigint NOT NULL,
    modified_utc  text COLLATE "C" NOT NULL,
    moment_utc    text COLLATE "C" NOT NULL,
    previous_utc  text COLLATE "C",
    received_utc  text COLLATE "C" NOT NULL,
    offset_bytes  bigint NOT NULL,
    first_line    bigint NOT NULL,
    refused       text COLLATE "C"
);

CREATE TABLE horizon (
    seq           bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    machine       text COLLATE "C" NOT NULL,
    at_utc        text COLLATE "C" NOT NULL,
    recorded_utc  text COLLATE "C" NOT NULL
);

CREATE TABLE batch (
    seq           bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    recorded_utc  text COLLATE "C" NOT NULL
);

CREATE TABLE derived (
    seq        bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    machine    text COLLATE "C" NOT NULL,
    kind       text COLLATE "C" NOT NULL,
    id         text COLLATE "C" NOT NULL,
    scope_utc  text COLLATE "C" NOT NULL,
    at_utc     text COLLATE "C" NOT NULL,
    setup      text COLLATE "C",
    body       text COLLATE "C",
    withdrawn  text COLLATE "C",
    batch      bigint NOT NULL REFERENCES batch (seq),
    CHECK ((body IS NULL) = (withdrawn IS NOT NULL))
);

CREATE TABLE entry (
    number  bigint NOT NULL PRIMARY KEY,
    body    bytea NOT NULL,
    leaf    bytea NOT NULL CHECK (length(leaf) = 32)
);

CREATE TABLE checkpoint (
    size    bigint NOT NULL PRIMARY KEY,
    root    bytea NOT NULL CHECK (length(root) = 32),
    signed  text COLLATE "C" NOT NULL
);

CREATE TABLE alert (
    seq       bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    at_utc    text COLLATE "C" NOT NULL,
    machine   text COLLATE "C" NOT NULL,
    finding   text COLLATE "C" NOT NULL,
    setup     text COLLATE "C",
    rule      text COLLATE "C" NOT NULL,
    severity  text COLLATE "C" NOT NULL,
    held_utc  text COLLATE "C" NOT NULL,
    step      text COLLATE "C" NOT NULL CHECK (step IN ('raised', 'risen', 'withdrawn')),
    because   text COLLATE "C",
    why_not   text COLLATE "C"
);

CREATE TABLE message (
    seq       bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    id        text COLLATE "C" NOT NULL UNIQUE,
    at_utc    text COLLATE "C" NOT NULL,
    kind      text COLLATE "C" NOT NULL,
    thread    text COLLATE "C" NOT NULL,
    machine   text COLLATE "C" NOT NULL,
    setup     text COLLATE "C",
    severity  text COLLATE "C" NOT NULL,
    body      text COLLATE "C" NOT NULL
);

CREATE TABLE told (
    seq      bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    at_utc   text COLLATE "C" NOT NULL,
    alert    bigint NOT NULL UNIQUE REFERENCES alert (seq),
    message  text COLLATE "C" REFERENCES message (id),
    listed   bigint NOT NULL CHECK (listed IN (0, 1)),
    why_not  text COLLATE "C",
    CHECK ((message IS NULL) = (why_not IS NOT NULL))
);

CREATE TABLE sending (
    seq            bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    at_utc         text COLLATE "C" NOT NULL,
    message        text COLLATE "C" NOT NULL REFERENCES message (id),
    channel        text COLLATE "C" NOT NULL,
    receiver       text COLLATE "C" NOT NULL,
    try            bigint NOT NULL,
    outcome        text COLLATE "C" NOT NULL,
    reason         text COLLATE "C" NOT NULL,
    next_utc       text COLLATE "C",
    configuration  text COLLATE "C" NOT NULL
);

CREATE TABLE quiet (
    seq        bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    id         text COLLATE "C" NOT NULL UNIQUE,
    at_utc     text COLLATE "C" NOT NULL,
    machine    text COLLATE "C" NOT NULL,
    until_utc  text COLLATE "C" NOT NULL,
    by_name    text COLLATE "C" NOT NULL,
    reason     text COLLATE "C" NOT NULL,
    cancels    text COLLATE "C" REFERENCES quiet (id)
);

CREATE TABLE person (
    seq         bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    id          text COLLATE "C" NOT NULL UNIQUE,
    at_utc      text COLLATE "C" NOT NULL,
    person      text COLLATE "C" NOT NULL,
    name        text COLLATE "C" NOT NULL,
    folded      text COLLATE "C" NOT NULL,
    role        text COLLATE "C" NOT NULL,
    locked      bigint NOT NULL CHECK (locked IN (0, 1)),
    salt        text COLLATE "C" NOT NULL CHECK (length(salt) = 24),
    passes      bigint NOT NULL,
    memory_kib  bigint NOT NULL,
    check_key   text COLLATE "C" NOT NULL CHECK (length(check_key) = 44),
    why         text COLLATE "C" NOT NULL,
    by_name     text COLLATE "C",
    by_person   text COLLATE "C",
    account     text COLLATE "C" NOT NULL
);

CREATE TABLE sign_in (
    seq      bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    id       text COLLATE "C" NOT NULL UNIQUE,
    at_utc   text COLLATE "C" NOT NULL,
    person   text COLLATE "C",
    outcome  text COLLATE "C" NOT NULL,
    purpose  text COLLATE "C" NOT NULL,
    account  text COLLATE "C" NOT NULL
);

CREATE TABLE review (
    seq         bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    id          text COLLATE "C" NOT NULL UNIQUE,
    at_utc      text COLLATE "C" NOT NULL,
    machine     text COLLATE "C" NOT NULL,
    setup       text COLLATE "C" NOT NULL,
    opened_utc  text COLLATE "C" NOT NULL,
    body        text COLLATE "C" NOT NULL
);

CREATE TABLE source_gap (
    seq           bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    machine       text COLLATE "C" NOT NULL,
    source        bigint NOT NULL,
    read_until_utc  text COLLATE "C" NOT NULL,
    over          bigint NOT NULL CHECK (over IN (0, 1)),
    recorded_utc  text COLLATE "C" NOT NULL
);

CREATE TABLE reminded (
    seq      bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    at_utc   text COLLATE "C" NOT NULL,
    message  text COLLATE "C" NOT NULL REFERENCES message (id),
    machine  text COLLATE "C" NOT NULL,
    finding  text COLLATE "C" NOT NULL,
    listed   bigint NOT NULL CHECK (listed IN (0, 1))
);

CREATE TABLE pruning (
    seq         bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    id          text COLLATE "C" NOT NULL UNIQUE,
    at_utc      text COLLATE "C" NOT NULL,
    before_utc  text COLLATE "C" NOT NULL,
    files       bigint NOT NULL,
    size_bytes  bigint NOT NULL,
    reason      text COLLATE "C" NOT NULL,
    account     text COLLATE "C" NOT NULL,
    signatures  text COLLATE "C" NOT NULL
);

CREATE TABLE pruned_line (
    seq        bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    pruning    bigint NOT NULL REFERENCES pruning (seq),
    machine    text COLLATE "C" NOT NULL,
    from_utc   text COLLATE "C" NOT NULL,
    floor_utc  text COLLATE "C" NOT NULL,
    arrivals   bigint NOT NULL,
    reads      text COLLATE "C" NOT NULL,
    state      text COLLATE "C" NOT NULL REFERENCES blob (sha256)
);

CREATE TABLE dropped (
    seq         bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    sha256      text COLLATE "C" NOT NULL REFERENCES blob (sha256),
    size_bytes  bigint NOT NULL,
    segment     bigint NOT NULL,
    position    bigint NOT NULL,
    pruning     bigint NOT NULL REFERENCES pruning (seq)
);

CREATE TABLE placed (
    seq           bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    sha256        text COLLATE "C" NOT NULL REFERENCES blob (sha256),
    segment       bigint NOT NULL,
    position      bigint NOT NULL,
    stored_bytes  bigint NOT NULL
);

CREATE INDEX blob_place ON blob (segment, position);
CREATE INDEX arrival_machine ON arrival (machine, seq);
CREATE INDEX arrival_last ON arrival (machine, source, moment_utc);
CREATE INDEX arrival_bytes ON arrival (sha256);
CREATE INDEX horizon_machine ON horizon (machine, at_utc);
CREATE INDEX derived_key ON derived (machine, kind, id, seq);
CREATE INDEX derived_id ON derived (kind, id, seq);
CREATE INDEX derived_order ON derived (kind, at_utc, id, seq);
CREATE INDEX derived_setup ON derived (setup, kind, at_utc, id);
CREATE INDEX derived_scope ON derived (machine, kind, scope_utc);
CREATE INDEX alert_finding ON alert (machine, finding, seq);
CREATE INDEX alert_order ON alert (held_utc, finding, seq);
CREATE INDEX told_message ON told (message);
CREATE INDEX sending_message ON sending (message, channel, receiver, seq);
CREATE INDEX person_newest ON person (person, seq);
CREATE INDEX sign_in_person ON sign_in (person, seq);
CREATE INDEX review_setup ON review (machine, opened_utc, seq);
CREATE INDEX source_gap_machine ON source_gap (machine, source, seq);
CREATE INDEX reminded_finding ON reminded (finding, seq);
CREATE INDEX pruned_line_machine ON pruned_line (machine, seq);
CREATE INDEX dropped_bytes ON dropped (sha256, segment, position);
CREATE INDEX dropped_pruning ON dropped (pruning);
CREATE INDEX placed_bytes ON placed (sha256, seq);
CREATE INDEX placed_place ON placed (segment, position);

CREATE TRIGGER migration_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON migration
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE migration ENABLE ALWAYS TRIGGER migration_guard;
CREATE TRIGGER start_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON start
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE start ENABLE ALWAYS TRIGGER start_guard;
CREATE TRIGGER blob_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON blob
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE blob ENABLE ALWAYS TRIGGER blob_guard;
CREATE TRIGGER arrival_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON arrival
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE arrival ENABLE ALWAYS TRIGGER arrival_guard;
CREATE TRIGGER horizon_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON horizon
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE horizon ENABLE ALWAYS TRIGGER horizon_guard;
CREATE TRIGGER batch_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON batch
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE batch ENABLE ALWAYS TRIGGER batch_guard;
CREATE TRIGGER derived_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON derived
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE derived ENABLE ALWAYS TRIGGER derived_guard;
CREATE TRIGGER entry_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON entry
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE entry ENABLE ALWAYS TRIGGER entry_guard;
CREATE TRIGGER checkpoint_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON checkpoint
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE checkpoint ENABLE ALWAYS TRIGGER checkpoint_guard;
CREATE TRIGGER alert_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON alert
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE alert ENABLE ALWAYS TRIGGER alert_guard;
CREATE TRIGGER message_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON message
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE message ENABLE ALWAYS TRIGGER message_guard;
CREATE TRIGGER told_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON told
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE told ENABLE ALWAYS TRIGGER told_guard;
CREATE TRIGGER sending_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON sending
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE sending ENABLE ALWAYS TRIGGER sending_guard;
CREATE TRIGGER quiet_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON quiet
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE quiet ENABLE ALWAYS TRIGGER quiet_guard;
CREATE TRIGGER person_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON person
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE person ENABLE ALWAYS TRIGGER person_guard;
CREATE TRIGGER sign_in_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON sign_in
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE sign_in ENABLE ALWAYS TRIGGER sign_in_guard;
CREATE TRIGGER review_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON review
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE review ENABLE ALWAYS TRIGGER review_guard;
CREATE TRIGGER source_gap_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON source_gap
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE source_gap ENABLE ALWAYS TRIGGER source_gap_guard;
CREATE TRIGGER reminded_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON reminded
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE reminded ENABLE ALWAYS TRIGGER reminded_guard;
CREATE TRIGGER pruning_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON pruning
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE pruning ENABLE ALWAYS TRIGGER pruning_guard;
CREATE TRIGGER pruned_line_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON pruned_line
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE pruned_line ENABLE ALWAYS TRIGGER pruned_line_guard;
CREATE TRIGGER dropped_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON dropped
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE dropped ENABLE ALWAYS TRIGGER dropped_guard;
CREATE TRIGGER placed_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON placed
    FOR EACH STATEMENT EXECUTE FUNCTION append_only();
ALTER TABLE placed ENABLE ALWAYS TRIGGER placed_guard;

CREATE TRIGGER horizon_grows BEFORE INSERT ON horizon FOR EACH ROW EXECUTE FUNCTION horizon_grows();
-- A name is one person's for ever, also when the account is locked.
CREATE TRIGGER person_name BEFORE INSERT ON person FOR EACH ROW EXECUTE FUNCTION person_name();

-- Scratch: made from the tables above, holds nothing shown, may be emptied and built again.

CREATE TABLE scratch_position (
    machine  text COLLATE "C" NOT NULL,
    source   text COLLATE "C" NOT NULL,
    name     text COLLATE "C" NOT NULL,
    state    text COLLATE "C" NOT NULL,
    PRIMARY KEY (machine, source, name)
);

CREATE TABLE scratch_sighting (
    machine       text COLLATE "C" NOT NULL,
    at_utc        text COLLATE "C" NOT NULL,
    source        bigint NOT NULL,
    file          text COLLATE "C" NOT NULL,
    sha256        text COLLATE "C" NOT NULL,
    line          bigint NOT NULL,
    earliest_utc  text COLLATE "C" NOT NULL,
    arrival       text COLLATE "C" NOT NULL,
    share_utc     text COLLATE "C",
    body          text COLLATE "C",
    PRIMARY KEY (machine, at_utc, source, file, sha256, line)
);

CREATE TABLE scratch_unread (
    machine  text COLLATE "C" NOT NULL,
    seq      bigint NOT NULL,
    PRIMARY KEY (machine, seq)
);

CREATE TABLE scratch_shelf (
    machine  text COLLATE "C" NOT NULL,
    seq      bigint NOT NULL,
    body     bytea,
    PRIMARY KEY (machine, seq)
);

CREATE TABLE scratch_dirty (
    machine     text COLLATE "C" NOT NULL PRIMARY KEY,
    at_utc      text COLLATE "C" NOT NULL,
    source      bigint NOT NULL,
    file        text COLLATE "C" NOT NULL,
    sha256      text COLLATE "C" NOT NULL,
    line        bigint NOT NULL,
    by_look_up  bigint NOT NULL
);

CREATE TABLE scratch_kept (
    machine  text COLLATE "C" NOT NULL,
    at_utc   text COLLATE "C" NOT NULL,
    source   bigint NOT NULL,
    file     text COLLATE "C" NOT NULL,
    sha256   text COLLATE "C" NOT NULL,
    line     bigint NOT NULL,
    state    bytea NOT NULL,
    PRIMARY KEY (machine, at_utc, source, file, sha256, line)
);

CREATE TABLE scratch_derived_for (
    machine               text COLLATE "C" NOT NULL PRIMARY KEY,
    configuration_sha256  text COLLATE "C" NOT NULL,
    program_version       text COLLATE "C" NOT NULL
);

CREATE TABLE scratch_frontier (
    one    bigint NOT NULL PRIMARY KEY CHECK (one = 1),
    range  bytea NOT NULL
);

CREATE TABLE scratch_sealed (
    name   text COLLATE "C" NOT NULL PRIMARY KEY,
    up_to  bigint NOT NULL
);

CREATE TABLE scratch_lease (
    message   text COLLATE "C" NOT NULL,
    channel   text COLLATE "C" NOT NULL,
    receiver  text COLLATE "C" NOT NULL,
    at_utc    text COLLATE "C" NOT NULL,
    PRIMARY KEY (message, channel, receiver)
);
