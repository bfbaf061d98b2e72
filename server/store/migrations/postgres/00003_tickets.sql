-- +goose Up
CREATE TABLE ticket_numbers (
  year INTEGER PRIMARY KEY,
  last INTEGER NOT NULL
);

CREATE TABLE tickets (
  id            TEXT COLLATE "C" PRIMARY KEY,
  farm_id       TEXT COLLATE "C" NOT NULL REFERENCES farms (id),
  unit_id       TEXT COLLATE "C" NOT NULL DEFAULT '',
  cycle_id      TEXT COLLATE "C" NOT NULL DEFAULT '',
  rule          TEXT COLLATE "C" NOT NULL DEFAULT '',
  subject       TEXT COLLATE "C" NOT NULL DEFAULT '',
  seq           INTEGER NOT NULL,
  year          INTEGER NOT NULL,
  origin        TEXT COLLATE "C" NOT NULL,
  title         TEXT COLLATE "C" NOT NULL DEFAULT '',
  state         TEXT COLLATE "C" NOT NULL,
  waiting_on    TEXT COLLATE "C" NOT NULL DEFAULT '',
  holder_id     TEXT COLLATE "C" NOT NULL DEFAULT '',
  impact        TEXT COLLATE "C" NOT NULL,
  time_to_loss  TEXT COLLATE "C" NOT NULL,
  urgency       TEXT COLLATE "C" NOT NULL,
  rank          INTEGER NOT NULL,       -- of the urgency, 0 highest: the queue's order
  opened_on     INTEGER NOT NULL,
  opened_at     BIGINT NOT NULL,
  first_word_by BIGINT NOT NULL,
  plan_by       BIGINT NOT NULL,
  due_at        BIGINT NOT NULL,        -- the next of the two: by when something must happen
  first_word_at BIGINT NOT NULL DEFAULT 0,
  settled_at    BIGINT NOT NULL DEFAULT 0,
  settled_on    INTEGER NOT NULL DEFAULT 0,
  settled_by    TEXT COLLATE "C" NOT NULL DEFAULT '',
  outcome       TEXT COLLATE "C" NOT NULL DEFAULT '',
  reasons       TEXT COLLATE "C" NOT NULL DEFAULT '[]',
  first_reasons TEXT COLLATE "C" NOT NULL DEFAULT '[]',
  gone_on       INTEGER NOT NULL DEFAULT 0,
  rests_until   INTEGER NOT NULL DEFAULT 0,
  reopened      TEXT COLLATE "C" NOT NULL DEFAULT '[]',
  keeps_coming  BOOLEAN NOT NULL DEFAULT FALSE,
  previous_id   TEXT COLLATE "C" NOT NULL DEFAULT '',
  joined_into   TEXT COLLATE "C" NOT NULL DEFAULT '',
  call_id       TEXT COLLATE "C" NOT NULL DEFAULT '',
  visit_id      TEXT COLLATE "C" NOT NULL DEFAULT '',
  worse_at      DOUBLE PRECISION NOT NULL DEFAULT 0, -- the value at the last "worse" event
  touched_at    BIGINT NOT NULL,
  version       INTEGER NOT NULL DEFAULT 1
);
-- One open ticket for one real problem, whoever sweeps.
CREATE UNIQUE INDEX tickets_open ON tickets (farm_id, unit_id, cycle_id, rule, subject)
  WHERE state <> 'settled' AND rule <> '';
CREATE UNIQUE INDEX tickets_number ON tickets (seq, year);
CREATE INDEX tickets_queue ON tickets (rank, due_at, id) WHERE state <> 'settled';
CREATE INDEX tickets_farm ON tickets (farm_id, opened_at, id);
CREATE INDEX tickets_holder ON tickets (holder_id, state);
CREATE INDEX tickets_opened ON tickets (opened_on);

CREATE TABLE ticket_events (
  id        TEXT COLLATE "C" PRIMARY KEY,
  ticket_id TEXT COLLATE "C" NOT NULL REFERENCES tickets (id),
  kind      TEXT COLLATE "C" NOT NULL,   -- opened, moved, note, message, worse, gone, ...
  was       TEXT COLLATE "C" NOT NULL DEFAULT '', -- state before and after, the same where it did not change
  became    TEXT COLLATE "C" NOT NULL DEFAULT '',
  person_id TEXT COLLATE "C" NOT NULL DEFAULT '',
  at        BIGINT NOT NULL,
  on_date   INTEGER NOT NULL,
  text      TEXT COLLATE "C" NOT NULL DEFAULT '',
  data      TEXT COLLATE "C" NOT NULL DEFAULT '{}'
);
CREATE INDEX ticket_events_ticket ON ticket_events (ticket_id, at, id);

-- The clocks of every finding that holds, or held until lately: what grace
-- and recovery count from.
CREATE TABLE findings (
  farm_id    TEXT COLLATE "C" NOT NULL REFERENCES farms (id),
  unit_id    TEXT COLLATE "C" NOT NULL DEFAULT '',
  cycle_id   TEXT COLLATE "C" NOT NULL DEFAULT '',
  rule       TEXT COLLATE "C" NOT NULL,
  subject    TEXT COLLATE "C" NOT NULL DEFAULT '',
  true_since INTEGER NOT NULL DEFAULT 0,
  false_since INTEGER NOT NULL DEFAULT 0,
  muted_by   TEXT COLLATE "C" NOT NULL DEFAULT '',
  still      INTEGER NOT NULL DEFAULT 0, -- days for which the recovery clock stood still
  last_on    INTEGER NOT NULL,
  reasons    TEXT COLLATE "C" NOT NULL DEFAULT '[]',
  PRIMARY KEY (farm_id, unit_id, cycle_id, rule, subject)
);

CREATE TABLE sweeps (
  id         TEXT COLLATE "C" PRIMARY KEY,
  on_date    INTEGER NOT NULL,
  started_at BIGINT NOT NULL,
  ended_at   BIGINT NOT NULL DEFAULT 0,
  summary    TEXT COLLATE "C" NOT NULL DEFAULT '{}'
);
CREATE INDEX sweeps_on ON sweeps (on_date);

-- +goose Down
DROP TABLE sweeps;
DROP TABLE findings;
DROP TABLE ticket_events;
DROP TABLE tickets;
DROP TABLE ticket_numbers;
