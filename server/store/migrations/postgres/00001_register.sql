-- +goose Up
-- Instants are microseconds since 1970 (UTC), civil dates are days since
-- 1970-01-01 with 0 for "no date"; both dialects hold the same numbers. Text
-- compares byte by byte, as in SQLite and whatever the server's locale.
CREATE TABLE firms (
  id         INTEGER PRIMARY KEY CHECK (id = 1),
  name       TEXT COLLATE "C"    NOT NULL DEFAULT '',
  language   TEXT COLLATE "C"    NOT NULL DEFAULT 'en',
  time_zone  TEXT COLLATE "C"    NOT NULL DEFAULT 'UTC',
  currency   TEXT COLLATE "C"    NOT NULL DEFAULT 'XAF',
  set_up     BOOLEAN NOT NULL DEFAULT FALSE,
  version    INTEGER NOT NULL DEFAULT 1
);

CREATE TABLE branches (
  id         TEXT COLLATE "C" PRIMARY KEY,
  name       TEXT COLLATE "C" NOT NULL,
  folded     TEXT COLLATE "C" NOT NULL,
  time_zone  TEXT COLLATE "C" NOT NULL,
  country    TEXT COLLATE "C" NOT NULL DEFAULT '',
  start_lat  DOUBLE PRECISION NOT NULL DEFAULT 0,
  start_lng  DOUBLE PRECISION NOT NULL DEFAULT 0,
  start_known BOOLEAN NOT NULL DEFAULT FALSE,
  start_at   TEXT COLLATE "C" NOT NULL DEFAULT '',
  hours      TEXT COLLATE "C" NOT NULL DEFAULT '[]',
  rules      TEXT COLLATE "C" NOT NULL DEFAULT '{}', -- seasons and due times of its own
  version    INTEGER NOT NULL DEFAULT 1
);
CREATE UNIQUE INDEX branches_folded ON branches (folded);

-- Holidays that a person entered or moved; computed ones are not stored.
CREATE TABLE holidays (
  branch_id TEXT COLLATE "C" NOT NULL REFERENCES branches (id),
  on_date   INTEGER NOT NULL,
  name      TEXT COLLATE "C" NOT NULL,
  works     BOOLEAN NOT NULL DEFAULT FALSE, -- true: a computed holiday that this branch works
  PRIMARY KEY (branch_id, on_date)
);

CREATE TABLE people (
  id         TEXT COLLATE "C" PRIMARY KEY,
  name       TEXT COLLATE "C" NOT NULL,
  folded     TEXT COLLATE "C" NOT NULL,
  phone      TEXT COLLATE "C" NOT NULL DEFAULT '',
  phone_flag BOOLEAN NOT NULL DEFAULT FALSE,
  email      TEXT COLLATE "C" NOT NULL DEFAULT '',
  language   TEXT COLLATE "C" NOT NULL DEFAULT 'en',
  active     BOOLEAN NOT NULL DEFAULT TRUE,
  created_at BIGINT NOT NULL,
  version    INTEGER NOT NULL DEFAULT 1
);
CREATE INDEX people_phone ON people (phone);
CREATE INDEX people_folded ON people (folded, id);

CREATE TABLE grants (
  person_id TEXT COLLATE "C" NOT NULL REFERENCES people (id),
  role      TEXT COLLATE "C" NOT NULL,
  branch_id TEXT COLLATE "C" NOT NULL DEFAULT '',
  PRIMARY KEY (person_id, role, branch_id)
);

CREATE TABLE clients (
  id       TEXT COLLATE "C" PRIMARY KEY,
  name     TEXT COLLATE "C" NOT NULL,
  folded   TEXT COLLATE "C" NOT NULL,
  phone    TEXT COLLATE "C" NOT NULL DEFAULT '',
  phone_flag BOOLEAN NOT NULL DEFAULT FALSE,
  owner_id TEXT COLLATE "C" NOT NULL DEFAULT '',
  version  INTEGER NOT NULL DEFAULT 1
);
CREATE INDEX clients_phone ON clients (phone);
CREATE INDEX clients_folded ON clients (folded, id);
CREATE INDEX clients_owner ON clients (owner_id);

