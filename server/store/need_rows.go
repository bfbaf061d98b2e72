package store

import (
	"context"
	"database/sql"
	"encoding/json"

	"tendfold/domain/sweep"
	"tendfold/domain/ticket"
	"tendfold/server/app"
)

// needReader reads what the visit need follows from, table by table like the
// facts of the sweep, but for all farms of a query at once: a tenth of what
// the sweep reads.
type needReader struct {
	factReader
	need  app.NeedRows
	farms string // condition on the farms (aliased f), and its parameters
	args  []any
}

// NeedRows reads what the visit need of the farms of a query follows from, as
// it stood at one moment. Nothing is in order: to sort ten thousand outlooks
// costs the database more than to read them.
func (s *Store) NeedRows(ctx context.Context, sc app.Scope, q app.NeedQuery) (app.NeedRows, error) {
	r := &needReader{factReader: factReader{s: s, texts: map[string]string{}}}
	r.pick(sc, q)
	err := s.snapshot(ctx, func(ctx context.Context) error {
		r.ctx = ctx
		for _, read := range []func(q app.NeedQuery) error{
			r.places, r.enclosures, r.running, r.short, r.openSnags, r.workers, r.held, r.promised, r.wished, r.openTickets, r.worse, r.visited, r.planned,
		} {
			if err := read(q); err != nil {
				return err
			}
		}
		return nil
	})
	return r.need, mapError(err, "visit need")
}

func (r *needReader) pick(sc app.Scope, q app.NeedQuery) {
	r.farms, r.args = r.s.farmsOf(sc)
	r.farms += " AND f.status <> 'closed'"
	switch {
	case q.FarmID != "":
		r.farms, r.args = r.farms+" AND f.id = ?", append(r.args, q.FarmID)
	default:
		r.farms += " AND f.watched_on <> 0"
	}
	if q.Branch != "" {
		r.farms, r.args = r.farms+" AND f.branch_id = ?", append(r.args, q.Branch)
	}
}

// of reads a table (aliased x) that hangs on the farms; more is a further
// condition with its parameters.
func (r *needReader) of(columns, table, more string, row func(*sql.Rows) error, args ...any) error {
	query := "SELECT " + columns + " FROM farms f JOIN " + table + " x ON x.farm_id = f.id WHERE " + r.farms + more
	return r.scan(query, row, append(append([]any{}, r.args...), args...)...)
}

func (r *needReader) places(q app.NeedQuery) error {
	query := "SELECT f.id, f.client_id, f.branch_id, f.name, f.town, f.landmark, f.lat, f.lng, f.position_known, f.status, f.watched_on, f.intake_on," +
		" f.standing, f.own_slip, f.swept_on, f.version, c.name," +
		" COALESCE((SELECT MAX(e.on_date) FROM evidence_days e WHERE e.farm_id = f.id AND e.on_date <= ?), 0)," +
		" COALESCE((SELECT MAX(v.done_on) FROM visits v WHERE v.farm_id = f.id AND v.state = 'done' AND v.done_on <= ?), 0)" +
		" FROM farms f JOIN clients c ON c.id = f.client_id WHERE " + r.farms
	return r.scan(query, func(rows *sql.Rows) error {
		var f app.NeedFarm
		p := &f.Position
		err := rows.Scan(&f.ID, &f.ClientID, &f.BranchID, &f.Name, &f.Town, &f.Landmark, &p.Lat, &p.Lng, &p.Known, &f.Status, &f.WatchedOn, &f.IntakeOn,
			&f.Standing, &f.OwnSlip, &f.SweptOn, &f.Version, &f.Client, &f.Heard, &f.Visited)
		r.need.Farms = append(r.need.Farms, f)
		return err
	}, append([]any{q.On, q.On}, r.args...)...)
}

func (r *needReader) enclosures(app.NeedQuery) error {
	return r.of("x.farm_id, x.id, x.enterprise, x.handed_over_on, x.defects_months", "units", "", func(rows *sql.Rows) error {
		var u app.FactUnit
		err := rows.Scan(&u.FarmID, &u.ID, &u.Enterprise, &u.HandedOver, &u.DefectsMonths)
		r.need.Units = append(r.need.Units, u)
		return err
	})
}

func (r *needReader) running(q app.NeedQuery) error {
	return r.of("x.farm_id, x.id, x.unit_id, x.enterprise, x.purpose, x.started_on, x.standing, x.entered, x.entered_on, x.own_slip, x.outlook", "cycles",
		" AND x.started_on <= ? AND (x.ended_on = 0 OR x.ended_on > ?)", func(rows *sql.Rows) error {
			var c app.NeedCycle
			var outlook sql.RawBytes
			err := rows.Scan(&c.FarmID, &c.ID, &c.UnitID, &c.Enterprise, &c.Purpose, &c.Started, &c.Standing, &c.Schedule, &c.EnteredOn, &c.OwnSlip, &outlook)
			c.Enterprise, c.Purpose, c.Outlook = r.word(c.Enterprise), r.word(c.Purpose), append(json.RawMessage(nil), outlook...)
			r.need.Cycles = append(r.need.Cycles, c)
			return err
		}, q.On, q.On)
}

func (r *needReader) short(app.NeedQuery) error {
	return r.of("x.farm_id, x.cycle_id, x.subject, x.true_since", "findings", " AND x.rule = ? AND x.false_since = 0", func(rows *sql.Rows) error {
		var g app.NeedShort
		err := rows.Scan(&g.FarmID, &g.CycleID, &g.GoAhead, &g.Since)
		g.GoAhead = r.word(g.GoAhead)
		r.need.Short = append(r.need.Short, g)
		return err
	}, sweep.GoAheadShort)
}

