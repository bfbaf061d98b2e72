package checklists

import (
	"io/fs"
	"path"
)

// husbandryFile may be left out: then the arithmetic of the enterprise asks
// for every figure.
const husbandryFile = "husbandry.yaml"

// readHusbandry reads the figures of the arithmetic.
func readHusbandry(b *book, fsys fs.FS, dir string) Husbandry {
	full := path.Join(dir, husbandryFile)
	if _, err := fs.Stat(fsys, full); err != nil {
		return Husbandry{}
	}
	o := open(b, fsys, full, husbandryFile).object("deaths", "avoid", "crops", "mist_l_m2", "systems", "limits", "gradings", "pump")
	h := Husbandry{
		Deaths:  readDeaths(o.may("deaths")),
		MistLM2: o.may("mist_l_m2").span(0, 100),
		Pump:    readPump(o.may("pump")),
	}
	for _, each := range o.may("avoid").list() {
		a := each.object(with("key", "name", "why")...)
		h.Avoid = append(h.Avoid, Avoided{a.need("key").key(), a.need("name").text(), a.need("why").text(), a.basisOf(each)})
	}
	for _, each := range o.may("crops").list() {
		h.Crops = append(h.Crops, readCrop(each))
	}
	for _, each := range o.may("systems").list() {
		h.Systems = append(h.Systems, readSystem(each))
	}
	for _, each := range o.may("limits").list() {
		h.Limits = append(h.Limits, readWaterLimit(each))
	}
	for _, each := range o.may("gradings").list() {
		g := each.object("below_g", "days")
		h.Gradings = append(h.Gradings, Grading{g.need("below_g").number(0, heaviestG), g.need("days").figure(1, 365)})
	}
	return h
}

func readDeaths(c cursor) DeathFigures {
	o := c.object("shape", "run_weeks", "see_weeks", "at_once", "at_once_pc")
	return DeathFigures{
		Shape:    o.may("shape").figure(0.1, 4),
		RunWeeks: o.may("run_weeks").figure(1, 10_000),
		SeeWeeks: o.may("see_weeks").figure(1, 104),
		AtOnce:   o.may("at_once").figure(1, 1e6),
		AtOncePc: o.may("at_once_pc").figure(0.01, 100),
	}
}

func readCrop(c cursor) Crop {
	o := c.object(with("key", "name", "ini", "mid", "end")...)
	kc := func(key string) float64 { return o.need(key).number(0.05, 1.6) }
	return Crop{o.need("key").key(), o.need("name").text(), kc("ini"), kc("mid"), kc("end"), o.basisOf(c)}
}

func readSystem(c cursor) System {
	o := c.object("key", "name", "in", "most", "changes")
	s := System{
		Key: o.need("key").key(), Name: o.need("name").text(), In: choice(o.need("in"), KgPerM2, KgPerM3), Most: o.need("most").figure(0.001, 1000),
	}
	for i, each := range o.may("changes").list() {
		g := each.object("from", "percent_day")
		s.Changes = append(s.Changes, Change{g.need("from").number(0, 1000), g.need("percent_day").figure(0, 1000)})
		if i > 0 && s.Changes[i].From <= s.Changes[i-1].From {
			each.wrong("from does not rise")
		}
	}
	return s
}

func readWaterLimit(c cursor) WaterLimit {
	o := c.object(with("key", "name", "in", "low", "high")...)
	l := WaterLimit{
		Key: o.need("key").key(), Name: o.need("name").text(), In: choice(o.need("in"), Measures()...),
		Low: o.may("low").end(0, 1e6), High: o.may("high").end(0, 1e6), Basis: o.basisOf(c),
	}
	if l.Low == nil && l.High == nil {
		c.wrong("has neither low nor high")
	}
	return l
}

func readPump(c cursor) PumpFigures {
	o := c.object("efficiency", "fittings", "suction_m")
	return PumpFigures{o.may("efficiency").span(0.01, 0.95), o.may("fittings").figure(0, 2), o.may("suction_m").figure(0, 10)}
}
