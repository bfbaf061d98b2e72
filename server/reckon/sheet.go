package reckon

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"tendfold/domain"
	"tendfold/domain/husbandry"
)

// sheet is what a person asked, while it is being read. Everything that is
// wrong is gathered; whoever reads on after a fault gets zero values.
type sheet struct {
	wrong []domain.Field
}

// rangeOf is what a number may be.
type rangeOf = husbandry.Range

// group is one group of keys of a sheet. What is read, and what is taken
// instead of a key that is left out, is written into echo: the answer's inputs.
type group struct {
	sheet  *sheet
	path   string // dotted, of the group itself
	values map[string]any
	echo   map[string]any
	known  map[string]bool
}

func newGroup(s *sheet, path string, values map[string]any) group {
	return group{s, path, values, map[string]any{}, map[string]bool{}}
}

// at is the full path of a key.
func (g group) at(key string) string {
	if g.path == "" {
		return key
	}
	return g.path + "." + key
}

func (g group) refuse(key, code, format string, args ...any) {
	g.sheet.wrong = append(g.sheet.wrong, domain.Field{Path: g.at(key), Code: code, Text: fmt.Sprintf(format, args...)})
}

// blame takes over what a function of the domain refuses, under the path of
// this group.
func (g group) blame(err error) {
	for _, f := range husbandry.Fields(err) {
		g.refuse(f.Path, f.Code, "%s", f.Text)
	}
	if err != nil && len(husbandry.Fields(err)) == 0 {
		g.refuse("", "refused", "%s", err)
	}
}

// blameAt is blame for what stands in a group under this one.
func (g group) blameAt(key string, err error) {
	for _, f := range husbandry.Fields(err) {
		g.refuse(key+"."+f.Path, f.Code, "%s", f.Text)
	}
}

// ok says whether nothing has been wrong so far, so that reckoning makes sense.
func (g group) ok() bool { return len(g.sheet.wrong) == 0 }

// has says whether a key is there and says something.
func (g group) has(key string) bool {
	g.known[key] = true
	return g.values[key] != nil
}

// take is the value of a key that must be there.
func (g group) take(key, measure string) (any, bool) {
	if g.has(key) {
		return g.values[key], true
	}
	if measure == "" {
		g.refuse(key, "missing", "is missing")
	} else {
		g.refuse(key, "missing", "is missing; give it in %s", measure)
	}
	return nil, false
}

// number reads one that must be there, within its range.
func (g group) number(key string, r husbandry.Range) float64 {
	v, ok := g.take(key, r.Measure)
	if !ok {
		return 0
	}
	n, ok := g.aNumber(key, v, r)
	if ok {
		g.echo[key] = n
	}
	return n
}

// numberOr is number with what stands in for a key that is left out.
func (g group) numberOr(key string, r husbandry.Range, otherwise float64) float64 {
	if !g.has(key) {
		g.echo[key] = otherwise
		return otherwise
	}
	return g.number(key, r)
}

// maybe is a number that may be left out.
func (g group) maybe(key string, r husbandry.Range) *float64 {
	if !g.has(key) {
		return nil
	}
	n := g.number(key, r)
	return &n
}

func (g group) aNumber(key string, v any, r husbandry.Range) (float64, bool) {
	n, ok := v.(float64)
	if !ok {
		g.refuse(key, "not-a-number", "is %s; it must be a number, %s", shapeOf(v), r)
		return 0, false
	}
	if f := r.Within(key, n); f != nil {
		g.refuse(key, f.Code, "%s", f.Text)
		return 0, false
	}
	return n, true
}

// whole reads a number without decimals that must be there.
func (g group) whole(key string, r husbandry.Range) int {
	n := g.number(key, r)
	if n != math.Trunc(n) {
		g.refuse(key, "not-whole", "is %v; it must be a whole number, %s", n, r)
		return 0
	}
	return int(n)
}

// wholeOr is whole with what stands in for a key that is left out.
func (g group) wholeOr(key string, r husbandry.Range, otherwise int) int {
	if !g.has(key) {
		g.echo[key] = float64(otherwise)
		return otherwise
	}
	return g.whole(key, r)
}

