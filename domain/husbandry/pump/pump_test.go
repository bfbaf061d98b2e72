package pump_test

import (
	"math"
	"testing"

	"tendfold/domain"
	"tendfold/domain/husbandry/pump"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Houghtalen and Hwang, Fundamentals of Hydraulic Engineering Systems, chapter
// 3 (memory): about 0.58 m. The others are worked out apart from this code.
func TestHazenWilliams(t *testing.T) {
	require.InEpsilon(t, 0.5769, pump.HazenWilliams(100, 0.20, 120, 0.030), 0.01)
	require.InEpsilon(t, 1.1294, pump.HazenWilliams(259.08, 0.1524, 150, 0.0157726), 1e-3)
	for _, c := range []struct{ litresS, mm, head, velocity float64 }{
		{0.5, 26.2, 3.867, 0.927}, {1, 32.6, 4.816, 1.198}, {2, 40.8, 5.830, 1.530}, {5, 63.6, 3.662, 1.574}, {10, 90, 2.437, 1.572},
	} {
		l, err := plastic(100, c.mm).Loss(c.litresS * 60)
		require.NoError(t, err)
		require.InDelta(t, c.head, l.HazenM, 5e-3)
		require.InDelta(t, c.velocity, l.VelocityMS, 1e-3)
	}
}

func plastic(lengthM, mm float64) pump.Pipe {
	return pump.Pipe{LengthM: lengthM, DiameterMM: mm, C: 150, RoughnessMM: 0.0015, ViscosityM2S: pump.Water25}
}

// Colebrook iterated and Swamee-Jain, worked out apart; the first two rows are
// the examples that the fluids library prints (memory). Swamee-Jain at Re
// 60,000 and 0.0023 is printed as 0.027 by the colebrook package.
func TestFactor(t *testing.T) {
	for _, c := range []struct{ reynolds, roughness, colebrook, swameeJain float64 }{
		{1e5, 1e-4, 0.018513866, 0.018452},
		{1e5, 1e-3, 0.022174536, 0.022342},
		{1e6, 0.01, 0.037964742, 0.038012},
		{1e7, 1e-4, 0.012166081, 0.012214},
		{1e8, 1e-5, 0.008187559, 0.008224},
		{4000, 0, 0.039907014, 0.040551},
		{6e4, 0.0023, 0.026755, 0.027027},
	} {
		require.InEpsilon(t, c.colebrook, pump.Factor(c.reynolds, c.roughness), 2e-5)
		require.InEpsilon(t, c.swameeJain, pump.SwameeJain(c.reynolds, c.roughness), 5e-5)
	}
	require.InEpsilon(t, 0.017989773, pump.Factor(1e5, 0), 1e-7, "the Moody chart reads 0.0180")
	require.InEpsilon(t, 0.011645041, pump.Factor(1e6, 0), 1e-7)
	require.InDelta(t, 0.064, pump.Factor(1000, 0.01), 1e-12, "laminar")
	require.GreaterOrEqual(t, pump.Factor(3000, 0.001), 64.0/3000)
}

// README of the hydraulics package on CRAN: 20 in, 10560 ft, 4 ft3/s, 60 °F,
// roughness 0.0005 ft give Re 248624.7 and f 0.0173031, by an explicit form.
func TestDarcyWeisbachOfHydraulics(t *testing.T) {
	p := pump.Pipe{LengthM: 3218.69, DiameterMM: 508, C: 130, RoughnessMM: 0.1524, ViscosityM2S: 1.14184e-6}
	l, err := p.Loss(0.1132674 * 60_000)
	require.NoError(t, err)
	require.InEpsilon(t, 248624.7, l.Reynolds, 1e-4)
	require.InEpsilon(t, 0.0173031, l.Factor, 1e-3)
	require.InEpsilon(t, 1.7457, l.DarcyM, 1e-3)
}

// White, Fluid Mechanics, example 6.7 (memory): oil in cast iron, f about
// 0.0225, about 117 m.
func TestDarcyWeisbachOfWhite(t *testing.T) {
	p := pump.Pipe{LengthM: 500, DiameterMM: 200, C: 130, RoughnessMM: 0.26, ViscosityM2S: 1e-5}
	l, err := p.Loss(0.2 * 60_000)
	require.NoError(t, err)
	require.InEpsilon(t, 6.4, l.VelocityMS, 0.01)
	require.InEpsilon(t, 0.0225, l.Factor, 0.011)
	require.InEpsilon(t, 117, l.DarcyM, 0.01)
}

// P = density x gravity x flow x head: 0.05 m3/s, 30 m at 75 % take 19.62 kW;
// 1 m3/h by 10 m takes 0.02725 kW.
func TestHydraulic(t *testing.T) {
	require.InDelta(t, 19.62, pump.Hydraulic(0.05, 30)/0.75, 1e-9)
	require.InDelta(t, 0.02725, pump.Hydraulic(1.0/3600, 10), 1e-9)
}

// A pump gives at its working point just the head that the line asks for.
func TestDeliversMeetsTheLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := pump.Line{Pipe: plastic(rapid.Float64Range(1, 500).Draw(t, "length"), rapid.Float64Range(15, 90).Draw(t, "mm")), LiftM: rapid.Float64Range(0, 60).Draw(t, "lift")}
		p := pump.Pump{KW: rapid.Float64Range(.1, 5).Draw(t, "kW"), Efficiency: rapid.Float64Range(.2, .7).Draw(t, "efficiency")}
		q, err := p.Delivers(l)
		require.NoError(t, err)
		if q == 0 || q > 0.99*10*math.Pi*l.DiameterMM*l.DiameterMM/4*0.06 { // the fastest flow
			return
		}
		d, err := l.Duty(q)
		require.NoError(t, err)
		require.InEpsilon(t, p.KW*p.Efficiency, d.HydraulicKW, 1e-6)
	})
}

