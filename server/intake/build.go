package intake

import (
	"regexp"
	"strings"

	"tendfold/checklists"
	"tendfold/domain/farm"
	"tendfold/server/app/register"
)

// build types the columns of the build sheet. Words that nobody knows are
// kept as typed and flagged.
func (y *typer) build(p *checklists.Pack) farm.BuildSheet {
	b := farm.BuildSheet{
		Capacity:      y.whole(register.ColCapacity, true),
		Standard:      y.text(register.ColStandard),
		WallBase:      y.word(p, register.ColWallBase),
		Cover:         y.word(p, register.ColCover),
		DoubleDoor:    y.answer(register.ColDoubleDoor),
		Drain:         y.answer(register.ColDrain),
		Lined:         y.answer(register.ColLined),
		Paths:         y.answer(register.ColPaths),
		FeedPlatforms: y.answer(register.ColFeedPlatforms),
		Water:         y.water(p),
		TankLitres:    y.tank(),
		Pump:          y.pump(),
		HandedOverOn:  y.date(register.ColHandedOver),
	}
	b.Length, b.Width = y.sides()
	return b
}

// sides are the two lengths in the measure of the row; one written in the
// cell itself goes before.
func (y *typer) sides() (length, width farm.Length) {
	measure, unknown := "", false
	typed := y.text(register.ColLengthUnit)
	if typed != "" {
		known, ok := measures.find(typed)
		measure, unknown = known, !ok
	}
	length, bareLength := y.side(register.ColLength, measure)
	width, bareWidth := y.side(register.ColWidth, measure)
	bare := bareLength || bareWidth
	switch {
	case unknown && (bare || length.Value != 0 || width.Value != 0):
		y.flag(register.ColLengthUnit, register.MeasureUnknown, register.Values{"value": typed})
		if bare {
			return farm.Length{}, farm.Length{}
		}
	case bare && measure == "" && len(y.table.known[register.ColLengthUnit]) > 0:
		y.flag(register.ColLengthUnit, register.MeasureBlank, nil)
	}
	return length, width
}

// side is one length; bare says that its own cell names no measure.
func (y *typer) side(col register.Column, measure string) (l farm.Length, bare bool) {
	text := y.text(col)
	if text == "" {
		return l, false
	}
	value, own := withMeasure(text)
	switch known, ok := measures.find(own); {
	case own == "":
		bare = true
	case ok:
		measure = known
	default:
		value = text // not a measure: the number is none
	}
	if measure == "" {
		measure = "m"
	}
	if v := y.number(col, value, bound{positive: true, most: 10_000}); v > 0 {
		return farm.Length{Value: v, Measure: measure}, bare
	}
	return farm.Length{}, false
}

func (y *typer) tank() float64 {
	text, measure := withMeasure(y.text(register.ColTank))
	if _, ok := litres.find(measure); measure != "" && !ok {
		text += " " + measure
	}
	return y.number(register.ColTank, text, bound{most: 100_000_000})
}

// pump is the power in the measure of the cell, else of the heading.
func (y *typer) pump() farm.Power {
	_, at := y.cell(register.ColPump)
	text := y.text(register.ColPump)
	value, own := withMeasure(text)
	measure := at.measure
	switch known, ok := powers.find(own); {
	case own == "":
	case ok:
		measure = known
	default:
		value = text
	}
	v := y.number(register.ColPump, value, bound{most: 10_000})
	if v == 0 {
		return farm.Power{}
	}
	return farm.Power{Value: v, Measure: measure}
}

func (y *typer) answer(col register.Column) farm.Answer {
	text := y.text(col)
	if text == "" {
		return farm.Unknown
	}
	if a, ok := answers.find(text); ok {
		return a
	}
	y.flag(col, register.WordUnknown, register.Values{"value": text, "known": "yes, no", "known_fr": "oui, non"})
	return farm.Answer(text)
}

// word is a cell for which the pack has words; a pack without any for the
// column takes every word.
func (y *typer) word(p *checklists.Pack, col register.Column) string {
	text := y.text(col)
	if text == "" || p == nil {
		return text
	}
	words := y.lexicon.words[p.Enterprise][string(col)]
	if col == register.ColSpecies {
		words = y.lexicon.species[p.Enterprise]
	}
	key, ok := words.find(text)
	switch {
	case ok:
		return key
	case len(words) > 0:
		y.flag(col, register.WordUnknown, y.choices(p, col, text))
	}
	return text
}

// choices are the words that a cell could have had.
func (y *typer) choices(p *checklists.Pack, col register.Column, text string) register.Values {
	key := [2]string{p.Enterprise, string(col)}
	known, ok := y.known[key]
	if !ok {
		known = register.Values{"known": wordsOf(p, col, "en"), "known_fr": wordsOf(p, col, "fr")}
		y.known[key] = known
	}
	return register.Values{"value": text, "known": known["known"], "known_fr": known["known_fr"]}
}

// joined stands between two words in one cell.
var joined = regexp.MustCompile(`(?i)\s*[/;,&+]\s*|\s+(?:ou|or|et|and|with|avec)\s+`)

// water is one of the house's words, or several of them: a borehole with a
// pump is two.
func (y *typer) water(p *checklists.Pack) string {
	text := y.text(register.ColWater)
	if text == "" {
		return ""
	}
	var own vocabulary[string]
	if p != nil {
		own = y.lexicon.words[p.Enterprise][string(register.ColWater)]
	}
	if key, ok := waterWord(own, text); ok {
		return key
	}
	var keys []string
	for _, part := range joined.Split(text, -1) {
		key, ok := waterWord(own, part)
		if !ok {
			y.flag(register.ColWater, register.WordUnknown, register.Values{
				"value": text, "known": "mains, well, borehole, river, rain, pump, gravity",
				"known_fr": "réseau, puits, forage, rivière, pluie, pompe, gravité",
			})
			return text
		}
		keys = append(keys, key)
	}
	return strings.Join(keys, ", ")
}

func waterWord(own vocabulary[string], text string) (string, bool) {
	if key, ok := own.find(text); ok {
		return key, true
	}
	return waters.find(text)
}
