-- +goose Up
-- The day on which the cycle entered the standing that it has by dates alone:
-- a visit took away what was known by then, not what came afterwards.
ALTER TABLE cycles ADD COLUMN entered_on INTEGER NOT NULL DEFAULT 0;
ALTER TABLE promises ADD COLUMN made_on INTEGER NOT NULL DEFAULT 0;
CREATE INDEX promises_call ON promises (call_id) WHERE call_id <> '';
CREATE INDEX calls_started ON calls (started_at, id);
CREATE INDEX visit_requests_open ON visit_requests (farm_id) WHERE answered_on = 0;
CREATE INDEX ticket_events_day ON ticket_events (kind, on_date);

-- +goose Down
DROP INDEX ticket_events_day;
DROP INDEX visit_requests_open;
DROP INDEX calls_started;
DROP INDEX promises_call;
ALTER TABLE promises DROP COLUMN made_on;
ALTER TABLE cycles DROP COLUMN entered_on;
