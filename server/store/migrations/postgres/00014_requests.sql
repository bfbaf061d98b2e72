-- +goose Up
-- What the firm asks the people of a farm to do, on a ticket or by itself,
-- and the answer that was given last. Every answer is an event as well.
CREATE TABLE requests (
  id          TEXT COLLATE "C" PRIMARY KEY,
  farm_id     TEXT COLLATE "C" NOT NULL REFERENCES farms (id),
  unit_id     TEXT COLLATE "C" NOT NULL DEFAULT '',     -- '' = the farm as a whole
  ticket_id   TEXT COLLATE "C" NOT NULL DEFAULT '',     -- '' = on no ticket
  text        TEXT COLLATE "C" NOT NULL,
  from_on     INTEGER NOT NULL,             -- the first day on which it is asked for
  due_on      INTEGER NOT NULL,
  asked_by    TEXT COLLATE "C" NOT NULL REFERENCES people (id),
  asked_at    BIGINT NOT NULL,
  withdrawn_on INTEGER NOT NULL DEFAULT 0,
  answer      TEXT COLLATE "C" NOT NULL DEFAULT '',     -- done, could-not
  reason      TEXT COLLATE "C" NOT NULL DEFAULT '',     -- of could-not
  note        TEXT COLLATE "C" NOT NULL DEFAULT '',
  answered_by TEXT COLLATE "C" NOT NULL DEFAULT '',
  answered_on INTEGER NOT NULL DEFAULT 0,
  answer_id   TEXT COLLATE "C" NOT NULL DEFAULT '',     -- the entry that answers
  answer_made TEXT COLLATE "C" NOT NULL DEFAULT '',     -- when that was made, as a text that sorts
  version     INTEGER NOT NULL DEFAULT 1
);
CREATE INDEX requests_farm ON requests (farm_id, due_on, id);
CREATE INDEX requests_ticket ON requests (ticket_id) WHERE ticket_id <> '';

-- +goose Down
DROP TABLE requests;
