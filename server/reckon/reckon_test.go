package reckon_test

import (
	"encoding/json"
	"math"
	"strings"
	"sync"
	"testing"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/server/reckon"

	"github.com/stretchr/testify/require"
)

var embedded = sync.OnceValues(checklists.Embedded)

func packs(t testing.TB) *checklists.Set {
	t.Helper()
	set, err := embedded()
	require.NoError(t, err)
	return set
}

func do(t *testing.T, topic reckon.Topic, document string) *reckon.Answer {
	t.Helper()
	a, err := reckon.Do(topic, []byte(document), packs(t), reckon.English)
	require.NoError(t, err)
	return a
}

// number is an output that must be a number.
func number(t *testing.T, a *reckon.Answer, name string) float64 {
	t.Helper()
	require.Contains(t, a.Outputs, name)
	v, ok := a.Outputs[name].Value.(float64)
	require.True(t, ok, "%s is %v", name, a.Outputs[name].Value)
	return v
}

// Every template is answered as it stands, and the same in both languages.
func TestTemplatesAreAnswered(t *testing.T) {
	for _, topic := range reckon.Topics() {
		english, err := reckon.Do(topic, []byte(reckon.Template(topic, reckon.English)), packs(t), reckon.English)
		require.NoError(t, err, topic)
		french, err := reckon.Do(topic, []byte(reckon.Template(topic, reckon.French)), packs(t), reckon.French)
		require.NoError(t, err, topic)
		require.NotEmpty(t, english.Outputs, topic)
		require.Equal(t, english.Outputs, french.Outputs, topic)
		require.Equal(t, english.Series, french.Series, topic)
		require.Equal(t, english.Inputs, french.Inputs, topic)
		require.NotEmpty(t, english.Sources, topic)
		for _, said := range []string{english.Words(), french.Words()} {
			require.NotContains(t, said, "%!", "a caution without its values")
		}
		for i, s := range english.Sources {
			require.NotEqual(t, s.Says, french.Sources[i].Says)
		}
		for i, c := range english.Cautions {
			require.NotEqual(t, c.Text, french.Cautions[i].Text)
		}
	}
}

// A sheet of one topic may stand bare or under its name, alone or beside others.
func TestSheetsOfOneOrSeveralTopics(t *testing.T) {
	want := do(t, reckon.Ammonia, "{tan_mg_l: 1, temperature_c: 24, ph: 8}")
	require.InDelta(t, 0.0502, number(t, want, "fraction"), 1e-4)
	for _, document := range []string{
		"ammonia: {tan_mg_l: 1, temperature_c: 24, ph: 8}",
		"deaths: {count: 1, exposure: 2}\nammonia:\n  tan_mg_l: 1\n  temperature_c: 24\n  ph: 8\n",
		`{"ammonia": {"tan_mg_l": 1.0, "temperature_c": 24, "ph": 8e0}}`,
	} {
		require.Equal(t, want.Outputs, do(t, reckon.Ammonia, document).Outputs)
	}
	for _, topic := range reckon.Topics() {
		for _, document := range []string{"{}", "ammonia: {}\ndeaths: {}", string(topic) + ": {}"} {
			a := do(t, topic, document)
			require.Empty(t, a.Outputs)
			require.Equal(t, "nothing-asked", a.Cautions[0].Code)
		}
	}
}

