package store

import (
	"context"
	"reflect"
	"strings"
	"unicode/utf8"

	"tendfold/domain"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"
)

// batchRows is how many rows one INSERT carries: past a few hundred nothing
// is won, and 500 rows of our widest table stay below SQLite's 32,766
// parameters (PostgreSQL: 65,535).
const batchRows = 500

// listDefault and listMost bound the pages of a list.
const (
	listDefault = 50
	listMost    = 200
)

// bound is the size of a page that a caller asked for.
func bound(limit int) int {
	if limit <= 0 {
		return listDefault
	}
	return min(limit, listMost)
}

// insert adds rows (a slice of row structs), all or none; what is the word
// for one.
func (s *Store) insert(ctx context.Context, what string, rows any, conflict ...clause.Expression) error {
	n := reflect.ValueOf(rows).Len()
	if n == 0 {
		return nil
	}
	if err := storableRows(rows); err != nil {
		return err
	}
	if n > batchRows && s.tx(ctx) == nil {
		return s.InTx(ctx, func(ctx context.Context) error { return s.insert(ctx, what, rows, conflict...) })
	}
	return mapError(s.from(ctx).Clauses(conflict...).CreateInBatches(rows, batchRows).Error, what)
}

// update sets values on the row with this id if it is still at this version,
// and raises the version. A row that has moved on is stale, one that is gone
// not found. The check is in the UPDATE itself: to compare first would race.
func (s *Store) update(ctx context.Context, what string, row any, id string, version int, values map[string]any) error {
	for _, v := range values {
		if err := storable(reflect.ValueOf(v)); err != nil {
			return err
		}
	}
	values["version"] = gorm.Expr("version + 1")
	res := s.from(ctx).Model(row).Where("id = ? AND version = ?", id, version).Updates(values)
	return s.moved(ctx, res, row, id, what)
}

// moved says of an update that met no row whether the row has moved on or is
// not there at all.
func (s *Store) moved(ctx context.Context, res *gorm.DB, row any, id, what string) error {
	if res.Error != nil || res.RowsAffected == 1 {
		return mapError(res.Error, what)
	}
	var n int64
	if err := s.from(ctx).Model(row).Where("id = ?", id).Count(&n).Error; err != nil {
		return mapError(err, what)
	}
	if n == 0 {
		return domain.NotFound(what)
	}
	return domain.Stale()
}

// storable refuses a text that PostgreSQL cannot hold, on both dialects
// alike, so that data can move from one to the other.
func storable(v reflect.Value) error {
	if v.Kind() == reflect.String && (!utf8.ValidString(v.String()) || strings.ContainsRune(v.String(), 0)) {
		return domain.Invalid("value-not-storable", "A text holds a character that cannot be stored.")
	}
	return nil
}

func storableRows(rows any) error {
	list := reflect.ValueOf(rows)
	for i := range list.Len() {
		row := list.Index(i)
		for _, field := range row.Fields() {
			if err := storable(field); err != nil {
				return err
			}
		}
	}
	return nil
}

// one reads the single row of a query, or says that there is no such thing.
func one[R any](q *gorm.DB, what string) (R, error) {
	var r R
	err := q.Take(&r).Error
	return r, mapError(err, what)
}

// many reads the rows of a query and turns them into what leaves the store.
func many[R, T any](q *gorm.DB, what string, out func(R) T) ([]T, error) {
	var rows []R
	if err := q.Find(&rows).Error; err != nil {
		return nil, mapError(err, what)
	}
	return each(rows, out), nil
}

// manyOr is many for rows whose text may not be readable.
func manyOr[R, T any](q *gorm.DB, what string, out func(R) (T, error)) ([]T, error) {
	var rows []R
	if err := q.Find(&rows).Error; err != nil {
		return nil, mapError(err, what)
	}
	return eachOr(rows, out)
}

func each[R, T any](rows []R, out func(R) T) []T {
	ts := make([]T, len(rows))
	for i, r := range rows {
		ts[i] = out(r)
	}
	return ts
}

// eachOr is each for rows whose text may not be readable.
func eachOr[R, T any](rows []R, out func(R) (T, error)) ([]T, error) {
	ts := make([]T, len(rows))
	for i, r := range rows {
		var err error
		if ts[i], err = out(r); err != nil {
			return nil, err
		}
	}
	return ts, nil
}

// keepFirst is for rows that another writer may have made already, with the
// same content by construction.
var keepFirst = clause.OnConflict{DoNothing: true}

// found turns an update that met no row into a not-found error.
func found(res *gorm.DB, what string) error {
	if res.Error == nil && res.RowsAffected == 0 {
		return domain.NotFound(what)
	}
	return mapError(res.Error, what)
}
