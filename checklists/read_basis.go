package checklists

import "slices"

// with adds the keys of a basis to those of a figure.
func with(keys ...string) []string { return append(keys, "source", "grade", "note") }

// basis reads what a figure rests on. A published or derived figure names its
// source, and claims no better grade than the source has.
func (o object) basis() Basis {
	b := Basis{
		Source: o.may("source").ref(aSource),
		Grade:  readGrade(o.need("grade")),
		Note:   o.may("note").line(),
	}
	if (b.Grade.Published() || b.Grade == Derived) && o.may("source").absent() {
		o.need("grade").wrong("a figure of grade %s must name its source", b.Grade)
	}
	o.book.claims = append(o.book.claims, claim{b, o.may("grade")})
	return b
}

func readGrade(c cursor) Grade {
	return choice(c, FullText, Abstract, Weak, Derived, CommonPractice, Constructed, FromMemory)
}

// figure reads one number with its basis.
func (c cursor) figure(low, high float64) Figure {
	o := c.object(with("value")...)
	return Figure{Value: o.need("value").number(low, high), Basis: o.basisOf(c)}
}

// basisOf reads the basis of a figure that may itself be absent.
func (o object) basisOf(c cursor) Basis {
	if c.absent() {
		return Basis{}
	}
	return o.basis()
}

// span reads low, typical and high, in that order, with their basis.
func (c cursor) span(low, high float64) Span {
	o, before := c.object(with("low", "typical", "high")...), len(c.book.problems)
	s := Span{
		Low:     o.need("low").number(low, high),
		Typical: o.need("typical").number(low, high),
		High:    o.need("high").number(low, high),
		Basis:   o.basisOf(c),
	}
	legible := len(c.book.problems) == before
	if legible && (s.Low > s.Typical || s.Typical > s.High) {
		c.wrong("low %s, typical %s and high %s are not in rising order", short(s.Low), short(s.Typical), short(s.High))
	}
	return s
}

// readSources reads sources.yaml.
func readSources(c cursor) map[string]Source {
	out := map[string]Source{}
	for _, each := range c.pairs() {
		o := each.object("citation", "grade")
		name := each.named(aSource)
		out[name] = Source{Citation: o.need("citation").line(), Grade: readGrade(o.need("grade"))}
		if !slices.Contains([]Grade{FullText, Abstract, Weak}, out[name].Grade) {
			o.need("grade").wrong("a source is T, A or B; what has no source needs none here")
		}
	}
	return out
}

// checkGrades holds every figure against its source: nothing from a blog is
// read as the text of a paper.
func (b *book) checkGrades(sources map[string]Source) {
	rank := []Grade{FullText, Abstract, Weak}
	for _, claim := range b.claims {
		source, known := sources[claim.basis.Source]
		if !known || !claim.basis.Grade.Published() {
			continue
		}
		if slices.Index(rank, claim.basis.Grade) < slices.Index(rank, source.Grade) {
			claim.at.wrong("grade %s is better than %s, the grade of its source %q", claim.basis.Grade, source.Grade, claim.basis.Source)
		}
	}
}
