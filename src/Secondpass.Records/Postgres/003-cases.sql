-- Each event's own hash, so that a changed event can be named; filled for those that are here already by the program.
ALTER TABLE events ADD COLUMN hash BYTEA NOT NULL DEFAULT '';

CREATE TABLE patient_keys (
    id      TEXT  PRIMARY KEY NOT NULL,
    patient TEXT  NOT NULL UNIQUE,
    wrapped BYTEA NOT NULL
);

CREATE TABLE event_kinds (
    kind         TEXT   NOT NULL,
    kind_version BIGINT NOT NULL,
    PRIMARY KEY (kind, kind_version)
);

CREATE TABLE case_lines (
    id                TEXT   PRIMARY KEY NOT NULL,
    patient_key       TEXT   NOT NULL,
    version           BIGINT NOT NULL,
    entries           BIGINT NOT NULL,
    opened_utc_ticks  BIGINT NOT NULL,
    changed_utc_ticks BIGINT NOT NULL,
    summary           BYTEA  NOT NULL
);

CREATE INDEX case_lines_by_patient ON case_lines (patient_key);

CREATE TABLE case_files (
    case_id TEXT NOT NULL,
    sha256  TEXT NOT NULL,
    PRIMARY KEY (case_id, sha256)
);

CREATE INDEX case_files_by_content ON case_files (sha256);

CREATE TABLE instrument_uses (
    case_id TEXT   NOT NULL,
    entry   BIGINT NOT NULL,
    item    TEXT   NOT NULL,
    visit   BIGINT NOT NULL,
    PRIMARY KEY (case_id, entry)
);

CREATE INDEX instrument_uses_by_item ON instrument_uses (item);
