CREATE TABLE events (
    position      INTEGER PRIMARY KEY,
    stream        TEXT    NOT NULL,
    version       INTEGER NOT NULL,
    kind          TEXT    NOT NULL,
    kind_version  INTEGER NOT NULL,
    utc_ticks     INTEGER NOT NULL,
    who           TEXT    NOT NULL,
    device        TEXT    NOT NULL,
    sequence      INTEGER NOT NULL,
    payload       BLOB    NOT NULL,
    previous_hash BLOB    NOT NULL,
    UNIQUE (stream, version),
    UNIQUE (device, sequence)
);

CREATE TABLE store (
    name  TEXT PRIMARY KEY,
    value TEXT NOT NULL
);
