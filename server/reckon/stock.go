package reckon

import "tendfold/domain/husbandry/matrix"

// manyAnimals is above which a sum without limits speaks of more animals than
// any farm could hold.
const manyAnimals = 100_000

// reckonStock answers what animals will be there.
func reckonStock(w work) {
	if w.has("matrix") || w.has("start") || w.has("months") {
		stockMatrix(w)
	}
	if g, ok := w.part("unit"); ok {
		stockUnit(w, g)
		g.done()
	}
}

// stockMatrix answers the bare sum of births and deaths, without room, season
// or chance.
func stockMatrix(w work) {
	m := w.need("matrix")
	stages := matrix.Stages{
		Juvenile:         m.whole("juvenile_stages", matrix.StageCount),
		JuvenileSurvival: m.number("juvenile_survival", matrix.Survival),
		AdultSurvival:    m.number("adult_survival", matrix.Survival),
		BirthsPerMonth:   m.number("births_per_month", matrix.Births),
	}
	m.done()
	if !w.ok() {
		return
	}
	growth, err := stages.Growth()
	m.blame(err)
	w.put("lambda_month", growth, "times a month")
	w.formula("lambda_month", stageMatrix)
	if w.has("start") || w.has("months") {
		stockByMonth(w, stages)
	}
}

func stockByMonth(w work, stages matrix.Stages) {
	s := w.need("start")
	start := matrix.Count{Juveniles: s.number("juveniles", matrix.Herd), Adults: s.number("adults", matrix.Herd)}
	s.done()
	months := w.whole("months", matrix.Months)
	if !w.ok() {
		return
	}
	herd, err := stages.Project(start, months)
	w.blame(err)
	var month, juveniles, adults []float64
	for n, c := range herd {
		month, juveniles, adults = append(month, float64(n)), append(juveniles, c.Juveniles), append(adults, c.Adults)
		if c.Juveniles+c.Adults > manyAnimals {
			w.mind("sum-without-limits")
		}
	}
	w.row("month", month)
	w.row("juveniles", juveniles)
	w.row("adults", adults)
	w.mind("estimates")
}
