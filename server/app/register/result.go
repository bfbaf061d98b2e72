package register

import "tendfold/domain/farm"

// Word is the verdict on a row.
type Word string

// The verdicts.
const (
	New        Word = "new"
	Changed    Word = "changed"
	Same       Word = "same"
	RefusedRow Word = "refused"
)

// Change is one value that a row brings: From is "" where nothing was known.
type Change struct {
	Column Column
	From   string
	To     string
}

// Verdict is what becomes of one row.
type Verdict struct {
	Row     int
	Word    Word
	Changes []Change
	FarmID  string
	Unit    farm.Unit
}

// Result is what a plan comes to.
type Result struct {
	Verdicts []Verdict
	Problems []Problem
	Writes   Writes
}

// Count is how many rows have a verdict.
func (r Result) Count(w Word) int {
	n := 0
	for _, v := range r.Verdicts {
		if v.Word == w {
			n++
		}
	}
	return n
}

// Doubles is how many possible doubles were found.
func (r Result) Doubles() int {
	n := 0
	for _, p := range r.Problems {
		if p.Double() {
			n++
		}
	}
	return n
}

// Answer is a Result as the command line and the API give it.
type Answer struct {
	Rows      int           `json:"rows"`
	New       int           `json:"new"`
	Changed   int           `json:"changed"`
	Same      int           `json:"same"`
	Refused   int           `json:"refused"`
	Doubles   int           `json:"doubles"`
	Committed bool          `json:"committed"`
	Problems  []ToldProblem `json:"problems"`
	Verdicts  []ToldVerdict `json:"verdicts"`
}

// ToldProblem is a problem in the reader's language, with the column as the
// file's header has it.
type ToldProblem struct {
	Row      int      `json:"row"`
	Column   string   `json:"column"`
	Severity Severity `json:"severity"`
	Code     Code     `json:"code"`
	Text     string   `json:"text"`
}

// ToldVerdict is a verdict with the columns as the file's header has them.
type ToldVerdict struct {
	Row     int          `json:"row"`
	Verdict Word         `json:"verdict"`
	Changes []ToldChange `json:"changes,omitempty"`
}

// ToldChange is a change with the column as the file's header has it.
type ToldChange struct {
	Column string `json:"column"`
	From   string `json:"from"`
	To     string `json:"to"`
}

// Tell puts the result into words. header gives the columns as the person
// wrote them; one that is missing keeps its English name.
func (r Result) Tell(lang string, header map[Column]string, committed bool) Answer {
	name := func(c Column) string {
		if typed, ok := header[c]; ok {
			return typed
		}
		return string(c)
	}
	a := Answer{
		Rows: len(r.Verdicts), New: r.Count(New), Changed: r.Count(Changed), Same: r.Count(Same), Refused: r.Count(RefusedRow),
		Doubles: r.Doubles(), Committed: committed,
		Problems: make([]ToldProblem, 0, len(r.Problems)), Verdicts: make([]ToldVerdict, 0, len(r.Verdicts)),
	}
	for _, p := range r.Problems {
		a.Problems = append(a.Problems, ToldProblem{p.Row, name(p.Column), p.Severity, p.Code, p.Text(lang)})
	}
	for _, v := range r.Verdicts {
		told := ToldVerdict{Row: v.Row, Verdict: v.Word}
		for _, c := range v.Changes {
			told.Changes = append(told.Changes, ToldChange{name(c.Column), c.From, c.To})
		}
		a.Verdicts = append(a.Verdicts, told)
	}
	return a
}
