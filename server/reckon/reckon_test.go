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
		{reckon.Ammonia, "{tan_mg_l: 1, temperature_c: 24, ph: 8, salt: 1}", "ammonia.salt", "is not a key that is read here; read are enterprise, ph, tan_mg_l, temperature_c"},
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
		{reckon.Density, "{claimed: 1000}", "density.length", "is missing; give it in m or ft"},
		{reckon.Density, "{area_m2: 0, claimed: 1000}", "density.area_m2", "0.01 to 1000000 m2"},
		{reckon.Density, "{area_m2: 40, animals: 10, mean_g: -3}", "density.mean_g", "0.001 to 100000 g"},
		{reckon.Density, "{enterprise: goose, area_m2: 40}", "density.enterprise", "one of catfish, snail"},
		{reckon.Density, "{enterprise: catfish, area_m2: 40, animals: 1, mean_g: 1, system: aquarium}", "density.system", "one of still-pond"},
		{reckon.Growth, "sample: {weights_g: []}", "growth.sample.weights_g", "a list of 2 to 2000 numbers, 0.001 to 100000 g"},
		{reckon.Growth, "sample: {weights_g: [10, 0]}", "growth.sample.weights_g.1", "is 0"},
		{reckon.Growth, "gain: {from_g: 10, to_g: 20, days: 0}", "growth.gain.days", "0.01 to 3650 days"},
		{reckon.Growth, "fit: {curve: logistic, times: [1, 2], weights: [1, 2]}", "growth.fit.times", "5 at least make a curve"},
		{reckon.Deaths, "chart: {weeks: []}", "deaths.chart.weeks", "is empty"},
		{reckon.Deaths, "chart: {weeks: [{deaths: 9, animals: 4, covered_days: 7}]}", "deaths.chart.weeks.deaths", "is 9 deaths of 4 animals"},
		{reckon.Deaths, "chart: {weeks: [{deaths: 9, animals: 400, covered_days: 8}]}", "deaths.chart.weeks.0.covered_days", "0 to 7 days with an entry"},
		{reckon.Ration, "tank: {animals: 10}", "ration.tank.mean_g", "is missing; give it in g"},
		{reckon.Ration, "tank: {enterprise: snail, animals: 10, mean_g: 5}", "ration.tank.enterprise", "no ration by weight"},
		{reckon.Ration, "conversion: {feed_kg: 10, stocked_kg: 5, harvested_kg: 4}", "ration.conversion.harvested_kg", "no more than the 5 kg"},
		{reckon.Ration, "house: {biomass_kg: []}", "ration.house.biomass_kg", "a list of 1 to 104 numbers"},
		{reckon.Stock, "unit: {floor_m2: 40}", "stock.unit.batches", "is empty"},
		{reckon.Stock, "unit: {floor_m2: 0}", "stock.unit.floor_m2", "0.01 to 1000000 m2"},
		{reckon.Stock, "unit: {floor_m2: 40, batches: [{on: soon, count: 1, mean_g: 3}]}", "stock.unit.batches.0.on", "a date of the form 2026-03-31"},
		{reckon.Stock, "unit: {floor_m2: 40, weeks: 900, batches: []}", "stock.unit.weeks", "1 to 156 weeks"},
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

func TestAmmoniaTellsTwoLinesApart(t *testing.T) {
	a := do(t, reckon.Ammonia, "{tan_mg_l: 2, temperature_c: 28, ph: 8}") // .0654 x 2
	require.Equal(t, true, a.Outputs["over_general"].Value)
	require.Equal(t, false, a.Outputs["over_species"].Value)
	require.Contains(t, codes(a), "ammonia-over-general")
	require.NotContains(t, codes(a), "ammonia-over-species")
	require.InDelta(t, 0.34, number(t, a, "limit_species_mg_l"), 0)
}

