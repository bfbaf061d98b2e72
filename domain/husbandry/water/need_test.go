package water_test

import (
	"math"
	"testing"

	"tendfold/domain"
	"tendfold/domain/husbandry/water"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Douala (WMO 64910), monthly normals as wetter.de prints them.
var douala = water.Normals{
	LatitudeDeg: 4, AltitudeM: 9,
	TmaxC: [12]float64{31.7, 32.3, 32.1, 31.9, 31.2, 29.4, 27.6, 27.3, 28.6, 29.6, 30.6, 31.3},
	TminC: [12]float64{23.3, 23.9, 23.5, 23.4, 23.2, 22.9, 22.6, 22.8, 22.7, 22.6, 23.2, 23.2},
}

// By temperature alone each month is what Hargreaves gives for its 15th.
func TestNormalsETo(t *testing.T) {
	eto, err := douala.ETo()
	require.NoError(t, err)
	r, err := water.Hargreaves(water.Weather{LatitudeDeg: 4, DayOfYear: 46, TmaxC: 32.3, TminC: 23.9})
	require.NoError(t, err)
	require.InDelta(t, r.ETo, eto[1], 0)
	for _, mm := range eto {
		require.Greater(t, mm, 2.5)
		require.Less(t, mm, 6.0)
	}
	require.Less(t, eto[7], eto[1], "the rains are the lesser thirst")
}

func TestNormalsWithAir(t *testing.T) {
	n := water.Normals{LatitudeDeg: uccle.LatitudeDeg, AltitudeM: uccle.AltitudeM, Air: &water.Air{WindHeightM: 10}}
	for m := range water.Months {
		n.TmaxC[m], n.TminC[m] = uccle.TmaxC, uccle.TminC
		n.Air.RHMax[m], n.Air.RHMin[m], n.Air.Wind[m] = uccle.RHMax, uccle.RHMin, uccle.Wind
	}
	n.Air.SunHours[6] = uccle.SunHours
	eto, err := n.ETo()
	require.NoError(t, err)
	w := uccle
	w.DayOfYear = 196
	r, err := water.PenmanMonteith(w)
	require.NoError(t, err)
	require.InDelta(t, r.ETo, eto[6], 0)
	n.Air.SunHours[0] = 12
	_, err = n.ETo()
	require.ErrorContains(t, err, "sun_hours")
	require.ErrorContains(t, err, "month 1")
}

// By hand: 100 m2 of cabbage (Kc 1.05, FAO-56 table 12) at 4 mm a day need
// 420 l; half of it under a shade of a half; 84 l more where a fifth is lost.
func TestPlotLitres(t *testing.T) {
	var eto, rain [12]float64
	for m := range eto {
		eto[m] = 4
	}
	plot := water.Plot{Beds: []water.Bed{{100, 1.05}}, Shade: 1, Efficiency: 1}
	at := func() float64 {
		l, err := plot.Litres(eto)
		require.NoError(t, err)
		return l[0]
	}
	require.InDelta(t, 420, at(), 1e-9)
	plot.Efficiency = .8
	require.InDelta(t, 525, at(), 1e-9)
	plot.Shade = .5
	require.InDelta(t, 262.5, at(), 1e-9)
	rain[0] = 31 // a mm a day, of which half reaches the roots
	plot.RainMM, plot.RainShare = &rain, .5
	require.InDelta(t, (2.1-.5)*100/.8, at(), 1e-9)
	rain[0] = 3000
	require.Zero(t, at(), "rain gives no water back")
}

func TestNeedOf(t *testing.T) {
	var crops, animals [12]float64
	crops[2], crops[5] = 400, 100
	for m := range animals {
		animals[m] = 50
	}
	n, err := water.NeedOf(crops, animals, 900)
	require.NoError(t, err)
	require.Equal(t, 2, n.Peak)
	require.InDelta(t, 450, n.TotalL[2], 0)
	require.InDelta(t, 2, n.TankDays[2], 1e-12)
	require.InDelta(t, 18, n.TankDays[0], 1e-12)
	n, err = water.NeedOf([12]float64{}, [12]float64{}, 900)
	require.NoError(t, err)
	require.InDelta(t, 365, n.TankDays[0], 0, "nothing is needed: a year, not for ever")
}

// Whatever the weather, what is not refused is finite and not below nothing.
func TestWeatherNeverGivesNonsense(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := water.Weather{
			LatitudeDeg: rapid.Float64Range(-90, 90).Draw(t, "latitude"), AltitudeM: rapid.Float64Range(-430, 6000).Draw(t, "altitude"),
			DayOfYear: rapid.IntRange(1, 366).Draw(t, "day"), TmaxC: rapid.Float64Range(-60, 60).Draw(t, "max"), TminC: rapid.Float64Range(-60, 60).Draw(t, "min"),
			RHMax: rapid.Float64Range(1, 100).Draw(t, "rhmax"), RHMin: rapid.Float64Range(1, 100).Draw(t, "rhmin"),
			Wind: rapid.Float64Range(0, 60).Draw(t, "wind"), WindHeightM: rapid.Float64Range(.5, 200).Draw(t, "height"), SunHours: rapid.Float64Range(0, 24).Draw(t, "sun"),
		}
		for _, reckon := range []func(water.Weather) (water.Reference, error){water.PenmanMonteith, water.Hargreaves} {
			r, err := reckon(w)
			if err == nil {
				require.False(t, math.IsNaN(r.ETo) || math.IsInf(r.ETo, 0) || r.ETo < 0 || math.IsNaN(r.Net))
			}
		}
	})
}

func TestRefusals(t *testing.T) {
	for path, change := range map[string]func(w *water.Weather){
		"latitude_deg":  func(w *water.Weather) { w.LatitudeDeg = 91 },
		"altitude_m":    func(w *water.Weather) { w.AltitudeM = 9000 },
		"day_of_year":   func(w *water.Weather) { w.DayOfYear = 0 },
		"tmax_c":        func(w *water.Weather) { w.TmaxC = math.Inf(1) },
		"tmin_c":        func(w *water.Weather) { w.TminC = 40 },
		"rhmax_pct":     func(w *water.Weather) { w.RHMax = 101 },
		"rhmin_pct":     func(w *water.Weather) { w.RHMin = 90 },
		"wind_m_s":      func(w *water.Weather) { w.Wind = -1 },
		"wind_height_m": func(w *water.Weather) { w.WindHeightM = 0 },
		"sun_hours":     func(w *water.Weather) { w.SunHours = 20 },
	} {
		w := uccle
		change(&w)
		_, err := water.PenmanMonteith(w)
		var e *domain.Error
		require.ErrorAs(t, err, &e, path)
		require.Equal(t, path, e.Fields[0].Path)
	}
	_, err := water.Plot{Beds: []water.Bed{{0, 1}}, Shade: 1, Efficiency: 1}.Litres([12]float64{})
	require.ErrorContains(t, err, "area_m2")
	_, err = water.NeedOf([12]float64{}, [12]float64{}, 0)
	require.ErrorContains(t, err, "tank_litres")
}
