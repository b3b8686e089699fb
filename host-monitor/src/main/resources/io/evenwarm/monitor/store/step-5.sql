-- Version 5: links by which a person answers a notice without a session; drills that were asked for, and since when
-- one is due.

CREATE TABLE notice_link (
  token_sha256 TEXT NOT NULL PRIMARY KEY,
  notice_uuid TEXT NOT NULL,
  event TEXT NOT NULL,
  person TEXT NOT NULL,
  made_millis INTEGER NOT NULL,
  event_ended_millis INTEGER
) STRICT;

CREATE INDEX notice_link_of_event ON notice_link (event);

CREATE TABLE drill (
  id INTEGER PRIMARY KEY,
  drill_uuid TEXT NOT NULL UNIQUE,
  agent TEXT NOT NULL,
  cabinet TEXT NOT NULL,
  asked_millis INTEGER NOT NULL,
  limit_seconds INTEGER NOT NULL,
  is_cancelled INTEGER NOT NULL,
  taken_millis INTEGER,
  event INTEGER,
  ended_millis INTEGER,
  outcome TEXT NOT NULL
) STRICT;

CREATE INDEX drill_open ON drill (id) WHERE ended_millis IS NULL;

CREATE TABLE drill_due (
  slot INTEGER NOT NULL PRIMARY KEY,
  since_millis INTEGER NOT NULL
) STRICT;
