-- +goose Up
-- Photos and voice notes: what was announced, and what is kept of it. The
-- bytes are files under the hash that blob names. The entry may come after.
CREATE TABLE media (
  id             TEXT PRIMARY KEY,
  farm_id        TEXT NOT NULL REFERENCES farms (id),
  entry_id       TEXT NOT NULL,
  kind           TEXT NOT NULL,              -- photo, voice
  person_id      TEXT NOT NULL,
  size           BIGINT NOT NULL,            -- as sent, in bytes
  sha256         TEXT NOT NULL,              -- of what is sent
  lat            DOUBLE PRECISION NOT NULL DEFAULT 0,
  lng            DOUBLE PRECISION NOT NULL DEFAULT 0,
  position_known BOOLEAN NOT NULL DEFAULT FALSE, -- the person agreed to say where
  announced_at   BIGINT NOT NULL,
  state          TEXT NOT NULL,              -- coming, kept, refused
  why            TEXT NOT NULL DEFAULT '',   -- code of a refusal
  kept_at        BIGINT NOT NULL DEFAULT 0,
  blob           TEXT NOT NULL DEFAULT '',
  thumb          TEXT NOT NULL DEFAULT '',
  type           TEXT NOT NULL DEFAULT '',   -- by content
  bytes          BIGINT NOT NULL DEFAULT 0,  -- as kept
  width          INTEGER NOT NULL DEFAULT 0,
  height         INTEGER NOT NULL DEFAULT 0
);
CREATE INDEX media_entry ON media (entry_id, id);
CREATE INDEX media_person ON media (person_id, announced_at);

-- +goose Down
DROP TABLE media;
