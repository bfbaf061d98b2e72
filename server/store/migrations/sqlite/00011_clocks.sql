-- +goose Up
-- When an entry was made, by its phone's hybrid logical clock; '' for those
-- of the time before there were stamps.
ALTER TABLE events ADD COLUMN hlc TEXT NOT NULL DEFAULT '';
-- The same of the entry whose mark stands, from its id where it had no stamp:
-- the twelve hexadecimal digits of milliseconds in a UUIDv7.
ALTER TABLE marks ADD COLUMN made TEXT NOT NULL DEFAULT '';
UPDATE marks SET made = lower(substr(event_id, 1, 8) || substr(event_id, 10, 4)) || '-0000-' || event_id
WHERE length(event_id) = 36 AND substr(event_id, 9, 1) = '-' AND substr(event_id, 14, 2) = '-7';

-- Who of the firm first read an entry, and when: the caretaker sees it.
CREATE TABLE entries_seen (
  event_id  TEXT PRIMARY KEY REFERENCES events (id),
  person_id TEXT NOT NULL, -- whose entry it is
  seen_by   TEXT NOT NULL,
  seen_at   BIGINT NOT NULL
);
CREATE INDEX entries_seen_person ON entries_seen (person_id, seen_at);

-- +goose Down
DROP TABLE entries_seen;
ALTER TABLE marks DROP COLUMN made;
ALTER TABLE events DROP COLUMN hlc;