CREATE TABLE farms (
  id         TEXT COLLATE "C" PRIMARY KEY,
  client_id  TEXT COLLATE "C" NOT NULL REFERENCES clients (id),
  branch_id  TEXT COLLATE "C" NOT NULL REFERENCES branches (id),
  name       TEXT COLLATE "C" NOT NULL,
  folded     TEXT COLLATE "C" NOT NULL,
  town       TEXT COLLATE "C" NOT NULL DEFAULT '',
  landmark   TEXT COLLATE "C" NOT NULL DEFAULT '',
  lat        DOUBLE PRECISION NOT NULL DEFAULT 0,
  lng        DOUBLE PRECISION NOT NULL DEFAULT 0,
  position_known BOOLEAN NOT NULL DEFAULT FALSE,
  status     TEXT COLLATE "C" NOT NULL DEFAULT 'active',
  watched_on INTEGER NOT NULL DEFAULT 0,
  intake_on  INTEGER NOT NULL DEFAULT 0,
  standing   TEXT COLLATE "C" NOT NULL DEFAULT 'to-confirm', -- the worst of its units'; the sweep writes it
  own_slip   INTEGER NOT NULL DEFAULT 0,         -- the worst of its cycles'
  place      INTEGER NOT NULL DEFAULT 0,         -- in lists: worst standing first, then most days late
  swept_on   INTEGER NOT NULL DEFAULT 0,         -- last day the sweep worked out
  changes    INTEGER NOT NULL DEFAULT 0,         -- counts whatever changes what the sweep reads or writes
  created_at BIGINT NOT NULL,
  version    INTEGER NOT NULL DEFAULT 1
);
CREATE UNIQUE INDEX farms_client_name ON farms (client_id, folded);
CREATE INDEX farms_place ON farms (place, folded, id);
CREATE INDEX farms_branch ON farms (branch_id, place, folded, id);

CREATE TABLE farm_people (
  farm_id   TEXT COLLATE "C" NOT NULL REFERENCES farms (id),
  person_id TEXT COLLATE "C" NOT NULL REFERENCES people (id),
  in_charge BOOLEAN NOT NULL DEFAULT TRUE,
  since     INTEGER NOT NULL DEFAULT 0,
  PRIMARY KEY (farm_id, person_id)
);
CREATE INDEX farm_people_person ON farm_people (person_id);

CREATE TABLE units (
  id             TEXT COLLATE "C" PRIMARY KEY,
  farm_id        TEXT COLLATE "C" NOT NULL REFERENCES farms (id),
  name           TEXT COLLATE "C" NOT NULL,
  folded         TEXT COLLATE "C" NOT NULL,
  enterprise     TEXT COLLATE "C" NOT NULL,
  species        TEXT COLLATE "C" NOT NULL DEFAULT '',
  length_value   DOUBLE PRECISION NOT NULL DEFAULT 0,
  length_measure TEXT COLLATE "C" NOT NULL DEFAULT 'm',
  width_value    DOUBLE PRECISION NOT NULL DEFAULT 0,
  width_measure  TEXT COLLATE "C" NOT NULL DEFAULT 'm',
  capacity       INTEGER NOT NULL DEFAULT 0,
  standard       TEXT COLLATE "C" NOT NULL DEFAULT '',
  wall_base      TEXT COLLATE "C" NOT NULL DEFAULT '',
  cover          TEXT COLLATE "C" NOT NULL DEFAULT '',
  double_door    TEXT COLLATE "C" NOT NULL DEFAULT '',
  drain          TEXT COLLATE "C" NOT NULL DEFAULT '',
  lined          TEXT COLLATE "C" NOT NULL DEFAULT '',
  paths          TEXT COLLATE "C" NOT NULL DEFAULT '',
  feed_platforms TEXT COLLATE "C" NOT NULL DEFAULT '',
  water          TEXT COLLATE "C" NOT NULL DEFAULT '',
  tank_litres    DOUBLE PRECISION NOT NULL DEFAULT 0,
  pump_value     DOUBLE PRECISION NOT NULL DEFAULT 0,
  pump_measure   TEXT COLLATE "C" NOT NULL DEFAULT '',
  handed_over_on INTEGER NOT NULL DEFAULT 0,
  defects_months INTEGER NOT NULL DEFAULT 0,
  version        INTEGER NOT NULL DEFAULT 1
);
CREATE UNIQUE INDEX units_farm_name ON units (farm_id, folded);

