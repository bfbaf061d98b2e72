-- +goose Up
-- Who is away and who does their work meanwhile: what they promised stands on
-- the list of whoever covers.
CREATE TABLE absences (
  id         TEXT PRIMARY KEY,
  person_id  TEXT NOT NULL REFERENCES people (id),
  cover_id   TEXT NOT NULL REFERENCES people (id),
  from_date  INTEGER NOT NULL,
  until_date INTEGER NOT NULL,
  made_by    TEXT NOT NULL REFERENCES people (id)
);
CREATE INDEX absences_cover ON absences (cover_id, until_date);

-- +goose Down
DROP TABLE absences;
