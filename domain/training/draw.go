package training

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"slices"
)

// QuestionKind is how a question is answered.
type QuestionKind string

// The kinds of questions.
const (
	One     QuestionKind = "one"     // one of the options is right
	Order   QuestionKind = "order"   // all options, tapped in the right order
	Picture QuestionKind = "picture" // one of the pictures is right
	Sum     QuestionKind = "sum"     // a number
)

// Question is what marking needs to know of a question; the words stand in
// the pack.
type Question struct {
	Key       string       `json:"key"`
	Kind      QuestionKind `json:"kind"`
	Safety    bool         `json:"safety,omitempty"`  // must be right to pass
	Options   []string     `json:"options,omitempty"` // of order: in the right order; none for sum
	Right     string       `json:"right,omitempty"`   // one and picture: the right option
	Answer    float64      `json:"answer,omitempty"`  // sum
	Tolerance float64      `json:"tolerance,omitempty"`
}

// Bank is the questions of a module and how many of them are asked.
type Bank struct {
	Draw      int        `json:"draw"`
	Questions []Question `json:"questions"`
}

// Version names what marking rests on: a phone that drew from another version
// has answered other questions. A corrected wording keeps it.
func (b Bank) Version() string {
	text, err := json.Marshal(b)
	if err != nil {
		panic(err) // a parsed bank has finite numbers only
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:6])
}

// Asked is a question of a draw, with its options in the order shown.
type Asked struct {
	Question string   `json:"question"`
	Options  []string `json:"options"`
}

// Ask draws the questions of a seed. Every safety question of the bank is in
// every draw, or as many as fit, so that "every safety question right" speaks
// of all of them and not of those that luck brought; the others fill the
// places that are left. A right order is never shown as it is.
func (b Bank) Ask(seed uint32) []Asked {
	s := newStream(seed)
	places := make([]int, len(b.Questions))
	for i := range places {
		places[i] = i
	}
	shuffle(s, places)
	slices.SortStableFunc(places, func(x, y int) int { return rank(b.Questions[x]) - rank(b.Questions[y]) })
	places = places[:min(b.Draw, len(places))]
	shuffle(s, places)
	out := make([]Asked, len(places))
	for i, at := range places {
		out[i] = b.Questions[at].ask(s)
	}
	return out
}

func rank(q Question) int {
	if q.Safety {
		return 0
	}
	return 1
}

func (q Question) ask(s *stream) Asked {
	shown := slices.Clone(q.Options)
	shuffle(s, shown)
	if q.Kind == Order && slices.Equal(shown, q.Options) {
		shown = append(shown[1:], shown[0])
	}
	return Asked{Question: q.Key, Options: shown}
}
