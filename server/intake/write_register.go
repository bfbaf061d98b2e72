package intake

import (
	"encoding/csv"
	"io"
	"strconv"

	"tendfold/domain/farm"
	"tendfold/server/app/register"
)

// written is a column of a written register: its name and its cell.
type written struct {
	column register.Column
	cell   func(register.Row) string
}

var columns = []written{
	{register.ColClient, func(r register.Row) string { return r.Client }},
	{register.ColClientPhone, func(r register.Row) string { return r.ClientPhone.Text }},
	{register.ColFarm, func(r register.Row) string { return r.Farm }},
	{register.ColTown, func(r register.Row) string { return r.Town }},
	{register.ColLandmark, func(r register.Row) string { return r.Landmark }},
	{register.ColLatitude, func(r register.Row) string { return degrees(r.Position.Lat, r.Position.Known) }},
	{register.ColLongitude, func(r register.Row) string { return degrees(r.Position.Lng, r.Position.Known) }},
	{register.ColBranch, func(r register.Row) string { return r.Branch }},
	{register.ColUnit, func(r register.Row) string { return r.Unit }},
	{register.ColEnterprise, func(r register.Row) string { return r.Enterprise }},
	{register.ColPurpose, func(r register.Row) string { return string(r.Purpose) }},
	{register.ColSpecies, func(r register.Row) string { return r.Species }},
	{register.ColLength, func(r register.Row) string { return sideText(r.Build.Length, r.Build) }},
	{register.ColWidth, func(r register.Row) string { return sideText(r.Build.Width, r.Build) }},
	{register.ColLengthUnit, func(r register.Row) string { return measureText(r.Build) }},
	{register.ColCapacity, func(r register.Row) string { return numberText(float64(r.Build.Capacity)) }},
	{register.ColStandard, func(r register.Row) string { return r.Build.Standard }},
	{register.ColWallBase, func(r register.Row) string { return r.Build.WallBase }},
	{register.ColCover, func(r register.Row) string { return r.Build.Cover }},
	{register.ColDoubleDoor, func(r register.Row) string { return string(r.Build.DoubleDoor) }},
	{register.ColDrain, func(r register.Row) string { return string(r.Build.Drain) }},
	{register.ColLined, func(r register.Row) string { return string(r.Build.Lined) }},
	{register.ColPaths, func(r register.Row) string { return string(r.Build.Paths) }},
	{register.ColFeedPlatforms, func(r register.Row) string { return string(r.Build.FeedPlatforms) }},
	{register.ColWater, func(r register.Row) string { return r.Build.Water }},
	{register.ColTank, func(r register.Row) string { return numberText(r.Build.TankLitres) }},
	{register.ColPump, func(r register.Row) string { return pumpText(r.Build.Pump) }},
	{register.ColHandedOver, func(r register.Row) string { return r.Build.HandedOverOn.String() }},
	{register.ColStarted, func(r register.Row) string { return r.StartedOn.String() }},
	{register.ColStocked, func(r register.Row) string { return r.StockedOn.String() }},
	{register.ColCount, func(r register.Row) string { return numberText(float64(r.StockedCount)) }},
	{register.ColWeight, func(r register.Row) string { return numberText(r.MeanWeightG) }},
	{register.ColHarvest, func(r register.Row) string { return r.FirstHarvestOn.String() }},
	{register.ColLastVisit, func(r register.Row) string { return r.LastVisitOn.String() }},
	{register.ColCaretaker, func(r register.Row) string { return r.Caretaker }},
	{register.ColCaretakerPhone, func(r register.Row) string { return r.CaretakerPhone.Text }},
	{register.ColTrained, func(r register.Row) string { return r.TrainedOn.String() }},
	{register.ColLanguage, func(r register.Row) string { return r.Language }},
	{register.ColStatus, func(r register.Row) string { return string(r.Status) }},
}

// WriteRegister writes rows as a CSV file that Read takes back as it was.
func WriteRegister(to io.Writer, rows []register.Row) error {
	out := csv.NewWriter(to)
	cells := make([]string, len(columns))
	for i, c := range columns {
		cells[i] = string(c.column)
	}
	if err := out.Write(cells); err != nil {
		return err
	}
	for _, r := range rows {
		for i, c := range columns {
			cells[i] = escape(c.cell(r))
		}
		if err := out.Write(cells); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func numberText(v float64) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func degrees(v float64, known bool) string {
	if !known {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// measureText is the measure of both sides, "" when they differ: then each
// cell carries its own.
func measureText(b farm.BuildSheet) string {
	switch {
	case b.Length.Value == 0:
		return b.Width.Measure
	case b.Width.Value == 0 || b.Width.Measure == b.Length.Measure:
		return b.Length.Measure
	}
	return ""
}

func sideText(l farm.Length, b farm.BuildSheet) string {
	if l.Value == 0 || measureText(b) != "" {
		return numberText(l.Value)
	}
	return numberText(l.Value) + " " + l.Measure
}

func pumpText(p farm.Power) string {
	if p.Value == 0 || p.Measure == "hp" {
		return numberText(p.Value)
	}
	return numberText(p.Value) + " " + p.Measure
}
