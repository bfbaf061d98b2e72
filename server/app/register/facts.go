package register

import (
	"strconv"
	"strings"

	"tendfold/domain/farm"
)

// fact is one column of a thing: how it reads as text ("" when it is not
// known) and how it is put.
type fact[T any] struct {
	col Column
	of  func(T) string
	put func(to *T, from T)
}

var farmFacts = []fact[farm.Farm]{
	{ColTown, func(f farm.Farm) string { return f.Town }, func(to *farm.Farm, from farm.Farm) { to.Town = from.Town }},
	{ColLandmark, func(f farm.Farm) string { return f.Landmark }, func(to *farm.Farm, from farm.Farm) { to.Landmark = from.Landmark }},
	{ColLatitude, func(f farm.Farm) string { return placeText(f.Position) }, func(to *farm.Farm, from farm.Farm) { to.Position = from.Position }},
	{ColStatus, func(f farm.Farm) string { return string(f.Status) }, func(to *farm.Farm, from farm.Farm) { to.Status = from.Status }},
}

var unitFacts = []fact[farm.Unit]{
	{ColEnterprise, func(u farm.Unit) string { return u.Enterprise }, func(to *farm.Unit, from farm.Unit) { to.Enterprise = from.Enterprise }},
	{ColSpecies, func(u farm.Unit) string { return u.Species }, func(to *farm.Unit, from farm.Unit) { to.Species = from.Species }},
	build(ColLength, func(b farm.BuildSheet) string { return measured(b.Length.Value, b.Length.Measure) }, func(to *farm.BuildSheet, from farm.BuildSheet) { to.Length = from.Length }),
	build(ColWidth, func(b farm.BuildSheet) string { return measured(b.Width.Value, b.Width.Measure) }, func(to *farm.BuildSheet, from farm.BuildSheet) { to.Width = from.Width }),
	build(ColCapacity, func(b farm.BuildSheet) string { return number(float64(b.Capacity)) }, func(to *farm.BuildSheet, from farm.BuildSheet) { to.Capacity = from.Capacity }),
	build(ColStandard, func(b farm.BuildSheet) string { return b.Standard }, func(to *farm.BuildSheet, from farm.BuildSheet) { to.Standard = from.Standard }),
	build(ColWallBase, func(b farm.BuildSheet) string { return b.WallBase }, func(to *farm.BuildSheet, from farm.BuildSheet) { to.WallBase = from.WallBase }),
	build(ColCover, func(b farm.BuildSheet) string { return b.Cover }, func(to *farm.BuildSheet, from farm.BuildSheet) { to.Cover = from.Cover }),
	build(ColDoubleDoor, func(b farm.BuildSheet) string { return string(b.DoubleDoor) }, func(to *farm.BuildSheet, from farm.BuildSheet) { to.DoubleDoor = from.DoubleDoor }),
	build(ColDrain, func(b farm.BuildSheet) string { return string(b.Drain) }, func(to *farm.BuildSheet, from farm.BuildSheet) { to.Drain = from.Drain }),
	build(ColLined, func(b farm.BuildSheet) string { return string(b.Lined) }, func(to *farm.BuildSheet, from farm.BuildSheet) { to.Lined = from.Lined }),
	build(ColPaths, func(b farm.BuildSheet) string { return string(b.Paths) }, func(to *farm.BuildSheet, from farm.BuildSheet) { to.Paths = from.Paths }),
	build(ColFeedPlatforms, func(b farm.BuildSheet) string { return string(b.FeedPlatforms) }, func(to *farm.BuildSheet, from farm.BuildSheet) { to.FeedPlatforms = from.FeedPlatforms }),
	build(ColWater, func(b farm.BuildSheet) string { return b.Water }, func(to *farm.BuildSheet, from farm.BuildSheet) { to.Water = from.Water }),
	build(ColTank, func(b farm.BuildSheet) string { return number(b.TankLitres) }, func(to *farm.BuildSheet, from farm.BuildSheet) { to.TankLitres = from.TankLitres }),
	build(ColPump, func(b farm.BuildSheet) string { return measured(b.Pump.Value, b.Pump.Measure) }, func(to *farm.BuildSheet, from farm.BuildSheet) { to.Pump = from.Pump }),
	build(ColHandedOver, func(b farm.BuildSheet) string { return b.HandedOverOn.String() }, func(to *farm.BuildSheet, from farm.BuildSheet) { to.HandedOverOn = from.HandedOverOn }),
}

var batchFacts = []fact[farm.Batch]{
	{ColCount, func(b farm.Batch) string { return number(float64(b.Count)) }, func(to *farm.Batch, from farm.Batch) { to.Count = from.Count }},
	{ColWeight, func(b farm.Batch) string { return number(b.MeanWeightG) }, func(to *farm.Batch, from farm.Batch) { to.MeanWeightG = from.MeanWeightG }},
}

// build is a fact of the build sheet as one of the unit that has it.
func build(col Column, of func(farm.BuildSheet) string, put func(to *farm.BuildSheet, from farm.BuildSheet)) fact[farm.Unit] {
	return fact[farm.Unit]{
		col: col,
		of:  func(u farm.Unit) string { return of(u.Build) },
		put: func(to *farm.Unit, from farm.Unit) { put(&to.Build, from.Build) },
	}
}

// number is v as the shortest text that reads back to it, "" for 0.
func number(v float64) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func measured(v float64, measure string) string {
	if v == 0 {
		return ""
	}
	return number(v) + " " + measure
}

func placeText(p farm.Position) string {
	if !p.Known {
		return ""
	}
	return strconv.FormatFloat(p.Lat, 'f', -1, 64) + ", " + strconv.FormatFloat(p.Lng, 'f', -1, 64)
}

// tell puts into a thing what a row says of it. The first row of a file that
// speaks for a column is followed, later ones that differ are flagged: so the
// same file again changes nothing, whatever it contradicts itself about.
func tell[T any](p *planner, e *entry[T], facts []fact[T], says T) {
	for _, f := range facts {
		p.tellOne(e.row, &e.said, f.col, f.of(e.it), f.of(says), func() {
			f.put(&e.it, says)
			e.dirty = true
		})
	}
}

// tellOne is tell for one column. madeBy is the row that made the thing, said
// the rows that have spoken; put is called when the value is new.
func (p *planner) tellOne(madeBy int, said *map[Column]int, col Column, known, given string, put func()) {
	if given == "" {
		return
	}
	if row, spoken := (*said)[col]; spoken {
		if !strings.EqualFold(known, given) {
			p.flag(col, SaidOtherwise, Values{"first": strconv.Itoa(row), "kept": p.shown(col, known), "value": p.shown(col, given), "thing": string(col)})
		}
		return
	}
	if *said == nil {
		*said = map[Column]int{}
	}
	(*said)[col] = p.row.Number
	if known == given {
		return
	}
	put()
	if madeBy != p.row.Number {
		p.change(col, known, given)
	}
}
