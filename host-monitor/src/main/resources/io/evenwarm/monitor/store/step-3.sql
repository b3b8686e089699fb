-- Version 3: which tubs stand where, for how long and how heavy: the load of a cabinet.

CREATE TABLE tub (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL,
  agent TEXT NOT NULL,
  cabinet TEXT NOT NULL,
  shelf TEXT NOT NULL,
  mass_grams REAL NOT NULL,
  contents TEXT NOT NULL,
  from_millis INTEGER NOT NULL,
  to_millis INTEGER
) STRICT;

CREATE UNIQUE INDEX tub_there_now ON tub (name) WHERE to_millis IS NULL;

CREATE INDEX tub_by_cabinet ON tub (agent, cabinet, from_millis);
