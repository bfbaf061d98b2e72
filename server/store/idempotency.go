package store

import (
	"context"
	"time"

	"tendfold/domain"
	"tendfold/server/app"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"
)

type keyRow struct {
	PersonID string `gorm:"primaryKey"`
	Key      string `gorm:"primaryKey"`
	Request  string
	Status   int
	ETag     string `gorm:"column:etag"`
	Body     string
	MadeAt   micros
}

func (keyRow) TableName() string { return "idempotency_keys" }

// BeginKey claims a person's idempotency key for a request, in the
// transaction of the request's effect. When the key was used before, done is
// true and the answer is what was said then; with another request it is a
// conflict of kind invalid. Of several equal requests at once, one claims the
// key and the others wait for its answer.
func (s *Store) BeginKey(ctx context.Context, personID, key, request string, at time.Time) (answer app.Answer, done bool, err error) {
	if s.tx(ctx) == nil {
		return answer, false, &domain.Error{Kind: domain.KindInternal, Code: "no-transaction", Text: "A key is claimed in the transaction of its effect."}
	}
	row := keyRow{PersonID: personID, Key: key, Request: request, MadeAt: toMicros(at)}
	if err := storableRows([]keyRow{row}); err != nil {
		return answer, false, err
	}
	res := s.from(ctx).Clauses(clause.OnConflict{Columns: []clause.Column{{Name: "person_id"}, {Name: "key"}}, DoNothing: true}).Create(&row)
	if res.Error != nil || res.RowsAffected == 1 {
		return answer, false, mapError(res.Error, "idempotency key")
	}
	kept, err := one[keyRow](byPersonKey(s.from(ctx), personID, key), "idempotency key")
	if err != nil {
		return answer, false, err
	}
	if kept.Request != request {
		return answer, false, domain.Invalid("idempotency-key-reused", "This Idempotency-Key was used for another request. Make a new key for a new request.")
	}
	return app.Answer{Request: kept.Request, Status: kept.Status, ETag: kept.ETag, Body: kept.Body}, true, nil
}

func byPersonKey(q *gorm.DB, personID, key string) *gorm.DB {
	return q.Where(clause.Eq{Column: "person_id", Value: personID}, clause.Eq{Column: "key", Value: key})
}

// FinishKey keeps what the request was answered, in the same transaction.
func (s *Store) FinishKey(ctx context.Context, personID, key string, a app.Answer) error {
	return found(byPersonKey(s.from(ctx).Model(&keyRow{}), personID, key).
		Updates(map[string]any{"status": a.Status, "etag": a.ETag, "body": a.Body}), "idempotency key")
}

// purgeRows bounds one DELETE, so that a purge never holds up other writes.
const purgeRows = 1000

// PurgeKeys forgets a bounded number of keys made before an instant, and
// returns how many these were; 0 means that none is left.
func (s *Store) PurgeKeys(ctx context.Context, before time.Time) (int, error) {
	res := s.from(ctx).Exec("DELETE FROM idempotency_keys WHERE (person_id, key) IN (SELECT person_id, key FROM idempotency_keys WHERE made_at < ? ORDER BY made_at LIMIT ?)",
		toMicros(before), purgeRows)
	return int(res.RowsAffected), mapError(res.Error, "idempotency key")
}
