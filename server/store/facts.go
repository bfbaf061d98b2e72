package store

import (
	"context"
	"database/sql"

	"tendfold/domain/calendar"
	"tendfold/server/app"

	"gorm.io/gorm"
)

// factReader reads the facts of one page of farms. The tables are read one
// after the other, each in the order of the farms' ids, with rows.Scan: what
// gorm makes of rows costs two to three times as much (measured), and a sweep
// reads some hundred thousand.
type factReader struct {
	s    *Store
	ctx  context.Context
	q    app.FactQuery
	rows app.FactRows
	in   map[string]bool // the farms of the page
	from string          // farm ids after this one
	upTo string          // up to this one
	// texts keeps one copy of words that return in thousands of rows.
	texts map[string]string
}

// FactRows reads what the rules need of the farms of a query, as it stood at
// one moment. Every list is in the order of Farms.
func (s *Store) FactRows(ctx context.Context, q app.FactQuery) (app.FactRows, error) {
	r := &factReader{s: s, q: q, in: map[string]bool{}, texts: map[string]string{}}
	err := s.snapshot(ctx, func(ctx context.Context) error {
		r.ctx = ctx
		if err := r.farms(); err != nil || len(r.rows.Farms) == 0 {
			return err
		}
		for _, read := range []func() error{
			r.units, r.cycles, r.milestones, r.pauses, r.marks, r.readings, r.evidence, r.visits, r.work, r.passes, r.snags, r.clocks, r.tickets,
		} {
			if err := read(); err != nil {
				return err
			}
		}
		return nil
	})
	return r.rows, mapError(err, "facts")
}

// snapshot runs reads that must agree with each other: in the transaction of
// ctx, else in one of their own that sees one moment.
func (s *Store) snapshot(ctx context.Context, fn func(ctx context.Context) error) error {
	if s.tx(ctx) != nil {
		return fn(ctx)
	}
	db := s.read.WithContext(ctx).Begin(&sql.TxOptions{ReadOnly: s.dialect == PostgreSQL, Isolation: s.oneMoment()})
	if db.Error != nil {
		return mapError(db.Error, "database")
	}
	defer db.Rollback() // it only read
	return fn(context.WithValue(ctx, txKey{s}, &tx{db: db}))
}

// oneMoment is the isolation in which a transaction sees one moment; SQLite
// has no other, and its driver knows none by name.
func (s *Store) oneMoment() sql.IsolationLevel {
	if s.dialect == SQLite {
		return sql.LevelDefault
	}
	return sql.LevelRepeatableRead
}

func (r *factReader) db() *gorm.DB { return r.s.reader(r.ctx) }

// scan runs a query and calls row for each row.
func (r *factReader) scan(query string, row func(*sql.Rows) error, args ...any) error {
	rows, err := r.s.query(r.ctx, query, args...)
	if err != nil {
		return err
	}
	defer rows.Close() // rows.Err tells
	for rows.Next() {
		if err := row(rows); err != nil {
			return err
		}
	}
	return rows.Err()
}

// word is the kept copy of a text.
func (r *factReader) word(t string) string {
	if kept, ok := r.texts[t]; ok {
		return kept
	}
	r.texts[t] = t
	return t
}

const runningCycle = "c.started_on <= ? AND (c.ended_on = 0 OR c.ended_on > ?)"

func (r *factReader) farms() error {
	query := "SELECT f.id, f.branch_id, f.status, f.watched_on, f.intake_on, f.swept_on, f.standing, f.own_slip, f.changes FROM farms f" +
		" WHERE EXISTS (SELECT 1 FROM cycles c WHERE c.farm_id = f.id AND " + runningCycle + ")"
	args := []any{r.q.On, r.q.On}
	if r.q.FarmID != "" {
		query, args = query+" AND f.id = ?", append(args, r.q.FarmID)
	} else {
		query, args = query+" AND f.id > ? ORDER BY f.id LIMIT ?", append(args, r.q.After, r.q.Limit)
	}
	err := r.scan(query, func(rows *sql.Rows) error {
		var f app.FactFarm
		err := rows.Scan(&f.ID, &f.BranchID, &f.Status, &f.Watched, &f.Intake, &f.SweptOn, &f.Standing, &f.OwnSlip, &f.Changes)
		r.rows.Farms = append(r.rows.Farms, f)
		r.in[f.ID] = true
		return err
	}, args...)
	if n := len(r.rows.Farms); n > 0 {
		r.from, r.upTo = r.rows.Farms[0].ID, r.rows.Farms[n-1].ID
	}
	return err
}

func (r *factReader) units() error {
	return r.scan("SELECT farm_id, id, enterprise, handed_over_on, defects_months FROM units WHERE farm_id >= ? AND farm_id <= ? ORDER BY farm_id, folded, id",
		func(rows *sql.Rows) error {
			var u app.FactUnit
			err := rows.Scan(&u.FarmID, &u.ID, &u.Enterprise, &u.HandedOver, &u.DefectsMonths)
			r.rows.Units = keep(r, r.rows.Units, u, u.FarmID)
			return err
		}, r.from, r.upTo)
}

// keep adds a row when its farm is on the page: ids between two farms of the
// page may belong to farms without a running cycle.
func keep[T any](r *factReader, list []T, row T, farmID string) []T {
	if !r.in[farmID] {
		return list
	}
	return append(list, row)
}

