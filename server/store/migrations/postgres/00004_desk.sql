-- +goose Up
CREATE TABLE calls (
  id         TEXT COLLATE "C" PRIMARY KEY,
  farm_id    TEXT COLLATE "C" NOT NULL DEFAULT '',
  person_id  TEXT COLLATE "C" NOT NULL DEFAULT '',   -- who called, if known
  phone      TEXT COLLATE "C" NOT NULL DEFAULT '',
  channel    TEXT COLLATE "C" NOT NULL,              -- phone, text, chat, in-person
  said       TEXT COLLATE "C" NOT NULL DEFAULT '',
  advice     TEXT COLLATE "C" NOT NULL DEFAULT '',
  ticket_id  TEXT COLLATE "C" NOT NULL DEFAULT '',
  taken_by   TEXT COLLATE "C" NOT NULL,
  started_at BIGINT NOT NULL,
  ended_at   BIGINT NOT NULL DEFAULT 0,
  version    INTEGER NOT NULL DEFAULT 1
);
CREATE INDEX calls_farm ON calls (farm_id, started_at, id);

CREATE TABLE promises (
  id        TEXT COLLATE "C" PRIMARY KEY,
  call_id   TEXT COLLATE "C" NOT NULL DEFAULT '',
  farm_id   TEXT COLLATE "C" NOT NULL REFERENCES farms (id),
  kind      TEXT COLLATE "C" NOT NULL,               -- call-back, visit, other
  text      TEXT COLLATE "C" NOT NULL,
  due_on    INTEGER NOT NULL,
  kept_on   INTEGER NOT NULL DEFAULT 0,
  kept_by   TEXT COLLATE "C" NOT NULL DEFAULT '',
  made_by   TEXT COLLATE "C" NOT NULL,
  version   INTEGER NOT NULL DEFAULT 1
);
CREATE INDEX promises_open ON promises (due_on, id) WHERE kept_on = 0;
CREATE INDEX promises_farm ON promises (farm_id);

CREATE TABLE visits (
  id         TEXT COLLATE "C" PRIMARY KEY,
  farm_id    TEXT COLLATE "C" NOT NULL REFERENCES farms (id),
  officer_id TEXT COLLATE "C" NOT NULL,
  on_date    INTEGER NOT NULL,
  state      TEXT COLLATE "C" NOT NULL,              -- planned, done, missed
  reasons    TEXT COLLATE "C" NOT NULL DEFAULT '[]', -- why, at planning
  agenda     TEXT COLLATE "C" NOT NULL DEFAULT '[]', -- what to do there
  findings   TEXT COLLATE "C" NOT NULL DEFAULT '',
  missed     TEXT COLLATE "C" NOT NULL DEFAULT '',   -- reason when missed
  done_on    INTEGER NOT NULL DEFAULT 0,
  dealt      TEXT COLLATE "C" NOT NULL DEFAULT '[]', -- reasons that the visit dealt with
  planned_by TEXT COLLATE "C" NOT NULL,
  version    INTEGER NOT NULL DEFAULT 1
);
CREATE INDEX visits_farm ON visits (farm_id, on_date);
CREATE INDEX visits_officer ON visits (officer_id, on_date);
CREATE INDEX visits_day ON visits (on_date, id);

-- An owner (or the desk for one) asks for a visit.
CREATE TABLE visit_requests (
  id        TEXT COLLATE "C" PRIMARY KEY,
  farm_id   TEXT COLLATE "C" NOT NULL REFERENCES farms (id),
  person_id TEXT COLLATE "C" NOT NULL,
  on_date   INTEGER NOT NULL,
  text      TEXT COLLATE "C" NOT NULL DEFAULT '',
  answered_on INTEGER NOT NULL DEFAULT 0
);
CREATE INDEX visit_requests_farm ON visit_requests (farm_id);

-- Every change of the register and of the work: who, when, before, after.
CREATE TABLE audit (
  id        TEXT COLLATE "C" PRIMARY KEY,
  at        BIGINT NOT NULL,
  person_id TEXT COLLATE "C" NOT NULL,               -- '' = the system
  verb      TEXT COLLATE "C" NOT NULL,
  thing     TEXT COLLATE "C" NOT NULL,
  thing_id  TEXT COLLATE "C" NOT NULL,
  farm_id   TEXT COLLATE "C" NOT NULL DEFAULT '',
  before    TEXT COLLATE "C" NOT NULL DEFAULT '',
  after     TEXT COLLATE "C" NOT NULL DEFAULT ''
);
CREATE INDEX audit_at ON audit (at, id);
CREATE INDEX audit_thing ON audit (thing, thing_id, at, id);
CREATE INDEX audit_farm ON audit (farm_id, at, id);

CREATE TABLE idempotency_keys (
  person_id  TEXT COLLATE "C" NOT NULL,
  key        TEXT COLLATE "C" NOT NULL,
  request    TEXT COLLATE "C" NOT NULL,              -- hash of method, path and body
  status     INTEGER NOT NULL DEFAULT 0, -- 0 while under way
  etag       TEXT COLLATE "C" NOT NULL DEFAULT '',
  body       TEXT COLLATE "C" NOT NULL DEFAULT '',
  made_at    BIGINT NOT NULL,
  PRIMARY KEY (person_id, key)
);
CREATE INDEX idempotency_keys_age ON idempotency_keys (made_at);

-- +goose Down
DROP TABLE idempotency_keys;
DROP TABLE audit;
DROP TABLE visit_requests;
DROP TABLE visits;
DROP TABLE promises;
DROP TABLE calls;
