package checklists

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Bounds of texts and lists, in characters and entries.
const (
	maxText = 1000
	maxLine = 300
	maxList = 500
	maxKey  = 60
)

// cursor stands on one value of a file. Its readers give the value, or report
// what is wrong and give the zero value; on a value that is absent they stay
// silent, because whoever needed it has reported that already.
type cursor struct {
	book *book
	file string
	name string // key, for messages
	at   place
	node *node // nil = absent
}

func (c cursor) absent() bool { return c.node == nil }

func (c cursor) wrong(format string, args ...any) {
	if c.absent() {
		return
	}
	c.book.report(c.file, c.at, c.name+": "+format, args...)
}

// is says whether the value has the shape, and reports it when not.
func (c cursor) is(s shape) bool {
	if c.absent() {
		return false
	}
	if c.node.shape != s {
		c.wrong("is %s; it must be %s", c.node.shape.words(), s.words())
		return false
	}
	return true
}

// object is a cursor on a group of keys.
type object struct {
	cursor
	fields map[string]cursor
}

// object reads a group of keys and refuses those that are not known.
func (c cursor) object(known ...string) object {
	o := object{c, map[string]cursor{}}
	if !c.is(aMapping) {
		return o
	}
	for _, e := range c.node.entries {
		field := cursor{c.book, c.file, e.key, e.at, e.value}
		if !slices.Contains(known, e.key) {
			field.wrong("is not a key that is read here (read are %s)", strings.Join(known, ", "))
			continue
		}
		field.at = e.value.at
		o.fields[e.key] = field
	}
	return o
}

// need is the value of a key that must be there.
func (o object) need(key string) cursor {
	if f, ok := o.fields[key]; ok {
		return f
	}
	if !o.absent() && o.node.shape == aMapping {
		o.book.report(o.file, o.at, "%s: %q is missing", o.name, key)
	}
	return cursor{book: o.book, file: o.file, name: key}
}

// may is the value of a key that may be absent.
func (o object) may(key string) cursor {
	if f, ok := o.fields[key]; ok {
		return f
	}
	return cursor{book: o.book, file: o.file, name: key}
}

// pairs reads a group whose keys are names of the writer's own.
func (c cursor) pairs() []cursor {
	if c.absent() || !c.is(aMapping) {
		return nil
	}
	if len(c.node.entries) > maxList {
		c.wrong("has %d entries; more than %d are not read", len(c.node.entries), maxList)
		return nil
	}
	out := make([]cursor, len(c.node.entries))
	for i, e := range c.node.entries {
		out[i] = cursor{c.book, c.file, e.key, e.at, e.value}
	}
	return out
}

// list reads a list; nothing and absent are an empty one.
func (c cursor) list() []cursor {
	if c.absent() || !c.is(aList) {
		return nil
	}
	if len(c.node.items) > maxList {
		c.wrong("has %d entries; more than %d are not read", len(c.node.items), maxList)
		return nil
	}
	out := make([]cursor, len(c.node.items))
	for i, n := range c.node.items {
		out[i] = cursor{c.book, c.file, c.name + " " + strconv.Itoa(i+1), n.at, n}
	}
	return out
}

// some is a list that must not be empty.
func (c cursor) some() []cursor {
	entries := c.list()
	if len(entries) == 0 && !c.absent() && c.node.shape == aList {
		c.wrong("is empty; name at least one")
	}
	return entries
}

// line reads a text of one line.
func (c cursor) line() string {
	if c.absent() {
		return ""
	}
	if c.node.shape == aNumber {
		c.wrong("is a number; put it in quotes")
		return ""
	}
	if !c.is(aText) {
		return ""
	}
	s := strings.TrimSpace(c.node.text)
	switch {
	case s == "":
		c.wrong("is empty")
	case strings.Contains(s, "\n"):
		c.wrong("has more than one line; use >- to fold it")
	case utf8.RuneCountInString(s) > maxText:
		c.wrong("is longer than %d characters", maxText)
	}
	return s
}

// short is a line that a list or a button can hold.
func (c cursor) short() string {
	s := c.line()
	if n := utf8.RuneCountInString(s); n > maxLine && n <= maxText {
		c.wrong("is longer than %d characters", maxLine)
	}
	return s
}

// lines reads a list of short texts.
func (c cursor) lines() []string {
	var out []string
	for _, each := range c.list() {
		out = append(out, each.short())
	}
	return out
}

// text reads the two languages.
func (c cursor) text() Text {
	o := c.object("en", "fr")
	return Text{EN: o.need("en").line(), FR: o.need("fr").line()}
}

var keyForm = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// key reads a lower-case key such as ready-to-stock.
func (c cursor) key() string {
	s := c.line()
	if s != "" && (len(s) > maxKey || !keyForm.MatchString(s)) {
		c.wrong("%q is not a key: lower-case letters, digits and single hyphens, at most %d", s, maxKey)
		return ""
	}
	return s
}

// declared reads the key under which the pack knows a thing.
func (c cursor) declared(k kind) string {
	s := c.key()
	if s != "" {
		c.book.declare(k, s, c)
	}
	return s
}

// named takes the key under which a value of pairs stands as a name.
func (c cursor) named(k kind) string {
	if len(c.name) > maxKey || !keyForm.MatchString(c.name) {
		c.wrong("is not a key: lower-case letters, digits and single hyphens, at most %d", maxKey)
		return ""
	}
	c.book.declare(k, c.name, c)
	return c.name
}

// ref reads the key of another thing in the pack.
func (c cursor) ref(k kind) string {
	s := c.key()
	if s != "" {
		c.book.refer(k, s, c)
	}
	return s
}

// refs reads a list of keys of other things, each once.
func (c cursor) refs(k kind) []string {
	var out []string
	for _, each := range c.list() {
		s := each.ref(k)
		if s != "" && slices.Contains(out, s) {
			each.wrong("%q is named twice", s)
		}
		out = append(out, s)
	}
	return out
}

// number reads a number between low and high, ends included.
func (c cursor) number(low, high float64) float64 {
	if !c.is(aNumber) {
		return 0
	}
	v := c.node.number
	if v < low || v > high {
		c.wrong("%s is out of range; it must lie between %s and %s", c.node.text, short(low), short(high))
		return 0
	}
	return v
}

func short(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// end reads an end of a range; nil when absent.
func (c cursor) end(low, high float64) *float64 {
	if c.absent() {
		return nil
	}
	v := c.number(low, high)
	return &v
}

// whole reads a whole number between low and high.
func (c cursor) whole(low, high int) int {
	v := c.number(float64(low), float64(high))
	if v != math.Trunc(v) {
		c.wrong("%s is not a whole number", c.node.text)
		return 0
	}
	return int(v)
}

// yes reads true or false; absent is false.
func (c cursor) yes() bool {
	if c.absent() || !c.is(aFlag) {
		return false
	}
	return c.node.flag
}

// choice reads one of the words allowed.
func choice[T ~string](c cursor, allowed ...T) T {
	s := T(c.line())
	if s == "" || slices.Contains(allowed, s) {
		return s
	}
	words := make([]string, len(allowed))
	for i, a := range allowed {
		words[i] = string(a)
	}
	c.wrong("%q is not one of %s", s, strings.Join(words, ", "))
	return ""
}

// choices reads a list of such words, each once and at least one.
func choices[T ~string](c cursor, allowed ...T) []T {
	var out []T
	for _, each := range c.some() {
		v := choice(each, allowed...)
		if v != "" && slices.Contains(out, v) {
			each.wrong("%q is named twice", v)
		}
		out = append(out, v)
	}
	return out
}