// The invented house: 1,000 adults of 120 g said to fit on 40 m2.
func TestDensity(t *testing.T) {
	a := do(t, reckon.Density, "{area_m2: 40, claimed: 1000, harvest_g: 120}")
	require.InDelta(t, 25, number(t, a, "claimed_per_m2"), 1e-9)
	require.InDelta(t, 3.0, number(t, a, "claimed_kg_m2"), 1e-9)
	require.InDelta(t, 10, number(t, a, "claimed_most_per_m2"), 0)
	require.InDelta(t, 1.6, number(t, a, "claimed_most_kg_m2"), 0)
	require.Equal(t, true, a.Outputs["claimed_overcrowded"].Value)
	require.Equal(t, checklists.FullText, sourceOf(t, a, "claimed_most_per_m2").Grade)
	a = do(t, reckon.Density, "{length: 60, width: 30, sides_in: ft, animals: 10, mean_g: 50}")
	require.InDelta(t, 167.2254720, number(t, a, "area_m2"), 1e-6)
	a = do(t, reckon.Density, "{area_m2: 0.18, animals: 100, mean_g: 50}")
	require.Equal(t, true, a.Outputs["today_overcrowded"].Value, "the crowded tray")
	a = do(t, reckon.Density, "{enterprise: catfish, area_m2: 10, animals: 1000, mean_g: 122, system: changed-tank, volume_m3: 5}")
	require.InDelta(t, 24.4, number(t, a, "water_load"), 1e-9)
	require.Equal(t, true, a.Outputs["water_overcrowded"].Value)
	require.Contains(t, codes(a), "one-system-only")
}

func TestGrowth(t *testing.T) {
	a := do(t, reckon.Growth, "gain: {from_g: 7.38, to_g: 843.28, days: 185}")
	require.InDelta(t, 2.56, number(t, a, "sgr_pct_day"), 5e-3, "the Ibadan trial")
	a = do(t, reckon.Growth, "sample: {weights_g: [18, 15, 21, 17, 19, 20, 16, 18, 17, 19], age_months: 6}")
	require.Equal(t, "below-the-band", a.Outputs["verdict"].Value)
	a = do(t, reckon.Growth, "sample: {weights_g: [18, 15, 21, 17, 19, 20, 16, 18, 17, 19]}")
	require.Equal(t, "not-enough-to-say", a.Outputs["verdict"].Value, "mixed ages")
	require.Equal(t, "lacks-age", a.Outputs["lacks"].Value)
	a = do(t, reckon.Growth, "sample: {enterprise: catfish, weights_g: [118, 125, 130]}")
	require.NotContains(t, a.Outputs, "verdict", "no band is published")
	require.InDelta(t, 124.333333, number(t, a, "mean_g"), 1e-6)
	a = do(t, reckon.Growth, "fit: {curve: von-bertalanffy-from, times: [1, 2, 3, 5, 7, 10], weights: [109, 149, 149, 191, 213, 224]}")
	require.InEpsilon(t, 213.80940889, number(t, a, "fit_a"), 1e-6, "NIST BoxBOD")
	require.InEpsilon(t, 0.54723748542, number(t, a, "fit_k"), 1e-6)
}

func TestDeathsChart(t *testing.T) {
	a := do(t, reckon.Deaths, "{count: 11, exposure: 800, against: {count: 21, exposure: 3011}}")
	require.InDelta(t, 1.971488, number(t, a, "ratio"), 5e-7, "R, poisson.test")
	require.InDelta(t, 0.8584264, number(t, a, "ratio_low"), 5e-7)
	quiet := "{deaths: 5, animals: 1000, covered_days: 7}"
	high := "{deaths: 14, animals: 1000, covered_days: 7}"
	sheet := func(weeks ...string) string {
		return "chart: {farm: {deaths: 40, animal_weeks: 8000}, weeks: [" + strings.Join(weeks, ", ") + "]}"
	}
	a = do(t, reckon.Deaths, sheet(quiet, quiet, quiet))
	require.Equal(t, "no-signal", a.Outputs["signal"].Value)
	require.GreaterOrEqual(t, number(t, a, "run_weeks"), 250.0)
	require.LessOrEqual(t, number(t, a, "see_weeks"), 8.0)
	a = do(t, reckon.Deaths, sheet(quiet, quiet, high, high))
	require.Equal(t, "doubled", a.Outputs["signal"].Value)
	require.Contains(t, codes(a), "dead-stock")
	a = do(t, reckon.Deaths, "chart: {weeks: [{deaths: 0, animals: 12, covered_days: 7}]}")
	require.Equal(t, true, a.Outputs["too_small_to_chart"].Value)
	require.Contains(t, codes(a), "too-small")
}

