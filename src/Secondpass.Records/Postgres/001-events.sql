CREATE TABLE events (
    position      BIGINT PRIMARY KEY,
    stream        TEXT   NOT NULL,
    version       BIGINT NOT NULL,
    kind          TEXT   NOT NULL,
    kind_version  BIGINT NOT NULL,
    utc_ticks     BIGINT NOT NULL,
    who           TEXT   NOT NULL,
    device        TEXT   NOT NULL,
    sequence      BIGINT NOT NULL,
    payload       BYTEA  NOT NULL,
    previous_hash BYTEA  NOT NULL,
    UNIQUE (stream, version),
    UNIQUE (device, sequence)
);

CREATE TABLE store (
    name  TEXT PRIMARY KEY,
    value TEXT NOT NULL
);