func (r *factReader) cycles() error {
	return r.scan("SELECT c.farm_id, c.id, c.unit_id, c.enterprise, c.purpose, c.starts_with, c.started_on, c.entered, c.entered_on, c.hold_up, c.outlook_hash,"+
		" COALESCE((SELECT b.mean_weight_g FROM batches b WHERE b.cycle_id = c.id AND b.mean_weight_g > 0 ORDER BY b.stocked_on, b.id LIMIT 1), 0)"+
		" FROM cycles c WHERE c.farm_id >= ? AND c.farm_id <= ? AND "+runningCycle+" ORDER BY c.farm_id, c.id",
		func(rows *sql.Rows) error {
			var c app.FactCycle
			var hash int64
			err := rows.Scan(&c.FarmID, &c.ID, &c.UnitID, &c.Enterprise, &c.Purpose, &c.StartsWith, &c.Started, &c.Entered, &c.EnteredOn, &c.HoldUp, &hash, &c.StockedG)
			c.Hash = uint64(hash) // the same 64 bits
			r.rows.Cycles = keep(r, r.rows.Cycles, c, c.FarmID)
			return err
		}, r.from, r.upTo, r.q.On, r.q.On)
}

// ofCycles reads a table (aliased x) that hangs on the running cycles of the
// page.
func (r *factReader) ofCycles(columns, table, more, order string, row func(*sql.Rows) error, args ...any) error {
	query := "SELECT c.farm_id, c.id, " + columns + " FROM cycles c JOIN " + table + " x ON x.cycle_id = c.id" +
		" WHERE c.farm_id >= ? AND c.farm_id <= ? AND " + runningCycle + more + " ORDER BY c.farm_id, c.id, " + order
	return r.scan(query, row, append([]any{r.from, r.upTo, r.q.On, r.q.On}, args...)...)
}

func (r *factReader) milestones() error {
	return r.ofCycles("x.milestone, x.earliest, x.target, x.latest, x.done_on", "cycle_milestones", "", "x.target, x.milestone",
		func(rows *sql.Rows) error {
			var m app.FactMilestone
			err := rows.Scan(&m.FarmID, &m.CycleID, &m.Key, &m.Earliest, &m.Target, &m.Latest, &m.Done)
			m.FarmID, m.CycleID, m.Key = r.word(m.FarmID), r.word(m.CycleID), r.word(m.Key)
			r.rows.Milestones = keep(r, r.rows.Milestones, m, m.FarmID)
			return err
		})
}

func (r *factReader) pauses() error {
	return r.ofCycles("x.id, x.from_date, x.until_date, x.ended_on, x.reason, x.asked_by, x.agreed_by, x.version", "pauses", " AND x.from_date <= ?", "x.from_date, x.id",
		func(rows *sql.Rows) error {
			var p app.FactPause
			err := rows.Scan(&p.FarmID, &p.CycleID, &p.ID, &p.From, &p.Until, &p.EndedOn, &p.Reason, &p.AskedBy, &p.AgreedBy, &p.Version)
			r.rows.Pauses = keep(r, r.rows.Pauses, p, p.FarmID)
			return err
		}, r.q.On)
}

func (r *factReader) marks() error {
	return r.ofCycles("x.item, x.answer, x.grade, x.on_date", "marks", " AND x.on_date <= ?", "x.item",
		func(rows *sql.Rows) error {
			var m app.FactMark
			err := rows.Scan(&m.FarmID, &m.CycleID, &m.Item, &m.Answer, &m.Grade, &m.On)
			m.FarmID, m.CycleID, m.Item = r.word(m.FarmID), r.word(m.CycleID), r.word(m.Item)
			r.rows.Marks = keep(r, r.rows.Marks, m, m.FarmID)
			return err
		}, r.q.On)
}

func (r *factReader) readings() error {
	return r.ofCycles("x.kind, x.on_date, x.value, x.n, x.sd", "readings", " AND x.on_date <= ?", "x.on_date, x.id",
		func(rows *sql.Rows) error {
			var d app.FactReading
			err := rows.Scan(&d.FarmID, &d.CycleID, &d.Kind, &d.On, &d.Value, &d.N, &d.SD)
			d.FarmID, d.CycleID, d.Kind = r.word(d.FarmID), r.word(d.CycleID), r.word(d.Kind)
			r.rows.Readings = keep(r, r.rows.Readings, d, d.FarmID)
			return err
		}, r.q.On)
}

// evidence reads the days of the window, and before them the last one up to
// its beginning, found by one look into the index for each farm.
func (r *factReader) evidence() error {
	before := map[string]calendar.Date{}
	err := r.scan("SELECT f.id, COALESCE((SELECT MAX(e.on_date) FROM evidence_days e WHERE e.farm_id = f.id AND e.on_date <= ?), 0) FROM farms f WHERE f.id >= ? AND f.id <= ?",
		func(rows *sql.Rows) error {
			var d app.FactDay
			err := rows.Scan(&d.FarmID, &d.On)
			before[d.FarmID] = d.On
			return err
		}, r.q.Since, r.from, r.upTo)
	if err != nil {
		return err
	}
	within := map[string][]app.FactDay{}
	if err := r.scan("SELECT f.id, e.on_date FROM farms f JOIN evidence_days e ON e.farm_id = f.id AND e.on_date > ? AND e.on_date <= ? WHERE f.id >= ? AND f.id <= ? ORDER BY f.id, e.on_date",
		func(rows *sql.Rows) error {
			var d app.FactDay
			err := rows.Scan(&d.FarmID, &d.On)
			d.FarmID = r.word(d.FarmID)
			within[d.FarmID] = append(within[d.FarmID], d)
			return err
		}, r.q.Since, r.q.On, r.from, r.upTo); err != nil {
		return err
	}
	for _, f := range r.rows.Farms {
		if on := before[f.ID]; on != 0 {
			r.rows.Evidence = append(r.rows.Evidence, app.FactDay{FarmID: f.ID, On: on})
		}
		r.rows.Evidence = append(r.rows.Evidence, within[f.ID]...)
	}
	return nil
}
