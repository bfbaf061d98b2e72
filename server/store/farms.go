package store

import (
	"context"
	"slices"
	"time"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/server/app"
	"tendfold/server/app/register"

	"gorm.io/gorm"
)

type farmRow struct {
	ID            string
	ClientID      string
	BranchID      string
	Name          string
	Folded        string
	Town          string
	Landmark      string
	Lat           float64
	Lng           float64
	PositionKnown bool
	Status        string
	WatchedOn     calendar.Date
	IntakeOn      calendar.Date
	Standing      string
	OwnSlip       int
	Place         int
	SweptOn       calendar.Date
	Changes       int
	CreatedAt     micros `gorm:"autoCreateTime:false"`
	Version       int
}

func (farmRow) TableName() string { return "farms" }

func farmToRow(f farm.Farm, at time.Time) farmRow {
	return farmRow{
		ID: f.ID, ClientID: f.ClientID, BranchID: f.BranchID, Name: f.Name, Folded: register.Fold(f.Name), Town: f.Town, Landmark: f.Landmark,
		Lat: f.Position.Lat, Lng: f.Position.Lng, PositionKnown: f.Position.Known, Status: string(f.Status),
		WatchedOn: f.WatchedOn, IntakeOn: f.IntakeOn, Standing: string(programme.ToConfirm), Place: placeOf(programme.ToConfirm, 0),
		CreatedAt: toMicros(at), Version: 1,
	}
}

func (r farmRow) farm() farm.Farm {
	return farm.Farm{
		ID: r.ID, ClientID: r.ClientID, BranchID: r.BranchID, Name: r.Name, Town: r.Town, Landmark: r.Landmark,
		Position: farm.Position{Lat: r.Lat, Lng: r.Lng, Known: r.PositionKnown}, Status: farm.Status(r.Status),
		WatchedOn: r.WatchedOn, IntakeOn: r.IntakeOn, Version: r.Version,
	}
}

// placeStep keeps the standings apart in a farm's place: more than any slip
// in days.
const placeStep = 100_000

// worstFirst is the order of lists: what needs a person first. A farm without
// a running cycle has no standing.
var worstFirst = []programme.Standing{
	programme.Behind, programme.NoNews, programme.Slipping, programme.OnCourse, programme.PausedStanding, programme.Complete, "", programme.ToConfirm,
}

// placeOf is where a farm stands in lists: worst standing first, then most
// days late. One number, so that one index serves the order and its cursor.
func placeOf(standing programme.Standing, ownSlip int) int {
	late := min(max(ownSlip, -placeStep/2+1), placeStep/2-1)
	return (slices.Index(worstFirst, standing)+1)*placeStep - late
}

// AddFarms makes farms; a second one of the same folded name at a client is a
// conflict.
func (s *Store) AddFarms(ctx context.Context, at time.Time, fs ...farm.Farm) error {
	rows := each(fs, func(f farm.Farm) farmRow { return farmToRow(f, at) })
	return s.InTx(ctx, func(ctx context.Context) error {
		s.touchFarms(ctx, each(fs, func(f farm.Farm) string { return f.ID })...)
		s.touchLoose(ctx, each(fs, func(f farm.Farm) string { return f.ClientID })...)
		return s.insert(ctx, "farm", rows)
	})
}

// ChangeFarm writes a farm at its version. What the sweep writes is left
// alone.
func (s *Store) ChangeFarm(ctx context.Context, f farm.Farm) error {
	return s.InTx(ctx, func(ctx context.Context) error {
		var former string // a client who loses the last farm is found by its own words from now on
		if err := s.from(ctx).Model(&farmRow{}).Where("id = ?", f.ID).Pluck("client_id", &former).Error; err != nil {
			return mapError(err, "farm")
		}
		s.touchFarms(ctx, f.ID)
		s.touchLoose(ctx, f.ClientID, former)
		return s.update(ctx, "farm", &farmRow{}, f.ID, f.Version, map[string]any{
			"client_id": f.ClientID, "branch_id": f.BranchID, "name": f.Name, "folded": register.Fold(f.Name), "town": f.Town,
			"landmark": f.Landmark, "lat": f.Position.Lat, "lng": f.Position.Lng, "position_known": f.Position.Known,
			"status": string(f.Status), "watched_on": f.WatchedOn, "intake_on": f.IntakeOn,
		})
	})
}

// Watch starts watching those of the farms that are not watched yet, and
// returns how many these were.
func (s *Store) Watch(ctx context.Context, ids []string, on calendar.Date) (int, error) {
	cond, list := s.in("id", ids)
	res := s.from(ctx).Model(&farmRow{}).Where(cond, list).Where("watched_on = 0").
		Updates(map[string]any{"watched_on": on, "version": gorm.Expr("version + 1"), "changes": gorm.Expr("changes + 1")})
	return int(res.RowsAffected), mapError(res.Error, "farm")
}

// CountChange counts a change of what the rules read of a farm. Called first
// in a transaction it also makes the writers of one farm wait for each other.
func (s *Store) CountChange(ctx context.Context, farmID string) error {
	return found(s.from(ctx).Model(&farmRow{}).Where("id = ?", farmID).Update("changes", gorm.Expr("changes + 1")), "farm")
}

