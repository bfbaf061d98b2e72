package store

import (
	"context"
	"database/sql"
	"fmt"
	"strings"
	"time"

	"tendfold/domain/calendar"
)

// Dump is one kind of thing as an export has it: Rows calls row for each, in
// a lasting order, with texts, numbers, bools, days and instants.
type Dump struct {
	Name    string
	Columns []string
	Rows    func(ctx context.Context, row func(cells []any) error) error
}

// A column of a dump ends in what it holds where that is not plain: days and
// instants are numbers in the tables.
const (
	asDay     = ":day"
	asInstant = ":instant"
)

// dumps are the tables that belong to the firm, with their columns. Secrets
// (passwords, sessions, keys, ways in) are not among them, nor what can be
// worked out again.
var dumps = []struct{ name, table, columns, order string }{
	{"branches", "branches", "id name time_zone country start_lat start_lng start_known start_at hours rules", "id"},
	{"holidays", "holidays", "branch_id on_date:day name works", "branch_id, on_date"},
	{"people", "people", "id name phone phone_flag email language active created_at:instant", "id"},
	{"roles", "grants", "person_id role branch_id", "person_id, role, branch_id"},
	{"clients", "clients", "id name phone phone_flag owner_id", "id"},
	{"farms", "farms", "id client_id branch_id name town landmark lat lng position_known status watched_on:day intake_on:day standing own_slip", "id"},
	{"caretakers", "farm_people", "farm_id person_id in_charge since:day", "farm_id, person_id"},
	{"units", "units", "id farm_id name enterprise species length_value length_measure width_value width_measure capacity standard wall_base cover double_door drain lined paths feed_platforms water tank_litres pump_value pump_measure handed_over_on:day defects_months", "id"},
	{"cycles", "cycles", "id farm_id unit_id enterprise purpose starts_with started_on:day ended_on:day standing own_slip", "id"},
	{"milestones", "cycle_milestones", "cycle_id milestone earliest:day target:day latest:day done_on:day grade done_by", "cycle_id, target, milestone"},
	{"batches", "batches", "id unit_id cycle_id species head mean_weight_g source stocked_on:day", "id"},
	{"pauses", "pauses", "id cycle_id from_date:day until_date:day ended_on:day reason asked_by agreed_by", "id"},
	{"snags", "snags", "id farm_id unit_id text found_on:day fixed_on:day fixed_by", "id"},
	{"events", "events", "id farm_id unit_id cycle_id kind on_date:day person_id device_id device_at:instant device_seq hlc clock_off recorded_at:instant replaces data", "farm_id, on_date, id"},
	{"entries-seen", "entries_seen", "event_id person_id seen_by seen_at:instant", "event_id"},
	{"media", "media", "id farm_id entry_id kind person_id size sha256 lat lng position_known announced_at:instant state why kept_at:instant blob thumb type bytes width height", "farm_id, entry_id, id"},
	{"checklist-marks", "marks", "cycle_id item answer value has_value grade on_date:day person_id", "cycle_id, item"},
	{"readings", "readings", "id cycle_id kind on_date:day value n sd", "cycle_id, on_date, id"},
	{"training", "passes", "person_id enterprise module passed_on:day valid_until:day how by_id", "person_id, enterprise, module, passed_on"},
	{"tickets", "tickets", "id year seq farm_id unit_id cycle_id rule subject origin title state waiting_on holder_id impact time_to_loss urgency opened_on:day opened_at:instant first_word_by:instant plan_by:instant first_word_at:instant settled_at:instant settled_by outcome reasons rests_until:day keeps_coming previous_id joined_into call_id visit_id", "year, seq"},
	{"ticket-threads", "ticket_events", "id ticket_id kind person_id at:instant on_date:day text data", "ticket_id, at, id"},
	{"calls", "calls", "id farm_id person_id phone channel said advice ticket_id taken_by started_at:instant ended_at:instant", "id"},
	{"call-cards", "call_cards", "call_id farm_id enterprise sign card_version language answers ending suspects impact time_to_loss danger goes sentences why sent_text tell_by:instant told_at:instant told_by told_how", "call_id"},
	{"card-reviews", "card_reviews", "id enterprise sign card_version reviewer qualification signed_on:day agrees note by_id at:instant", "id"},
	{"texts-in", "text_ins", "id phone body received_at:instant person_id farm_id ticket_id state dealt_by dealt_at:instant", "received_at, id"},
	{"messages", "messages", "id ticket_id farm_id person_id channel address language subject body urgent answer state why parts tries made_at:instant done_at:instant", "made_at, id"},
	{"opt-outs", "opt_outs", "phone at:instant", "phone"},
	{"ticket-links", "ticket_links", "ticket_id other_id by_id at:instant", "ticket_id, other_id"},
	{"complaints", "complaints", "id year seq farm_id ticket_id person_id channel said state severity safety holder_id received_at:instant received_by acknowledged_at:instant found decision answered_at:instant content closed_at:instant closed_by", "year, seq"},
	{"promises", "promises", "id call_id farm_id kind text due_on:day kept_on:day kept_by made_by", "id"},
	{"requests", "requests", "id farm_id unit_id ticket_id text from_on:day due_on:day asked_by asked_at:instant withdrawn_on:day answer reason note answered_by answered_on:day", "id"},
	{"absences", "absences", "id person_id cover_id from_date:day until_date:day made_by", "id"},
	{"visits", "visits", "id farm_id officer_id on_date:day state reasons agenda findings missed done_on:day dealt planned_by", "id"},
	{"visit-requests", "visit_requests", "id farm_id person_id on_date:day text answered_on:day", "id"},
	{"audit", "audit", "id at:instant person_id verb thing thing_id farm_id before after", "id"},
}

// Dumps is everything that belongs to the firm, a table at a time.
func (s *Store) Dumps() []Dump {
	out := make([]Dump, len(dumps))
	for i, d := range dumps {
		columns := strings.Fields(d.columns)
		names := make([]string, len(columns))
		for j, c := range columns {
			names[j], _, _ = strings.Cut(c, ":")
		}
		quoted := `"` + strings.Join(names, `", "`) + `"`
		query := fmt.Sprintf("SELECT %s FROM %s ORDER BY %s", quoted, d.table, d.order)
		out[i] = Dump{Name: d.name, Columns: names, Rows: func(ctx context.Context, row func([]any) error) error {
			return mapError(s.dump(ctx, query, columns, row), "export")
		}}
	}
	return out
}

func (s *Store) dump(ctx context.Context, query string, columns []string, row func([]any) error) error {
	rows, err := s.reader(ctx).Raw(query).Rows()
	if err != nil {
		return err
	}
	defer rows.Close() // rows.Err tells
	cells, into := make([]any, len(columns)), make([]any, len(columns))
	for i := range cells {
		into[i] = &cells[i]
	}
	for rows.Next() {
		if err := rows.Scan(into...); err != nil {
			return err
		}
		for i, c := range columns {
			cells[i] = plain(c, cells[i])
		}
		if err := row(cells); err != nil {
			return err
		}
	}
	return rows.Err()
}

// plain turns the number of a day or an instant into one.
func plain(column string, cell any) any {
	n, whole := cell.(int64)
	switch {
	case whole && strings.HasSuffix(column, asDay):
		return calendar.Date(n)
	case whole && strings.HasSuffix(column, asInstant):
		return micros(n).time()
	case whole:
		return n
	}
	if raw, ok := cell.(sql.RawBytes); ok {
		return string(raw)
	}
	if t, ok := cell.(time.Time); ok {
		return t.UTC()
	}
	return cell
}
