package intake_test

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"reflect"
	"slices"
	"sync"
	"testing"
	"time"

	"tendfold/checklists"
	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/app/register"
	"tendfold/server/app/register/registertest"
	"tendfold/server/intake"
	"tendfold/server/intake/messy/sheet"

	"github.com/nyaruka/phonenumbers"
	"github.com/stretchr/testify/require"
)

var shipped = sync.OnceValues(checklists.Embedded)

var now = time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)

// firm is a register in memory and the import into it.
type firm struct {
	memory  *registertest.Memory
	imports *register.Imports
}

func newFirm(t require.TestingT) *firm {
	packs, err := shipped()
	require.NoError(t, err)
	m, ids := &registertest.Memory{}, 0
	core := app.Core{
		Store: m, Packs: packs, Now: func() time.Time { return now },
		NewID: func() string { ids++; return fmt.Sprintf("id%07d", ids) },
	}
	return &firm{m, register.NewImports(core, m, app.NewPlans(m, packs), &registertest.Queue{})}
}

func (f *firm) take(t require.TestingT, data []byte) register.Answer {
	table, err := intake.Read(bytes.NewReader(data))
	require.NoError(t, err)
	in := register.Import{Sheet: table, Commit: true, Branch: farm.Branch{Zone: "Africa/Douala"}}
	r, err := f.imports.Run(context.Background(), app.System, in)
	require.NoError(t, err)
	return r.Tell("en", table.Header(), true)
}

// got is what became of the rows, in the generator's words.
func got(a register.Answer, s sheet.Sheet) []sheet.Want {
	codes := map[int][]string{}
	for _, p := range a.Problems {
		if p.Row != s.Header {
			codes[p.Row] = append(codes[p.Row], string(p.Code))
		}
	}
	var out []sheet.Want
	for _, v := range a.Verdicts {
		c := codes[v.Row]
		slices.Sort(c)
		out = append(out, sheet.Want{Row: v.Row, Verdict: string(v.Verdict), Codes: slices.Compact(c)})
	}
	return out
}

func want(s sheet.Sheet, again bool) []sheet.Want {
	out := slices.Clone(s.Wants)
	for i, w := range out {
		if again {
			out[i].Verdict = w.Again
		}
		out[i].Again = ""
	}
	return out
}

var files = map[string]struct {
	comma bool
	write func(sheet.Sheet, io.Writer) error
}{
	"comma utf-8":            {true, func(s sheet.Sheet, to io.Writer) error { return s.CSV(to, ',', "utf-8") }},
	"semicolon windows-1252": {false, func(s sheet.Sheet, to io.Writer) error { return s.CSV(to, ';', "windows-1252") }},
	"semicolon utf-8 bom":    {false, func(s sheet.Sheet, to io.Writer) error { return s.CSV(to, ';', "utf-8-bom") }},
	"tab utf-16":             {false, func(s sheet.Sheet, to io.Writer) error { return s.CSV(to, '\t', "utf-16") }},
	"workbook":               {false, func(s sheet.Sheet, to io.Writer) error { return s.XLSX(to) }},
}

func write(t *testing.T, name string, seed uint64, rows int) (sheet.Sheet, []byte) {
	t.Helper()
	f := files[name]
	s := sheet.Make(sheet.Settings{Rows: rows, Seed: seed, Today: now.Truncate(24 * time.Hour), Comma: f.comma})
	var out bytes.Buffer
	require.NoError(t, f.write(s, &out))
	return s, out.Bytes()
}

// Every row of a messy register gets the verdict that whoever made the mess
// expects, in every kind of file; the same file again changes nothing; and
// what is then exported changes nothing either.
func TestMessyRegisters(t *testing.T) {
	for name := range files {
		for seed := range uint64(3) {
			t.Run(fmt.Sprint(name, " ", seed), func(t *testing.T) {
				s, data := write(t, name, seed, 250)
				f := newFirm(t)
				a := f.take(t, data)
				require.Empty(t, differ(want(s, false), got(a, s)))
				verdicts, doubles := s.Counts()
				require.Equal(t, [6]int{len(s.Wants), verdicts["new"], 0, verdicts["same"], verdicts["refused"], doubles},
					[6]int{a.Rows, a.New, a.Changed, a.Same, a.Refused, a.Doubles})
				require.Equal(t, s.Strange, strange(a, s))

				before := f.memory.Snapshot
				again := f.take(t, data)
				require.Empty(t, differ(want(s, true), got(again, s)))
				require.True(t, slices.Equal(a.Problems, again.Problems))
				require.True(t, reflect.DeepEqual(before, f.memory.Snapshot))

				exported := f.take(t, export(t, f.memory.Snapshot))
				require.Equal(t, verdicts["new"], exported.Same)
				require.Equal(t, exported.Rows, exported.Same)
			})
		}
	}
}

// differ tells rows whose verdict or problems are not the expected ones; the
// whole sheet would be too much to read.
func differ(want, got []sheet.Want) []string {
	if len(want) != len(got) {
		return []string{fmt.Sprintf("%d rows, not %d", len(got), len(want))}
	}
	var out []string
	for i := range want {
		if !reflect.DeepEqual(want[i], got[i]) {
			out = append(out, fmt.Sprintf("want %v got %v", want[i], got[i]))
		}
	}
	return out
}

func strange(a register.Answer, s sheet.Sheet) []string {
	var out []string
	for _, p := range a.Problems {
		if p.Row == s.Header && p.Code == register.ColumnUnknown {
			out = append(out, p.Column)
		}
	}
	slices.Sort(out)
	want := slices.Clone(s.Strange)
	slices.Sort(want)
	if slices.Equal(out, want) {
		return s.Strange
	}
	return out
}

func export(t *testing.T, s register.Snapshot) []byte {
	packs, err := shipped()
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, intake.WriteRegister(&out, register.Lines(s, packs.Pack)))
	return out.Bytes()
}

// The numbers that the generator invents belong to nobody: no plan that we
// know gives them out, though each could be one.
func TestInventedNumbersBelongToNobody(t *testing.T) {
	f := newFirm(t)
	_, data := write(t, "comma utf-8", 11, 300)
	f.take(t, data)
	for _, c := range f.memory.Snapshot.Clients {
		if c.Phone == "" {
			continue
		}
		number, err := phonenumbers.Parse(c.Phone, "")
		require.NoError(t, err)
		require.True(t, phonenumbers.IsPossibleNumber(number), c.Phone)
		require.False(t, phonenumbers.IsValidNumber(number), c.Phone)
	}
}

func TestTheSameSeedTheSameMess(t *testing.T) {
	_, a := write(t, "comma utf-8", 7, 100)
	_, b := write(t, "comma utf-8", 7, 100)
	_, c := write(t, "comma utf-8", 8, 100)
	require.Equal(t, a, b)
	require.NotEqual(t, a, c)
}