// SetSwept writes what a sweep worked out, if the farm has not changed since
// it was read; else it is stale. The version stays: nobody who is editing the
// farm meanwhile has to start again.
func (s *Store) SetSwept(ctx context.Context, w app.Swept) error {
	res := s.from(ctx).Model(&farmRow{}).Where("id = ? AND changes = ?", w.FarmID, w.Changes).Updates(map[string]any{
		"standing": string(w.Standing), "own_slip": w.OwnSlip, "place": placeOf(w.Standing, w.OwnSlip), "swept_on": w.On,
		"changes": gorm.Expr("changes + 1"),
	})
	return s.moved(ctx, res, &farmRow{}, w.FarmID, "farm")
}

// farmLine is a farm with its client's name.
type farmLine struct {
	Row    farmRow `gorm:"embedded"`
	Client string
}

func (r farmLine) line() app.FarmLine {
	return app.FarmLine{
		Farm: r.Row.farm(), Client: r.Client, Standing: programme.Standing(r.Row.Standing), OwnSlip: r.Row.OwnSlip, SweptOn: r.Row.SweptOn,
	}
}

func (s *Store) farmLines(ctx context.Context) *gorm.DB {
	return s.reader(ctx).Table("farms f").Select("f.*, c.name AS client").Joins("JOIN clients c ON c.id = f.client_id")
}

// farmLinesSelect is the same in the words of read.
func farmLinesSelect() string {
	return selectOf[farmRow]("f") + ", c.name FROM farms f JOIN clients c ON c.id = f.client_id"
}

// Farm is the farm with this id, when the scope sees it.
func (s *Store) Farm(ctx context.Context, sc app.Scope, id string) (app.FarmLine, error) {
	cond, args := s.farmsOf(sc)
	r, err := readOne[farmLine](ctx, s, "farm", farmLinesSelect()+" WHERE f.id = ? AND "+cond, append([]any{id}, args...)...)
	return r.line(), err
}

// FarmsByIDs are those of the farms that the scope sees, in order of place.
func (s *Store) FarmsByIDs(ctx context.Context, sc app.Scope, ids []string) ([]app.FarmLine, error) {
	cond, args := s.farmsOf(sc)
	these, list := s.in("f.id", ids)
	rows, err := read[farmLine](ctx, s, "farm", farmLinesSelect()+" WHERE "+these+" AND "+cond+" ORDER BY f.place, f.folded, f.id", append([]any{list}, args...)...)
	return each(rows, farmLine.line), err
}

// farmKey is the place of a farm in the list.
type farmKey struct {
	Place  int    `json:"p"`
	Folded string `json:"f"`
	ID     string `json:"i"`
}

// Farms are the farms of a scope: worst standing first, then most days late,
// then by name.
func (s *Store) Farms(ctx context.Context, sc app.Scope, in app.FarmQuery) (app.Page[app.FarmLine], error) {
	limit, at := in.Limit, in.Cursor
	in.Limit, in.Cursor = 0, ""
	hash := queryHash(in)
	key, later, err := decodeCursor[farmKey](at, hash)
	if err != nil {
		return app.Page[app.FarmLine]{}, err
	}
	cond, args := s.farmsOf(sc)
	q := farmsWhere(s.farmLines(ctx).Where(cond, args...), in)
	if later {
		q = q.Where("(f.place, f.folded, f.id) > (?, ?, ?)", key.Place, key.Folded, key.ID)
	}
	return page(q.Order("f.place, f.folded, f.id"), "farm", hash, limit,
		func(r farmLine) farmKey { return farmKey{r.Row.Place, r.Row.Folded, r.Row.ID} }, sure(farmLine.line))
}

func farmsWhere(q *gorm.DB, in app.FarmQuery) *gorm.DB {
	for _, w := range [...]struct{ column, value string }{
		{"f.branch_id", in.Branch}, {"f.client_id", in.ClientID}, {"f.standing", string(in.Standing)}, {"f.status", string(in.Status)},
	} { // in this order always: the statement is kept by its text
		if w.value != "" {
			q = q.Where(w.column+" = ?", w.value)
		}
	}
	if in.Enterprise != "" {
		q = q.Where("EXISTS (SELECT 1 FROM units u WHERE u.farm_id = f.id AND u.enterprise = ?)", in.Enterprise)
	}
	if in.Watched != nil {
		op := "="
		if *in.Watched {
			op = "<>"
		}
		q = q.Where("f.watched_on " + op + " 0")
	}
	for _, w := range searchTerms(in.Q) {
		q = q.Where("EXISTS (SELECT 1 FROM search_words sw WHERE sw.doc = f.id AND sw.word >= ? AND sw.word < ?)", w.from, w.to)
	}
	return q
}

// standingCount is how many farms of a branch have a standing.
type standingCount struct {
	BranchID string
	Standing string
	Watched  bool
	N        int
}

// Standings counts the farms of a scope by branch, standing and whether they
// are watched.
func (s *Store) Standings(ctx context.Context, sc app.Scope) ([]app.StandingCount, error) {
	cond, args := s.farmsOf(sc)
	q := s.reader(ctx).Table("farms f").Select("branch_id, standing, watched_on <> 0 AS watched, COUNT(*) AS n").
		Where(cond, args...).Group("branch_id, standing, watched_on <> 0").Order("branch_id, standing, watched")
	return many(q, "farm", func(r standingCount) app.StandingCount {
		return app.StandingCount{BranchID: r.BranchID, Standing: programme.Standing(r.Standing), Watched: r.Watched, Farms: r.N}
	})
}
