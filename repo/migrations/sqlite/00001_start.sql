-- +goose Up

-- Two servers may migrate one database at once. Whoever records a step second
-- fails on this index, rolls back and looks again.
CREATE UNIQUE INDEX schema_version_once ON schema_version (version_id);

-- Whose data there is. The only table without house data, and so the only one
-- that can be read before it is known whose request it is.
CREATE TABLE org (
    org_id  TEXT    NOT NULL PRIMARY KEY, -- UUIDv7, lower case
    alias   TEXT    UNIQUE,               -- 'default' is the org of a server with one house
    counter INTEGER NOT NULL CHECK (counter >= 0) -- of the org's changes; every write locks it first
) STRICT, WITHOUT ROWID;

-- Everything people wrote, append-only.
CREATE TABLE revision (
    org_id     TEXT    NOT NULL REFERENCES org (org_id),
    type       TEXT    NOT NULL CHECK (type IN ('component', 'spec', 'house')),
    id         TEXT    NOT NULL, -- UUIDv7, lower case; of a house: its org_id
    number     INTEGER NOT NULL CHECK (number >= 1), -- 1, 2, 3 … of this thing, without a gap
    stamp      INTEGER NOT NULL CHECK (stamp >= 1),  -- the org's counter at that write
    written_at INTEGER NOT NULL, -- µs since 1970, UTC
    deleted    INTEGER NOT NULL CHECK (deleted IN (0, 1)), -- 1 = deleted by this edit; body is what it last was
    body       TEXT    NOT NULL, -- JSON; money as decimal text, units in the member names
    PRIMARY KEY (org_id, type, id, number)
) STRICT; -- with a rowid: bodies are long

CREATE INDEX revision_stamp ON revision (org_id, stamp);

-- The newest revision of each thing, with what lists search and sort by.
CREATE TABLE head (
    org_id   TEXT    NOT NULL,
    type     TEXT    NOT NULL,
    id       TEXT    NOT NULL,
    number   INTEGER NOT NULL,
    deleted  INTEGER NOT NULL CHECK (deleted IN (0, 1)),
    code     TEXT,             -- the house's own; null when it has none or is deleted
    sort_key TEXT    NOT NULL, -- the name, case and accents folded, compared by bytes
    category TEXT    NOT NULL, -- empty where a type has no such thing
    kind     TEXT    NOT NULL,
    status   TEXT    NOT NULL,
    method   TEXT    NOT NULL,
    PRIMARY KEY (org_id, type, id),
    FOREIGN KEY (org_id, type, id, number) REFERENCES revision (org_id, type, id, number)
) STRICT, WITHOUT ROWID;

CREATE UNIQUE INDEX head_code ON head (org_id, type, code);
CREATE INDEX head_list ON head (org_id, type, sort_key, id);

-- +goose Down
DROP TABLE head;
DROP TABLE revision;
DROP TABLE org;
DROP INDEX schema_version_once;
