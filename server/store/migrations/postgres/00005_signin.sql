-- +goose Up
CREATE TABLE passwords (
  person_id  TEXT PRIMARY KEY REFERENCES people (id),
  hash       TEXT NOT NULL,
  totp       TEXT NOT NULL DEFAULT '',   -- secret, '' = not set up
  totp_step  BIGINT NOT NULL DEFAULT 0,  -- last time step used, so that a code works once
  failures   INTEGER NOT NULL DEFAULT 0,
  not_before BIGINT NOT NULL DEFAULT 0,
  changed_at BIGINT NOT NULL
);

-- Ways onto a phone: a link or QR (128 bits, 48 h), or a spoken code.
CREATE TABLE enrolments (
  id         TEXT PRIMARY KEY,
  person_id  TEXT NOT NULL REFERENCES people (id),
  kind       TEXT NOT NULL,              -- link, code
  secret     TEXT NOT NULL,              -- a hash, never the secret
  made_by    TEXT NOT NULL,
  made_at    BIGINT NOT NULL,
  expires_at BIGINT NOT NULL,
  failures   INTEGER NOT NULL DEFAULT 0,
  spent_at   BIGINT NOT NULL DEFAULT 0
);
CREATE INDEX enrolments_person ON enrolments (person_id);
CREATE UNIQUE INDEX enrolments_secret ON enrolments (secret);

CREATE TABLE devices (
  id          TEXT PRIMARY KEY,
  person_id   TEXT NOT NULL REFERENCES people (id),
  name        TEXT NOT NULL DEFAULT '',
  public_key  TEXT NOT NULL,             -- JWK, EC P-256
  enrolled_at BIGINT NOT NULL,
  seen_at     BIGINT NOT NULL,
  failures    INTEGER NOT NULL DEFAULT 0,
  revoked_at  BIGINT NOT NULL DEFAULT 0
);
CREATE INDEX devices_person ON devices (person_id);

-- A session is a family of refresh tokens.
CREATE TABLE sessions (
  id          TEXT PRIMARY KEY,
  person_id   TEXT NOT NULL REFERENCES people (id),
  device_id   TEXT NOT NULL DEFAULT '',
  current     TEXT NOT NULL,             -- hash of the newest refresh token
  previous    TEXT NOT NULL DEFAULT '',  -- hash of the one before, good for a retry
  successor   TEXT NOT NULL DEFAULT '',  -- the sealed newest token, for a retry's same answer
  rotated_at  BIGINT NOT NULL,
  started_at  BIGINT NOT NULL,
  expires_at  BIGINT NOT NULL,
  revoked_at  BIGINT NOT NULL DEFAULT 0,
  agent       TEXT NOT NULL DEFAULT ''
);
CREATE INDEX sessions_person ON sessions (person_id);

CREATE TABLE nonces (
  nonce      TEXT PRIMARY KEY,
  device_id  TEXT NOT NULL,
  expires_at BIGINT NOT NULL
);

-- Guessing is counted here, so that the count outlives a crash.
CREATE TABLE attempts (
  scope      TEXT PRIMARY KEY,           -- what is being guessed at, and from where
  failures   INTEGER NOT NULL,
  not_before BIGINT NOT NULL,
  seen_at    BIGINT NOT NULL
);

-- Keys that sign access tokens and seal the outbox, by kid.
CREATE TABLE server_keys (
  kid        TEXT PRIMARY KEY,
  purpose    TEXT NOT NULL,
  public     TEXT NOT NULL,
  made_at    BIGINT NOT NULL,
  retired_at BIGINT NOT NULL DEFAULT 0
);

-- +goose Down
DROP TABLE server_keys;
DROP TABLE attempts;
DROP TABLE nonces;
DROP TABLE sessions;
DROP TABLE devices;
DROP TABLE enrolments;
DROP TABLE passwords;
