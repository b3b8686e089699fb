-- Version 7: when the monitor itself ran, so that what it did not see can be told from what did not reach it.

CREATE TABLE monitor_run (
  id INTEGER PRIMARY KEY,
  started_millis INTEGER NOT NULL,
  last_alive_millis INTEGER NOT NULL,
  ended_millis INTEGER
) STRICT;
