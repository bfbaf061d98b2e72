-- +goose Up
-- The parts of a pass: rounds of questions with what came of each question,
-- and practical checks. Both are events; these rows are what reads need.
CREATE TABLE module_attempts (
  event_id   TEXT COLLATE "C" PRIMARY KEY REFERENCES events (id),
  person_id  TEXT COLLATE "C" NOT NULL REFERENCES people (id),
  farm_id    TEXT COLLATE "C" NOT NULL REFERENCES farms (id),
  enterprise TEXT COLLATE "C" NOT NULL,
  module     TEXT COLLATE "C" NOT NULL,
  on_date    INTEGER NOT NULL,
  how        TEXT COLLATE "C" NOT NULL,                 -- phone, aloud
  asked      INTEGER NOT NULL,
  correct    INTEGER NOT NULL,
  passed     BOOLEAN NOT NULL,
  at_once    BOOLEAN NOT NULL,               -- stocking waited for it
  by_id      TEXT COLLATE "C" NOT NULL DEFAULT ''
);
CREATE INDEX module_attempts_person ON module_attempts (person_id, enterprise, module, on_date);
CREATE INDEX module_attempts_farm ON module_attempts (farm_id, on_date);

CREATE TABLE module_answers (
  event_id TEXT COLLATE "C" NOT NULL REFERENCES module_attempts (event_id),
  question TEXT COLLATE "C" NOT NULL,
  correct  BOOLEAN NOT NULL,
  PRIMARY KEY (event_id, question)
);

CREATE TABLE module_checks (
  event_id   TEXT COLLATE "C" PRIMARY KEY REFERENCES events (id),
  person_id  TEXT COLLATE "C" NOT NULL REFERENCES people (id),
  farm_id    TEXT COLLATE "C" NOT NULL REFERENCES farms (id),
  enterprise TEXT COLLATE "C" NOT NULL,
  module     TEXT COLLATE "C" NOT NULL,
  on_date    INTEGER NOT NULL,
  how        TEXT COLLATE "C" NOT NULL,                 -- visit, video, in-person
  passed     BOOLEAN NOT NULL,
  missed     TEXT COLLATE "C" NOT NULL DEFAULT '[]',    -- keys of the tasks not done yet
  by_id      TEXT COLLATE "C" NOT NULL
);
CREATE INDEX module_checks_person ON module_checks (person_id, enterprise, module, on_date);

CREATE TABLE certificates (
  code      TEXT COLLATE "C" PRIMARY KEY,
  person_id TEXT COLLATE "C" NOT NULL REFERENCES people (id),
  modules   TEXT COLLATE "C" NOT NULL,                  -- enterprise and key of each
  issued_at BIGINT NOT NULL,
  by_id     TEXT COLLATE "C" NOT NULL
);
CREATE INDEX certificates_person ON certificates (person_id, issued_at);

-- The check that completed a pass; '' for one that rests on no such parts.
ALTER TABLE passes ADD COLUMN event_id TEXT COLLATE "C" NOT NULL DEFAULT '';

-- +goose Down
ALTER TABLE passes DROP COLUMN event_id;
DROP TABLE certificates;
DROP TABLE module_checks;
DROP TABLE module_answers;
DROP TABLE module_attempts;