func TestRefusalsNameFieldAndMeasure(t *testing.T) {
	for _, c := range []struct {
		topic          reckon.Topic
		document, path string
		says           string
	}{
		{reckon.Ammonia, "{tan_mg_l: -1, temperature_c: 24, ph: 8}", "ammonia.tan_mg_l", "is -1; it must be 0 to 1000 mg/l"},
		{reckon.Ammonia, "{tan_mg_l: 1, ph: 8}", "ammonia.temperature_c", "is missing; give it in °C"},
		{reckon.Ammonia, "{tan_mg_l: 1, temperature_c: warm, ph: 8}", "ammonia.temperature_c", "is the text warm; it must be a number, 0 to 50 °C"},
		{reckon.Ammonia, "{tan_mg_l: 1, temperature_c: 24, ph: 8, salt: 1}", "ammonia.salt", "is not a key that is read here; read are ph, tan_mg_l, temperature_c"},
		{reckon.Ammonia, "ammonia: 3", "ammonia", "is 3; it must be a group of keys"},
		{reckon.Ammonia, "{ammonia: {}, amonia: {}}", "amonia", "is no topic"},
		{reckon.Ammonia, "{\"a\\nb\": 1, tan_mg_l: 1, temperature_c: 24, ph: 8}", `ammonia."a\nb"`, "is not a key"},
		{reckon.Deaths, "{count: 1.5, exposure: 2}", "deaths.count", "is 1.5; it must be a whole number, 0 to 10000000 deaths"},
		{reckon.Deaths, "{count: 1, exposure: 0}", "deaths.exposure", "is 0; it must be"},
		{reckon.Deaths, "{count: 1}", "deaths.exposure", "is missing"},
		{reckon.Stock, "{months: 3}", "stock.matrix", "is missing"},
		{reckon.Stock, "{matrix: {juvenile_stages: 0, juvenile_survival: 1, adult_survival: 1, births_per_month: 1}}", "stock.matrix.juvenile_stages", "1 to 240 stages"},
		{reckon.Stock, "{matrix: {juvenile_stages: 1, juvenile_survival: 1, adult_survival: 1, births_per_month: 100000}, start: {juveniles: 0, adults: 1}, months: 600}", "stock.months", "ask for fewer months"},
		{reckon.Water, "eto: {}", "water.eto.method", "one of penman-monteith, hargreaves"},
		{reckon.Water, "eto: {method: hargreaves, latitude_deg: 4, day_of_year: 20, tmax_c: 20, tmin_c: 25}", "water.eto.tmin_c", "above tmax_c"},
		{reckon.Water, "eto: {method: hargreaves, latitude_deg: 80, day_of_year: 1, tmax_c: 20, tmin_c: 15}", "water.eto.latitude_deg", "the sun does not rise"},
		{reckon.Water, "eto: {method: penman-monteith, latitude_deg: 4, altitude_m: 9, day_of_year: 20, tmax_c: 31, tmin_c: 23}", "water.eto.rhmax_pct", "is missing; give it in %"},
		{reckon.Water, "eto: {method: penman-monteith, latitude_deg: 4, altitude_m: 9, day_of_year: 20, tmax_c: 31, tmin_c: 23, rhmax_pct: 95, rhmin_pct: 60, wind_m_s: 1, wind_height_m: 2, sun_hours: 15}", "water.eto.sun_hours", "the day has only"},
		{reckon.Water, doualaStation + "crops: [{crop: cabbage, area_m2: 20}]", "water.efficiency", "is missing"},
		{reckon.Water, doualaStation + "crops: [{crop: baobab, area_m2: 20}]\nefficiency: 1", "water.crops.0.crop", "it must be one of cabbage"},
		{reckon.Water, doualaStation + "crops: [{crop: cabbage, area_m2: 0}]\nefficiency: 1", "water.crops.0.area_m2", "0.01 to 1000000 m2"},
		{reckon.Water, "station: {latitude_deg: 4, altitude_m: 9, tmax_c: [31, 32], tmin_c: [23, 24]}", "water.station.tmax_c", "a list of 12 numbers, -60 to 60 °C"},
		{reckon.Water, "station: {latitude_deg: 4, altitude_m: 9}", "water.station.tmax_c", "is missing; give it in a list of 12 numbers"},
		{reckon.Water, doualaStation + "rain_share: 0.5", "water.station.rain_mm", "leave rain_share out"},
		{reckon.Water, doualaStation + "tank_litres: -5", "water.tank_litres", "is -5; it must be 1 to 100000000 l"},
		{reckon.Pump, "{lift_m: 3, flow_l_min: 20, pipe: {length_m: 10, diameter_mm: 0}}", "pump.pipe.diameter_mm", "mm (inside)"},
		{reckon.Pump, "{lift_m: 3, flow_l_min: 20}", "pump.pipe", "is missing"},
		{reckon.Pump, "{lift_m: 3, litres_day: 20, pipe: {length_m: 10, diameter_mm: 20}}", "pump.minutes_day", "min a day"},
		{reckon.Pump, "{lift_m: 3, flow_l_min: 20, pipe: {length_m: 10, diameter_mm: 20}, machine: {power: 0}}", "pump.machine.power", "kW, hp or ch"},
		{reckon.Pump, "{lift_m: 3, flow_l_min: 20, pipe: {length_m: 10, diameter_mm: 20}, machine: {curve: [{l_min: 1, head_m: 2}]}}", "pump.machine.curve", "has one point"},
	} {
		_, err := reckon.Do(c.topic, []byte(c.document), packs(t), reckon.English)
		var e *domain.Error
		require.ErrorAs(t, err, &e, c.document)
		require.NotEmpty(t, e.Fields, c.document)
		require.Equal(t, c.path, e.Fields[0].Path, c.document)
		require.Contains(t, e.Fields[0].Text, c.says)
	}
	for _, document := range []string{"", "[1, 2]", "7", "a: &x 1\nb: *x", "a: [", "\xff"} {
		_, err := reckon.Do(reckon.Ammonia, []byte(document), packs(t), reckon.English)
		require.Equal(t, domain.KindMalformed, domain.KindOf(err), document)
	}
}

