-- +goose Up
-- What holds the cycle up most, by the last account of its losses. It stands
-- for as long as nothing that the account follows from has changed.
ALTER TABLE cycles ADD COLUMN hold_up TEXT NOT NULL DEFAULT '';

-- +goose Down
ALTER TABLE cycles DROP COLUMN hold_up;
