package checklists

// Grade says how far a figure can be trusted. Screens put FromMemory into
// words as "our estimate, not yet checked" and Constructed as "calculated,
// no direct source".
type Grade string

// The grades, strongest first.
const (
	FullText       Grade = "T"               // published, the source itself was read
	Abstract       Grade = "A"               // published: official page, abstract or opening passage read
	Weak           Grade = "B"               // published on a blog, in the press or as extension copy
	Derived        Grade = "D"               // arithmetic from published figures
	CommonPractice Grade = "common-practice" // what builders and keepers do; no source found
	Constructed    Grade = "constructed"     // put together here from several figures, or tuned on a rehearsal
	FromMemory     Grade = "from-memory"     // an estimate of ours that nobody has checked yet
)

// Published says whether somebody outside has printed the figure.
func (g Grade) Published() bool { return g == FullText || g == Abstract || g == Weak }

// Basis is what a figure rests on. Source is a key of Pack.Sources; it may be
// empty only for the grades that have none (common practice, constructed,
// from memory). Note says what a reader needs to judge it.
type Basis struct {
	Source string `json:"source,omitempty"`
	Grade  Grade  `json:"grade"`
	Note   string `json:"note,omitempty"`
}

// Figure is one number with what it rests on. The field that holds it says
// its measure.
type Figure struct {
	Value float64 `json:"value"`
	Basis
}

// Span is a low, typical and high value with what they rest on.
type Span struct {
	Low     float64 `json:"low"`
	Typical float64 `json:"typical"`
	High    float64 `json:"high"`
	Basis
}

// Source is where figures come from.
type Source struct {
	Citation string `json:"citation"`
	Grade    Grade  `json:"grade"` // the best grade that a figure from it may have
}
