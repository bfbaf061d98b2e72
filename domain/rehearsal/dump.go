package rehearsal

import (
	"encoding/csv"
	"io"
	"strconv"

	"tendfold/domain/rehearsal/truth"
)

// The tables let anyone score a rehearsal again. Days count from the farm's
// start; dates are written as 2026-03-12.

// WriteTruth writes one line a fault, and one with an empty kind for each
// farm without: what went wrong, what it cost, from when it could be seen.
func (r *Rehearsal) WriteTruth(w io.Writer) error {
	return table(w, []string{
		"seed", "farm", "enterprise", "purpose", "start", "watched_days", "harvest_day", "kind",
		"fault_start", "loss_complete", "fault_end", "cost_days", "cost_stock", "counted", "detectable_day",
	},
		func(line func(...string)) {
			for i := range r.Runs {
				run := &r.Runs[i]
				head := append(run.name(), run.Way.Enterprise, run.Way.Purpose, run.Start.String(), num(run.Days), num(run.Harvest))
				if run.Faultless {
					line(append(head, "", "", "", "", "", "", "", "")...)
				}
				for _, f := range run.Faults {
					line(append(head, f.columns()...)...)
				}
			}
		})
}

func (f Seen) columns() []string {
	day := ""
	if f.Counted {
		day = num(f.Detectable)
	}
	return []string{
		string(f.Kind), num(f.Start), num(f.Complete), num(f.End), num(f.CostDays), dec(f.CostStock),
		strconv.FormatBool(f.Counted), day,
	}
}

// WriteEvidence writes one line for everything that reached the server, in
// the order of its arrival. It is empty unless the rehearsal kept it.
func (r *Rehearsal) WriteEvidence(w io.Writer) error {
	return table(w, []string{"seed", "farm", "received", "written", "stated", "sort", "step", "value", "animals", "spread", "staff", "clock_off"},
		func(line func(...string)) {
			for i := range r.Runs {
				for _, e := range r.Runs[i].evidence {
					line(append(r.Runs[i].name(), entry(e)...)...)
				}
			}
		})
}

func entry(e truth.Entry) []string {
	return []string{
		e.Received.String(), e.Made.String(), e.Stated.String(), string(e.Sort), e.Step, dec(e.Value),
		num(e.N), dec(e.SD), strconv.FormatBool(e.Staff), strconv.FormatBool(e.ClockOff),
	}
}

// WriteTickets writes one line for each thing that happened to a ticket.
func (r *Rehearsal) WriteTickets(w io.Writer) error {
	return r.writeLives(w, func(run *FarmRun) []Ticket { return run.Tickets })
}

// WriteNaive writes the tickets of the plain date check in the same form.
func (r *Rehearsal) WriteNaive(w io.Writer) error {
	return r.writeLives(w, func(run *FarmRun) []Ticket { return run.Naive })
}

func (r *Rehearsal) writeLives(w io.Writer, of func(*FarmRun) []Ticket) error {
	return table(w, []string{"seed", "farm", "ticket", "rule", "subject", "day", "date", "doing", "late_days", "explained", "explained_by_schedule"},
		func(line func(...string)) {
			for i := range r.Runs {
				run := &r.Runs[i]
				for n, t := range of(run) {
					for _, h := range t.Life {
						line(append(run.name(), num(n+1), t.Rule, t.Subject, num(h.Day), run.Start.Add(h.Day).String(), string(h.Doing),
							num(t.Late), strconv.FormatBool(t.True), strconv.FormatBool(t.Planned))...)
					}
				}
			}
		})
}

func (r *FarmRun) name() []string { return []string{strconv.FormatUint(r.Seed, 10), num(r.Index)} }

func num(n int) string { return strconv.Itoa(n) }

func dec(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// table writes a header and the lines that fill gives; the first error ends
// it.
func table(w io.Writer, header []string, fill func(line func(...string))) error {
	out := csv.NewWriter(w)
	if err := out.Write(header); err != nil {
		return err
	}
	fill(func(cells ...string) { _ = out.Write(cells) }) // the writer keeps its first error
	out.Flush()
	return out.Error()
}
