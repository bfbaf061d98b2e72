package checklists

import (
	"tendfold/domain/programme"
	"tendfold/domain/sweep"
)

// Format is the version of the format that this binary reads.
const Format = 1

// readPack reads pack.yaml: who the pack is, and the animals it is about.
func readPack(c cursor) *Pack {
	p := &Pack{
		Rules:    map[string]sweep.RuleFigures{},
		Words:    map[string][]Word{},
		Cautions: map[string]Text{},
		Sources:  map[string]Source{},
		Bases:    map[string]Basis{},
	}
	o := c.object("format", "enterprise", "version", "name", "purposes", "species")
	if f := o.need("format"); !f.absent() && f.whole(0, 1e6) != Format {
		f.wrong("this program reads format %d; bring the pack to it or use a matching program", Format)
	}
	p.Enterprise = o.need("enterprise").key()
	p.Version = o.need("version").short()
	p.Name = o.need("name").text()
	p.Purposes = choices(o.need("purposes"), programme.GrowOut, programme.Breeding)
	for _, each := range o.need("species").some() {
		p.Species = append(p.Species, readSpecies(each))
	}
	return p
}

// Bounds for animals: a million a square metre, a tonne each.
const (
	mostPerM2 = 1e6
	heaviestG = 1e6
)

func readSpecies(c cursor) Species {
	o := c.object("key", "name", "latin", "also", "caution", "max_per_m2", "densities", "stocked_g", "market_g")
	s := Species{
		Key:      o.need("key").declared(aSpecies),
		Name:     o.need("name").text(),
		Latin:    o.need("latin").short(),
		Also:     o.may("also").lines(),
		Caution:  o.may("caution").ref(aCaution),
		MaxPerM2: o.need("max_per_m2").figure(0.001, mostPerM2),
		StockedG: o.need("stocked_g").span(0.001, heaviestG),
		MarketG:  o.need("market_g").span(0.001, heaviestG),
	}
	for _, each := range o.need("densities").list() {
		s.Densities = append(s.Densities, readDensity(each))
	}
	return s
}

func readDensity(c cursor) Density {
	o := c.object("stage", "from_g", "to_g", "per_m2", "kg_per_m2")
	d := Density{Stage: o.need("stage").text(), FromG: o.may("from_g").number(0, heaviestG), ToG: o.may("to_g").number(0, heaviestG)}
	if d.ToG != 0 && d.ToG <= d.FromG {
		o.may("to_g").wrong("%s is not above from_g %s", short(d.ToG), short(d.FromG))
	}
	if !o.may("per_m2").absent() {
		d.PerM2 = o.may("per_m2").figure(0.001, mostPerM2)
	}
	if !o.may("kg_per_m2").absent() {
		d.KgPerM2 = o.may("kg_per_m2").figure(0.001, mostPerM2)
	}
	if d.PerM2.Value == 0 && d.KgPerM2.Value == 0 && !c.absent() {
		c.wrong("has neither per_m2 nor kg_per_m2")
	}
	return d
}
