-- Version 8: what keepers said of surveys, so that it need not be said again: empty or loaded, and where probes stood that
-- were moved.

CREATE TABLE survey_load (
  id INTEGER PRIMARY KEY,
  agent TEXT NOT NULL,
  cabinet TEXT NOT NULL,
  from_millis INTEGER NOT NULL,
  to_millis INTEGER NOT NULL,
  load TEXT NOT NULL
) STRICT;

CREATE TABLE probe_stand (
  id INTEGER PRIMARY KEY,
  agent TEXT NOT NULL,
  cabinet TEXT NOT NULL,
  probe TEXT NOT NULL,
  position TEXT NOT NULL,
  from_millis INTEGER NOT NULL,
  to_millis INTEGER NOT NULL
) STRICT;
