package checklists

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// book is a pack while it is being read: what it names, what it refers to,
// and everything that is wrong with it so far. One reading reports every
// problem of a pack, not only the first.
type book struct {
	problems []Problem
	names    map[kind][]string // declared, in order
	later    []func()          // checks that need the whole pack
	claims   []claim           // every figure's basis
	unread   bool              // a file could not be read, so names may be missing
}

// claim is a basis and where it is written.
type claim struct {
	basis Basis
	at    cursor
}

// kind is what a name is a name of.
type kind string

const (
	aMilestone kind = "milestone"
	anItem     kind = "checklist item"
	aChecklist kind = "checklist"
	aGoAhead   kind = "go-ahead"
	aModule    kind = "module"
	aSpecies   kind = "species"
	aSign      kind = "sign"
	aCaution   kind = "caution"
	aSource    kind = "source"
	aField     kind = "field"
	aWork      kind = "piece of work"
)

func newBook() *book { return &book{names: map[kind][]string{}} }

func (b *book) report(file string, at place, format string, args ...any) {
	b.problems = append(b.problems, Problem{file, at.line, at.column, fmt.Sprintf(format, args...)})
}

// finish runs what had to wait and gives the problems in reading order. What
// needs the whole pack waits until every file can be read: a name that stands
// in an unreadable file is not missing.
func (b *book) finish() []Problem {
	if !b.unread {
		for _, check := range b.later {
			check()
		}
	}
	slices.SortStableFunc(b.problems, func(x, y Problem) int {
		return cmp.Or(cmp.Compare(x.File, y.File), cmp.Compare(x.Line, y.Line), cmp.Compare(x.Column, y.Column))
	})
	return slices.Compact(b.problems)
}

// declare takes a name for a thing of kind k.
func (b *book) declare(k kind, name string, c cursor) {
	if slices.Contains(b.names[k], name) {
		c.wrong("there are two %ss named %q; give one of them another key", k, name)
		return
	}
	b.names[k] = append(b.names[k], name)
}

// refer checks, once the whole pack is read, that the thing exists.
func (b *book) refer(k kind, name string, c cursor) {
	b.later = append(b.later, func() {
		if !slices.Contains(b.names[k], name) {
			c.wrong("there is no %s %q in this pack (%s)", k, name, b.known(k))
		}
	})
}

// known lists the names of a kind for a message, shortened when there are many.
func (b *book) known(k kind) string {
	const most = 24
	names := slices.Sorted(slices.Values(b.names[k]))
	switch {
	case len(names) == 0:
		return "it has none"
	case len(names) > most:
		return fmt.Sprintf("it has %s and %d more", strings.Join(names[:most], ", "), len(names)-most)
	}
	return "it has " + strings.Join(names, ", ")
}
