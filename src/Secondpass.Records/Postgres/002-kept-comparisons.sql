CREATE TABLE kept_comparisons (
    id                  TEXT   PRIMARY KEY,
    label               TEXT   NOT NULL,
    kept_utc_ticks      BIGINT NOT NULL,
    before_sha256       TEXT   NOT NULL,
    after_sha256        TEXT   NOT NULL,
    case_document       TEXT   NOT NULL,
    comparison_document TEXT   NOT NULL,
    sheet_sha256        TEXT   NOT NULL
);

CREATE INDEX kept_comparisons_by_time ON kept_comparisons (kept_utc_ticks);
