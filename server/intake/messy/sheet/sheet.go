// Package sheet invents registers as people keep them: dates in four forms,
// headings in two languages, feet and metres, families that share a phone,
// rows twice, cells that are wrong. It knows what should become of every row
// without asking the reader, from which it imports nothing; so a test of the
// reader is not written from the reader's own answers. All people, farms and
// numbers are invented; no numbering plan gives out the numbers.
package sheet

import (
	"math/rand/v2"
	"strings"
	"time"
)

// Settings say what to invent.
type Settings struct {
	Rows    int
	Seed    uint64
	Today   time.Time // no date lies after it, unless it is meant to be wrong
	Comma   bool      // a comma will part the cells, so it is no decimal mark
	English bool      // headings and words in English only, else in both languages
}

// Cell is a cell as a person fills it: a text, or what a spreadsheet keeps as
// a date or a number.
type Cell struct {
	Text   string
	Date   time.Time
	Number float64
}

// Verdicts that a row should get when the register is empty.
const (
	New     = "new"
	Same    = "same"
	Refused = "refused"
)

// Want is what should become of a row: its number as the spreadsheet shows
// it, its verdict, and the codes of its problems, sorted. Again is the
// verdict when the same file is taken in a second time.
type Want struct {
	Row     int
	Verdict string
	Again   string
	Codes   []string
}

// Sheet is an invented register. Rows hold the title rows, the header, and
// blank rows too; the row at index i is number i+1.
type Sheet struct {
	Rows  [][]Cell
	Wants []Want
	// Header is the row's number; Strange are headings that mean nothing.
	Header  int
	Strange []string
}

// Counts are how many rows should get each verdict, and how many doubles
// should be told.
func (s Sheet) Counts() (verdicts map[string]int, doubles int) {
	verdicts = map[string]int{}
	for _, w := range s.Wants {
		verdicts[w.Verdict]++
		for _, c := range w.Codes {
			if strings.HasPrefix(c, "double-") {
				doubles++
			}
		}
	}
	return verdicts, doubles
}

// Make invents a register. The same settings give the same one.
func Make(set Settings) Sheet {
	m := &maker{Settings: set, doubled: map[string]bool{}, rng: rand.New(rand.NewPCG(set.Seed, 0x7e4df01d))} // a seed is wanted, not secrecy
	m.columns()
	m.title()
	for n := 0; n < set.Rows; {
		if m.chance(0.02) {
			m.out.Rows = append(m.out.Rows, nil)
			continue
		}
		n += m.farm(set.Rows - n)
	}
	return m.out
}

// maker invents a register row by row.
type maker struct {
	Settings
	rng     *rand.Rand
	out     Sheet
	head    []heading
	farms   int // made so far: what makes names, places and numbers differ
	phones  int
	doubled map[string]bool // farms that have a double: a second one would make three pairs
	good    []told          // rows that were written, for those that repeat one
}

// told is a row with the codes of its problems.
type told struct {
	row
	codes []string
}

// row is a line before its cells are laid out, by English column name.
type row map[string]Cell

func (m *maker) chance(p float64) bool { return m.rng.Float64() < p }

func pick[T any](m *maker, list ...T) T { return list[m.rng.IntN(len(list))] }

// put lays a row out and notes what should become of it.
func (m *maker) put(r row, w Want) {
	cells := make([]Cell, len(m.head))
	for i, h := range m.head {
		cells[i] = r[h.column]
	}
	m.out.Rows = append(m.out.Rows, cells)
	w.Row = len(m.out.Rows)
	m.out.Wants = append(m.out.Wants, w)
}

func text(s string) Cell { return Cell{Text: s} }
