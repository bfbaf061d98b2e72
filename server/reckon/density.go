package reckon

import (
	"tendfold/checklists"
	"tendfold/domain/farm"
	"tendfold/domain/husbandry"
	"tendfold/domain/husbandry/density"
)

// reckonDensity answers how full a house is, as built, today and at harvest.
func reckonDensity(w work) {
	if len(w.values) == 0 {
		return
	}
	p := w.pack("snail")
	species := w.speciesOf(w.group, p)
	area := areaOf(w)
	w.put("area_m2", area, "m2")
	claims(w, p, species, area)
	today(w, p, species, area)
	if w.has("system") {
		inWater(w, p)
	}
	w.mindPack(species.Caution, p)
}

// side is a length of a house as entered, in metres or feet.
var side = husbandry.Range{Low: 0.1, High: 10_000, Measure: "m or ft"}

// areaOf is the floor in m2: as it is, or by its sides as the build sheet has
// them.
func areaOf(w work) float64 {
	if w.has("area_m2") {
		return w.number("area_m2", density.Area)
	}
	length, width := w.number("length", side), w.number("width", side)
	in := w.wordOr("sides_in", "m", "m", "ft")
	area := farm.Length{Value: length, Measure: in}.Metres() * farm.Length{Value: width, Measure: in}.Metres()
	if f := density.Area.Within("length", area); f != nil && w.ok() {
		w.refuse("length", f.Code, "gives a floor that %s", f.Text)
	}
	return area
}

// limitAt is the published limit for animals of a mean weight in g.
func limitAt(w work, p *checklists.Pack, s checklists.Species, meanG float64, name string) density.Limit {
	for _, d := range s.Densities {
		if meanG < d.FromG || d.ToG > 0 && meanG >= d.ToG {
			continue
		}
		if d.PerM2.Value > 0 {
			w.basis(name+"_per_m2", d.PerM2.Basis, p)
		}
		if d.KgPerM2.Value > 0 {
			w.basis(name+"_kg_m2", d.KgPerM2.Basis, p)
		}
		return density.Limit{Animals: d.PerM2.Value, Kg: d.KgPerM2.Value}
	}
	return density.Limit{}
}

// claims holds the capacity of the build sheet against what the floor carries
// of animals at the weight of sale.
func claims(w work, p *checklists.Pack, s checklists.Species, area float64) {
	if !w.has("claimed") {
		return
	}
	claimed := float64(w.whole("claimed", density.Animals))
	grown := w.span(w.group, "harvest_g", density.Grams, s.MarketG, p).Typical
	if !w.ok() {
		return
	}
	full(w, p, s, claimed, grown, area, "claimed")
}

// today holds the animals that are there against the limits of their size, and
// of the size at which they are sold.
func today(w work, p *checklists.Pack, s checklists.Species, area float64) {
	if !w.has("animals") && !w.has("mean_g") {
		return
	}
	animals, meanG := float64(w.whole("animals", density.Animals)), w.number("mean_g", density.Grams)
	grown := w.span(w.group, "harvest_g", density.Grams, s.MarketG, p).Typical
	pen := w.numberOr("pen_m2", density.Area, area)
	if !w.ok() {
		return
	}
	most := full(w, p, s, animals, meanG, area, "today")
	grownMost := full(w, p, s, animals, max(meanG, grown), area, "harvest")
	pens(w, "pens_today", most, animals, meanG, pen)
	pens(w, "pens_harvest", grownMost, animals, max(meanG, grown), pen)
}

func pens(w work, name string, most density.Limit, animals, meanG, pen float64) {
	n, ok, err := most.Pens(animals, meanG, pen)
	w.blame(err)
	if ok {
		w.put(name, n, "pens")
	}
}

// full puts one load, what is published for it, and whether it is too much.
func full(w work, p *checklists.Pack, s checklists.Species, animals, meanG, area float64, name string) density.Limit {
	l, err := density.LoadOf(animals, meanG, area)
	w.blame(err)
	most := limitAt(w, p, s, meanG, name+"_most")
	w.put(name+"_per_m2", l.Animals, "animals/m2")
	w.put(name+"_kg_m2", l.Kg, "kg/m2")
	if most.Animals > 0 {
		w.put(name+"_most_per_m2", most.Animals, "animals/m2")
	}
	if most.Kg > 0 {
		w.put(name+"_most_kg_m2", most.Kg, "kg/m2")
	}
	room, known, err := most.Room(meanG, area)
	w.blame(err)
	if !known {
		w.put(name+"_overcrowded", "no-limit-known", "")
		return most
	}
	over := l.Beyond(most).Any()
	w.put(name+"_room", room, "animals")
	w.put(name+"_overcrowded", over, "")
	if over {
		w.mind("overcrowded")
	}
	return most
}

// inWater holds fish against what the way of keeping the water can carry; a
// figure of one way says nothing of another.
func inWater(w work, p *checklists.Pack) {
	s, ok := systemOf(w, w.group, p)
	animals, meanG := w.number("animals", density.Animals), w.number("mean_g", density.Grams)
	room := roomOf(w, w.group, s)
	if !ok || !w.ok() {
		return
	}
	l, err := density.LoadOf(animals, meanG, room)
	w.blame(err)
	w.put("water_load", l.Kg, string(s.In))
	w.put("water_most", s.Most.Value, string(s.In))
	w.put("water_overcrowded", l.Beyond(density.Limit{Kg: s.Most.Value}).Any(), "")
	w.basis("water_most", s.Most.Basis, p)
	w.mind("one-system-only")
}

// systemOf is the way of keeping water that the group names.
func systemOf(w work, g group, p *checklists.Pack) (checklists.System, bool) {
	var keys []string
	for _, s := range p.Husbandry.Systems {
		keys = append(keys, s.Key)
	}
	key := g.word("system", keys...)
	for _, s := range p.Husbandry.Systems {
		if s.Key == key {
			return s, true
		}
	}
	return checklists.System{}, false
}

// roomOf is the room of a system in its measure: square metres of a pond, cubic
// metres of a tank.
func roomOf(w work, g group, s checklists.System) float64 {
	if s.In == checklists.KgPerM3 {
		return g.number("volume_m3", density.Volume)
	}
	g.has("volume_m3")
	if g.has("area_m2") {
		return g.number("area_m2", density.Area)
	}
	return areaOf(w)
}
