-- +goose Up
-- What a person may type to find a farm: the folded words of its name, town
-- and landmark, of its client and its people, and every tail of their phone
-- numbers (so that any part of a number is the start of a word). doc is the
-- farm; a person or client without a farm is a doc of its own.
CREATE TABLE search_words (
  word     TEXT NOT NULL,
  doc      TEXT NOT NULL,
  kind     TEXT NOT NULL,   -- farm, person, client
  thing_id TEXT NOT NULL,
  field    TEXT NOT NULL,   -- name, phone, town, landmark
  PRIMARY KEY (word, doc, kind, thing_id, field)
) WITHOUT ROWID;
CREATE INDEX search_words_doc ON search_words (doc, word);
CREATE INDEX search_words_thing ON search_words (thing_id, word);

-- +goose Down
DROP TABLE search_words;
