package reckon

import (
	"fmt"
	"math"
	"slices"

	"tendfold/checklists"
)

// Answer is what was reckoned, to full precision.
type Answer struct {
	// Inputs are the values as they were read, with what stood in for those
	// that were left out.
	Inputs map[string]any `json:"inputs"`
	// Outputs are single values by name.
	Outputs map[string]Output `json:"outputs"`
	// Series are rows of values by name; those that belong together are equally
	// long, and one of them counts the months, weeks or days. A herd's row 0 is
	// its start.
	Series map[string][]float64 `json:"series"`
	// Sources say what the figures and formulas rest on.
	Sources []Source `json:"sources"`
	// Cautions are what to mind before acting on it.
	Cautions []Caution `json:"cautions"`

	lang   Lang
	order  []string // of outputs, as people read them
	series []string // of series
}

// Output is one value: a number, a word, or true or false.
type Output struct {
	Value   any    `json:"value"`
	Measure string `json:"measure"`
}

// Source is what a figure or a formula rests on.
type Source struct {
	For      string           `json:"for"`   // name of an input, an output or a formula
	Grade    checklists.Grade `json:"grade"` // as in the packs, or as-entered
	Says     string           `json:"says"`  // the grade in words
	Citation string           `json:"citation,omitempty"`
	Note     string           `json:"note,omitempty"`
}

// Caution is what to mind.
type Caution struct {
	Code string `json:"code"`
	Text string `json:"text"`
}

func newAnswer(lang Lang) *Answer {
	return &Answer{
		Inputs: map[string]any{}, Outputs: map[string]Output{}, Series: map[string][]float64{}, Sources: []Source{}, Cautions: []Caution{}, lang: lang,
	}
}

// put adds an output.
func (a *Answer) put(name string, value any, measure string) {
	if _, known := a.Outputs[name]; !known {
		a.order = append(a.order, name)
	}
	a.Outputs[name] = Output{value, measure}
}

// row adds a series.
func (a *Answer) row(name string, values []float64) {
	a.series = append(a.series, name)
	a.Series[name] = values
}

// formula says where a formula is published.
func (a *Answer) formula(name string, s cited) {
	a.source(Source{For: name, Grade: s.grade, Citation: s.citation, Note: s.note.in(a.lang)})
}

// basis says what a figure of a pack rests on.
func (a *Answer) basis(name string, b checklists.Basis, p *checklists.Pack) {
	a.source(Source{For: name, Grade: b.Grade, Citation: p.Sources[b.Source].Citation, Note: b.Note})
}

func (a *Answer) source(s Source) {
	s.Says = gradeWords[s.Grade].in(a.lang)
	if !slices.Contains(a.Sources, s) {
		a.Sources = append(a.Sources, s)
	}
}

// mind adds a caution of ours, with its values.
func (a *Answer) mind(code string, values ...any) {
	a.caution(code, fmt.Sprintf(cautionWords[code].in(a.lang), values...))
}

// mindPack adds a caution of a pack.
func (a *Answer) mindPack(code string, p *checklists.Pack) {
	if t, ok := p.Cautions[code]; ok {
		a.caution(code, text{t.EN, t.FR}.in(a.lang))
	}
}

func (a *Answer) caution(code, words string) {
	if !slices.ContainsFunc(a.Cautions, func(c Caution) bool { return c.Code == code && c.Text == words }) {
		a.Cautions = append(a.Cautions, Caution{code, words})
	}
}

// finite names an output or series that holds no number; "" when there is
// none. Every function refuses what it cannot answer; this is the last line
// before a screen.
func (a *Answer) finite() string {
	bad := func(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }
	for _, name := range a.order {
		if v, ok := a.Outputs[name].Value.(float64); ok && bad(v) {
			return name
		}
	}
	for _, name := range a.series {
		if slices.ContainsFunc(a.Series[name], bad) {
			return name
		}
	}
	return ""
}
