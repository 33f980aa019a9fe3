-- In which canal an instrument was used; filled by the program from the events.
ALTER TABLE instrument_uses ADD COLUMN canal BIGINT NOT NULL DEFAULT 0;
