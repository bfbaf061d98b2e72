package checklists

import (
	"slices"

	"tendfold/domain/ticket"
)

// columns are the build-sheet columns that a pack has words for.
var columns = []string{"wall_base", "cover", "water"}

// readWords reads words.yaml: what people type for what was built.
func readWords(c cursor) map[string][]Word {
	out := map[string][]Word{}
	o := c.object(columns...)
	for _, column := range columns {
		taken := map[string]string{}
		for _, each := range o.need(column).list() {
			w := readWord(each)
			for _, typed := range w.typed() {
				if other, twice := taken[fold(typed)]; twice && other != w.Key {
					each.wrong("%q already stands for %q in %s", typed, other, column)
				}
				taken[fold(typed)] = w.Key
			}
			out[column] = append(out[column], w)
		}
	}
	return out
}

func readWord(c cursor) Word {
	o := c.object("key", "name", "also")
	return Word{Key: o.need("key").key(), Name: o.need("name").text(), Also: o.may("also").lines()}
}

// readTriage reads triage.yaml: signs of trouble, cautions, and the questions
// about people that cards share.
func readTriage(c cursor, p *Pack) {
	o := c.object("cautions", "dangers", "signs")
	for _, each := range o.need("cautions").pairs() {
		p.Cautions[each.named(aCaution)] = each.text()
	}
	for _, each := range o.need("signs").list() {
		p.Signs = append(p.Signs, readSign(each))
	}
	readDangers(o.may("dangers"), p)
}

func readSign(c cursor) Sign {
	o := c.object(with("key", "text", "danger", "impact", "time_to_loss", "likely", "first_words", "caution")...)
	return Sign{
		Key:        o.need("key").declared(aSign),
		Text:       o.need("text").text(),
		Danger:     o.may("danger").yes(),
		Impact:     readImpact(o.need("impact")),
		TimeToLoss: readTimeToLoss(o.need("time_to_loss")),
		Likely:     o.need("likely").text(),
		FirstWords: o.need("first_words").text(),
		Caution:    o.may("caution").ref(aCaution),
		Basis:      o.basis(),
	}
}

func readImpact(c cursor) ticket.Impact {
	return choice(c, ticket.High, ticket.Middle, ticket.Low)
}

func readTimeToLoss(c cursor) ticket.TimeToLoss {
	return choice(c, ticket.Hours, ticket.Week, ticket.Longer)
}

// typed is everything that people may write for a word.
func (w Word) typed() []string {
	return slices.Concat([]string{w.Key, w.Name.EN, w.Name.FR}, w.Also)
}
