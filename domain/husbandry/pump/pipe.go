// Package pump owns how water gets to where it is needed: what a pipe costs in
// head, what a pump or a tank on a hill can deliver through it, and in how many
// minutes a day.
package pump

import (
	"math"

	"tendfold/domain"
	"tendfold/domain/husbandry"
)

const (
	gravity = 9.81                      // m/s2
	density = 1000.                     // kg/m3
	barM    = 1e5 / (density * gravity) // m of water that a bar lifts
)

// Water25 is the kinematic viscosity of water at 25 °C in m2/s (from memory).
const Water25 = 0.893e-6

// What the inputs may be.
var (
	Length    = husbandry.Range{Low: 0, High: 20_000, Measure: "m"}
	Diameter  = husbandry.Range{Low: 3, High: 2000, Measure: "mm (inside)"}
	HazenC    = husbandry.Range{Low: 40, High: 160, Measure: "(Hazen-Williams C)"}
	Roughness = husbandry.Range{Low: 0, High: 10, Measure: "mm"}
	Viscosity = husbandry.Range{Low: 1e-7, High: 1e-3, Measure: "m2/s"}
	Share     = husbandry.Range{Low: 0, High: 2, Measure: "(share of the pipe's friction)"}
	Flow      = husbandry.Range{Low: 0.01, High: 1e6, Measure: "l/min"}
)

// Pipe is one pipe of one size.
type Pipe struct {
	LengthM       float64
	DiameterMM    float64 // inside
	C             float64 // Hazen-Williams: 150 new plastic, 120 galvanised
	RoughnessMM   float64 // Darcy-Weisbach: 0.0015 plastic
	ViscosityM2S  float64
	FittingsShare float64 // bends, valves and filters, as a share of the friction
}

func (p Pipe) check() []*domain.Field {
	wrong := []*domain.Field{
		Length.Within("length_m", p.LengthM), Diameter.Within("diameter_mm", p.DiameterMM), HazenC.Within("hazen_c", p.C),
		Roughness.Within("roughness_mm", p.RoughnessMM), Viscosity.Within("viscosity_m2_s", p.ViscosityM2S), Share.Within("fittings_share", p.FittingsShare),
	}
	const roughest = 0.1
	if p.RoughnessMM > roughest*p.DiameterMM {
		wrong = append(wrong, husbandry.Wrong("roughness_mm", "is %v mm, more than a tenth of the diameter of %v mm", p.RoughnessMM, p.DiameterMM))
	}
	return wrong
}

// Loss is what a flow loses in a pipe, and how fast it runs.
type Loss struct {
	VelocityMS float64
	Reynolds   float64
	Factor     float64 // of Darcy and Weisbach
	HazenM     float64 // head by Hazen and Williams
	DarcyM     float64 // head by Darcy and Weisbach
	FittingsM  float64 // of the larger of both
	TotalM     float64 // the larger of both, and fittings
}

// Loss is the head that a flow in l/min loses in the pipe, worked out by both
// ways; a plan goes by the larger.
func (p Pipe) Loss(litresMin float64) (Loss, error) {
	if err := husbandry.Refuse(append(p.check(), Flow.Within("flow_l_min", litresMin))...); err != nil {
		return Loss{}, err
	}
	return p.loss(litresMin / 60_000), nil
}

func (p Pipe) loss(m3s float64) Loss {
	d := p.DiameterMM / 1000
	l := Loss{VelocityMS: m3s / (math.Pi * d * d / 4)}
	l.Reynolds = l.VelocityMS * d / p.ViscosityM2S
	l.Factor = Factor(l.Reynolds, p.RoughnessMM/p.DiameterMM)
	l.HazenM = HazenWilliams(p.LengthM, d, p.C, m3s)
	l.DarcyM = l.Factor * p.LengthM / d * l.VelocityMS * l.VelocityMS / (2 * gravity)
	friction := max(l.HazenM, l.DarcyM)
	l.FittingsM = p.FittingsShare * friction
	l.TotalM = friction + l.FittingsM
	return l
}

// HazenWilliams is the head in m that a flow in m3/s loses in a pipe of a
// length and an inside diameter in m (SI form with 10.67, 1.852 and 4.87).
func HazenWilliams(lengthM, diameterM, c, m3s float64) float64 {
	return 10.67 * lengthM * math.Pow(m3s/c, 1.852) / math.Pow(diameterM, 4.87)
}

// laminar and turbulent are the Reynolds numbers that end the one kind of flow
// and begin the other.
const (
	laminar   = 2000
	turbulent = 4000
)

// Factor is Darcy's friction factor by the Reynolds number and the relative
// roughness: 64/Re where the flow is laminar, Colebrook and White (1939) where
// it is not. Between both nobody knows; there it is the larger, so that no pump
// is chosen too small.
func Factor(reynolds, roughness float64) float64 {
	switch {
	case reynolds <= 0:
		return 0
	case reynolds < laminar:
		return 64 / reynolds
	case reynolds < turbulent:
		return max(64/reynolds, colebrook(reynolds, roughness))
	}
	return colebrook(reynolds, roughness)
}

// colebrook solves for x = 1/sqrt(f) by Newton's steps from the explicit form
// of Swamee and Jain; it is as good as exact after a few.
func colebrook(reynolds, roughness float64) float64 {
	a, b := roughness/3.7, 2.51/reynolds
	x := 1 / math.Sqrt(SwameeJain(reynolds, roughness))
	for range 20 {
		f := x + 2*math.Log10(a+b*x)
		x -= f / (1 + 2*b/(math.Ln10*(a+b*x)))
	}
	return 1 / (x * x)
}

// SwameeJain is the explicit form of Swamee and Jain (1976) for turbulent flow.
func SwameeJain(reynolds, roughness float64) float64 {
	return 0.25 / math.Pow(math.Log10(roughness/3.7+5.74/math.Pow(reynolds, 0.9)), 2)
}
