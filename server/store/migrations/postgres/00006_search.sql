-- +goose Up
-- What a person may type to find a farm: the folded words of its name, town
-- and landmark, of its client and its people, and every tail of their phone
-- numbers (so that any part of a number is the start of a word). doc is the
-- farm; a person or client without a farm is a doc of its own.
CREATE TABLE search_words (
  word     TEXT COLLATE "C" NOT NULL,
  doc      TEXT COLLATE "C" NOT NULL,
  kind     TEXT COLLATE "C" NOT NULL,   -- farm, person, client
  thing_id TEXT COLLATE "C" NOT NULL,
  field    TEXT COLLATE "C" NOT NULL,   -- name, phone, town, landmark
  PRIMARY KEY (word, doc, kind, thing_id, field)
);
CREATE INDEX search_words_doc ON search_words (doc, word);
CREATE INDEX search_words_thing ON search_words (thing_id, word);

-- +goose Down
DROP TABLE search_words;