func (r *needReader) openSnags(q app.NeedQuery) error {
	return r.of("x.farm_id, x.unit_id, x.found_on", "snags", " AND x.fixed_on = 0 AND x.found_on <= ?", func(rows *sql.Rows) error {
		var n app.FactSnag
		err := rows.Scan(&n.FarmID, &n.UnitID, &n.Found)
		r.need.Snags = append(r.need.Snags, n)
		return err
	}, q.On)
}

func (r *needReader) workers(app.NeedQuery) error {
	return r.of("x.farm_id, x.person_id, x.in_charge, x.since", "farm_people", "", func(rows *sql.Rows) error {
		var w app.FactWork
		err := rows.Scan(&w.FarmID, &w.PersonID, &w.InCharge, &w.Since)
		r.need.Work = append(r.need.Work, w)
		return err
	})
}

func (r *needReader) held(q app.NeedQuery) error {
	query := "SELECT x.farm_id, p.person_id, p.enterprise, p.module, p.passed_on, p.valid_until FROM farms f JOIN farm_people x ON x.farm_id = f.id" +
		" JOIN passes p ON p.person_id = x.person_id WHERE " + r.farms + " AND p.passed_on <= ?"
	return r.scan(query, func(rows *sql.Rows) error {
		var p app.FactPass
		err := rows.Scan(&p.FarmID, &p.PersonID, &p.Enterprise, &p.Module, &p.On, &p.Until)
		p.Enterprise, p.Module = r.word(p.Enterprise), r.word(p.Module)
		r.need.Passes = append(r.need.Passes, p)
		return err
	}, append(append([]any{}, r.args...), q.On)...)
}

func (r *needReader) promised(app.NeedQuery) error {
	return r.of("x.farm_id, x.id, x.text, x.due_on, x.made_on", "promises", " AND x.kept_on = 0 AND x.kind = 'visit'", func(rows *sql.Rows) error {
		var p app.Promise
		err := rows.Scan(&p.FarmID, &p.ID, &p.Text, &p.DueOn, &p.MadeOn)
		r.need.Promises = append(r.need.Promises, p)
		return err
	})
}

func (r *needReader) wished(app.NeedQuery) error {
	return r.of("x.farm_id, x.id, x.person_id, x.text, x.on_date", "visit_requests", " AND x.answered_on = 0", func(rows *sql.Rows) error {
		var q app.VisitRequest
		err := rows.Scan(&q.FarmID, &q.ID, &q.PersonID, &q.Text, &q.On)
		r.need.Requests = append(r.need.Requests, q)
		return err
	})
}

func (r *needReader) openTickets(app.NeedQuery) error {
	return r.of("x.farm_id, x.id, x.seq, x.year, x.rule, x.urgency, x.opened_on, x.reopened", "tickets", " AND x.state <> 'settled'", func(rows *sql.Rows) error {
		var t app.NeedTicket
		var seq, year int
		var reopened string
		if err := rows.Scan(&t.FarmID, &t.ID, &seq, &year, &t.Rule, &t.Urgency, &t.Opened, &reopened); err != nil {
			return err
		}
		t.Number, t.Rule = ticket.Number(seq, year), r.word(t.Rule)
		var err error
		if reopened != "[]" {
			err = json.Unmarshal([]byte(reopened), &t.Reopened)
		}
		r.need.Tickets = append(r.need.Tickets, t)
		return err
	})
}

// worse reads the events of open tickets that may tell of something new.
func (r *needReader) worse(app.NeedQuery) error {
	query := "SELECT e.ticket_id, e.kind, e.on_date, e.data FROM farms f JOIN tickets x ON x.farm_id = f.id JOIN ticket_events e ON e.ticket_id = x.id WHERE " +
		r.farms + " AND x.state <> 'settled' AND (e.kind = ? OR e.data LIKE '%\"urgency\"%' AND e.kind IN (?, ?))"
	return r.scan(query, func(rows *sql.Rows) error {
		var e app.TicketEvent
		var data string
		if err := rows.Scan(&e.TicketID, &e.Kind, &e.On, &data); err != nil {
			return err
		}
		err := json.Unmarshal([]byte(data), &e.Data)
		r.need.Events = append(r.need.Events, e)
		return err
	}, append(append([]any{}, r.args...), ticket.Worse, ticket.Judged, ticket.Moved)...)
}

func (r *needReader) visited(q app.NeedQuery) error {
	return r.of("x.farm_id, x.dealt", "visits", " AND x.state = 'done' AND x.dealt <> '[]' AND x.done_on >= ?", func(rows *sql.Rows) error {
		var d app.NeedDealt
		var dealt string
		if err := rows.Scan(&d.FarmID, &dealt); err != nil {
			return err
		}
		err := json.Unmarshal([]byte(dealt), &d.Dealt)
		r.need.Dealt = append(r.need.Dealt, d)
		return err
	}, q.Since)
}

func (r *needReader) planned(app.NeedQuery) error {
	return r.of("x.farm_id, x.id, x.officer_id, x.on_date", "visits", " AND x.state = 'planned'", func(rows *sql.Rows) error {
		v := app.Visit{State: app.VisitPlanned}
		err := rows.Scan(&v.FarmID, &v.ID, &v.OfficerID, &v.On)
		r.need.Planned = append(r.need.Planned, v)
		return err
	})
}
