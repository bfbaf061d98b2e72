package text

import (
	"slices"
	"strconv"
	"strings"
)

// Keyword is what people write in a text message for a sign, for something
// that is counted, or for both.
type Keyword struct {
	Says  []string // in any language; compared as Words
	Sign  string   // key of the sign, "" = none
	Count string   // what the number beside it counts, "" = nothing
	// From so many on it is another sign; 0 = never.
	From     int
	FromSign string
}

// Grammar finds keywords in messages.
type Grammar struct {
	phrases []phrase
}

type phrase struct {
	words []string
	of    Keyword
}

// NewGrammar takes the keywords in the order in which they win where two say
// the same. A longer phrase always wins over a shorter one.
func NewGrammar(words ...Keyword) Grammar {
	var g Grammar
	for _, k := range words {
		for _, s := range k.Says {
			if w := Words(s); len(w) > 0 {
				g.phrases = append(g.phrases, phrase{w, k})
			}
		}
	}
	slices.SortStableFunc(g.phrases, func(a, b phrase) int { return len(b.words) - len(a.words) })
	return g
}

// Message is what was understood of one. What was not understood is a plain
// report; nothing is ever dropped.
type Message struct {
	Command Command
	Signs   []string // keys, each once, in the order met
	Counts  []Count
}

// Count is a number with what it counts.
type Count struct {
	Field string
	N     int
}

// Command is a word to the service itself; it is the whole message.
type Command string

// The commands.
const (
	Stop  Command = "stop"  // send me nothing
	Start Command = "start" // send again
)

// commands are the customary words in both languages.
var commands = map[string]Command{
	"stop": Stop, "stop all": Stop, "stopall": Stop, "unsubscribe": Stop, "cancel": Stop, "quit": Stop, "end": Stop,
	"arret": Stop, "arreter": Stop, "arretez": Stop, "desabonner": Stop, "annuler": Stop,
	"start": Start, "unstop": Start, "resume": Start, "reprise": Start, "reprendre": Start, "commencer": Start,
}

// most is the highest number that is taken for a count.
const most = 1_000_000

// none are words that make nothing of what follows.
var none = []string{"no", "zero", "aucun", "aucune", "sans", "pas", "nil"}

// Read finds what a message says. "DEAD 12", "12 dead" and "dead: 12" are one;
// "no dead" counts none and is no sign.
func (g Grammar) Read(s string) Message {
	words := Words(s)
	m := Message{Command: commands[strings.Join(words, " ")]}
	if m.Command != "" {
		return m
	}
	taken := make([]bool, len(words))
	for i := 0; i < len(words); {
		k, n := g.at(words[i:])
		if n == 0 {
			i++
			continue
		}
		m.take(k, words, taken, i, i+n)
		i += n
	}
	return m
}

// at is the keyword that begins a list of words, and how many it takes.
func (g Grammar) at(words []string) (Keyword, int) {
	for _, p := range g.phrases {
		if len(p.words) <= len(words) && slices.Equal(p.words, words[:len(p.words)]) {
			return p.of, len(p.words)
		}
	}
	return Keyword{}, 0
}

// take notes a keyword that stands in words from i up to j.
func (m *Message) take(k Keyword, words []string, taken []bool, i, j int) {
	sign := k.Sign
	if k.Count != "" {
		n, known := beside(words, taken, i, j)
		if known {
			m.Counts = append(m.Counts, Count{k.Count, n})
		}
		switch {
		case known && n == 0:
			return
		case known && k.From > 0 && n >= k.From:
			sign = k.FromSign
		}
	}
	if sign != "" && !slices.Contains(m.Signs, sign) {
		m.Signs = append(m.Signs, sign)
	}
}

// beside is the number that belongs to words i up to j: the one before unless
// it belongs to another already, else the one behind.
func beside(words []string, taken []bool, i, j int) (int, bool) {
	before := i - 1
	if before >= 1 && slices.Contains([]string{"de", "d"}, words[before]) { // pas de morts
		before--
	}
	if before >= 0 && slices.Contains(none, words[before]) {
		return 0, true
	}
	for _, at := range []int{i - 1, j} {
		if at < 0 || at >= len(words) || taken[at] {
			continue
		}
		if n, err := strconv.Atoi(words[at]); err == nil && n <= most {
			taken[at] = true
			return n, true
		}
	}
	return 0, false
}
