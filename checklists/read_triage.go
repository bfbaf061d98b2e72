package checklists

import (
	"io/fs"
	"path"
	"slices"
	"strings"

	"tendfold/domain/ticket"
	"tendfold/domain/triage"
)

// triageFolder holds the cards, a file a sign.
const triageFolder = "triage"

// Bounds of a card.
const (
	mostWeight = 9
	mostSaid   = 300 // characters of a question: one breath
	mostAdvice = 700 // characters of advice: half a minute, and seven parts of a text at most
	mostNow    = 400
)

const (
	aDanger    kind = "danger question"
	aCardCause kind = "cause"
)

func readDangers(c cursor, p *Pack) {
	for _, each := range c.list() {
		o := each.object("key", "ask", "sign")
		d := TriageDanger{Key: o.need("key").declared(aDanger), Ask: o.need("ask").textOf(mostSaid), Sign: o.need("sign").ref(aSign)}
		p.Dangers = append(p.Dangers, d)
	}
}

// readCards reads the card of every sign that has one.
func readCards(b *book, fsys fs.FS, dir string, p *Pack) {
	folder := path.Join(dir, triageFolder)
	p.Cards = map[string]*TriageCard{}
	for _, name := range filesIn(b, fsys, folder) {
		key, isYAML := strings.CutSuffix(name, yamlEnding)
		sign, known := p.Sign(key)
		if !isYAML || !known {
			b.report(path.Join(folder, name), place{1, 1}, "there is no sign of this name in %s", triageFile)
			continue
		}
		r := cardReader{pack: p, sign: sign, at: map[string]cursor{}}
		p.Cards[key] = r.card(open(b, fsys, path.Join(folder, name), name))
	}
	for _, d := range p.Dangers {
		if sign, ok := p.Sign(d.Sign); ok && !sign.Danger {
			b.report(path.Join(dir, triageFile), place{1, 1}, "dangers: %q leads to %q, which is no danger to people", d.Key, d.Sign)
		}
	}
}

// cardReader reads one card and remembers where each part stands, so that
// what Check finds gets its line.
type cardReader struct {
	pack *Pack
	sign Sign
	at   map[string]cursor
}

// kind keeps the names of one card apart from those of the others.
func (r cardReader) kind(of kind) kind { return kind(r.sign.Key) + " " + of }

func (r cardReader) card(c cursor) *TriageCard {
	before := len(c.book.problems)
	o := c.object("sign", "version", "dangers", "causes", "questions", "endings")
	if s := o.need("sign"); s.line() != r.sign.Key {
		s.wrong("is %q, but the file is that of %q", s.line(), r.sign.Key)
	}
	r.at["card"] = o.need("sign")
	t := &TriageCard{Sign: r.sign.Key, Version: o.need("version").whole(1, 1e6), Danger: r.sign.Danger, Impact: r.sign.Impact, TimeToLoss: r.sign.TimeToLoss}
	for _, each := range o.need("causes").some() {
		t.Causes = append(t.Causes, r.cause(each))
	}
	t.Questions = r.dangers(o.may("dangers"))
	for _, each := range o.need("questions").list() {
		t.Questions = append(t.Questions, r.question(each))
	}
	linkDangers(t.Questions)
	for _, each := range o.need("endings").some() {
		t.Endings = append(t.Endings, r.ending(each))
	}
	if len(c.book.problems) > before || c.absent() {
		return t // faults of a card that was half read would only repeat it
	}
	for _, f := range t.Graph().Check() {
		r.where(f.At).wrong("%s", f.Reason)
	}
	return t
}

func (r cardReader) where(at string) cursor {
	if c, ok := r.at[at]; ok {
		return c
	}
	return r.at["card"]
}

func (r cardReader) cause(c cursor) TriageCause {
	o := c.object(with("key", "weight", "text")...)
	return TriageCause{
		Cause: triage.Cause{Key: o.need("key").declared(r.kind(aCardCause)), Weight: o.need("weight").whole(0, mostWeight)},
		Text:  o.need("text").textOf(mostSaid),
		Basis: o.basis(),
	}
}

// dangers are the shared questions that this card begins with; no to one
// leads to the next.
func (r cardReader) dangers(c cursor) []TriageQuestion {
	var out []TriageQuestion
	for _, each := range c.list() {
		key := each.ref(aDanger)
		d, ok := find(r.pack.Dangers, func(d TriageDanger) bool { return d.Key == key })
		if !ok {
			continue
		}
		r.at["question "+key] = each
		out = append(out, TriageQuestion{
			Key: key, Kind: triage.YesNo, Danger: true, Say: d.Ask,
			Answers: []TriageAnswer{{Answer: triage.Answer{Key: triage.Yes, Sign: d.Sign}}, {Answer: triage.Answer{Key: triage.No}}},
		})
	}
	return out
}

