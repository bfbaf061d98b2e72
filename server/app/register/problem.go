package register

import (
	"sort"
	"strings"
)

// Severity says what a problem does to its row.
type Severity string

// The severities.
const (
	Refused Severity = "refused" // nothing of the row is written
	Flag    Severity = "flag"    // written, and a person should look
)

// Problem is one thing to look at in a register. Values fill the sentence
// that its code stands for.
type Problem struct {
	Row      int
	Column   Column
	Severity Severity
	Code     Code
	Values   Values
}

// Values are the words that a problem's sentence needs. One whose name ends
// in _fr takes the place of the other in French.
type Values map[string]string

// Text is what was wrong, where, and what to do, in lang (en or fr).
func (p Problem) Text(lang string) string {
	text := said[p.Code].In(lang)
	pairs := make([]string, 0, 2*len(p.Values))
	for name, value := range p.Values {
		if french, differs := p.Values[name+"_fr"]; differs && lang == "fr" {
			value = french
		}
		pairs = append(pairs, "{"+name+"}", value)
	}
	return strings.NewReplacer(pairs...).Replace(text)
}

// Double says whether the problem is a possible double of something known.
func (p Problem) Double() bool {
	return p.Code == DoublePhone || p.Code == DoubleNear || p.Code == DoubleCaretaker
}

// inOrder sorts problems by row, the refused ones of a row first.
func inOrder(problems []Problem) {
	sort.SliceStable(problems, func(i, j int) bool {
		a, b := problems[i], problems[j]
		if a.Row != b.Row {
			return a.Row < b.Row
		}
		return a.Severity == Refused && b.Severity != Refused
	})
}
