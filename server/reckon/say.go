package reckon

import (
	"fmt"
	"iter"
	"maps"
	"strconv"
	"strings"
	"unicode/utf8"
)

func mapKeys[V any](m map[string]V) iter.Seq[string] { return maps.Keys(m) }

func list(words []string) string { return strings.Join(words, ", ") }

// shapeOf says what a person wrote, for a message of one line.
func shapeOf(v any) string {
	switch v := v.(type) {
	case float64:
		return strconv.FormatFloat(v, 'g', -1, 64)
	case bool:
		return strconv.FormatBool(v)
	case string:
		return "the text " + short(v)
	case []any:
		return fmt.Sprintf("a list of %d", len(v))
	case map[string]any:
		return "a group of keys"
	}
	return "empty"
}

// short quotes what is not a plain word, and cuts what is long: a message
// stays on one line whatever is in the file.
func short(s string) string {
	const most = 60
	if len(s) > most {
		s = s[:most]
		for !utf8.ValidString(s) {
			s = s[:len(s)-1]
		}
		s += "..."
	}
	if q := strconv.Quote(s); q != `"`+s+`"` || strings.ContainsAny(s, " \t") || s == "" {
		return q
	}
	return s
}
