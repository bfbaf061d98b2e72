-- +goose Up
CREATE TABLE calls (
  id         TEXT PRIMARY KEY,
  farm_id    TEXT NOT NULL DEFAULT '',
  person_id  TEXT NOT NULL DEFAULT '',   -- who called, if known
  phone      TEXT NOT NULL DEFAULT '',
  channel    TEXT NOT NULL,              -- phone, text, chat, in-person
  said       TEXT NOT NULL DEFAULT '',
  advice     TEXT NOT NULL DEFAULT '',
  ticket_id  TEXT NOT NULL DEFAULT '',
  taken_by   TEXT NOT NULL,
  started_at BIGINT NOT NULL,
  ended_at   BIGINT NOT NULL DEFAULT 0,
  version    INTEGER NOT NULL DEFAULT 1
);
CREATE INDEX calls_farm ON calls (farm_id, started_at, id);

CREATE TABLE promises (
  id        TEXT PRIMARY KEY,
  call_id   TEXT NOT NULL DEFAULT '',
  farm_id   TEXT NOT NULL REFERENCES farms (id),
  kind      TEXT NOT NULL,               -- call-back, visit, other
  text      TEXT NOT NULL,
  due_on    INTEGER NOT NULL,
  kept_on   INTEGER NOT NULL DEFAULT 0,
  kept_by   TEXT NOT NULL DEFAULT '',
  made_by   TEXT NOT NULL,
  version   INTEGER NOT NULL DEFAULT 1
);
CREATE INDEX promises_open ON promises (due_on, id) WHERE kept_on = 0;
CREATE INDEX promises_farm ON promises (farm_id);

CREATE TABLE visits (
  id         TEXT PRIMARY KEY,
  farm_id    TEXT NOT NULL REFERENCES farms (id),
  officer_id TEXT NOT NULL,
  on_date    INTEGER NOT NULL,
  state      TEXT NOT NULL,              -- planned, done, missed
  reasons    TEXT NOT NULL DEFAULT '[]', -- why, at planning
  agenda     TEXT NOT NULL DEFAULT '[]', -- what to do there
  findings   TEXT NOT NULL DEFAULT '',
  missed     TEXT NOT NULL DEFAULT '',   -- reason when missed
  done_on    INTEGER NOT NULL DEFAULT 0,
  dealt      TEXT NOT NULL DEFAULT '[]', -- reasons that the visit dealt with
  planned_by TEXT NOT NULL,
  version    INTEGER NOT NULL DEFAULT 1
);
CREATE INDEX visits_farm ON visits (farm_id, on_date);
CREATE INDEX visits_officer ON visits (officer_id, on_date);
CREATE INDEX visits_day ON visits (on_date, id);

-- An owner (or the desk for one) asks for a visit.
CREATE TABLE visit_requests (
  id        TEXT PRIMARY KEY,
  farm_id   TEXT NOT NULL REFERENCES farms (id),
  person_id TEXT NOT NULL,
  on_date   INTEGER NOT NULL,
  text      TEXT NOT NULL DEFAULT '',
  answered_on INTEGER NOT NULL DEFAULT 0
);
CREATE INDEX visit_requests_farm ON visit_requests (farm_id);

-- Every change of the register and of the work: who, when, before, after.
CREATE TABLE audit (
  id        TEXT PRIMARY KEY,
  at        BIGINT NOT NULL,
  person_id TEXT NOT NULL,               -- '' = the system
  verb      TEXT NOT NULL,
  thing     TEXT NOT NULL,
  thing_id  TEXT NOT NULL,
  farm_id   TEXT NOT NULL DEFAULT '',
  before    TEXT NOT NULL DEFAULT '',
  after     TEXT NOT NULL DEFAULT ''
);
CREATE INDEX audit_at ON audit (at, id);
CREATE INDEX audit_thing ON audit (thing, thing_id, at, id);
CREATE INDEX audit_farm ON audit (farm_id, at, id);

CREATE TABLE idempotency_keys (
  person_id  TEXT NOT NULL,
  key        TEXT NOT NULL,
  request    TEXT NOT NULL,              -- hash of method, path and body
  status     INTEGER NOT NULL DEFAULT 0, -- 0 while under way
  etag       TEXT NOT NULL DEFAULT '',
  body       TEXT NOT NULL DEFAULT '',
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
