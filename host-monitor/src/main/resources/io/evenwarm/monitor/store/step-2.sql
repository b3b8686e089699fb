-- Version 2: readings summed up in tiers of 1 min, 10 min, 1 h and 6 h. Sums are whole millionths, so that they
-- do not depend on the order in which readings came.

CREATE TABLE probe_tier (
  probe_id INTEGER NOT NULL REFERENCES probe (id),
  step_seconds INTEGER NOT NULL,
  begin_millis INTEGER NOT NULL,
  least REAL,
  greatest REAL,
  sum_millionths INTEGER NOT NULL,
  value_count INTEGER NOT NULL,
  bad_count INTEGER NOT NULL,
  PRIMARY KEY (probe_id, step_seconds, begin_millis)
) STRICT, WITHOUT ROWID;

INSERT INTO probe_tier
  SELECT owner, 60, begin_at, min(v), max(v),
      coalesce(sum(CAST(floor(v * 1000000.0 + 0.5) AS BIGINT)), 0), count(v), count(*) - count(v)
    FROM (SELECT probe_id AS owner, value AS v,
              time_millis - ((time_millis % 60000) + 60000) % 60000 AS begin_at
            FROM reading) AS r
    GROUP BY owner, begin_at;

INSERT INTO probe_tier
  SELECT owner, 600, begin_at, min(least), max(greatest), sum(sum_millionths), sum(value_count), sum(bad_count)
    FROM (SELECT probe_id AS owner, least, greatest, sum_millionths, value_count, bad_count,
              begin_millis - ((begin_millis % 600000) + 600000) % 600000 AS begin_at
            FROM probe_tier WHERE step_seconds = 60) AS finer
    GROUP BY owner, begin_at;

INSERT INTO probe_tier
  SELECT owner, 3600, begin_at, min(least), max(greatest), sum(sum_millionths), sum(value_count), sum(bad_count)
    FROM (SELECT probe_id AS owner, least, greatest, sum_millionths, value_count, bad_count,
              begin_millis - ((begin_millis % 3600000) + 3600000) % 3600000 AS begin_at
            FROM probe_tier WHERE step_seconds = 600) AS finer
    GROUP BY owner, begin_at;

INSERT INTO probe_tier
  SELECT owner, 21600, begin_at, min(least), max(greatest), sum(sum_millionths), sum(value_count), sum(bad_count)
    FROM (SELECT probe_id AS owner, least, greatest, sum_millionths, value_count, bad_count,
              begin_millis - ((begin_millis % 21600000) + 21600000) % 21600000 AS begin_at
            FROM probe_tier WHERE step_seconds = 3600) AS finer
    GROUP BY owner, begin_at;

CREATE TABLE set_point_tier (
  cabinet_id INTEGER NOT NULL REFERENCES cabinet (id),
  step_seconds INTEGER NOT NULL,
  begin_millis INTEGER NOT NULL,
  least REAL,
  greatest REAL,
  sum_millionths INTEGER NOT NULL,
  value_count INTEGER NOT NULL,
  bad_count INTEGER NOT NULL,
  PRIMARY KEY (cabinet_id, step_seconds, begin_millis)
) STRICT, WITHOUT ROWID;

INSERT INTO set_point_tier
  SELECT owner, 60, begin_at, min(v), max(v),
      coalesce(sum(CAST(floor(v * 1000000.0 + 0.5) AS BIGINT)), 0), count(v), count(*) - count(v)
    FROM (SELECT cabinet_id AS owner, set_point_celsius AS v,
              time_millis - ((time_millis % 60000) + 60000) % 60000 AS begin_at
            FROM record) AS r
    GROUP BY owner, begin_at;

INSERT INTO set_point_tier
  SELECT owner, 600, begin_at, min(least), max(greatest), sum(sum_millionths), sum(value_count), sum(bad_count)
    FROM (SELECT cabinet_id AS owner, least, greatest, sum_millionths, value_count, bad_count,
              begin_millis - ((begin_millis % 600000) + 600000) % 600000 AS begin_at
            FROM set_point_tier WHERE step_seconds = 60) AS finer
    GROUP BY owner, begin_at;

