-- +goose Up
-- What was advised on a call by a triage card: the card as it stood, the
-- answers, and the sentences that were said. What is said is kept as said;
-- a later version of the card changes nothing here.
CREATE TABLE call_cards (
  call_id      TEXT PRIMARY KEY REFERENCES calls (id),
  farm_id      TEXT NOT NULL REFERENCES farms (id),
  enterprise   TEXT NOT NULL,
  sign         TEXT NOT NULL,
  card_version INTEGER NOT NULL,
  language     TEXT NOT NULL,
  answers      TEXT NOT NULL,               -- in the order given
  ending       TEXT NOT NULL,               -- '' = the call ended before the card did
  suspects     TEXT NOT NULL,
  impact       TEXT NOT NULL,
  time_to_loss TEXT NOT NULL,
  danger       BOOLEAN NOT NULL,
  goes         TEXT NOT NULL,               -- when a person goes there
  sentences    TEXT NOT NULL,
  why          TEXT NOT NULL DEFAULT '',    -- of whoever saw it differently
  sent_text    TEXT NOT NULL DEFAULT '',    -- as sent to the farm, '' = not sent
  tell_by      BIGINT NOT NULL DEFAULT 0,   -- the veterinary service; 0 = need not be told
  told_at      BIGINT NOT NULL DEFAULT 0,
  told_by      TEXT NOT NULL DEFAULT '',
  told_how     TEXT NOT NULL DEFAULT ''
);
CREATE INDEX call_cards_farm ON call_cards (farm_id, call_id);
CREATE INDEX call_cards_tell ON call_cards (tell_by) WHERE tell_by > 0 AND told_at = 0;

-- A veterinarian's word on a version of a card.
CREATE TABLE card_reviews (
  id            TEXT PRIMARY KEY,
  enterprise    TEXT NOT NULL,
  sign          TEXT NOT NULL,
  card_version  INTEGER NOT NULL,
  reviewer      TEXT NOT NULL,
  qualification TEXT NOT NULL,
  signed_on     INTEGER NOT NULL,
  agrees        BOOLEAN NOT NULL,
  note          TEXT NOT NULL DEFAULT '',
  by_id         TEXT NOT NULL REFERENCES people (id),
  at            BIGINT NOT NULL
);
CREATE INDEX card_reviews_card ON card_reviews (enterprise, sign, card_version);

-- +goose Down
DROP TABLE card_reviews;
DROP TABLE call_cards;
