-- +goose Up
-- What people reported, append-only. on_date is the day that the entry
-- states; a correction is another event that replaces an earlier one.
CREATE TABLE events (
  id          TEXT COLLATE "C" PRIMARY KEY,
  farm_id     TEXT COLLATE "C" NOT NULL REFERENCES farms (id),
  unit_id     TEXT COLLATE "C" NOT NULL DEFAULT '',
  cycle_id    TEXT COLLATE "C" NOT NULL DEFAULT '',
  kind        TEXT COLLATE "C" NOT NULL,
  on_date     INTEGER NOT NULL,
  person_id   TEXT COLLATE "C" NOT NULL DEFAULT '',
  device_id   TEXT COLLATE "C" NOT NULL DEFAULT '',
  device_at   BIGINT NOT NULL DEFAULT 0,
  device_seq  BIGINT NOT NULL DEFAULT 0,
  clock_off   BOOLEAN NOT NULL DEFAULT FALSE, -- the device's clock was off by more than five minutes
  recorded_at BIGINT NOT NULL,
  evidence    BOOLEAN NOT NULL DEFAULT TRUE,  -- counts as news from the farm
  replaces    TEXT COLLATE "C" NOT NULL DEFAULT '',
  data        TEXT COLLATE "C" NOT NULL DEFAULT '{}'
);
CREATE INDEX events_farm ON events (farm_id, on_date, id);
CREATE INDEX events_farm_recorded ON events (farm_id, recorded_at, id);

-- One row a farm and day with news: what the quiet limit counts from.
CREATE TABLE evidence_days (
  farm_id TEXT COLLATE "C" NOT NULL REFERENCES farms (id),
  on_date INTEGER NOT NULL,
  PRIMARY KEY (farm_id, on_date)
);

CREATE TABLE marks (
  cycle_id  TEXT COLLATE "C" NOT NULL REFERENCES cycles (id),
  item      TEXT COLLATE "C" NOT NULL,
  answer    TEXT COLLATE "C" NOT NULL,              -- yes, no, not-needed
  value     DOUBLE PRECISION NOT NULL DEFAULT 0,
  has_value BOOLEAN NOT NULL DEFAULT FALSE,
  grade     TEXT COLLATE "C" NOT NULL,
  on_date   INTEGER NOT NULL,
  person_id TEXT COLLATE "C" NOT NULL DEFAULT '',
  event_id  TEXT COLLATE "C" NOT NULL DEFAULT '',
  PRIMARY KEY (cycle_id, item)
);

CREATE TABLE readings (
  id       TEXT COLLATE "C" PRIMARY KEY,            -- the event's id
  cycle_id TEXT COLLATE "C" NOT NULL REFERENCES cycles (id),
  kind     TEXT COLLATE "C" NOT NULL,               -- cover, weight
  on_date  INTEGER NOT NULL,
  value    DOUBLE PRECISION NOT NULL,
  n        INTEGER NOT NULL DEFAULT 0,
  sd       DOUBLE PRECISION NOT NULL DEFAULT 0
);
CREATE INDEX readings_cycle ON readings (cycle_id, on_date);

CREATE TABLE passes (
  person_id   TEXT COLLATE "C" NOT NULL REFERENCES people (id),
  enterprise  TEXT COLLATE "C" NOT NULL,
  module      TEXT COLLATE "C" NOT NULL,
  passed_on   INTEGER NOT NULL,
  valid_until INTEGER NOT NULL,
  how         TEXT COLLATE "C" NOT NULL,            -- in-person, phone, register, ...
  by_id       TEXT COLLATE "C" NOT NULL DEFAULT '',
  PRIMARY KEY (person_id, enterprise, module, passed_on)
);

-- +goose Down
DROP TABLE passes;
DROP TABLE readings;
DROP TABLE marks;
DROP TABLE evidence_days;
DROP TABLE events;
