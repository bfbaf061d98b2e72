package reckon

import (
	"tendfold/checklists"
	"tendfold/domain/farm"
	"tendfold/domain/husbandry"
	"tendfold/domain/husbandry/pump"
)

// Defaults of a pipe: new plastic.
const (
	plasticC         = 150
	plasticRoughness = 0.0015 // mm
)

// reckonPump answers what a pipe costs in head and whether a pump, or a tank on
// a hill, can give the water through it.
func reckonPump(w work) {
	if len(w.values) == 0 {
		return
	}
	p := w.pack("snail")
	line := pump.Line{Pipe: pipeOf(w, p)}
	flow, litres := flowWanted(w)
	outlet := w.numberOr("outlet_bar", pump.Pressure, 0)
	if w.has("machine") || w.has("lift_m") {
		line.LiftM, line.OutletBar = w.number("lift_m", pump.Lift), outlet
		pumpLine(w, p, line, flow, litres)
	}
	if g, ok := w.part("gravity"); ok {
		byGravity(w, g, line.Pipe, outlet, flow, litres)
	}
	w.formula("friction_hazen_m", hazenWilliams)
	w.formula("friction_darcy_m", darcyWeisbach)
	w.mindPack("tanks-and-wells", p)
}

func pipeOf(w work, p *checklists.Pack) pump.Pipe {
	g := w.need("pipe")
	out := pump.Pipe{
		LengthM: g.number("length_m", pump.Length), DiameterMM: g.number("diameter_mm", pump.Diameter),
		C: g.numberOr("hazen_c", pump.HazenC, plasticC), RoughnessMM: g.numberOr("roughness_mm", pump.Roughness, plasticRoughness),
		ViscosityM2S:  g.numberOr("viscosity_m2_s", pump.Viscosity, pump.Water25),
		FittingsShare: w.figure(g, "fittings_share", pump.Share, p.Husbandry.Pump.Fittings, p),
	}
	g.done()
	return out
}

// flowWanted is the flow in l/min that is wanted, and the litres a day, 0 where
// they are not given.
func flowWanted(w work) (flow, litres float64) {
	if w.has("flow_l_min") {
		return w.number("flow_l_min", pump.Flow), 0
	}
	litres = w.number("litres_day", pump.Litres)
	minutes := w.number("minutes_day", pump.Minutes)
	if !w.ok() {
		return 0, 0
	}
	flow = litres / minutes
	w.put("flow_l_min", flow, "l/min")
	if f := pump.Flow.Within("litres_day", flow); f != nil {
		w.refuse("litres_day", f.Code, "gives a flow that %s", f.Text)
	}
	return flow, litres
}

func pumpLine(w work, p *checklists.Pack, line pump.Line, flow, litres float64) {
	if draws := w.maybe("suction_m", suction); draws != nil && *draws > p.Husbandry.Pump.SuctionM.Value && p.Husbandry.Pump.SuctionM.Value > 0 {
		w.basis("suction_m", p.Husbandry.Pump.SuctionM.Basis, p)
		w.mind("suction-too-deep", *draws, p.Husbandry.Pump.SuctionM.Value)
	}
	if !w.ok() {
		return
	}
	d, err := line.Duty(flow)
	w.blame(err)
	w.put("velocity_m_s", d.VelocityMS, "m/s")
	w.put("friction_hazen_m", d.HazenM, "m")
	w.put("friction_darcy_m", d.DarcyM, "m")
	w.put("fittings_m", d.FittingsM, "m")
	w.put("outlet_m", d.OutletM, "m")
	w.put("head_m", d.HeadM, "m")
	w.put("hydraulic_kw", d.HydraulicKW, "kW")
	w.mindPack("electric-pump", p)
	if g, ok := w.part("machine"); ok {
		pumpCan(w, g, p, line, flow, litres)
	}
}

// suction is the height from the water up to a pump that stands above it.
var suction = husbandry.Range{Low: 0, High: 100, Measure: "m"}

// pumpCan answers whether the pump on the build sheet can do it, with a low and
// a high where only its power is known.
func pumpCan(w work, g group, p *checklists.Pack, line pump.Line, flow, litres float64) {
	low, typical, high := pumpOf(w, g, p)
	g.done()
	if !w.ok() {
		return
	}
	var flows []float64
	for _, each := range []pump.Pump{typical, low, high} {
		q, err := each.Delivers(line)
		w.blameAt("machine", err)
		flows = append(flows, q)
	}
	w.put("can_do", flows[0] >= flow, "")
	delivered(w, "pump_flow_l_min", "minutes_day", flows[0], litres)
	if flows[0] == 0 {
		w.mind("cannot-lift")
	}
	if flows[1] == flows[2] {
		return
	}
	delivered(w, "pump_flow_low_l_min", "minutes_day_low", flows[1], litres)
	delivered(w, "pump_flow_high_l_min", "minutes_day_high", flows[2], litres)
	if flows[1] < flow && flow <= flows[2] {
		w.mind("pump-not-sure")
	}
}

// delivered puts a flow and the minutes a day that it runs, where both are.
func delivered(w work, name, minutes string, flow, litres float64) {
	if !w.ok() {
		return
	}
	w.put(name, flow, "l/min")
	if flow > 0 && litres > 0 {
		m, err := pump.MinutesADay(litres, flow)
		w.blame(err)
		w.put(minutes, m, "min/day")
	}
}

func pumpOf(w work, g group, p *checklists.Pack) (low, typical, high pump.Pump) {
	if g.has("curve") {
		one := pump.Pump{Curve: curveOf(g)}
		return one, one, one
	}
	power := farm.Power{Value: g.number("power", husbandry.Range{Low: 0.001, High: 1000, Measure: "kW, hp or ch"}), Measure: g.wordOr("power_in", "kW", "kW", "hp", "ch")}
	e := w.span(g, "efficiency", pump.Efficiency, p.Husbandry.Pump.Efficiency, p)
	w.mind("by-power-alone")
	of := func(efficiency float64) pump.Pump { return pump.Pump{KW: power.KW(), Efficiency: efficiency} }
	return of(e.Low), of(e.Typical), of(e.High)
}

// curveOf reads points of flow in l/min and head in m.
func curveOf(g group) []pump.Point {
	var out []pump.Point
	for _, at := range g.parts("curve", 50) {
		out = append(out, pump.Point{
			LitresMin: at.number("l_min", husbandry.Range{Low: 0, High: 1e6, Measure: "l/min"}), HeadM: at.number("head_m", pump.Head),
		})
		at.done()
	}
	return out
}

func byGravity(w work, g group, pipe pump.Pipe, outlet, flow, litres float64) {
	drop := g.number("drop_m", pump.Drop)
	g.done()
	if !w.ok() {
		return
	}
	q, err := pipe.Gravity(drop, outlet)
	w.blame(err)
	w.put("gravity_can_do", q >= flow, "")
	delivered(w, "gravity_flow_l_min", "gravity_minutes_day", q, litres)
}