func TestStockMatrix(t *testing.T) {
	a := do(t, reckon.Stock, "{matrix: {juvenile_stages: 10, juvenile_survival: .95, adult_survival: .98, births_per_month: 5.333333333333333}, start: {juveniles: 0, adults: 10}, months: 24}")
	require.InDelta(t, 1.270773186, number(t, a, "lambda_month"), 1e-8)
	require.Len(t, a.Series["juveniles"], 25)
	require.InDelta(t, 543.089205, a.Series["juveniles"][12], 1e-6)
	require.InDelta(t, 937.542642, a.Series["adults"][24], 1e-6)
	a = do(t, reckon.Stock, "{matrix: {juvenile_stages: 6, juvenile_survival: .85, adult_survival: .97, births_per_month: 75}, start: {juveniles: 0, adults: 10}, months: 60}")
	require.Equal(t, "sum-without-limits", a.Cautions[0].Code)
}

func TestHargreavesLeavesTheRestAlone(t *testing.T) {
	a := do(t, reckon.Water, "eto: {method: hargreaves, latitude_deg: 45.7167, altitude_m: 200, day_of_year: 196, tmax_c: 26.6, tmin_c: 14.8}")
	require.InDelta(t, 5.0, number(t, a, "eto_mm_day"), 0.05, "FAO-56, example 20")
	require.InDelta(t, 40.6, number(t, a, "ra_mj_m2_day"), 0.06)
	a = do(t, reckon.Water, "eto: {method: penman-monteith, estimate_missing: true, latitude_deg: 45.7167, altitude_m: 200, day_of_year: 196, tmax_c: 26.6, tmin_c: 14.8}")
	require.InDelta(t, 4.56, number(t, a, "eto_mm_day"), 0.05, "FAO-56, example 20")
	require.Equal(t, "air-estimated", a.Cautions[0].Code)
}

const doualaStation = `
station:
  latitude_deg: 4
  altitude_m: 9
  tmax_c: [31.7, 32.3, 32.1, 31.9, 31.2, 29.4, 27.6, 27.3, 28.6, 29.6, 30.6, 31.3]
  tmin_c: [23.3, 23.9, 23.5, 23.4, 23.2, 22.9, 22.6, 22.8, 22.7, 22.6, 23.2, 23.2]
`

// By hand from the evapotranspiration of each month: 20 m2 of cabbage at 1.05
// and 10 m2 at 1.2 need 33 times as many litres; a fifth is lost.
func TestWaterPlan(t *testing.T) {
	a := do(t, reckon.Water, doualaStation+"crops: [{crop: cabbage, area_m2: 20}, {kc: 1.2, area_m2: 10}]\nefficiency: 0.8\nanimals: {litres_day: 15}\ntank_litres: 1000\n")
	require.Len(t, a.Series["need_l_day"], 12)
	peak := 0
	for m, eto := range a.Series["eto_mm_day"] {
		require.InDelta(t, eto*33/.8+15, a.Series["need_l_day"][m], 1e-9)
		require.InDelta(t, 1000/a.Series["need_l_day"][m], a.Series["tank_days"][m], 1e-9)
		if eto > a.Series["eto_mm_day"][peak] {
			peak = m
		}
	}
	require.InDelta(t, float64(peak+1), number(t, a, "peak_month"), 0)
	require.InDelta(t, a.Series["need_l_day"][peak], number(t, a, "need_l_day"), 0)
	require.Equal(t, "station-unsourced", a.Cautions[0].Code)
	require.Contains(t, codes(a), "normals-are-means")
	require.Equal(t, checklists.FromMemory, sourceOf(t, a, "crops").Grade)
}

