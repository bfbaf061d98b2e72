package store

import (
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"

	"tendfold/domain"
	"tendfold/server/app"

	"gorm.io/gorm"
)

// A cursor is the sort key of the last row that was shown, together with a
// hash of the query that it belongs to. Rows that come or go between two
// pages are neither repeated nor skipped, which an offset would do.
type cursor[K any] struct {
	Query string `json:"q"`
	Key   K      `json:"k"`
}

// queryHash names a query without its cursor and limit.
func queryHash(query any) string {
	sum := sha256.Sum256([]byte(toJSON(query)))
	return base64.RawURLEncoding.EncodeToString(sum[:6])
}

func encodeCursor[K any](query string, key K) string {
	return base64.RawURLEncoding.EncodeToString([]byte(toJSON(cursor[K]{query, key})))
}

// decodeCursor is the key in a cursor; ok is false for the first page.
func decodeCursor[K any](text, query string) (key K, ok bool, err error) {
	if text == "" {
		return key, false, nil
	}
	var c cursor[K]
	raw, err := base64.RawURLEncoding.DecodeString(text)
	if err == nil {
		err = json.Unmarshal(raw, &c)
	}
	if err != nil || c.Query != query {
		return key, false, &domain.Error{
			Kind: domain.KindMalformed, Code: "cursor",
			Text: "This cursor does not belong to this list. Leave it out to begin at the first page.", Err: err,
		}
	}
	return c.Key, true, nil
}

// sure is for rows that always come out.
func sure[R, T any](out func(R) T) func(R) (T, error) {
	return func(r R) (T, error) { return out(r), nil }
}

// page reads limit rows and one more, which tells whether there is a next
// page.
func page[R, K, T any](q *gorm.DB, what, query string, limit int, key func(R) K, out func(R) (T, error)) (app.Page[T], error) {
	limit = bound(limit)
	var rows []R
	if err := q.Limit(limit + 1).Find(&rows).Error; err != nil {
		return app.Page[T]{}, mapError(err, what)
	}
	p := app.Page[T]{}
	if len(rows) > limit {
		rows = rows[:limit]
		p.Next = encodeCursor(query, key(rows[limit-1]))
	}
	var err error
	p.Items, err = eachOr(rows, out)
	return p, err
}
