-- +goose Up
-- Text messages that came in, each once however often the gateway sends it.
CREATE TABLE text_ins (
  id          TEXT PRIMARY KEY,
  gateway_id  TEXT NOT NULL,
  phone       TEXT NOT NULL,
  body        TEXT NOT NULL,
  received_at BIGINT NOT NULL,
  person_id   TEXT NOT NULL DEFAULT '',
  farm_id     TEXT NOT NULL DEFAULT '',
  ticket_id   TEXT NOT NULL DEFAULT '',
  state       TEXT NOT NULL,              -- placed, waiting (somebody must call back), dealt
  dealt_by    TEXT NOT NULL DEFAULT '',
  dealt_at    BIGINT NOT NULL DEFAULT 0,
  version     INTEGER NOT NULL DEFAULT 1
);
CREATE UNIQUE INDEX text_ins_gateway ON text_ins (gateway_id);
CREATE INDEX text_ins_waiting ON text_ins (received_at, id) WHERE state = 'waiting';
CREATE INDEX text_ins_phone ON text_ins (phone, received_at);

-- What goes out: texts, e-mails and notices to browsers.
CREATE TABLE messages (
  id          TEXT PRIMARY KEY,
  ticket_id   TEXT NOT NULL DEFAULT '',
  farm_id     TEXT NOT NULL DEFAULT '',
  person_id   TEXT NOT NULL DEFAULT '',
  channel     TEXT NOT NULL,              -- text, email, push
  address     TEXT NOT NULL,              -- phone, e-mail address, or the person whose browsers are told
  language    TEXT NOT NULL,
  subject     TEXT NOT NULL DEFAULT '',
  body        TEXT NOT NULL,
  urgent      BOOLEAN NOT NULL DEFAULT FALSE, -- a danger: no quiet hours, no budget, no digest
  answer      BOOLEAN NOT NULL DEFAULT FALSE, -- to what the same number has just sent
  state       TEXT NOT NULL,              -- waiting, sending, sent, delivered, failed, gathered, no-gateway, opted-out, over-budget
  why         TEXT NOT NULL DEFAULT '',
  parts       INTEGER NOT NULL DEFAULT 0,
  tries       INTEGER NOT NULL DEFAULT 0,
  month       TEXT NOT NULL DEFAULT '',   -- in which its parts count, once sent
  made_at     BIGINT NOT NULL,
  not_before  BIGINT NOT NULL,
  claimed_at  BIGINT NOT NULL DEFAULT 0,
  done_at     BIGINT NOT NULL DEFAULT 0,
  provider_id TEXT NOT NULL DEFAULT '',
  gathered_into TEXT NOT NULL DEFAULT '',
  version     INTEGER NOT NULL DEFAULT 1
);
CREATE INDEX messages_ticket ON messages (ticket_id, made_at, id);
CREATE INDEX messages_waiting ON messages (channel, address, not_before) WHERE state = 'waiting';
CREATE INDEX messages_month ON messages (month);
CREATE INDEX messages_provider ON messages (provider_id);

CREATE TABLE opt_outs (
  phone TEXT PRIMARY KEY,
  at    BIGINT NOT NULL
);

-- One row: how the firm reaches people.
CREATE TABLE reach_settings (
  id            INTEGER PRIMARY KEY,
  monthly_parts INTEGER NOT NULL,
  quiet_from    INTEGER NOT NULL,         -- minutes after midnight where the farm is
  quiet_to      INTEGER NOT NULL,
  version       INTEGER NOT NULL DEFAULT 1
);
INSERT INTO reach_settings (id, monthly_parts, quiet_from, quiet_to) VALUES (1, 1000, 1260, 360);

-- Browsers that asked to be told.
CREATE TABLE push_subscriptions (
  id        TEXT PRIMARY KEY,
  person_id TEXT NOT NULL REFERENCES people (id),
  endpoint  TEXT NOT NULL,
  p256dh    TEXT NOT NULL,
  auth      TEXT NOT NULL,
  made_at   BIGINT NOT NULL
);
CREATE UNIQUE INDEX push_subscriptions_endpoint ON push_subscriptions (endpoint);
CREATE INDEX push_subscriptions_person ON push_subscriptions (person_id);

-- What happened to tickets, numbered in the order of the commits without
-- gaps, so that a reader that has seen a number has seen all before it.
CREATE TABLE news_last (
  id   INTEGER PRIMARY KEY,
  last BIGINT NOT NULL
);
INSERT INTO news_last (id, last) VALUES (1, 0);
CREATE TABLE news (
  seq       BIGINT PRIMARY KEY,
  ticket_id TEXT NOT NULL,
  kind      TEXT NOT NULL,                -- changed, here
  at        BIGINT NOT NULL
);
CREATE INDEX news_at ON news (at);

-- Who has which ticket open on a screen.
CREATE TABLE presence (
  ticket_id TEXT NOT NULL,
  person_id TEXT NOT NULL,
  until     BIGINT NOT NULL,
  PRIMARY KEY (ticket_id, person_id)
);

CREATE TABLE saved_filters (
  person_id TEXT NOT NULL REFERENCES people (id),
  name      TEXT NOT NULL,
  filter    TEXT NOT NULL,
  PRIMARY KEY (person_id, name)
);

-- Tickets that belong together and stay two.
CREATE TABLE ticket_links (
  ticket_id TEXT NOT NULL REFERENCES tickets (id),
  other_id  TEXT NOT NULL REFERENCES tickets (id),
  by_id     TEXT NOT NULL,
  at        BIGINT NOT NULL,
  PRIMARY KEY (ticket_id, other_id)
);
CREATE INDEX ticket_links_other ON ticket_links (other_id);

-- Complaints about the firm, step by step as ISO 10002 has them.
CREATE TABLE complaints (
  id              TEXT PRIMARY KEY,
  seq             INTEGER NOT NULL,
  year            INTEGER NOT NULL,
  farm_id         TEXT NOT NULL REFERENCES farms (id),
  ticket_id       TEXT NOT NULL DEFAULT '',
  person_id       TEXT NOT NULL DEFAULT '', -- who complains, if known
  channel         TEXT NOT NULL,
  said            TEXT NOT NULL,
  state           TEXT NOT NULL,            -- received, assessed, answered, closed
  severity        TEXT NOT NULL DEFAULT '', -- low, middle, high
  safety          BOOLEAN NOT NULL DEFAULT FALSE,
  holder_id       TEXT NOT NULL DEFAULT '',
  received_at     BIGINT NOT NULL,
  received_by     TEXT NOT NULL,
  acknowledged_at BIGINT NOT NULL DEFAULT 0,
  found           TEXT NOT NULL DEFAULT '', -- what the look into it found
  decision        TEXT NOT NULL DEFAULT '',
  answered_at     BIGINT NOT NULL DEFAULT 0,
  content         TEXT NOT NULL DEFAULT '', -- yes, no: whether who complained is content
  closed_at       BIGINT NOT NULL DEFAULT 0,
  closed_by       TEXT NOT NULL DEFAULT '',
  version         INTEGER NOT NULL DEFAULT 1
);
CREATE UNIQUE INDEX complaints_number ON complaints (seq, year);
CREATE INDEX complaints_farm ON complaints (farm_id, received_at);

-- +goose Down
DROP TABLE complaints;
DROP TABLE ticket_links;
DROP TABLE saved_filters;
DROP TABLE presence;
DROP TABLE news;
DROP TABLE news_last;
DROP TABLE push_subscriptions;
DROP TABLE reach_settings;
DROP TABLE opt_outs;
DROP TABLE messages;
DROP TABLE text_ins;
