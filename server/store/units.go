package store

import (
	"cmp"
	"context"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/app/register"
)

type unitRow struct {
	ID            string
	FarmID        string
	Name          string
	Folded        string
	Enterprise    string
	Species       string
	LengthValue   float64
	LengthMeasure string
	WidthValue    float64
	WidthMeasure  string
	Capacity      int
	Standard      string
	WallBase      string
	Cover         string
	DoubleDoor    string
	Drain         string
	Lined         string
	Paths         string
	FeedPlatforms string
	Water         string
	TankLitres    float64
	PumpValue     float64
	PumpMeasure   string
	HandedOverOn  calendar.Date
	DefectsMonths int
	Version       int
}

func (unitRow) TableName() string { return "units" }

func unitToRow(u farm.Unit) unitRow {
	b := u.Build
	return unitRow{
		ID: u.ID, FarmID: u.FarmID, Name: u.Name, Folded: register.Fold(u.Name), Enterprise: u.Enterprise, Species: u.Species,
		LengthValue: b.Length.Value, LengthMeasure: b.Length.Measure, WidthValue: b.Width.Value, WidthMeasure: b.Width.Measure,
		Capacity: b.Capacity, Standard: b.Standard, WallBase: b.WallBase, Cover: b.Cover, DoubleDoor: string(b.DoubleDoor),
		Drain: string(b.Drain), Lined: string(b.Lined), Paths: string(b.Paths), FeedPlatforms: string(b.FeedPlatforms),
		Water: b.Water, TankLitres: b.TankLitres, PumpValue: b.Pump.Value, PumpMeasure: b.Pump.Measure,
		HandedOverOn: b.HandedOverOn, DefectsMonths: b.DefectsMonths, Version: 1,
	}
}

func (r unitRow) unit() farm.Unit {
	return farm.Unit{
		ID: r.ID, FarmID: r.FarmID, Name: r.Name, Enterprise: r.Enterprise, Species: r.Species, Version: r.Version,
		Build: farm.BuildSheet{
			Length: farm.Length{Value: r.LengthValue, Measure: r.LengthMeasure}, Width: farm.Length{Value: r.WidthValue, Measure: r.WidthMeasure},
			Capacity: r.Capacity, Standard: r.Standard, WallBase: r.WallBase, Cover: r.Cover, DoubleDoor: farm.Answer(r.DoubleDoor),
			Drain: farm.Answer(r.Drain), Lined: farm.Answer(r.Lined), Paths: farm.Answer(r.Paths), FeedPlatforms: farm.Answer(r.FeedPlatforms),
			Water: r.Water, TankLitres: r.TankLitres, Pump: farm.Power{Value: r.PumpValue, Measure: r.PumpMeasure},
			HandedOverOn: r.HandedOverOn, DefectsMonths: r.DefectsMonths,
		},
	}
}

// AddUnits makes units; a second one of the same folded name on a farm is a
// conflict.
func (s *Store) AddUnits(ctx context.Context, us ...farm.Unit) error {
	return s.insert(ctx, "unit", each(us, unitToRow))
}

// ChangeUnit writes a unit and its build sheet at its version; it stays on
// its farm.
func (s *Store) ChangeUnit(ctx context.Context, u farm.Unit) error {
	r := unitToRow(u)
	return s.update(ctx, "unit", &unitRow{}, u.ID, u.Version, map[string]any{
		"name": r.Name, "folded": r.Folded, "enterprise": r.Enterprise, "species": r.Species,
		"length_value": r.LengthValue, "length_measure": r.LengthMeasure, "width_value": r.WidthValue, "width_measure": r.WidthMeasure,
		"capacity": r.Capacity, "standard": r.Standard, "wall_base": r.WallBase, "cover": r.Cover, "double_door": r.DoubleDoor,
		"drain": r.Drain, "lined": r.Lined, "paths": r.Paths, "feed_platforms": r.FeedPlatforms, "water": r.Water,
		"tank_litres": r.TankLitres, "pump_value": r.PumpValue, "pump_measure": r.PumpMeasure,
		"handed_over_on": r.HandedOverOn, "defects_months": r.DefectsMonths,
	})
}

// Unit is the unit with this id, when the scope sees its farm.
func (s *Store) Unit(ctx context.Context, sc app.Scope, id string) (farm.Unit, error) {
	r, err := one[unitRow](s.within(s.reader(ctx), sc, "units.farm_id").Where("id = ?", id), "unit")
	return r.unit(), err
}

// UnitsOf are the units of the farms, by farm and name.
func (s *Store) UnitsOf(ctx context.Context, farmIDs []string) ([]farm.Unit, error) {
	return readOf(ctx, s, "unit", "units", "farm_id", farmIDs, func(a, b unitRow) int {
		return cmp.Or(cmp.Compare(a.FarmID, b.FarmID), cmp.Compare(a.Folded, b.Folded), cmp.Compare(a.ID, b.ID))
	}, unitRow.unit)
}
