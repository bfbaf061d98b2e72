package intake

import (
	"slices"
	"strings"

	"tendfold/domain"
	"tendfold/server/app/register"
)

// Table is a file whose header has been found: what it says, not yet typed.
type Table struct {
	grid
	header  int // number of the header's row
	known   map[register.Column][]position
	strange []string // headings, or letters of columns without one, that mean nothing to us
}

func newTable(g grid) (*Table, error) {
	at, known := g.header()
	if at < 0 || known == 0 {
		return nil, domain.Invalid("header-missing", "No row among the first twenty names the columns. Put a row on top with the names client, farm, unit and enterprise (client, ferme, unite, filiere) and whatever else is known.")
	}
	t := &Table{grid: g, header: g.lines[at].number}
	var unknown []int
	t.known, unknown = g.lines[at].columns()
	if err := missing(t.known, t.header); err != nil {
		return nil, err
	}
	for _, i := range unknown {
		t.strange = append(t.strange, strings.TrimSpace(g.lines[at].cells[i]))
	}
	t.strange = append(t.strange, g.nameless(at)...)
	t.lines = t.lines[at+1:]
	if len(t.lines) > maxRows {
		return nil, tooManyRows()
	}
	return t, nil
}

// nameless are the letters of columns that hold something under no heading.
func (g grid) nameless(header int) []string {
	var found []string
	head := g.lines[header].cells
	for _, l := range g.lines[header+1:] {
		for i, cell := range l.cells {
			if strings.TrimSpace(cell) == "" || i < len(head) && strings.TrimSpace(head[i]) != "" {
				continue
			}
			if name := letters(i); !slices.Contains(found, name) {
				found = append(found, name)
			}
		}
	}
	return found
}

// Len is how many rows follow the header.
func (t *Table) Len() int { return len(t.lines) }

// Header is the columns that the file has, as the person wrote them.
func (t *Table) Header() map[register.Column]string {
	out := make(map[register.Column]string, len(t.known))
	for c, at := range t.known {
		out[c] = at[0].typed
	}
	return out
}

// Rows types every row. Each problem names its row and column; a row with a
// refused one comes back marked as refused.
func (t *Table) Rows(in register.Reading) ([]register.Row, []register.Problem) {
	reader := newTyper(t, in)
	problems := t.problems()
	rows := make([]register.Row, 0, len(t.lines))
	for i, l := range t.lines {
		row := reader.row(l)
		problems = append(problems, reader.problems...)
		rows = append(rows, row)
		if in.Progress != nil && (i+1)%500 == 0 {
			in.Progress(i+1, len(t.lines))
		}
	}
	return rows, problems
}

// problems are those of the file as a whole, on the header's row.
func (t *Table) problems() []register.Problem {
	var out []register.Problem
	for _, name := range t.strange {
		out = append(out, register.Problem{Row: t.header, Column: register.Column(name), Severity: register.Flag, Code: register.ColumnUnknown, Values: register.Values{"value": name}})
	}
	sized := len(t.known[register.ColLength])+len(t.known[register.ColWidth]) > 0
	if sized && len(t.known[register.ColLengthUnit]) == 0 {
		out = append(out, register.Problem{Row: t.header, Column: register.ColLengthUnit, Severity: register.Flag, Code: register.MeasureAssumed})
	}
	return out
}
