package store

import (
	"database/sql"

	"tendfold/domain/ticket"
	"tendfold/server/app"
)

func (r *factReader) visits() error {
	return r.scan("SELECT farm_id, done_on FROM visits WHERE farm_id >= ? AND farm_id <= ? AND state = 'done' AND done_on <= ? ORDER BY farm_id, done_on",
		func(rows *sql.Rows) error {
			var d app.FactDay
			err := rows.Scan(&d.FarmID, &d.On)
			r.rows.Visits = keep(r, r.rows.Visits, d, d.FarmID)
			return err
		}, r.from, r.upTo, r.q.On)
}

func (r *factReader) work() error {
	return r.scan("SELECT farm_id, person_id, in_charge, since FROM farm_people WHERE farm_id >= ? AND farm_id <= ? ORDER BY farm_id, person_id",
		func(rows *sql.Rows) error {
			var w app.FactWork
			err := rows.Scan(&w.FarmID, &w.PersonID, &w.InCharge, &w.Since)
			r.rows.Work = keep(r, r.rows.Work, w, w.FarmID)
			return err
		}, r.from, r.upTo)
}

func (r *factReader) passes() error {
	return r.scan("SELECT w.farm_id, p.person_id, p.enterprise, p.module, p.passed_on, p.valid_until FROM farm_people w JOIN passes p ON p.person_id = w.person_id"+
		" WHERE w.farm_id >= ? AND w.farm_id <= ? AND p.passed_on <= ? ORDER BY w.farm_id, p.person_id, p.passed_on, p.enterprise, p.module",
		func(rows *sql.Rows) error {
			var p app.FactPass
			err := rows.Scan(&p.FarmID, &p.PersonID, &p.Enterprise, &p.Module, &p.On, &p.Until)
			p.FarmID, p.PersonID, p.Enterprise, p.Module = r.word(p.FarmID), r.word(p.PersonID), r.word(p.Enterprise), r.word(p.Module)
			r.rows.Passes = keep(r, r.rows.Passes, p, p.FarmID)
			return err
		}, r.from, r.upTo, r.q.On)
}

func (r *factReader) snags() error {
	return r.scan("SELECT farm_id, unit_id, found_on, fixed_on FROM snags WHERE farm_id >= ? AND farm_id <= ? AND found_on <= ? ORDER BY farm_id, found_on, id",
		func(rows *sql.Rows) error {
			var n app.FactSnag
			err := rows.Scan(&n.FarmID, &n.UnitID, &n.Found, &n.Fixed)
			r.rows.Snags = keep(r, r.rows.Snags, n, n.FarmID)
			return err
		}, r.from, r.upTo, r.q.On)
}

// clocks come in the order in which the sweep keeps them, without their
// reasons: the day gives them new ones.
func (r *factReader) clocks() error {
	return r.scan("SELECT farm_id, unit_id, cycle_id, rule, subject, true_since, false_since, muted_by, still, last_on FROM findings"+
		" WHERE farm_id >= ? AND farm_id <= ? ORDER BY farm_id, rule, unit_id, cycle_id, subject",
		func(rows *sql.Rows) error {
			var f findingRow
			if err := rows.Scan(&f.FarmID, &f.UnitID, &f.CycleID, &f.Rule, &f.Subject, &f.TrueSince, &f.FalseSince, &f.MutedBy, &f.Still, &f.LastOn); err != nil {
				return err
			}
			clock, err := f.clock()
			r.rows.Clocks = keep(r, r.rows.Clocks, clock, clock.FarmID)
			return err
		}, r.from, r.upTo)
}

func (r *factReader) tickets() error {
	var rows []ticketRow
	q := r.db().Where("farm_id >= ? AND farm_id <= ? AND (state <> ? OR settled_on >= ?)", r.from, r.upTo, ticket.Settled, r.q.SettledSince)
	if err := q.Order("farm_id, opened_at, id").Find(&rows).Error; err != nil {
		return err
	}
	for _, row := range rows {
		t, err := row.bare()
		if err != nil {
			return err
		}
		r.rows.Tickets = keep(r, r.rows.Tickets, app.TicketFact{Ticket: t, TouchedAt: row.TouchedAt.time()}, t.FarmID)
	}
	return nil
}
