-- Version 4: notices to people: what was said, how far each delivery came, whose turn it is; and the alarm log, of
-- which nothing is ever rewritten, with where the alarms stand.

CREATE TABLE notice (
  id INTEGER PRIMARY KEY,
  notice_uuid TEXT NOT NULL UNIQUE,
  event TEXT NOT NULL,
  revision INTEGER NOT NULL,
  at_millis INTEGER NOT NULL,
  content TEXT NOT NULL
) STRICT;

CREATE TABLE notice_delivery (
  id INTEGER PRIMARY KEY,
  notice_id INTEGER NOT NULL REFERENCES notice (id),
  person TEXT NOT NULL,
  channel TEXT NOT NULL,
  state TEXT NOT NULL,
  tries INTEGER NOT NULL,
  added_millis INTEGER NOT NULL,
  next_try_millis INTEGER NOT NULL,
  ended_millis INTEGER,
  words TEXT NOT NULL
) STRICT;

CREATE UNIQUE INDEX notice_delivery_once ON notice_delivery (notice_id, person, channel);

CREATE INDEX notice_delivery_pending ON notice_delivery (id) WHERE state = 'pending';

CREATE TABLE notice_event (
  event TEXT NOT NULL PRIMARY KEY,
  latest TEXT NOT NULL,
  round INTEGER NOT NULL,
  told_this_round TEXT NOT NULL,
  ever_told TEXT NOT NULL,
  last_told_millis INTEGER NOT NULL,
  is_acknowledged INTEGER NOT NULL
) STRICT;

CREATE TABLE alarm_change (
  number INTEGER PRIMARY KEY,
  at_millis INTEGER NOT NULL,
  subject TEXT NOT NULL,
  agent TEXT,
  cabinet TEXT,
  code TEXT NOT NULL,
  probe TEXT,
  event INTEGER,
  from_state TEXT NOT NULL,
  to_state TEXT NOT NULL,
  cause TEXT NOT NULL,
  who TEXT NOT NULL,
  why TEXT NOT NULL,
  priority TEXT NOT NULL,
  time_left_seconds INTEGER,
  began_millis INTEGER NOT NULL,
  evidence TEXT NOT NULL,
  action TEXT NOT NULL,
  advice TEXT NOT NULL
) STRICT;

CREATE TABLE alarm_desk (
  slot INTEGER NOT NULL PRIMARY KEY,
  content TEXT NOT NULL
) STRICT;
