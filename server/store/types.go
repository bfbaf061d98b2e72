package store

import (
	"database/sql/driver"
	"encoding/json"
	"strings"
	"time"
)

// micros is an instant as it is stored: microseconds since 1970 (UTC), 0 for
// "no instant". Both dialects hold, compare and index the same number, and
// reading one costs no parsing of text.
type micros int64

func toMicros(t time.Time) micros {
	if t.IsZero() {
		return 0
	}
	return micros(t.UnixMicro())
}

func (m micros) time() time.Time {
	if m == 0 {
		return time.Time{}
	}
	return time.UnixMicro(int64(m)).UTC()
}

// textList binds any number of texts as one parameter: there is no limit to
// run into, and one prepared statement serves lists of every length. See
// Store.in.
type textList struct {
	dialect Dialect
	texts   []string
}

// Value is a JSON array for SQLite and an array literal for PostgreSQL.
func (l textList) Value() (driver.Value, error) {
	if l.dialect == SQLite {
		b, err := json.Marshal(l.texts)
		return string(b), err
	}
	var b strings.Builder
	b.WriteByte('{')
	for i, t := range l.texts {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteByte('"')
		b.WriteString(arrayEscaper.Replace(t))
		b.WriteByte('"')
	}
	b.WriteByte('}')
	return b.String(), nil
}

// PostgreSQL: "8.15.6. Array Input and Output Syntax".
var arrayEscaper = strings.NewReplacer(`\`, `\\`, `"`, `\"`)

// in is the condition "column is one of the texts" and its one parameter.
func (s *Store) in(column string, texts []string) (string, textList) {
	if s.dialect == SQLite {
		return column + " IN (SELECT value FROM json_each(?))", textList{s.dialect, texts}
	}
	return column + " = ANY(CAST(? AS text[]))", textList{s.dialect, texts}
}

// toJSON is for columns that the database only carries; an empty list is []
// and never null.
func toJSON(v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		panic(err) // only types of ours come here, and they can be written
	}
	if string(b) == "null" {
		return "[]"
	}
	return string(b)
}

func fromJSON[T any](text string) (T, error) {
	var v T
	if text == "" {
		return v, nil
	}
	err := json.Unmarshal([]byte(text), &v)
	return v, mapError(err, "database")
}