func TestDeliversByCurve(t *testing.T) {
	p := pump.Pump{Curve: []pump.Point{{0, 40}, {60, 30}, {100, 10}}}
	line := pump.Line{Pipe: plastic(0, 50), LiftM: 30}
	q, err := p.Delivers(line)
	require.NoError(t, err)
	require.InDelta(t, 60, q, 1e-6, "no pipe: where the curve is at 30 m")
	line.LiftM = 41
	q, err = p.Delivers(line)
	require.NoError(t, err)
	require.Zero(t, q, "above what it can lift")
	line.LiftM = 5
	q, err = p.Delivers(line)
	require.NoError(t, err)
	require.InDelta(t, 100, q, 1e-6, "no further than its curve goes")
	minutes, err := pump.MinutesADay(1200, 60)
	require.NoError(t, err)
	require.InDelta(t, 20, minutes, 1e-12)
}

// What a tank on a hill gives is what the pipe loses over the drop.
func TestGravity(t *testing.T) {
	q, err := plastic(100, 26.2).Gravity(3.867+0.0438, 0) // the head of 0.5 l/s, and its velocity head
	require.NoError(t, err)
	require.InEpsilon(t, 30, q, 0.05, "Darcy-Weisbach may ask for more than Hazen-Williams")
	q, err = plastic(100, 26.2).Gravity(5, 1)
	require.NoError(t, err)
	require.Zero(t, q, "5 m do not make a bar")
}

func TestRefusals(t *testing.T) {
	line := pump.Line{Pipe: plastic(100, 40), LiftM: 10}
	p := pump.Pump{KW: .75, Efficiency: .4}
	for path, try := range map[string]func() error{
		"length_m":       func() error { l := line; l.LengthM = -1; _, err := l.Duty(10); return err },
		"diameter_mm":    func() error { l := line; l.DiameterMM = 0; _, err := l.Duty(10); return err },
		"roughness_mm":   func() error { l := line; l.RoughnessMM = 9; _, err := l.Duty(10); return err },
		"flow_l_min":     func() error { _, err := line.Duty(0); return err },
		"lift_m":         func() error { l := line; l.LiftM = math.NaN(); _, err := p.Delivers(l); return err },
		"power_kw":       func() error { _, err := pump.Pump{Efficiency: .4}.Delivers(line); return err },
		"efficiency":     func() error { _, err := pump.Pump{KW: 1, Efficiency: 1.2}.Delivers(line); return err },
		"curve":          func() error { _, err := pump.Pump{Curve: []pump.Point{{10, 5}, {5, 9}}}.Delivers(line); return err },
		"drop_m":         func() error { _, err := line.Gravity(0, 0); return err },
		"litres_day":     func() error { _, err := pump.MinutesADay(0, 1); return err },
		"hazen_c":        func() error { l := line; l.C = 1; _, err := l.Loss(1); return err },
		"viscosity_m2_s": func() error { l := line; l.ViscosityM2S = 0; _, err := l.Loss(1); return err },
		"fittings_share": func() error { l := line; l.FittingsShare = -1; _, err := l.Loss(1); return err },
		"outlet_bar":     func() error { l := line; l.OutletBar = -1; _, err := l.Duty(1); return err },
	} {
		var e *domain.Error
		require.ErrorAs(t, try(), &e, path)
		require.Equal(t, path, e.Fields[0].Path)
	}
}
