package store

import (
	"context"
	"database/sql"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"

	"gorm.io/gorm"
	"gorm.io/gorm/schema"
)

// The reads in this file are those of the pages that people open all day, and
// of every request that is let in. Their queries are texts of ours, kept
// prepared and scanned column by column: what gorm makes of a query and its
// rows costs four times as much (measured).

// columns are the columns of a row struct, and where in it each belongs.
type columns struct {
	names []string
	paths [][]int
}

var (
	columnsOf sync.Map // reflect.Type → columns
	parsed    sync.Map // what gorm's parser keeps
)

// columnsFor are the columns of R as gorm names them, so that what is read is
// what is written.
func columnsFor[R any]() columns {
	t := reflect.TypeFor[R]()
	if c, ok := columnsOf.Load(t); ok {
		return c.(columns)
	}
	s, err := schema.Parse(new(R), &parsed, schema.NamingStrategy{})
	if err != nil {
		panic(err) // the row structs are ours
	}
	var c columns
	for _, f := range s.Fields {
		if f.DBName != "" {
			c.names, c.paths = append(c.names, f.DBName), append(c.paths, f.StructField.Index)
		}
	}
	columnsOf.Store(t, c)
	return c
}

// selectOf is "SELECT" with the columns of R, each of the table of that name
// or alias.
func selectOf[R any](table string) string {
	return "SELECT" + also[R](table)[1:]
}

// also are the columns of R beside those of another table.
func also[R any](table string) string {
	return ", " + table + "." + strings.Join(columnsFor[R]().names, ", "+table+".")
}

// read is what a query of ours answers. It selects the columns of R in their
// order; its marks for parameters are those of SQLite.
func read[R any](ctx context.Context, s *Store, what, query string, args ...any) ([]R, error) {
	if s.dialect == SQLite {
		// A few rows by an index are read before anyone could call it off, and
		// the driver starts a goroutine for each query that can be.
		ctx = context.WithoutCancel(ctx)
	}
	rows, err := s.query(ctx, query, args...)
	if err != nil {
		return nil, mapError(err, what)
	}
	defer rows.Close() // rows.Err tells
	var out []R
	var row R
	into := columnsFor[R]().into(&row)
	for rows.Next() {
		if err := rows.Scan(into...); err != nil {
			return nil, mapError(err, what)
		}
		out = append(out, row)
	}
	return out, mapError(rows.Err(), what)
}

// readOne is read for one row; none is an error.
func readOne[R any](ctx context.Context, s *Store, what, query string, args ...any) (R, error) {
	rows, err := read[R](ctx, s, what, query, args...)
	if err == nil && len(rows) == 0 {
		err = mapError(gorm.ErrRecordNotFound, what)
	}
	if err != nil {
		var none R
		return none, err
	}
	return rows[0], nil
}

// readOf reads the rows of a table that belong to the ids, puts them in order
// and turns them into what leaves the store. The order is made here: for a
// handful of rows the database's sorter costs as much as finding them
// (measured). No id, no question.
func readOf[R, T any](ctx context.Context, s *Store, what, table, column string, ids []string, order func(a, b R) int, out func(R) T) ([]T, error) {
	if len(ids) == 0 {
		return []T{}, nil
	}
	cond, list := s.oneOf(table+"."+column, ids)
	rows, err := read[R](ctx, s, what, selectOf[R](table)+" FROM "+table+" WHERE "+cond, list)
	if err != nil {
		return nil, err
	}
	slices.SortFunc(rows, order)
	return each(rows, out), nil
}

// oneOf is in for lists that mostly hold one id: then the condition is a
// plain comparison.
func (s *Store) oneOf(column string, ids []string) (string, any) {
	if len(ids) == 1 {
		return column + " = ?", ids[0]
	}
	return s.in(column, ids)
}

// into are the places of a row's columns.
func (c columns) into(row any) []any {
	v := reflect.ValueOf(row).Elem()
	out := make([]any, len(c.paths))
	for i, path := range c.paths {
		out[i] = v.FieldByIndex(path).Addr().Interface()
	}
	return out
}

// query asks in the transaction of ctx, else a reader.
func (s *Store) query(ctx context.Context, query string, args ...any) (*sql.Rows, error) {
	if s.dialect == PostgreSQL {
		query = numbered(query)
	}
	pool := s.read.ConnPool
	if t := s.tx(ctx); t != nil {
		pool = t.db.Statement.ConnPool
	}
	return pool.QueryContext(ctx, query, args...)
}

var numberedTexts sync.Map // a text of ours → the same with PostgreSQL's marks

// numbered is a query with $1, $2 in place of the marks. No text of ours holds
// a question mark otherwise.
func numbered(query string) string {
	if t, ok := numberedTexts.Load(query); ok {
		return t.(string)
	}
	var b strings.Builder
	n := 0
	for _, r := range query {
		if r != '?' {
			b.WriteRune(r)
			continue
		}
		n++
		b.WriteString("$" + strconv.Itoa(n))
	}
	numberedTexts.Store(query, b.String())
	return b.String()
}
