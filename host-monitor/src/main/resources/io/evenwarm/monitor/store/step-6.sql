-- Version 6: what became known of probes and from when on it counts; since when a cabinet's air flow is learned anew.

CREATE TABLE probe_check (
  id INTEGER PRIMARY KEY,
  agent TEXT NOT NULL,
  cabinet TEXT NOT NULL,
  probe TEXT NOT NULL,
  at_millis INTEGER NOT NULL,
  kind TEXT NOT NULL,
  reference TEXT NOT NULL,
  offset_kelvin REAL,
  standard_uncertainty_kelvin REAL,
  degrees_of_freedom REAL
) STRICT;

CREATE INDEX probe_check_of_probe ON probe_check (agent, cabinet, probe, at_millis);

CREATE TABLE air_flow_begin (
  id INTEGER PRIMARY KEY,
  agent TEXT NOT NULL,
  cabinet TEXT NOT NULL,
  begin_millis INTEGER NOT NULL,
  why TEXT NOT NULL
) STRICT;