// numbers reads a list of at least so many numbers that must be there; a list
// of exactly so many where least and most are the same.
func (g group) numbers(key string, r husbandry.Range, least, most int) []float64 {
	v, ok := g.take(key, "a list of "+cmpCount(least, most)+", "+r.String())
	if !ok {
		return nil
	}
	list, ok := v.([]any)
	if !ok || len(list) < least || len(list) > most {
		g.refuse(key, "not-a-list", "is %s; it must be a list of %s, %s", shapeOf(v), cmpCount(least, most), r)
		return nil
	}
	var out []float64
	for i, each := range list {
		n, ok := g.aNumber(key+"."+strconv.Itoa(i), each, r)
		if !ok {
			return nil
		}
		out = append(out, n)
	}
	g.echo[key] = out
	return out
}

func cmpCount(least, most int) string {
	if least == most {
		return fmt.Sprintf("%d numbers", least)
	}
	return fmt.Sprintf("%d to %d numbers", least, most)
}

// flag reads true or false; false where it is left out.
func (g group) flag(key string) bool {
	if !g.has(key) {
		g.echo[key] = false
		return false
	}
	v, ok := g.values[key].(bool)
	if !ok {
		g.refuse(key, "not-a-flag", "is %s; it must be true or false", shapeOf(g.values[key]))
	}
	g.echo[key] = v
	return v
}

// word reads one of some words that must be there.
func (g group) word(key string, words ...string) string {
	v, ok := g.take(key, "one of "+list(words))
	if !ok {
		return ""
	}
	w, ok := v.(string)
	if !ok || !slices.Contains(words, w) {
		g.refuse(key, "not-a-word", "is %s; it must be one of %s", shapeOf(v), list(words))
		return ""
	}
	g.echo[key] = w
	return w
}

// wordOr is word with what stands in for a key that is left out.
func (g group) wordOr(key, otherwise string, words ...string) string {
	if !g.has(key) {
		g.echo[key] = otherwise
		return otherwise
	}
	return g.word(key, words...)
}

// longestText bounds a name or a source that a person writes beside a figure.
const longestText = 300

// text reads a line of words that may be left out.
func (g group) text(key string) string {
	if !g.has(key) {
		return ""
	}
	w, ok := g.values[key].(string)
	if !ok || len(w) > longestText {
		g.refuse(key, "not-a-text", "is %s; it must be a text of at most %d letters", shapeOf(g.values[key]), longestText)
		return ""
	}
	g.echo[key] = w
	return w
}

// part reads a group of keys that may be left out; false when it is.
func (g group) part(key string) (group, bool) {
	if !g.has(key) {
		return group{}, false
	}
	values, ok := g.values[key].(map[string]any)
	if !ok {
		g.refuse(key, "not-a-group", "is %s; it must be a group of keys", shapeOf(g.values[key]))
		return group{}, false
	}
	under := newGroup(g.sheet, g.at(key), values)
	g.echo[key] = under.echo
	return under, true
}

// need is part for one that must be there.
func (g group) need(key string) group {
	if under, ok := g.part(key); ok {
		return under
	}
	if g.values[key] == nil {
		g.refuse(key, "missing", "is missing; give a group of keys")
	}
	return newGroup(&sheet{}, g.at(key), nil) // its faults would only repeat this one
}

// parts reads a list of groups that may be left out.
func (g group) parts(key string, most int) []group {
	if !g.has(key) {
		return nil
	}
	list, ok := g.values[key].([]any)
	if !ok || len(list) > most {
		g.refuse(key, "not-a-list", "is %s; it must be a list of at most %d groups of keys", shapeOf(g.values[key]), most)
		return nil
	}
	var out []group
	var echo []any
	for i, each := range list {
		values, ok := each.(map[string]any)
		if !ok {
			g.refuse(key+"."+strconv.Itoa(i), "not-a-group", "is %s; it must be a group of keys", shapeOf(each))
			return nil
		}
		under := newGroup(g.sheet, g.at(key)+"."+strconv.Itoa(i), values)
		out, echo = append(out, under), append(echo, under.echo)
	}
	g.echo[key] = echo
	return out
}

// done refuses keys that nothing has read: a slip of the pen would silently
// leave out what it says.
func (g group) done() {
	var strange []string
	for key := range g.values {
		if !g.known[key] {
			strange = append(strange, key)
		}
	}
	slices.Sort(strange)
	for _, key := range strange {
		known := slices.Sorted(mapKeys(g.known))
		g.refuse(short(key), "unknown", "is not a key that is read here; read are %s", list(known))
	}
}
