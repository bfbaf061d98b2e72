-- +goose Up
-- A member of staff's password. login is what they type: their e-mail, else
-- their phone, folded.
CREATE TABLE passwords (
  person_id    TEXT COLLATE "C" PRIMARY KEY REFERENCES people (id),
  login        TEXT COLLATE "C" NOT NULL,
  hash         TEXT COLLATE "C" NOT NULL,              -- argon2id with its own parameters
  short        BOOLEAN NOT NULL DEFAULT FALSE, -- under 15 characters: good with a second factor only
  totp         TEXT COLLATE "C" NOT NULL DEFAULT '',   -- sealed; '' = no second factor
  totp_pending TEXT COLLATE "C" NOT NULL DEFAULT '',   -- sealed; shown, not proved yet
  totp_step    BIGINT NOT NULL DEFAULT 0,  -- last time step used, so that a code works once
  changed_at   BIGINT NOT NULL
);
CREATE UNIQUE INDEX passwords_login ON passwords (login);

-- Ways in: a link or QR (128 bits, 48 h), or a spoken code (8 characters,
-- 10 min, 5 tries) of which the first three name the row.
CREATE TABLE enrolments (
  id         TEXT COLLATE "C" PRIMARY KEY,
  person_id  TEXT COLLATE "C" NOT NULL REFERENCES people (id),
  purpose    TEXT COLLATE "C" NOT NULL,               -- phone, password, reset
  kind       TEXT COLLATE "C" NOT NULL,               -- link, code
  handle     TEXT COLLATE "C" NOT NULL DEFAULT '',    -- of a code that is still good
  secret     TEXT COLLATE "C" NOT NULL,               -- a hash, never the secret
  made_by    TEXT COLLATE "C" NOT NULL,
  made_at    BIGINT NOT NULL,
  expires_at BIGINT NOT NULL,
  failures   INTEGER NOT NULL DEFAULT 0,
  spent_at   BIGINT NOT NULL DEFAULT 0,
  device_id  TEXT COLLATE "C" NOT NULL DEFAULT ''     -- the phone that spent it, which may ask again when the answer was lost
);
CREATE INDEX enrolments_person ON enrolments (person_id);
CREATE UNIQUE INDEX enrolments_secret ON enrolments (secret);
CREATE UNIQUE INDEX enrolments_handle ON enrolments (handle) WHERE handle <> '';

CREATE TABLE devices (
  id          TEXT COLLATE "C" PRIMARY KEY,
  person_id   TEXT COLLATE "C" NOT NULL REFERENCES people (id),
  name        TEXT COLLATE "C" NOT NULL DEFAULT '',
  public_key  TEXT COLLATE "C" NOT NULL,              -- JWK, EC P-256
  enrolled_at BIGINT NOT NULL,
  seen_at     BIGINT NOT NULL,
  failures    INTEGER NOT NULL DEFAULT 0, -- wrong PINs in a row, as the phone reports them
  revoked_at  BIGINT NOT NULL DEFAULT 0
);
CREATE INDEX devices_person ON devices (person_id);

-- A session is a family of refresh tokens, of which only the count is kept:
-- each one is a keyed function of session and generation.
CREATE TABLE sessions (
  id         TEXT COLLATE "C" PRIMARY KEY,
  person_id  TEXT COLLATE "C" NOT NULL REFERENCES people (id),
  device_id  TEXT COLLATE "C" NOT NULL DEFAULT '',
  generation BIGINT NOT NULL DEFAULT 0,
  rotated_at BIGINT NOT NULL,
  started_at BIGINT NOT NULL,
  expires_at BIGINT NOT NULL,
  ended_at   BIGINT NOT NULL DEFAULT 0,
  ended_why  TEXT COLLATE "C" NOT NULL DEFAULT '',
  agent      TEXT COLLATE "C" NOT NULL DEFAULT ''
);
CREATE INDEX sessions_person ON sessions (person_id, started_at, id);
CREATE INDEX sessions_device ON sessions (device_id);

-- Nonces that were spent; one that was not is in no table.
CREATE TABLE nonces (
  nonce      TEXT COLLATE "C" PRIMARY KEY,
  expires_at BIGINT NOT NULL
);
CREATE INDEX nonces_expires ON nonces (expires_at);

-- Wrong tries are counted here, so that the count outlives a crash.
CREATE TABLE attempts (
  scope      TEXT COLLATE "C" PRIMARY KEY,            -- what is guessed at, and from where
  failures   INTEGER NOT NULL,
  not_before BIGINT NOT NULL,
  seen_at    BIGINT NOT NULL
);
CREATE INDEX attempts_seen ON attempts (seen_at);

-- The ids of the signing keys that this database has been served with, so
-- that a server started without one of them says so.
CREATE TABLE server_keys (
  kid     TEXT COLLATE "C" PRIMARY KEY,
  made_at BIGINT NOT NULL
);

-- +goose Down
DROP TABLE server_keys;
DROP TABLE attempts;
DROP TABLE nonces;
DROP TABLE sessions;
DROP TABLE devices;
DROP TABLE enrolments;
DROP TABLE passwords;
