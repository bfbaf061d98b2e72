package app

import (
	"context"
	"fmt"
	"strings"

	"tendfold/domain"
	"tendfold/domain/farm"
)

// AddUnit makes a unit on a farm.
func (s *Registry) AddUnit(ctx context.Context, who Actor, u farm.Unit) (farm.Unit, error) {
	if err := who.Need(editors...); err != nil {
		return u, err
	}
	f, err := s.store.Farm(ctx, who.Scope(), u.FarmID)
	if err != nil {
		return u, err
	}
	if err := s.checkUnit(ctx, f, &u); err != nil {
		return u, err
	}
	u.ID, u.Version = s.NewID(), 1
	err = s.change(ctx, who, f.ID, Change{Verb: "add", Thing: "unit", ThingID: u.ID, After: u}, func(ctx context.Context) error {
		return s.store.AddUnits(ctx, u)
	})
	return u, err
}

// ChangeUnit changes a unit's build sheet at its version.
func (s *Registry) ChangeUnit(ctx context.Context, who Actor, u farm.Unit) (farm.Unit, error) {
	if err := who.Need(append([]farm.Role{farm.FieldOfficer}, editors...)...); err != nil {
		return u, err
	}
	old, err := s.store.Unit(ctx, who.Scope(), u.ID)
	if err != nil {
		return u, err
	}
	f, err := s.store.Farm(ctx, who.Scope(), old.FarmID)
	if err != nil {
		return u, err
	}
	u.FarmID, u.Enterprise = old.FarmID, old.Enterprise
	if err := s.checkUnit(ctx, f, &u); err != nil {
		return u, err
	}
	err = s.change(ctx, who, f.ID, Change{Verb: "change", Thing: "unit", ThingID: u.ID, Before: old, After: u}, func(ctx context.Context) error {
		return s.store.ChangeUnit(ctx, u)
	})
	if err != nil {
		return u, err
	}
	return s.store.Unit(ctx, who.Scope(), u.ID)
}

// Bounds of a build sheet: no house of ours is a kilometre long.
const (
	longestM    = 1000
	mostLitres  = 10_000_000
	strongestKW = 1000
)

func (s *Registry) checkUnit(ctx context.Context, f FarmLine, u *farm.Unit) error {
	var fields []domain.Field
	bad := func(path, text string) { fields = append(fields, domain.Field{Path: path, Code: "range", Text: text}) }
	if u.Name = strings.TrimSpace(u.Name); u.Name == "" || len(u.Name) > maxName {
		bad("name", "Give the unit a name of at most 200 characters.")
	}
	pack, ok := s.Packs.Pack(u.Enterprise)
	if !ok {
		bad("enterprise", fmt.Sprintf("There is no pack for %q.", u.Enterprise))
	}
	b := u.Build
	for path, l := range map[string]farm.Length{"build.length": b.Length, "build.width": b.Width} {
		if (l.Measure != "ft" && l.Measure != "m" && l.Measure != "") || !(l.Value >= 0 && l.Metres() <= longestM) {
			bad(path, "Give a length above nought in ft or m, at most 1,000 m.")
		}
	}
	if !(b.TankLitres >= 0 && b.TankLitres <= mostLitres) {
		bad("build.tank_litres", "Give the tank in litres.")
	}
	if !(b.Pump.KW() >= 0 && b.Pump.KW() <= strongestKW) {
		bad("build.pump", "Give the pump's power in hp, ch or kW.")
	}
	if b.DefectsMonths < 0 || b.DefectsMonths > 120 {
		bad("build.defects_months", "The defects period is usually 6 or 12 months.")
	}
	if ok && b.Capacity > 0 {
		if most := mostIn(pack.Species[0].MaxPerM2.Value, b.AreaM2()); most > 0 && float64(b.Capacity) > most {
			bad("build.capacity", fmt.Sprintf("No more than %.0f animals can be in %.1f m2.", most, b.AreaM2()))
		}
	}
	today, err := s.plans.Today(ctx, f.BranchID, s.Now())
	if err != nil {
		return err
	}
	if b.HandedOverOn > today || b.Capacity < 0 {
		bad("build.handed_over_on", "The handover cannot lie ahead, and a capacity is a count.")
	}
	if fields != nil {
		return domain.Invalid("unit-refused", "The unit cannot be kept like this.", fields...)
	}
	return nil
}

func mostIn(perM2, area float64) float64 { return perM2 * area }