CREATE TABLE cycles (
  id         TEXT COLLATE "C" PRIMARY KEY,
  farm_id    TEXT COLLATE "C" NOT NULL REFERENCES farms (id),
  unit_id    TEXT COLLATE "C" NOT NULL REFERENCES units (id),
  enterprise TEXT COLLATE "C" NOT NULL,
  purpose    TEXT COLLATE "C" NOT NULL,
  starts_with TEXT NOT NULL DEFAULT '', -- milestone of day one; '' = the pack's own
  started_on INTEGER NOT NULL,
  ended_on   INTEGER NOT NULL DEFAULT 0,
  standing   TEXT COLLATE "C" NOT NULL DEFAULT '', -- written by the sweep, with what follows
  entered    TEXT COLLATE "C" NOT NULL DEFAULT '', -- the standing entered at its limit, which is left at the limit less 3 days
  own_slip   INTEGER NOT NULL DEFAULT 0,
  outlook    TEXT COLLATE "C" NOT NULL DEFAULT '',
  outlook_hash BIGINT NOT NULL DEFAULT 0,
  version    INTEGER NOT NULL DEFAULT 1
);
CREATE INDEX cycles_farm ON cycles (farm_id, id);
CREATE UNIQUE INDEX cycles_running ON cycles (unit_id) WHERE ended_on = 0;

CREATE TABLE cycle_milestones (
  cycle_id TEXT COLLATE "C" NOT NULL REFERENCES cycles (id),
  milestone TEXT COLLATE "C" NOT NULL,
  earliest INTEGER NOT NULL,
  target   INTEGER NOT NULL,
  latest   INTEGER NOT NULL,
  done_on  INTEGER NOT NULL DEFAULT 0,
  grade    TEXT COLLATE "C" NOT NULL DEFAULT '',
  done_by  TEXT COLLATE "C" NOT NULL DEFAULT '',
  PRIMARY KEY (cycle_id, milestone)
);

CREATE TABLE batches (
  id            TEXT COLLATE "C" PRIMARY KEY,
  unit_id       TEXT COLLATE "C" NOT NULL REFERENCES units (id),
  cycle_id      TEXT COLLATE "C" NOT NULL DEFAULT '',
  species       TEXT COLLATE "C" NOT NULL DEFAULT '',
  head          INTEGER NOT NULL DEFAULT 0,
  mean_weight_g DOUBLE PRECISION NOT NULL DEFAULT 0,
  source        TEXT COLLATE "C" NOT NULL DEFAULT '',
  stocked_on    INTEGER NOT NULL DEFAULT 0
);
CREATE INDEX batches_unit ON batches (unit_id, stocked_on);
CREATE INDEX batches_cycle ON batches (cycle_id);

CREATE TABLE pauses (
  id         TEXT COLLATE "C" PRIMARY KEY,
  cycle_id   TEXT COLLATE "C" NOT NULL REFERENCES cycles (id),
  from_date  INTEGER NOT NULL,
  until_date INTEGER NOT NULL,
  ended_on   INTEGER NOT NULL DEFAULT 0,
  reason     TEXT COLLATE "C" NOT NULL,
  asked_by   TEXT COLLATE "C" NOT NULL,
  agreed_by  TEXT COLLATE "C" NOT NULL DEFAULT '', -- the second person, needed past 14 days
  version    INTEGER NOT NULL DEFAULT 1
);
CREATE INDEX pauses_cycle ON pauses (cycle_id);

CREATE TABLE snags (
  id        TEXT COLLATE "C" PRIMARY KEY,
  farm_id   TEXT COLLATE "C" NOT NULL REFERENCES farms (id),
  unit_id   TEXT COLLATE "C" NOT NULL REFERENCES units (id),
  text      TEXT COLLATE "C" NOT NULL,
  found_on  INTEGER NOT NULL,
  fixed_on  INTEGER NOT NULL DEFAULT 0,
  fixed_by  TEXT COLLATE "C" NOT NULL DEFAULT '',
  version   INTEGER NOT NULL DEFAULT 1
);
CREATE INDEX snags_farm ON snags (farm_id);

-- +goose Down
DROP TABLE snags;
DROP TABLE pauses;
DROP TABLE batches;
DROP TABLE cycle_milestones;
DROP TABLE cycles;
DROP TABLE units;
DROP TABLE farm_people;
DROP TABLE farms;
DROP TABLE clients;
DROP TABLE grants;
DROP TABLE people;
DROP TABLE holidays;
DROP TABLE branches;
DROP TABLE firms;