func codes(a *reckon.Answer) []string {
	var out []string
	for _, c := range a.Cautions {
		out = append(out, c.Code)
	}
	return out
}

func sourceOf(t *testing.T, a *reckon.Answer, name string) reckon.Source {
	t.Helper()
	for _, s := range a.Sources {
		if s.For == name {
			return s
		}
	}
	t.Fatalf("nothing says what %s rests on", name)
	return reckon.Source{}
}

func TestPump(t *testing.T) {
	const pipe = "pipe: {length_m: 100, diameter_mm: 26.2, fittings_share: 0}\nlift_m: 10\n"
	a := do(t, reckon.Pump, pipe+"flow_l_min: 30\n")
	require.InDelta(t, 3.867, number(t, a, "friction_hazen_m"), 5e-3, "the farm-size value of the reference")
	require.InDelta(t, 0.927, number(t, a, "velocity_m_s"), 1e-3)
	require.InDelta(t, 10+max(number(t, a, "friction_hazen_m"), number(t, a, "friction_darcy_m")), number(t, a, "head_m"), 1e-9)
	require.Contains(t, codes(a), "electric-pump")

	a = do(t, reckon.Pump, pipe+"litres_day: 1800\nminutes_day: 60\nmachine: {power: 1, power_in: hp, efficiency: 0.4}\nsuction_m: 9")
	require.Equal(t, true, a.Outputs["can_do"].Value)
	require.InDelta(t, 1800/number(t, a, "pump_flow_l_min"), number(t, a, "minutes_day"), 1e-9)
	require.Contains(t, codes(a), "suction-too-deep")
	require.NotContains(t, a.Outputs, "pump_flow_low_l_min", "one efficiency, one answer")

	a = do(t, reckon.Pump, pipe+"litres_day: 1800\nminutes_day: 60\nmachine: {curve: [{l_min: 0, head_m: 9}, {l_min: 50, head_m: 2}]}")
	require.Equal(t, false, a.Outputs["can_do"].Value)
	require.Contains(t, codes(a), "cannot-lift")
	require.NotContains(t, a.Outputs, "minutes_day")

	a = do(t, reckon.Pump, pipe+"litres_day: 1800\nminutes_day: 60\nmachine: {power: 0.18}")
	require.Contains(t, codes(a), "pump-not-sure")
}

// Whatever a sheet holds, it is answered with finite numbers or refused with a
// field or a place, on one line.
func FuzzDo(f *testing.F) {
	for i, topic := range reckon.Topics() {
		f.Add(i, []byte(reckon.Template(topic, reckon.English)))
		f.Add(i, []byte(reckon.Template(topic, reckon.French)))
	}
	set := packs(f)
	f.Fuzz(func(t *testing.T, which int, document []byte) {
		all := reckon.Topics()
		a, err := reckon.Do(all[((which%len(all))+len(all))%len(all)], document, set, reckon.French)
		if err != nil {
			var e *domain.Error
			require.ErrorAs(t, err, &e)
			require.Contains(t, []domain.Kind{domain.KindMalformed, domain.KindInvalid}, e.Kind)
			require.False(t, strings.ContainsAny(e.Text, "\n\r"), "%q", e.Text)
			return
		}
		for name, o := range a.Outputs {
			if v, ok := o.Value.(float64); ok {
				require.False(t, math.IsNaN(v) || math.IsInf(v, 0), name)
			}
		}
		_, err = json.Marshal(a)
		require.NoError(t, err)
		require.NotEmpty(t, a.Words())
	})
}
