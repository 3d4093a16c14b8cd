-- +goose Up

-- Two servers may migrate one database at once. Whoever records a step second
-- fails on this index, rolls back and looks again.
CREATE UNIQUE INDEX schema_version_once ON schema_version (version_id);

-- Whose data there is. The only table without house data, and so the only one
-- that can be read before it is known whose request it is.
CREATE TABLE org (
    org_id  uuid   NOT NULL PRIMARY KEY, -- UUIDv7
    alias   text   COLLATE "C" UNIQUE,   -- 'default' is the org of a server with one house
    counter bigint NOT NULL CHECK (counter >= 0) -- of the org's changes; every write locks it first
) WITH (fillfactor = 50); -- the counter changes in place

-- Everything people wrote, append-only.
CREATE TABLE revision (
    org_id     uuid    NOT NULL REFERENCES org (org_id),
    type       text    COLLATE "C" NOT NULL CHECK (type IN ('component', 'spec', 'house')),
    id         uuid    NOT NULL, -- UUIDv7; of a house: its org_id
    number     bigint  NOT NULL CHECK (number >= 1), -- 1, 2, 3 … of this thing, without a gap
    stamp      bigint  NOT NULL CHECK (stamp >= 1),  -- the org's counter at that write
    written_at bigint  NOT NULL, -- µs since 1970, UTC
    deleted    boolean NOT NULL, -- true = deleted by this edit; body is what it last was
    body       text    NOT NULL, -- JSON as it was written; money as decimal text, units in the member names
    PRIMARY KEY (org_id, type, id, number)
);

CREATE INDEX revision_stamp ON revision (org_id, stamp);

-- The newest revision of each thing, with what lists search and sort by.
CREATE TABLE head (
    org_id   uuid    NOT NULL,
    type     text    COLLATE "C" NOT NULL,
    id       uuid    NOT NULL,
    number   bigint  NOT NULL,
    deleted  boolean NOT NULL,
    code     text    COLLATE "C",          -- the house's own; null when it has none or is deleted
    sort_key text    COLLATE "C" NOT NULL, -- the name, case and accents folded, compared by bytes
    category text    COLLATE "C" NOT NULL, -- empty where a type has no such thing
    kind     text    COLLATE "C" NOT NULL,
    status   text    COLLATE "C" NOT NULL,
    method   text    COLLATE "C" NOT NULL,
    PRIMARY KEY (org_id, type, id),
    FOREIGN KEY (org_id, type, id, number) REFERENCES revision (org_id, type, id, number)
);

CREATE UNIQUE INDEX head_code ON head (org_id, type, code);
CREATE INDEX head_list ON head (org_id, type, sort_key, id);

-- A second wall around each house's data: a transaction sees the rows of the
-- org it named in the setting servewright.org, and none when it named none.
-- FORCE holds the tables' owner to it too, which is who a server usually
-- connects as. Superusers and roles with BYPASSRLS are not held: never run a
-- server as one. A later step that rewrites rows has to name each org in turn.
ALTER TABLE revision ENABLE ROW LEVEL SECURITY;
ALTER TABLE revision FORCE ROW LEVEL SECURITY;
CREATE POLICY one_org ON revision
    USING (org_id = nullif(current_setting('servewright.org', true), '')::uuid);

ALTER TABLE head ENABLE ROW LEVEL SECURITY;
ALTER TABLE head FORCE ROW LEVEL SECURITY;
CREATE POLICY one_org ON head
    USING (org_id = nullif(current_setting('servewright.org', true), '')::uuid);

-- +goose Down
DROP TABLE head;
DROP TABLE revision;
DROP TABLE org;
DROP INDEX schema_version_once;