func TestRation(t *testing.T) {
	a := do(t, reckon.Ration, "tank: {animals: 1, mean_g: 122}")
	require.InDelta(t, 3.66, number(t, a, "feed_g_animal_day"), 1e-9, "Harvest Money: 3.7 g")
	a = do(t, reckon.Ration, "tank: {animals: 1000, mean_g: 250, system: exchanged-pond, area_m2: 200, fcr: 1.2}")
	require.InDelta(t, 5, number(t, a, "feed_kg_day"), 1e-9)
	require.InDelta(t, 1.25, number(t, a, "water_load"), 1e-9)
	require.InDelta(t, 25, number(t, a, "water_change_pct_day"), 0, "FAO T362: above 1 kg/m2")
	require.NotContains(t, a.Outputs, "order_low_kg", "one conversion, one order")
	var fed float64
	for _, kg := range a.Series["feed_kg_week"] {
		fed += kg
	}
	require.InDelta(t, fed, number(t, a, "order_kg"), 1e-9)
	a = do(t, reckon.Ration, "tank: {animals: 1000, mean_g: 10, days_since_grading: 10}")
	require.InDelta(t, 4, number(t, a, "grading_due_days"), 0, "every two weeks")
	a = do(t, reckon.Ration, "measured: {temperature_c: 35, oxygen_mg_l: 6, nitrite_mg_l: 0.7}")
	require.Equal(t, "too-high", a.Outputs["temperature_c"].Value)
	require.Equal(t, "in-range", a.Outputs["oxygen_mg_l"].Value)
	require.Equal(t, "too-high", a.Outputs["nitrite_mg_l"].Value)
	a = do(t, reckon.Ration, "house: {biomass_kg: [100, 120], dry_feed: 0.02, fresh_feed: 0.1, calcium_of_dry_feed: 0.2, own_crops: [{kg_week: 30}]}")
	require.InDelta(t, 14, number(t, a, "dry_kg_week"), 1e-9)
	require.InDelta(t, 40, number(t, a, "gap_kg_week"), 1e-9)
	require.InDelta(t, 54, a.Series["gap_kg_week"][1], 1e-9)
	require.Contains(t, codes(a), "avoid-salt")
}

// A house is projected with its band, and the trade's claim stands beside what
// the floor carries: 120 x 3 x 250 against 40 m2.
func TestStockUnit(t *testing.T) {
	a := do(t, reckon.Stock, "unit: {floor_m2: 40, weeks: 26, batches: [{on: \"2026-04-01\", count: 120, mean_g: 35}], market_g: 150}")
	require.Less(t, number(t, a, "animals_low"), number(t, a, "animals_high"))
	require.GreaterOrEqual(t, number(t, a, "animals_likely"), number(t, a, "animals_low"))
	require.InDelta(t, 90_000, number(t, a, "claim_animals"), 1e-9)
	require.InDelta(t, 1.25*40*1000/150, number(t, a, "floor_room"), 1e-9)
	require.Contains(t, codes(a), "claim-beyond-the-floor")
	require.Equal(t, checklists.CommonPractice, sourceOf(t, a, "claim_animals").Grade)
	require.InDelta(t, 26, a.Series["unit_week"][len(a.Series["unit_week"])-1], 0)
	again := do(t, reckon.Stock, "unit: {floor_m2: 40, weeks: 26, batches: [{on: \"2026-04-01\", count: 120, mean_g: 35}], market_g: 150}")
	require.Equal(t, a.Outputs, again.Outputs, "the same sheet, the same answer")
	a = do(t, reckon.Stock, "unit: {enterprise: catfish, floor_m2: 10, weeks: 30, batches: [{on: \"2026-04-01\", count: 1000, mean_g: 8.5}]}")
	require.Greater(t, number(t, a, "mean_g_likely"), 100.0)
	require.Less(t, number(t, a, "animals_high"), 1000.0)
	require.Contains(t, codes(a), "no-escapes")
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
