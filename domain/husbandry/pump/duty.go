package pump

import (
	"math"

	"tendfold/domain"
	"tendfold/domain/husbandry"
)

// What the inputs may be.
var (
	Lift       = husbandry.Range{Low: -100, High: 500, Measure: "m"}
	Drop       = husbandry.Range{Low: 0.01, High: 500, Measure: "m"}
	Pressure   = husbandry.Range{Low: 0, High: 20, Measure: "bar"}
	Power      = husbandry.Range{Low: 0.001, High: 1000, Measure: "kW"}
	Efficiency = husbandry.Range{Low: 0.01, High: 0.95, Measure: "(share of the power that lifts water)"}
	Litres     = husbandry.Range{Low: 0.1, High: 1e8, Measure: "l a day"}
	Minutes    = husbandry.Range{Low: 1, High: 24 * 60, Measure: "min a day"}
	Head       = husbandry.Range{Low: 0, High: 1000, Measure: "m"}
)

// Line is where a pump takes water from and where it puts it.
type Line struct {
	Pipe
	LiftM     float64 // from the water's level to the outlet; negative where it is below
	OutletBar float64 // pressure wanted at the outlet: a sprinkler 1 to 3, an open pipe 0
}

func (l Line) check() []*domain.Field {
	return append(l.Pipe.check(), Lift.Within("lift_m", l.LiftM), Pressure.Within("outlet_bar", l.OutletBar))
}

// head is what a pump must give at a flow in m3/s.
func (l Line) head(m3s float64) float64 {
	return max(0, l.LiftM+l.OutletBar*barM+l.loss(m3s).TotalM)
}

// Duty is what a flow asks of a pump.
type Duty struct {
	Loss
	OutletM     float64 // head for the pressure at the outlet
	HeadM       float64 // in all
	HydraulicKW float64 // that the water takes up
}

// Duty is the head and the power that a flow in l/min asks for.
func (l Line) Duty(litresMin float64) (Duty, error) {
	if err := husbandry.Refuse(append(l.check(), Flow.Within("flow_l_min", litresMin))...); err != nil {
		return Duty{}, err
	}
	m3s := litresMin / 60_000
	d := Duty{Loss: l.loss(m3s), OutletM: l.OutletBar * barM, HeadM: l.head(m3s)}
	d.HydraulicKW = Hydraulic(m3s, d.HeadM)
	return d, nil
}

// Hydraulic is the power in kW that lifts a flow in m3/s by a head in m.
func Hydraulic(m3s, headM float64) float64 { return density * gravity * m3s * headM / 1000 }

// Pump is a pump by its curve or, where nobody has it, by its power.
type Pump struct {
	KW         float64 // as the plate says; of the build sheet
	Efficiency float64 // from the plug to the water
	Curve      []Point // flow rises, head falls; a curve stands above the power
}

// Point is one of a pump's curve.
type Point struct{ LitresMin, HeadM float64 }

func (p Pump) check() []*domain.Field {
	if len(p.Curve) == 0 {
		return []*domain.Field{Power.Within("power_kw", p.KW), Efficiency.Within("efficiency", p.Efficiency)}
	}
	var wrong []*domain.Field
	for i, at := range p.Curve {
		wrong = append(wrong, husbandry.Range{Low: 0, High: 1e6, Measure: "l/min"}.Within("curve", at.LitresMin), Head.Within("curve", at.HeadM))
		if i > 0 && (at.LitresMin <= p.Curve[i-1].LitresMin || at.HeadM > p.Curve[i-1].HeadM) {
			wrong = append(wrong, husbandry.Wrong("curve", "does not rise in flow (l/min) and fall in head (m) at its point %d", i+1))
		}
	}
	if len(p.Curve) < 2 {
		wrong = append(wrong, husbandry.Wrong("curve", "has one point; give two or more of flow (l/min) and head (m)"))
	}
	return wrong
}

// gives is the head in m that the pump has at a flow in m3/s; the curve is
// straight between its points and ends at its last.
func (p Pump) gives(m3s float64) float64 {
	if len(p.Curve) == 0 {
		return p.KW * p.Efficiency * 1000 / (density * gravity * m3s)
	}
	q := m3s * 60_000
	for i, to := range p.Curve {
		if q > to.LitresMin {
			continue
		}
		if i == 0 {
			return to.HeadM
		}
		from := p.Curve[i-1]
		return from.HeadM + (to.HeadM-from.HeadM)*(q-from.LitresMin)/(to.LitresMin-from.LitresMin)
	}
	return -1
}

// fastest is the velocity in m/s above which no farm's pipe is run.
const fastest = 10

// Delivers is the flow in l/min at which the pump's head is what the line asks
// for; 0 where it cannot lift the water at all.
func (p Pump) Delivers(l Line) (float64, error) {
	if err := husbandry.Refuse(append(l.check(), p.check()...)...); err != nil {
		return 0, err
	}
	return l.flow(func(m3s float64) bool { return p.gives(m3s) >= l.head(m3s) }), nil
}

// Gravity is the flow in l/min that a tank gives through a pipe whose outlet is
// so many m below the water's level, with the pressure left over at the outlet
// in bar; 0 where the drop does not make the pressure.
func (p Pipe) Gravity(dropM, outletBar float64) (float64, error) {
	wrong := append(p.check(), Drop.Within("drop_m", dropM), Pressure.Within("outlet_bar", outletBar))
	if p.LengthM < dropM {
		wrong = append(wrong, husbandry.Wrong("length_m", "is %v m, shorter than the drop of %v m", p.LengthM, dropM))
	}
	if err := husbandry.Refuse(wrong...); err != nil {
		return 0, err
	}
	left := dropM - outletBar*barM
	return p.flow(func(m3s float64) bool {
		v := p.loss(m3s)
		return v.TotalM+v.VelocityMS*v.VelocityMS/(2*gravity) <= left
	}), nil
}

// flow is the largest flow in l/min for which it can be done, by halving.
func (p Pipe) flow(can func(m3s float64) bool) float64 {
	d := p.DiameterMM / 1000
	low, high := 0.0, fastest*math.Pi*d*d/4
	if can(high) {
		return high * 60_000
	}
	for range 60 {
		mid := (low + high) / 2
		if can(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	if low*60_000 < Flow.Low {
		return 0
	}
	return low * 60_000
}

// MinutesADay is how long a flow in l/min runs to give so many litres a day;
// more than a day has where it cannot.
func MinutesADay(litresDay, litresMin float64) (float64, error) {
	if err := husbandry.Refuse(Litres.Within("litres_day", litresDay), Flow.Within("flow_l_min", litresMin)); err != nil {
		return 0, err
	}
	return litresDay / litresMin, nil
}
