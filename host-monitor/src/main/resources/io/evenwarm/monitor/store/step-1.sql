-- Version 1: what agents journalled, and the log of it.

CREATE TABLE agent (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE
) STRICT;

CREATE TABLE journal (
  id INTEGER PRIMARY KEY,
  agent_id INTEGER NOT NULL REFERENCES agent (id),
  name TEXT NOT NULL,
  last_sequence INTEGER NOT NULL,
  UNIQUE (agent_id, name)
) STRICT;

CREATE TABLE boot (
  id INTEGER PRIMARY KEY,
  agent_id INTEGER NOT NULL REFERENCES agent (id),
  boot TEXT NOT NULL,
  last_time_millis INTEGER NOT NULL,
  trusted_offset_millis INTEGER,
  UNIQUE (agent_id, boot)
) STRICT;

CREATE TABLE cabinet (
  id INTEGER PRIMARY KEY,
  agent_id INTEGER NOT NULL REFERENCES agent (id),
  name TEXT NOT NULL,
  UNIQUE (agent_id, name)
) STRICT;

CREATE TABLE probe (
  id INTEGER PRIMARY KEY,
  cabinet_id INTEGER NOT NULL REFERENCES cabinet (id),
  name TEXT NOT NULL,
  position TEXT NOT NULL,
  unit TEXT
) STRICT;

CREATE INDEX probe_of_cabinet ON probe (cabinet_id, name, position);

CREATE TABLE limits (
  id INTEGER PRIMARY KEY,
  too_cold_celsius REAL NOT NULL,
  too_warm_celsius REAL NOT NULL,
  cut_off_celsius REAL NOT NULL,
  ceiling_celsius REAL NOT NULL,
  UNIQUE (too_cold_celsius, too_warm_celsius,
          cut_off_celsius, ceiling_celsius)
) STRICT;

CREATE TABLE word (
  id INTEGER PRIMARY KEY,
  word TEXT NOT NULL UNIQUE
) STRICT;

CREATE TABLE record (
  cabinet_id INTEGER NOT NULL REFERENCES cabinet (id),
  time_millis INTEGER NOT NULL,
  journal_id INTEGER NOT NULL REFERENCES journal (id),
  sequence INTEGER NOT NULL,
  boot_id INTEGER NOT NULL REFERENCES boot (id),
  monotonic_millis INTEGER NOT NULL,
  time_is_provisional INTEGER NOT NULL,
  set_point_celsius REAL NOT NULL,
  duty_fraction REAL NOT NULL,
  heater_on_fraction REAL NOT NULL,
  guard_word INTEGER NOT NULL REFERENCES word (id),
  limits_id INTEGER NOT NULL REFERENCES limits (id),
  PRIMARY KEY (cabinet_id, time_millis, journal_id, sequence)
) STRICT, WITHOUT ROWID;

CREATE INDEX record_with_provisional_time ON record (boot_id)
  WHERE time_is_provisional = 1;

CREATE TABLE reading (
  probe_id INTEGER NOT NULL REFERENCES probe (id),
  time_millis INTEGER NOT NULL,
  journal_id INTEGER NOT NULL,
  sequence INTEGER NOT NULL,
  value REAL,
  doubt_word INTEGER REFERENCES word (id),
  PRIMARY KEY (probe_id, time_millis, journal_id, sequence)
) STRICT, WITHOUT ROWID;

CREATE TABLE event (
  journal_id INTEGER NOT NULL REFERENCES journal (id),
  sequence INTEGER NOT NULL,
  time_millis INTEGER NOT NULL,
  boot_id INTEGER NOT NULL REFERENCES boot (id),
  monotonic_millis INTEGER NOT NULL,
  time_is_provisional INTEGER NOT NULL,
  cabinet_id INTEGER REFERENCES cabinet (id),
  kind TEXT NOT NULL,
  words TEXT NOT NULL,
  code TEXT,
  probe TEXT,
  raised_monotonic_millis INTEGER,
  evidence TEXT,
  action TEXT,
  advice TEXT,
  PRIMARY KEY (journal_id, sequence)
) STRICT, WITHOUT ROWID;

CREATE INDEX event_with_provisional_time ON event (boot_id)
  WHERE time_is_provisional = 1;

CREATE TABLE log_entry (
  id INTEGER PRIMARY KEY,
  agent_id INTEGER NOT NULL REFERENCES agent (id),
  cabinet_id INTEGER REFERENCES cabinet (id),
  boot_id INTEGER NOT NULL REFERENCES boot (id),
  code TEXT,
  probe TEXT,
  begin_millis INTEGER NOT NULL,
  begin_correctable_monotonic_millis INTEGER,
  end_millis INTEGER,
  end_correctable_monotonic_millis INTEGER,
  words TEXT NOT NULL
) STRICT;

CREATE INDEX log_entry_by_time ON log_entry (begin_millis);

CREATE INDEX log_entry_open ON log_entry (agent_id)
  WHERE end_millis IS NULL;

CREATE INDEX log_entry_correctable ON log_entry (boot_id)
  WHERE begin_correctable_monotonic_millis IS NOT NULL
     OR end_correctable_monotonic_millis IS NOT NULL;
