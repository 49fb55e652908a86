-- Loads the tables of `asfound export`, layout 1. Written from the program's list of columns; a test compares them.
--   for t in inspections entries readings characteristics findings reckoned; do asfound export $t > $t.ndjson; done
--   duckdb fleet.duckdb < duckdb.sql

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
INSERT INTO inspections SELECT * FROM read_json('inspections.ndjson', format = 'newline_delimited', columns = {
  "layout": 'BIGINT', "inspection": 'VARCHAR', "file": 'VARCHAR', "rotor": 'VARCHAR', "serial": 'VARCHAR', "machine": 'VARCHAR', "plant": 'VARCHAR', "checklist": 'VARCHAR', "checklist_version": 'BIGINT', "begun": 'TIMESTAMPTZ', "begun_by": 'VARCHAR', "reason": 'VARCHAR', "arrives": 'VARCHAR', "machine_hours": 'DECIMAL(38, 12)', "next_hours": 'DECIMAL(38, 12)', "next_date": 'DATE', "previous": 'VARCHAR', "entries": 'BIGINT', "readings": 'BIGINT', "signed": 'VARCHAR', "signed_entry": 'BIGINT', "countersigned": 'BOOLEAN', "grown_since": 'BOOLEAN', "trust": 'VARCHAR'
});

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
INSERT INTO entries SELECT * FROM read_json('entries.ndjson', format = 'newline_delimited', columns = {
  "layout": 'BIGINT', "inspection": 'VARCHAR', "file": 'VARCHAR', "entry": 'BIGINT', "at": 'TIMESTAMPTZ', "by": 'VARCHAR', "writer": 'VARCHAR', "kind": 'VARCHAR', "step": 'VARCHAR', "part": 'VARCHAR', "struck_by": 'BIGINT', "told": 'VARCHAR', "chain": 'VARCHAR'
});

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
INSERT INTO readings SELECT * FROM read_json('readings.ndjson', format = 'newline_delimited', columns = {
  "layout": 'BIGINT', "inspection": 'VARCHAR', "file": 'VARCHAR', "entry": 'BIGINT', "at": 'TIMESTAMPTZ', "by": 'VARCHAR', "step": 'VARCHAR', "place": 'VARCHAR', "typed": 'VARCHAR', "taken": 'DECIMAL(38, 12)', "unit": 'VARCHAR', "gauge": 'VARCHAR', "doubts": 'VARCHAR', "struck_by": 'BIGINT'
});

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
INSERT INTO characteristics SELECT * FROM read_json('characteristics.ndjson', format = 'newline_delimited', columns = {
  "layout": 'BIGINT', "inspection": 'VARCHAR', "file": 'VARCHAR', "characteristic": 'VARCHAR', "condition": 'VARCHAR', "step": 'VARCHAR', "part": 'VARCHAR', "signed": 'VARCHAR', "signed_entry": 'BIGINT', "outcome": 'VARCHAR', "value": 'DECIMAL(38, 12)', "value_exact": 'VARCHAR', "unit": 'VARCHAR', "u": 'DECIMAL(38, 12)', "place": 'VARCHAR', "reached": 'VARCHAR', "bound": 'DECIMAL(38, 12)', "source": 'VARCHAR', "leads_to": 'VARCHAR', "provisional": 'BOOLEAN', "part_hours": 'DECIMAL(38, 12)', "next_value": 'DECIMAL(38, 12)', "next_bound": 'DECIMAL(38, 12)', "next_unit": 'VARCHAR', "disposition": 'VARCHAR', "holds": 'VARCHAR'
});

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
INSERT INTO findings SELECT * FROM read_json('findings.ndjson', format = 'newline_delimited', columns = {
  "layout": 'BIGINT', "inspection": 'VARCHAR', "file": 'VARCHAR', "entry": 'BIGINT', "at": 'TIMESTAMPTZ', "by": 'VARCHAR', "part": 'VARCHAR', "step": 'VARCHAR', "kind": 'VARCHAR', "grade": 'VARCHAR', "details": 'VARCHAR', "note": 'VARCHAR', "photos": 'BIGINT', "struck_by": 'BIGINT'
});

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
INSERT INTO reckoned SELECT * FROM read_json('reckoned.ndjson', format = 'newline_delimited', columns = {
  "layout": 'BIGINT', "inspection": 'VARCHAR', "file": 'VARCHAR', "number": 'BIGINT', "step": 'VARCHAR', "place": 'VARCHAR', "signed": 'VARCHAR', "signed_entry": 'BIGINT', "reckoning": 'VARCHAR', "result": 'VARCHAR', "verdict": 'VARCHAR', "problems": 'VARCHAR'
});

-- Parquet parted by machine type, for engines that read it from a disk or an object store
COPY (SELECT * FROM inspections) TO 'inspections-parquet' (FORMAT parquet, PARTITION_BY (machine), OVERWRITE_OR_IGNORE);
COPY (SELECT t.*, i.machine FROM entries t JOIN inspections i USING ("file")) TO 'entries-parquet' (FORMAT parquet, PARTITION_BY (machine), OVERWRITE_OR_IGNORE);
COPY (SELECT t.*, i.machine FROM readings t JOIN inspections i USING ("file")) TO 'readings-parquet' (FORMAT parquet, PARTITION_BY (machine), OVERWRITE_OR_IGNORE);
COPY (SELECT t.*, i.machine FROM characteristics t JOIN inspections i USING ("file")) TO 'characteristics-parquet' (FORMAT parquet, PARTITION_BY (machine), OVERWRITE_OR_IGNORE);
COPY (SELECT t.*, i.machine FROM findings t JOIN inspections i USING ("file")) TO 'findings-parquet' (FORMAT parquet, PARTITION_BY (machine), OVERWRITE_OR_IGNORE);
COPY (SELECT t.*, i.machine FROM reckoned t JOIN inspections i USING ("file")) TO 'reckoned-parquet' (FORMAT parquet, PARTITION_BY (machine), OVERWRITE_OR_IGNORE);
