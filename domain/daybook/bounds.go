// Package daybook owns what a caretaker writes down day by day: which numbers
// cannot be, which are asked back, which word of several about one day
// stands, and what a weighed sample says.
package daybook

// Bounds are what a value may be. Outside Least and Most it cannot be;
// outside AskBelow and AskAbove it may be, but is asked back, for a slip of
// the finger is likelier. A nil end is open. The two of stock are multiples of
// the animals: MostOfStock of those ever put in, AskOfStock of those that
// should still live; 0 asks nothing of the stock.
type Bounds struct {
	Least       *float64 `json:"least,omitempty"`
	Most        *float64 `json:"most,omitempty"`
	AskBelow    *float64 `json:"ask_below,omitempty"`
	AskAbove    *float64 `json:"ask_above,omitempty"`
	MostOfStock float64  `json:"most_of_stock,omitempty"`
	AskOfStock  float64  `json:"ask_of_stock,omitempty"`
	Whole       bool     `json:"whole,omitempty"`
}

// Stock is how many animals a value is held against; the zero Stock is not
// known, and then nothing is.
type Stock struct {
	PutIn  int `json:"put_in,omitempty"` // ever, as the register has it
	Living int `json:"living,omitempty"` // less what was lost or taken out since
}

// Verdict is what Judge says of a value.
type Verdict string

// The verdicts.
const (
	Fine       Verdict = "fine"
	Unlikely   Verdict = "unlikely"   // ask back, and take it when it is meant
	Impossible Verdict = "impossible" // refuse it
)

// Why names the bound that a verdict rests on.
type Why string

// The reasons. Limit of a Ruling is in the measure of the value.
const (
	NotWhole  Why = "not-whole"
	TooLow    Why = "too-low"
	TooHigh   Why = "too-high"
	OverStock Why = "over-stock" // more than there are animals
	OfStock   Why = "of-stock"   // a large part of the animals
)

// Ruling is a verdict with its reason; Limit is the bound that was passed.
type Ruling struct {
	Verdict Verdict `json:"verdict"`
	Why     Why     `json:"why,omitempty"`
	Limit   float64 `json:"limit,omitempty"`
}

// smallest is below which a share of the stock asks nothing back: of a dozen
// animals one death is a large part and no slip of the finger.
const smallest = 3

// Judge says whether a value may be. The phone judges by the same rules
// (web/src/daybook/judge.ts); testdata/judge.json holds both to one another.
func (b Bounds) Judge(v float64, s Stock) Ruling {
	switch {
	case v != v: // not a number
		return Ruling{Impossible, TooHigh, 0}
	case b.Whole && v != float64(int64(v)):
		return Ruling{Impossible, NotWhole, 0}
	case b.Least != nil && v < *b.Least:
		return Ruling{Impossible, TooLow, *b.Least}
	case b.Most != nil && v > *b.Most:
		return Ruling{Impossible, TooHigh, *b.Most}
	case s.PutIn > 0 && b.MostOfStock > 0 && v > b.MostOfStock*float64(s.PutIn):
		return Ruling{Impossible, OverStock, b.MostOfStock * float64(s.PutIn)}
	case b.AskBelow != nil && v < *b.AskBelow:
		return Ruling{Unlikely, TooLow, *b.AskBelow}
	case b.AskAbove != nil && v > *b.AskAbove:
		return Ruling{Unlikely, TooHigh, *b.AskAbove}
	case s.PutIn > 0 && b.AskOfStock > 0 && v >= smallest && v > b.AskOfStock*float64(s.Living):
		return Ruling{Unlikely, OfStock, b.AskOfStock * float64(s.Living)}
	}
	return Ruling{Verdict: Fine}
}
