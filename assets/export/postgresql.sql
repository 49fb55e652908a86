-- Loads the tables of `asfound export`, layout 1. Written from the program's list of columns; a test compares them.
--   for t in inspections entries readings characteristics findings reckoned; do asfound export $t --csv > $t.csv; done
--   psql --set ON_ERROR_STOP=1 --single-transaction --file postgresql.sql

CREATE TABLE inspections (
  "layout" BIGINT CHECK ("layout" = 1),
  "inspection" VARCHAR,
  "file" VARCHAR,
  "rotor" VARCHAR,
  "serial" VARCHAR,
  "machine" VARCHAR,
  "plant" VARCHAR,
  "checklist" VARCHAR,
  "checklist_version" BIGINT,
  "begun" TIMESTAMPTZ,
  "begun_by" VARCHAR,
  "reason" VARCHAR,
  "arrives" VARCHAR,
  "machine_hours" DECIMAL(38, 12),
  "next_hours" DECIMAL(38, 12),
  "next_date" DATE,
  "previous" VARCHAR,
  "entries" BIGINT,
  "readings" BIGINT,
  "signed" VARCHAR,
  "signed_entry" BIGINT,
  "countersigned" BOOLEAN,
  "grown_since" BOOLEAN,
  "trust" VARCHAR,
  PRIMARY KEY ("file")
);
\copy inspections FROM 'inspections.csv' WITH (FORMAT csv, HEADER true)

CREATE TABLE entries (
  "layout" BIGINT CHECK ("layout" = 1),
  "inspection" VARCHAR,
  "file" VARCHAR,
  "entry" BIGINT,
  "at" TIMESTAMPTZ,
  "by" VARCHAR,
  "writer" VARCHAR,
  "kind" VARCHAR,
  "step" VARCHAR,
  "part" VARCHAR,
  "struck_by" BIGINT,
  "told" VARCHAR,
  "chain" VARCHAR,
  PRIMARY KEY ("file", "entry")
);
\copy entries FROM 'entries.csv' WITH (FORMAT csv, HEADER true)

CREATE TABLE readings (
  "layout" BIGINT CHECK ("layout" = 1),
  "inspection" VARCHAR,
  "file" VARCHAR,
  "entry" BIGINT,
  "at" TIMESTAMPTZ,
  "by" VARCHAR,
  "step" VARCHAR,
  "place" VARCHAR,
  "typed" VARCHAR,
  "taken" DECIMAL(38, 12),
  "unit" VARCHAR,
  "gauge" VARCHAR,
  "doubts" VARCHAR,
  "struck_by" BIGINT,
  PRIMARY KEY ("file", "entry")
);
\copy readings FROM 'readings.csv' WITH (FORMAT csv, HEADER true)

CREATE TABLE characteristics (
  "layout" BIGINT CHECK ("layout" = 1),
  "inspection" VARCHAR,
  "file" VARCHAR,
  "characteristic" VARCHAR,
  "condition" VARCHAR,
  "step" VARCHAR,
  "part" VARCHAR,
  "signed" VARCHAR,
  "signed_entry" BIGINT,
  "outcome" VARCHAR,
  "value" DECIMAL(38, 12),
  "value_exact" VARCHAR,
  "unit" VARCHAR,
  "u" DECIMAL(38, 12),
  "place" VARCHAR,
  "reached" VARCHAR,
  "bound" DECIMAL(38, 12),
  "source" VARCHAR,
  "leads_to" VARCHAR,
  "provisional" BOOLEAN,
  "part_hours" DECIMAL(38, 12),
  "next_value" DECIMAL(38, 12),
  "next_bound" DECIMAL(38, 12),
  "next_unit" VARCHAR,
  "disposition" VARCHAR,
  "holds" VARCHAR,
  PRIMARY KEY ("file", "characteristic", "condition", "step")
);
\copy characteristics FROM 'characteristics.csv' WITH (FORMAT csv, HEADER true)

CREATE TABLE findings (
  "layout" BIGINT CHECK ("layout" = 1),
  "inspection" VARCHAR,
  "file" VARCHAR,
  "entry" BIGINT,
  "at" TIMESTAMPTZ,
  "by" VARCHAR,
  "part" VARCHAR,
  "step" VARCHAR,
  "kind" VARCHAR,
  "grade" VARCHAR,
  "details" VARCHAR,
  "note" VARCHAR,
  "photos" BIGINT,
  "struck_by" BIGINT,
  PRIMARY KEY ("file", "entry")
);
\copy findings FROM 'findings.csv' WITH (FORMAT csv, HEADER true)

CREATE TABLE reckoned (
  "layout" BIGINT CHECK ("layout" = 1),
  "inspection" VARCHAR,
  "file" VARCHAR,
  "number" BIGINT,
  "step" VARCHAR,
  "place" VARCHAR,
  "signed" VARCHAR,
  "signed_entry" BIGINT,
  "reckoning" VARCHAR,
  "result" VARCHAR,
  "verdict" VARCHAR,
  "problems" VARCHAR,
  PRIMARY KEY ("file", "number")
);
\copy reckoned FROM 'reckoned.csv' WITH (FORMAT csv, HEADER true)