INSERT INTO set_point_tier
  SELECT owner, 3600, begin_at, min(least), max(greatest), sum(sum_millionths), sum(value_count), sum(bad_count)
    FROM (SELECT cabinet_id AS owner, least, greatest, sum_millionths, value_count, bad_count,
              begin_millis - ((begin_millis % 3600000) + 3600000) % 3600000 AS begin_at
            FROM set_point_tier WHERE step_seconds = 600) AS finer
    GROUP BY owner, begin_at;

INSERT INTO set_point_tier
  SELECT owner, 21600, begin_at, min(least), max(greatest), sum(sum_millionths), sum(value_count), sum(bad_count)
    FROM (SELECT cabinet_id AS owner, least, greatest, sum_millionths, value_count, bad_count,
              begin_millis - ((begin_millis % 21600000) + 21600000) % 21600000 AS begin_at
            FROM set_point_tier WHERE step_seconds = 3600) AS finer
    GROUP BY owner, begin_at;

CREATE TABLE heater_tier (
  cabinet_id INTEGER NOT NULL REFERENCES cabinet (id),
  step_seconds INTEGER NOT NULL,
  begin_millis INTEGER NOT NULL,
  least REAL,
  greatest REAL,
  sum_millionths INTEGER NOT NULL,
  value_count INTEGER NOT NULL,
  bad_count INTEGER NOT NULL,
  PRIMARY KEY (cabinet_id, step_seconds, begin_millis)
) STRICT, WITHOUT ROWID;

INSERT INTO heater_tier
  SELECT owner, 60, begin_at, min(v), max(v),
      coalesce(sum(CAST(floor(v * 1000000.0 + 0.5) AS BIGINT)), 0), count(v), count(*) - count(v)
    FROM (SELECT cabinet_id AS owner, heater_on_fraction AS v,
              time_millis - ((time_millis % 60000) + 60000) % 60000 AS begin_at
            FROM record) AS r
    GROUP BY owner, begin_at;

INSERT INTO heater_tier
  SELECT owner, 600, begin_at, min(least), max(greatest), sum(sum_millionths), sum(value_count), sum(bad_count)
    FROM (SELECT cabinet_id AS owner, least, greatest, sum_millionths, value_count, bad_count,
              begin_millis - ((begin_millis % 600000) + 600000) % 600000 AS begin_at
            FROM heater_tier WHERE step_seconds = 60) AS finer
    GROUP BY owner, begin_at;

INSERT INTO heater_tier
  SELECT owner, 3600, begin_at, min(least), max(greatest), sum(sum_millionths), sum(value_count), sum(bad_count)
    FROM (SELECT cabinet_id AS owner, least, greatest, sum_millionths, value_count, bad_count,
              begin_millis - ((begin_millis % 3600000) + 3600000) % 3600000 AS begin_at
            FROM heater_tier WHERE step_seconds = 600) AS finer
    GROUP BY owner, begin_at;

INSERT INTO heater_tier
  SELECT owner, 21600, begin_at, min(least), max(greatest), sum(sum_millionths), sum(value_count), sum(bad_count)
    FROM (SELECT cabinet_id AS owner, least, greatest, sum_millionths, value_count, bad_count,
              begin_millis - ((begin_millis % 21600000) + 21600000) % 21600000 AS begin_at
            FROM heater_tier WHERE step_seconds = 3600) AS finer
    GROUP BY owner, begin_at;

CREATE TABLE thinned (
  cabinet_id INTEGER NOT NULL REFERENCES cabinet (id),
  step_seconds INTEGER NOT NULL,
  before_millis INTEGER NOT NULL,
  PRIMARY KEY (cabinet_id, step_seconds)
) STRICT, WITHOUT ROWID;