// linkDangers lets no to a shared question lead to the question after it.
func linkDangers(qs []TriageQuestion) {
	for i := range qs {
		for j := range qs[i].Answers {
			a := &qs[i].Answers[j]
			if qs[i].Danger && a.Key == triage.No && a.To == "" && a.Sign == "" && i+1 < len(qs) {
				a.To = qs[i+1].Key
			}
		}
	}
}

func (r cardReader) question(c cursor) TriageQuestion {
	o := c.object("key", "kind", "danger", "say", "measure", "yes", "no", "unsure", "ranges", "choices")
	q := TriageQuestion{
		Key:    o.need("key").declared(r.kind("question")),
		Kind:   choice(o.need("kind"), triage.YesNo, triage.Number, triage.Choice, triage.Photo),
		Danger: o.may("danger").yes(),
		Say:    o.need("say").textOf(mostSaid),
	}
	r.at["question "+q.Key] = o.need("key")
	switch q.Kind {
	case triage.YesNo:
		r.no(o, "measure", "ranges", "choices")
		for _, key := range []string{triage.Yes, triage.No} {
			q.Answers = append(q.Answers, r.answer(q.Key, key, o.need(key)))
		}
	case triage.Number:
		r.no(o, "yes", "no", "choices")
		measure := o.need("measure").textOf(maxKey)
		q.Measure = &measure
		for i, each := range o.need("ranges").list() {
			q.Answers = append(q.Answers, r.answer(q.Key, "range-"+string(rune('a'+i%26)), each, "below"))
		}
	case triage.Choice, triage.Photo:
		r.no(o, "yes", "no", "measure", "ranges")
		for _, each := range o.need("choices").list() {
			q.Answers = append(q.Answers, r.answer(q.Key, "", each, "key", "text"))
		}
	}
	if u := o.may(triage.Unsure); !u.absent() {
		q.Answers = append(q.Answers, r.answer(q.Key, triage.Unsure, u))
	}
	return q
}

// no reports keys that have no place in a question of this kind.
func (r cardReader) no(o object, keys ...string) {
	for _, key := range keys {
		o.may(key).wrong("has no place in a question of this kind")
	}
}

func (r cardReader) answer(question, key string, c cursor, more ...string) TriageAnswer {
	o := c.object(append(more, "to", "sign", "moves", "impact", "time_to_loss")...)
	a := TriageAnswer{Answer: triage.Answer{Key: key}}
	if slices.Contains(more, "key") {
		text := o.need("text").textOf(maxLine)
		a.Key, a.Text = o.need("key").key(), &text
		if _, twice := r.at["answer "+question+" "+a.Key]; twice {
			o.need("key").wrong("there are two answers named %q", a.Key)
		}
	}
	a.Below = o.may("below").end(0, 1e6)
	if to := o.may("to"); !to.absent() {
		a.To = to.key()
	}
	if sign := o.may("sign"); !sign.absent() {
		a.Sign = r.dangerSign(sign)
	}
	for _, each := range o.may("moves").pairs() {
		if a.Moves == nil {
			a.Moves = map[string]int{}
		}
		a.Moves[each.name] = each.whole(-mostWeight, mostWeight)
	}
	if !o.may("impact").absent() {
		a.Impact = choice(o.may("impact"), ticket.High, ticket.Middle, ticket.Low)
	}
	if !o.may("time_to_loss").absent() {
		a.TimeToLoss = choice(o.may("time_to_loss"), ticket.Hours, ticket.Week, ticket.Longer)
	}
	r.at["answer "+question+" "+a.Key] = c
	return a
}

// dangerSign is a sign of danger to people: only to its card may another
// lead, and it leads to none, so no walk goes round.
func (r cardReader) dangerSign(c cursor) string {
	key := c.ref(aSign)
	if sign, ok := r.pack.Sign(key); ok && !sign.Danger {
		c.wrong("%q is no danger to people; a card leads only to the card of a danger", key)
	}
	return key
}

func (r cardReader) ending(c cursor) TriageEnding {
	o := c.object(with("key", "advice", "now", "go", "tell", "cautions")...)
	e := TriageEnding{
		Ending: triage.Ending{
			Key:      o.need("key").declared(r.kind("ending")),
			Go:       choice(o.need("go"), triage.GoNow, triage.GoToday, triage.GoWeek, triage.GoNext, triage.GoNot),
			Tell:     o.may("tell").yes(),
			Cautions: o.may("cautions").refs(aCaution),
		},
		Advice: o.need("advice").textOf(mostAdvice),
		Basis:  o.basis(),
	}
	if now := o.may("now"); !now.absent() {
		text := now.textOf(mostNow)
		e.Now, e.Ending.Now = &text, text.EN != "" && text.FR != ""
	}
	e.Says = e.Advice.EN != "" && e.Advice.FR != ""
	if len(e.Cautions) == 0 && r.sign.Caution != "" {
		e.Cautions = []string{r.sign.Caution}
	}
	if e.Cautions == nil {
		e.Cautions = []string{}
	}
	r.at["ending "+e.Key] = o.need("key")
	return e
}
